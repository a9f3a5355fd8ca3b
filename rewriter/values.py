"""Values that are made by the thousand for one draft."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True)
def value(cls: type[T]) -> type[T]:
    """Make a class one of values: compared and hashed by its fields, in slots, which nothing may set again.

    That they are set once is held by the type checker. A class that holds it itself (`frozen=True`) takes
    five times as long to make each value, for it has to go round its own guard for each field.
    """
    return dataclass(slots=True, unsafe_hash=True)(cls)
