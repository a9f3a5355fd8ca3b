"""What a run found, for eyes and for programs: a table, JSON Lines, CSV, and a page."""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from html import escape
from importlib.resources import files
from itertools import islice
from pathlib import Path
from urllib.parse import quote

from rewriter import regex
from rewriter.bulk.files import OWN, open_whole
from rewriter.bulk.model import MEANINGS, STATUSES, Record, Status

LISTED = 5000
"""Drafts of one status that the page lists; a browser takes no more in its stride."""
JSON_LINES, CSV, PAGE = "summary.jsonl", "summary.csv", "summary.html"


@dataclass
class Totals:
    """Counts over a run."""

    statuses: Counter[Status] = field(default_factory=Counter)
    passages: Counter[str] = field(default_factory=Counter)
    reasons: Counter[tuple[str, str]] = field(default_factory=Counter)
    """How often each question or reason comes, its numbers and quotations left out."""
    first: dict[tuple[str, str], tuple[str, str]] = field(default_factory=dict)
    """The draft that each comes from first, with its own words there."""

    def add(self, record: Record) -> None:
        """Count one draft."""
        self.statuses[record.status] += 1
        for name, count in zip(("rewritten", "question", "left"), record.passages, strict=True):
            self.passages[name] += count
        for finding in record.findings:
            if finding.kind in ("question", "to put right", "left") or record.status in (
                "failed",
                "unreadable",
            ):
                key = (finding.kind, general(finding.text))
                self.reasons[key] += 1
                self.first.setdefault(key, (record.path, finding.text))

    def frequent(self, most: int) -> list[tuple[int, str, str, str]]:
        """Return the most frequent reasons: how often, kind, words, and the first draft that has them.

        One that comes once has the draft's own words, with its numbers.
        """
        return [
            (times, key[0], key[1] if times > 1 else self.first[key][1], self.first[key][0])
            for key, times in self.reasons.most_common(most)
        ]


_OWN_WORDS = regex.compile(r"[\"'“][^\"'“”]*[\"'”]|\(.*?\)|\d+")


def general(text: str) -> str:
    """Return a reason without what is a draft's own: quotations, remarks in brackets, numbers."""
    first = text.partition(";")[0]
    if "/" in first.partition(": ")[0]:  # it begins with the passage that it is about
        first = first.partition(": ")[2] or first
    return " ".join(_OWN_WORDS.sub("…", first).split())[:120]


Records = Callable[[Status | None], Iterable[Record]]
"""Gives the records of one status, or of all, one at a time."""


def write_summary(out: Path, records: Records, title: str) -> Totals:
    """Write the summary files into the output's own folder; raises OSError."""
    totals = Totals()
    own = out / OWN
    with open_whole(own / JSON_LINES) as lines, open_whole(own / CSV) as table:
        sheet = io.TextIOWrapper(table, "utf-8-sig", newline="", write_through=True)
        writer = csv.writer(sheet)
        writer.writerow(_HEAD)
        for record in records(None):
            totals.add(record)
            lines.write(json.dumps(record.to_row(), ensure_ascii=False).encode() + b"\n")
            told = " | ".join(f"{f.where}: {f.text}" for f in record.findings if f.kind != "remark")
            row = (_plain(record.path), record.status, *record.passages, _plain(told))
            writer.writerow((*row, record.out, record.redline, record.sha256))
        sheet.detach()
    with open_whole(own / PAGE) as page:
        for part in _page(records, totals, title):
            page.write(part.encode("utf-8"))
    return totals


_HEAD = (
    "draft", "status", "rewritten", "questions", "left", "findings", "out", "redline", "sha256",
)  # fmt: skip


def _plain(text: str) -> str:
    """Return text that a spreadsheet takes for no formula."""
    return f"'{text}" if text.startswith(("=", "+", "-", "@", "\t")) else text


# --- the page ---------------------------------------------------------------------------------------

_ORDER: tuple[Status, ...] = (
    "question", "partly", "failed", "unreadable", "left", "rewritten", "unchanged",
)  # fmt: skip
"""What needs somebody comes first."""


_TOP = """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{title}: summary</title>
<style>
{style}</style>
</head>
<body>
<header>
<h1>{title}</h1>
<p>{drafts} drafts. Stepped passages: {rewritten} rewritten and verified, {question} with a question,
{left} left for a reason.</p>
</header>
<main>
"""


def _page(records: Records, totals: Totals, title: str) -> Iterator[str]:
    yield _TOP.format(
        title=escape(title),
        style=(files("rewriter.bulk") / "summary.css").read_text(encoding="utf-8"),
        drafts=sum(totals.statuses.values()),
        **{name: totals.passages[name] for name in ("rewritten", "question", "left")},
    )
    yield _table(
        "Drafts by what became of them",
        ("Status", "Drafts", "Meaning"),
        [(s, str(totals.statuses[s]), MEANINGS[s]) for s in STATUSES if totals.statuses[s]],
    )
    if totals.reasons:
        yield _table(
            "Questions and reasons, the most frequent first",
            ("Times", "Kind", "Question or reason", "First in"),
            [(str(n), *told) for n, *told in totals.frequent(200)],
        )
    for status in _ORDER:
        count = totals.statuses[status]
        if not count:
            continue
        opened = " open" if status in _ORDER[:4] else ""
        yield f"<details{opened}>\n<summary><h2>{status.capitalize()}</h2> "
        yield f"<span>{count}: {MEANINGS[status]}</span></summary>\n<ul>\n"
        yield from map(_draft, islice(records(status), LISTED))
        if count > LISTED:
            yield f"<li>and {count - LISTED} more, in {CSV}</li>\n"
        yield "</ul>\n</details>\n"
    yield "</main>\n</body>\n</html>\n"


def _table(caption: str, head: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    cells = "".join(f'<th scope="col">{escape(h)}</th>' for h in head)
    body = "".join(
        "<tr>"
        + "".join(
            f'<th scope="row">{escape(c)}</th>' if not i else f"<td>{escape(c)}</td>"
            for i, c in enumerate(row)
        )
        + "</tr>\n"
        for row in rows
    )
    top = f"<caption>{escape(caption)}</caption>\n<thead><tr>{cells}</tr></thead>"
    return f"<table>\n{top}\n<tbody>\n{body}</tbody>\n</table>\n"


def _draft(record: Record) -> str:
    name = escape(record.path)
    if record.out:
        name = f'<a href="../{escape(quote(record.out))}">{name}</a>'
    if record.redline:
        inside = record.redline.removeprefix(f"{OWN}/")
        name += f' · <a href="{escape(quote(inside))}">redline</a>'
    told = "".join(
        f'<li><span class="kind">{f.kind}, {escape(f.where)}:</span> {escape(f.text)}</li>'
        for f in record.findings
        if f.kind != "remark"
    )
    return f"<li>{name}{f'<ul>{told}</ul>' if told else ''}</li>\n"
