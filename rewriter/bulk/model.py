"""What passes between the parts of a bulk run; all of it can be pickled."""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict, astuple, dataclass, replace
from typing import TYPE_CHECKING, Literal

from rewriter._version import __version__
from rewriter.options import Answer, Changes, Options

if TYPE_CHECKING:
    from rewriter.questionfile import Entry

Status = Literal["rewritten", "partly", "question", "left", "unchanged", "unreadable", "failed"]
STATUSES: tuple[Status, ...] = (
    "rewritten", "partly", "question", "left", "unchanged", "unreadable", "failed",
)  # fmt: skip
MEANINGS: dict[Status, str] = {
    "rewritten": "all shoulders rewritten and verified",
    "partly": "some rewritten, some left or with a question",
    "question": "nothing rewritten: a question must be answered first",
    "left": "nothing rewritten: left for a reason",
    "unchanged": "nothing to convert",
    "unreadable": "the file cannot be read",
    "failed": "stopped at a limit, or by a fault",
}


class BulkError(ValueError):
    """The run cannot start or go on; the message says what to do."""


SECONDS, MEGABYTES = 60.0, 2048
"""What a draft may take where nothing else is said: hundreds of times what a long one takes."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What one draft may take before it is given up."""

    seconds: float
    megabytes: int


@dataclass(frozen=True, slots=True)
class Settings:
    """What every draft of a run is revised with."""

    options: Options
    changes: Changes
    date: str
    """Time of the changes in documents (ISO 8601, UTC): that of the first run, kept by later ones."""
    author: str
    """Who signs changes and comments in documents."""
    limits: Limits
    redlines: bool
    copy_unchanged: bool
    dry: bool = False
    """Work out everything, write no draft."""

    def key(self) -> str:
        """Return what a result depends on beside the draft itself; another key means: do it again."""
        told = {
            "options": asdict(self.options),
            "changes": self.changes,
            "author": self.author,
            "redlines": self.redlines,
            "copy": self.copy_unchanged,
            "version": __version__,
        }
        return hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()[:16]


@dataclass(frozen=True, slots=True)
class Job:
    """One draft to revise."""

    path: str
    """Below the folder of the drafts, with forward slashes; its name in the manifest."""
    source: str
    out: str
    redline: str
    answers: tuple[Answer, ...] = ()
    """Answers for this draft alone."""
    entries: tuple[Entry, ...] = ()
    """Its questions as they were answered, to be written again."""

    def told(self) -> str:
        """Return the answers as text: other answers mean that the draft is done again."""
        return json.dumps([astuple(replace(a, place="")) for a in self.answers])


@dataclass(frozen=True, slots=True)
class Finding:
    """A question, a reason, or a diagnostic, with its place in the draft."""

    kind: Literal["question", "to put right", "left", "error", "warning", "remark"]
    """A question has an answer; what is to be put right is a matter for the draft itself."""
    what: str
    """Id of the passage, or code of the diagnostic."""
    where: str
    text: str


@dataclass(frozen=True, slots=True)
class Record:
    """What became of one draft."""

    path: str
    sha256: str
    status: Status
    passages: tuple[int, int, int]
    """Stepped passages rewritten, with a question, and left."""
    findings: tuple[Finding, ...]
    out: str
    """Where the result lies below the output folder; empty where none was written."""
    redline: str = ""
    seconds: float = 0.0
    questions: str = ""
    """Its section of a file of questions; empty where nothing is asked and nothing was answered."""

    def to_row(self) -> dict[str, object]:
        """Return the record as plain values, for JSON."""
        rewritten, questions, left = self.passages
        return {
            "draft": self.path,
            "sha256": self.sha256,
            "status": self.status,
            "rewritten": rewritten,
            "questions": questions,
            "left": left,
            "out": self.out,
            "redline": self.redline,
            "findings": [asdict(f) for f in self.findings],
        }
