"""What became of a passage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rewriter.doubt import Unread
from rewriter.verify import Proof


@dataclass(frozen=True)
class Outcome:
    """What became of a passage."""

    status: Literal["rewritten", "left", "question"]
    reason: str | None
    unread: Unread | None = None
    proofs: tuple[Proof, ...] = ()
