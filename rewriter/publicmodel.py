"""What all public models share: frozen pydantic models without unknown fields."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict

Side = Literal["RS", "WS"]


class Model(BaseModel):
    """Base of the public models: frozen, no unknown fields."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)
