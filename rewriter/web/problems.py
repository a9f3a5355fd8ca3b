"""What goes wrong with a request, told as problem details (RFC 9457)."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError
from starlette.responses import Response

MEDIA_TYPE = "application/problem+json"
_TITLES = {
    "bad-request": (400, "The request cannot be read"),
    "not-found": (404, "There is nothing here"),
    "method": (405, "Not a method of this address"),
    "too-large": (413, "Too large"),
    "media-type": (415, "Not a kind of content that is taken here"),
    "elsewhere": (403, "Another site may not ask this"),
    "host": (421, "Not the name of this server"),
    "invalid": (422, "The request does not say what is needed"),
    "unreadable": (422, "The draft cannot be read"),
    "not-writable": (422, "The revised draft cannot be written so"),
    "too-long": (503, "It takes too long"),
    "fault": (500, "A fault of the program"),
}


class FieldError(BaseModel):
    """One part of a request that is not as it should be."""

    model_config = ConfigDict(extra="forbid")

    pointer: str = Field(description="JSON pointer to the part, as /options/turn")
    detail: str


class Problem(BaseModel):
    """Problem details, as RFC 9457 has them."""

    model_config = ConfigDict(extra="forbid")

    type: str = Field(description="Name of the problem, the same for every case of it")
    title: str
    status: int
    detail: str = Field(description="What is wrong here and what to do, in plain words")
    errors: list[FieldError] = Field(default_factory=list)


class Refused(Exception):
    """A request that cannot be answered; carries its problem."""

    def __init__(self, kind: str, detail: str, errors: list[FieldError] | None = None) -> None:
        """Make the problem of a kind (a key of the titles here)."""
        super().__init__(kind, detail, errors)  # as it was made: it comes from another process
        self.problem = problem_of(kind, detail, errors)


def problem_of(kind: str, detail: str, errors: list[FieldError] | None = None) -> Problem:
    """Return the problem details of a kind of problem."""
    status, title = _TITLES[kind]
    return Problem(
        type=f"urn:slopewise:problem:{kind}",
        title=title,
        status=status,
        detail=detail,
        errors=errors or [],
    )


def not_valid(error: ValidationError) -> Refused:
    """Return the refusal of a request body that the model does not allow."""
    errors = [
        FieldError(pointer="".join(f"/{p}" for p in e["loc"]), detail=e["msg"])
        for e in error.errors(include_url=False, include_input=False, include_context=False)
    ]
    first = errors[0]
    return Refused("invalid", f"{first.pointer or 'the body'}: {first.detail}", errors)


class ProblemResponse(Response):
    """Problem details as a response."""

    media_type = MEDIA_TYPE

    def __init__(self, problem: Problem, headers: dict[str, str] | None = None) -> None:
        """Answer with a problem and its status."""
        super().__init__(problem, problem.status, headers)

    def render(self, content: Any) -> bytes:
        """Return the problem as JSON."""
        return Problem.model_validate(content).model_dump_json(exclude_defaults=True).encode()
