"""What is done, on the disk: a run that was stopped, in whatever way, goes on where it was."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Iterator
from pathlib import Path

from rewriter.bulk.model import BulkError, Finding, Record, Status

_SCHEMA = """
create table if not exists about (name text primary key, value text not null);
create table if not exists drafts (
  path text primary key, sha256 text not null, key text not null, answers text not null, status text not null,
  rewritten integer not null, questions integer not null, left_alone integer not null,
  out text not null, redline text not null, seconds real not null, findings text not null,
  asked text not null, run integer not null
) without rowid;
"""
_COLUMNS = (
    "path, sha256, status, rewritten, questions, left_alone, out, redline, seconds, findings, asked"
)


class Manifest:
    """The results of all runs into one output folder; `with` closes it.

    Raises BulkError where the file cannot be opened or is none of ours.
    """

    def __init__(self, path: Path) -> None:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            self._base = sqlite3.connect(path, isolation_level=None)
            self._base.execute("pragma journal_mode=wal")
            self._base.execute("pragma synchronous=full")
            self._base.executescript(_SCHEMA)
        except (OSError, sqlite3.Error) as error:
            raise BulkError(f"{path}: the manifest cannot be opened ({error})") from None
        self.run = int(self._about("run", "0")) + 1
        self._tell("run", str(self.run))

    def __enter__(self) -> Manifest:
        return self

    def __exit__(self, *_: object) -> None:
        self._base.close()

    def _about(self, name: str, otherwise: str) -> str:
        row = self._base.execute("select value from about where name = ?", (name,)).fetchone()
        return str(row[0]) if row else otherwise

    def _tell(self, name: str, value: str) -> None:
        self._base.execute("insert or replace into about values (?, ?)", (name, value))

    def date(self, now: str) -> str:
        """Return the time that marks the changes: that of the first run, so that all are alike."""
        kept = self._about("date", "")
        if not kept:
            self._tell("date", now)
        return kept or now

    def is_done(self, path: str, sha256: str, key: str, answers: str, out: Path) -> bool:
        """Say whether this draft, with these options and answers, has a result that is still there.

        What failed or could not be read is tried again.
        """
        row = self._base.execute(
            "select status, out from drafts where path = ? and sha256 = ? and key = ? and answers = ?",
            (path, sha256, key, answers),
        ).fetchone()
        if row is None or row[0] in ("failed", "unreadable"):
            return False
        if row[1] and not (out / row[1]).is_file():
            return False
        self._base.execute("update drafts set run = ? where path = ?", (self.run, path))
        return True

    def keep(self, records: Iterable[tuple[Record, str]], key: str) -> None:
        """Write records, each with the answers it was made with, to the disk at once."""
        rows = [
            (
                r.path, r.sha256, key, answers, r.status, *r.passages, r.out, r.redline, r.seconds,
                json.dumps([[f.kind, f.what, f.where, f.text] for f in r.findings]), r.questions, self.run,
            )
            for r, answers in records
        ]  # fmt: skip
        self._base.execute("begin")
        self._base.executemany(
            "insert or replace into drafts values (?,?,?,?,?,?,?,?,?,?,?,?,?,?)", rows
        )
        self._base.execute("commit")

    def forget_others(self) -> None:
        """Leave out drafts that this run did not meet: they are gone from the folder."""
        self._base.execute("delete from drafts where run <> ?", (self.run,))

    def records(self, status: Status | None = None) -> Iterator[Record]:
        """Yield the records, those of one status or all, in order of their names, one at a time."""
        where = "where status = ?" if status else ""
        for row in self._base.execute(
            f"select {_COLUMNS} from drafts {where} order by path", (status,) if status else ()
        ):
            yield Record(
                path=row[0],
                sha256=row[1],
                status=row[2],
                passages=(row[3], row[4], row[5]),
                out=row[6],
                redline=row[7],
                seconds=row[8],
                findings=tuple(Finding(*f) for f in json.loads(row[9])),
                questions=row[10],
            )
