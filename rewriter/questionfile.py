"""Questions and answers as a TOML file that people fill in by hand; it may hold several drafts."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Literal

from pydantic import Field, ValidationError, model_validator

from rewriter import regex
from rewriter.answers import WrongAnswer
from rewriter.asks import ASKS, normal_words, parsed_counts
from rewriter.options import Answer
from rewriter.publicmodel import Model
from rewriter.report import Question
from rewriter.spans import SourceText, quote

SCHEMA: Literal["slopewise/answers/1"] = "slopewise/answers/1"


class Entry(Model):
    """One question about one passage, and its answer."""

    ask: str
    piece: str
    passage: str
    """The words of the passage, by which it is found in a revision of the draft."""
    occurrence: int = Field(1, ge=1)
    """Which one it is of the passages with the same words in the same piece."""
    about: str = ""
    """The words in question, where they are not the whole passage."""
    answer: str = ""
    """One of the choices, or a list of counts; "" for not answered."""

    @model_validator(mode="after")
    def _is_answered_as_asked(self) -> Entry:
        asked = ASKS.get(self.ask)
        if asked is None:
            raise ValueError(f"ask = {self.ask!r} is no question known here: {_listed(ASKS)}")
        answer = self.answer.strip()
        if asked.choices and answer and self.choice not in asked.choices:
            raise ValueError(
                f"answer = {self.answer!r} is not one of the choices: {_listed(asked.choices)}"
            )
        if asked.form and answer and parsed_counts(answer) is None:
            raise ValueError(f"answer = {self.answer!r} is not {asked.form}")
        return self

    @property
    def choice(self) -> str:
        """The answer as the program spells it."""
        answer = self.answer.strip()
        return next((c for c in ASKS[self.ask].choices if c.lower() == answer.lower()), answer)

    @property
    def key(self) -> tuple[str, str, str, int, str]:
        """What makes it the same question as another."""
        about, words = normal_words(self.about), normal_words(self.passage)
        return self.ask, self.piece, words, self.occurrence, about


class DraftEntries(Model):
    """The questions of one draft."""

    name: str
    """Its file name."""
    question: tuple[Entry, ...] = ()


class AnswerFile(Model):
    """A file of questions and answers."""

    schema_: Literal["slopewise/answers/1"] = Field("slopewise/answers/1", alias="schema")
    draft: tuple[DraftEntries, ...] = ()


def read_answers(text: str, name: str) -> AnswerFile:
    """Read a file of answers; raises WrongAnswer with the line where it is not as it should be."""
    try:
        return AnswerFile.model_validate(tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        told = _unquoted(text, name)
        raise WrongAnswer(
            told or f"{name}: not a file of answers that can be read: {error}"
        ) from None
    except ValidationError as error:
        first = error.errors()[0]
        if first["loc"][-1:] == ("answer",) and (told := _unquoted(text, name)):
            raise WrongAnswer(told) from None  # "answer = 24" is a number, and so no text
        raise WrongAnswer(_what_is_wrong(text, name, first["loc"], first["msg"])) from None


def answers_for(file: AnswerFile, draft: str, text: str, name: str) -> tuple[Answer, ...]:
    """Return the answers for a draft: a file about one draft serves it under any name.

    `text` is what the file holds and `name` what it is called, to name the line of each answer.
    """
    out = []
    for number, entries in enumerate(file.draft):
        if entries.name != draft and len(file.draft) > 1:
            continue
        for count, entry in enumerate(entries.question):
            if not entry.answer.strip():
                continue
            line = _line(text, [number, count], "answer")
            out.append(
                Answer(
                    entry.ask,
                    entry.choice,
                    entry.passage,
                    entry.piece,
                    entry.about,
                    entry.occurrence,
                    f"{name} line {line}" if line else name,
                )
            )
    return tuple(out)


# --- what is wrong, and where -----------------------------------------------------------------------

_DRAFT = regex.compile(r"\s*\[\[\s*draft\s*\]\]")
_QUESTION = regex.compile(r"\s*\[\[\s*draft\s*\.\s*question\s*\]\]")


_BARE_ANSWER = regex.compile(r"\s*answer\s*=\s*(?P<said>[^\s\"'\[{][^#]*)")


def _unquoted(text: str, name: str) -> str:
    """Say which answer stands without its quotes, as people write it; "" where none does."""
    for number, line in enumerate(text.splitlines(), 1):
        bare = _BARE_ANSWER.match(line)
        if bare is not None:
            said = bare["said"].strip()
            return f'{name} line {number}: answer = {said}: write it in quotes: answer = "{said}"'
    return ""


def _line(text: str, place: Sequence[int], field: str) -> int | None:
    """Return the line of a field of a draft (and question) by their numbers; None if not found."""
    draft, question = -1, -1
    found: int | None = None
    key = regex.compile_new(rf"\s*{regex.escape(field)}\s*=")
    for number, line in enumerate(text.splitlines(), 1):
        if _DRAFT.match(line):
            draft, question = draft + 1, -1
        elif _QUESTION.match(line):
            question += 1
        at = [draft, question][: len(place)]
        if at != list(place) or (len(place) == 1 and question >= 0):
            continue
        found = found or number
        if key.match(line):
            return number
    return found


def _what_is_wrong(text: str, name: str, at: Sequence[int | str], message: str) -> str:
    place = [part for part in at if isinstance(part, int)]
    message = message.removeprefix("Value error, ")
    last = at[-1] if at and isinstance(at[-1], str) else ""
    field = last or message.partition(" ")[0]
    line = _line(text, place, field) if place else None
    where = f"{name} line {line}" if line else name
    return f"{where}: {last + ': ' if last else ''}{message[:1].lower()}{message[1:]}"


def _listed(names: object) -> str:
    return ", ".join(f'"{n}"' for n in names) if isinstance(names, list | tuple | dict) else ""


# --- writing ----------------------------------------------------------------------------------------

_HEAD = """\
# Questions about knitting drafts that only their writers can answer. Write one of the choices that
# stand above an answer between its quotes, leave "" where you cannot tell, and give the file back:
#     slopewise {command} {draft} --answers {file}
# A passage is found again by its words: the answers serve the next revision of the draft too.

