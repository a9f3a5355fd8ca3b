"""One file of questions for a whole folder, and the answers it comes back with."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from rewriter.answers import WrongAnswer
from rewriter.bulk.files import write_whole
from rewriter.bulk.manifest import Manifest
from rewriter.bulk.model import BulkError, Job
from rewriter.questionfile import SCHEMA, AnswerFile, answers_for, head, kept_section, read_answers


@dataclass(frozen=True)
class Answers:
    """What was answered, by the path of each draft below the folder."""

    file: AnswerFile
    text: str
    name: str

    @classmethod
    def read(cls, answers: str | None, questions: str | None) -> Answers:
        """Read the file of answers, if there is one; raises WrongAnswer with the line, or BulkError.

        A file of questions that has answers in it is not written over, unless these were given too.
        """
        told = _text(answers) if answers else ""
        known = read_answers(told, answers) if answers else AnswerFile(schema=SCHEMA)
        if questions and Path(questions).exists():
            same = answers is not None and Path(answers).resolve() == Path(questions).resolve()
            written = (
                AnswerFile(schema=SCHEMA) if same else read_answers(_text(questions), questions)
            )
            if any(q.answer.strip() for d in written.draft for q in d.question):
                raise BulkError(
                    f"{questions}: has answers in it, which would be lost; give it with --answers too, and "
                    "they are kept"
                )
        return cls(known, told, answers or "")

    def of(self, job: Job) -> Job:
        """Return a job with the answers about its draft."""
        mine = [d for d in self.file.draft if d.name == job.path]
        if not mine:
            return job
        answers = answers_for(self.file, job.path, self.text, self.name)
        return replace(job, answers=answers, entries=tuple(e for d in mine for e in d.question))

    def write(self, path: Path, folder: Path, manifest: Manifest) -> None:
        """Write the questions of all drafts to one file; raises BulkError where it cannot be written."""
        parts = [head(folder.name, path.name, "bulk")]
        met = set()
        for record in manifest.records():
            met.add(record.path)
            if record.questions:
                parts.append(record.questions)
        parts += [kept_section(d) for d in self.file.draft if d.name not in met]
        try:
            write_whole(path.absolute(), "\n".join(parts).encode("utf-8"))
        except OSError as error:
            raise BulkError(f"{path}: cannot be written ({error.strerror})") from None


def _text(path: str) -> str:
    try:
        return Path(path).read_text(encoding="utf-8")
    except OSError as error:
        raise BulkError(f"{path}: cannot be read ({error.strerror})") from None
    except UnicodeDecodeError:
        raise WrongAnswer(f"{path}: not a text file in UTF-8") from None
