"""The one exception for what cannot be read, planned or written with certainty."""

from __future__ import annotations

from rewriter.spans import Span


class Unread(ValueError):
    """A passage that cannot be read with certainty: `code`, the reason, and where it stands."""

    def __init__(
        self,
        code: str,
        message: str,
        span: Span,
        sizes: tuple[int, ...] = (),
        ask: str = "",
    ) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.span = span
        self.sizes = sizes
        """Indexes of the sizes it is about; empty for all."""
        self.ask = ask
        """The kind of question that an answer settles (`asks.ASKS`); "" where the draft must change."""