schema = "{schema}"
"""


def questions_file(
    questions: Sequence[Question],
    source: SourceText,
    file: str,
    known: AnswerFile | None = None,
    used: bool = False,
) -> str:
    """Return the questions of a draft as TOML, with what is `known` from an earlier file kept.

    `file` is what the file will be called; `used` says that some of the known answers are for this
    draft, so that the only draft there is the same under another name.
    """
    known = known or AnswerFile(schema=SCHEMA)
    name = source.name
    own = [d for d in known.draft if d.name == name]
    if not own and used:
        own = list(known.draft[:1])
    answered = [e for d in own for e in d.question]
    lines = [head(name, file), section(questions, source, name, answered)]
    lines += [kept_section(d) for d in known.draft if d not in own]
    return "\n".join(lines)


def head(draft: str, file: str, command: str = "rewrite") -> str:
    """Return what stands at the top of a file of questions about `draft`, called `file`."""
    return _HEAD.format(draft=draft, file=file, schema=SCHEMA, command=command)


def section(
    questions: Sequence[Question], source: SourceText, name: str, answered: Sequence[Entry]
) -> str:
    """Return the questions of one draft, with the answers there are; each answer is kept."""
    kept = {e.key: e for e in answered}
    lines = [*_draft(name)]
    seen = set()
    for asked in questions:
        if not asked.ask:
            lines += ["", *_comment(_place(asked, source)), *_comment(_to_be_changed(asked))]
            continue
        entry = _entry(asked)
        seen.add(entry.key)
        entry = kept.get(entry.key, entry)
        lines += ["", *_comment(_place(asked, source)), *_comment(_sentence(asked))]
        lines += [*_choices(entry), *_fields(entry)]
    for entry in (e for e in kept.values() if e.key not in seen and e.answer.strip()):
        lines += ["", *_comment(f"Answered, {entry.piece}:"), *_choices(entry), *_fields(entry)]
    return "\n".join([*lines, ""])


def kept_section(draft: DraftEntries) -> str:
    """Return the questions of a draft that is not in hand, as they are known."""
    lines = [*_draft(draft.name)]
    for entry in draft.question:
        lines += ["", *_comment(f"{entry.piece}:"), *_choices(entry), *_fields(entry)]
    return "\n".join([*lines, ""])


def _entry(asked: Question) -> Entry:
    return Entry(
        ask=asked.ask,
        piece=asked.piece,
        passage=asked.words,
        occurrence=asked.occurrence,
        about=asked.about,
    )


def _draft(name: str) -> Iterator[str]:
    yield "[[draft]]"
    yield f"name = {_string(name)}"


def _place(asked: Question, source: SourceText) -> str:
    where = source.where(asked.span[0])
    words = quote(source.text[asked.span[0] : asked.span[1]], 160)
    return f"{where[:1].upper()}{where[1:]}, {asked.passage}: “{words}”"


def _sentence(asked: Question) -> str:
    text = asked.question if asked.question.endswith(("?", ".", ")")) else f"{asked.question}."
    return f"{text} (Need not be answered.)" if asked.optional else text


def _to_be_changed(asked: Question) -> str:
    return f"{_sentence(asked)} This must be put right in the draft itself."


def _choices(entry: Entry) -> Iterator[str]:
    asked = ASKS[entry.ask]
    width = max((len(c) + 2 for c in asked.choices), default=0)
    for choice, meaning in asked.choices.items():
        quoted = f'"{choice}"'
        yield f"#   {quoted:<{width}}  {meaning}"
    if asked.form:
        yield from _comment(f"Answer with {asked.form}.")


def _fields(entry: Entry) -> Iterator[str]:
    yield "[[draft.question]]"
    yield f"ask = {_string(entry.ask)}"
    yield f"piece = {_string(entry.piece)}"
    yield f"passage = {_string(entry.passage)}"
    if entry.occurrence > 1:
        yield f"occurrence = {entry.occurrence}"
    if entry.about:
        yield f"about = {_string(entry.about)}"
    yield f"answer = {_string(entry.answer)}"


def _comment(text: str) -> list[str]:
    flat = " ".join(_CONTROL.sub(" ", text).split())
    return wrap(flat, 100, initial_indent="# ", subsequent_indent="# ", break_on_hyphens=False)


_CONTROL = regex.compile(r"[\x00-\x1f\x7f-\x9f]")
_ESCAPED = regex.compile(r'["\\\x00-\x1f\x7f]')


def _string(text: str) -> str:
    """Return a text as a basic string of TOML."""
    return f'"{_ESCAPED.sub(lambda m: _escape(m.group()), text)}"'


def _escape(character: str) -> str:
    return f"\\{character}" if character in '"\\' else f"\\u{ord(character):04x}"
