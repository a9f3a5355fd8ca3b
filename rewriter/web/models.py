"""What the HTTP interface takes, as models: texts, and the options of a rewriting."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, field_validator

from rewriter.asks import ASKS, parsed_counts
from rewriter.options import Options, Shoulders, Spelling, To, Turn

Kind = Literal["shoulder", "neck", "cap", "armhole"]


class Request(BaseModel):
    """Base of what is sent: no unknown fields."""

    model_config = ConfigDict(extra="forbid")


class OptionsIn(Request):
    """Options of a rewriting, as on the command line."""

    to: To = "short-rows"
    turn: Turn = "german"
    shoulders: Shoulders = "sewn"
    kinds: tuple[Kind, ...] = Field(
        default=("shoulder",), min_length=1, description="kinds of steps to convert"
    )
    spelling: Spelling = "draft"
    markers: bool = True
    respace: bool = False
    exact_live: bool = False
    assume: dict[str, str] = Field(
        default_factory=dict,
        description="answers to questions: first-side=RS, or back/shoulder/1:first-side=WS",
    )

    @field_validator("assume")
    @classmethod
    def _known(cls, assume: dict[str, str]) -> dict[str, str]:
        for name, answer in assume.items():
            asked = ASKS.get(name.rpartition(":")[2])
            wrong = asked is None or (asked.choices and answer not in asked.choices)
            if wrong or (asked and asked.form and parsed_counts(answer) is None):
                raise ValueError(f"{name}={answer} is no answer known here")
        return assume

    def options(self) -> Options:
        """Return the options; raises ValueError where they do not go together."""
        return Options(**self.model_dump())


class DraftIn(Request):
    """A draft as text, with options."""

    text: str = Field(min_length=1, description="the text of the pattern")
    name: str = Field("draft", description="its name; an ending such as .md tells its format")
    options: OptionsIn = OptionsIn()


class CheckIn(Request):
    """Two texts to be compared."""

    original: str = Field(min_length=1, description="the text with the stepped bind-offs")
    revised: str = Field(min_length=1, description="the text with the short rows")
