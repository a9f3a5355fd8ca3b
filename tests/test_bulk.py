"""Folders of drafts: the mirror, resuming, limits, summaries, and sources that are never touched."""

from __future__ import annotations

import csv
import io
import json
import os
import shutil
import signal
import subprocess
import sys
import tomllib
from concurrent.futures import BrokenExecutor, Future
from html.parser import HTMLParser
from pathlib import Path

import pytest

from rewriter.bulk.files import OWN
from rewriter.bulk.manifest import Manifest
from rewriter.bulk.model import Job, Limits, Settings
from rewriter.bulk.run import Pool, run
from rewriter.bulk.summary import general
from rewriter.bulk.worker import work_one
from rewriter.options import Options
from rewriter.pipeline import rewrite_bytes
from tests.booklet import booklet
from tests.bulktools import bulk, many, tree
from tests.drafts import CORPUS


@pytest.fixture
def drafts(tmp_path: Path) -> Path:
    """A small archive: folders within folders, all kinds of results, a document, what is no draft."""
    folder = tmp_path / "drafts"
    names = sorted((CORPUS / "drafts").glob("uk-*.md"))[:4] + sorted(
        (CORPUS / "houses").glob("30*.txt")
    )
    for i, path in enumerate(names):
        below = folder / ("old" if i % 2 else "new") / "knits"
        below.mkdir(parents=True, exist_ok=True)
        shutil.copy(path, below)
    (folder / "booklet.docx").write_bytes(booklet())
    (folder / "empty.txt").write_text("")
    (folder / "tea.txt").write_text("Put the kettle on.\n")
    (folder / "photo.jpg").write_bytes(b"\xff\xd8\xff")
    (folder / "asked.txt").write_text(
        "Back\nCast off 5 sts at beg of next 4 rows. Cast off 6 sts in some way at beg of foll rows.\n"
    )
    return folder


def test_the_mirror_holds_what_rewrite_writes(drafts: Path, tmp_path: Path) -> None:
    before = tree(drafts)
    out = tmp_path / "out"
    assert bulk(drafts, "--out", out, "--redlines", "--turn", "wrap") == 1  # one is empty
    assert tree(drafts) == before
    for path in sorted(drafts.rglob("*.md")):
        report, revised = rewrite_bytes(path.read_bytes(), path.name, Options(turn="wrap"))
        assert (out / path.relative_to(drafts)).read_bytes() == revised
        if report.edits:
            page = out / OWN / "redlines" / f"{path.relative_to(drafts)}.html"
            assert "<ins" in page.read_text(encoding="utf-8")
    assert (out / "tea.txt").read_bytes() == (drafts / "tea.txt").read_bytes()
    assert not (out / "photo.jpg").exists()
    assert not (out / "empty.txt").exists()
    assert (out / "booklet.docx").read_bytes()[:2] == b"PK"


def test_the_summaries_agree(
    drafts: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    bulk(drafts, "--out", out)
    screen = capsys.readouterr().out
    rows = [json.loads(line) for line in (out / OWN / "summary.jsonl").read_text().splitlines()]
    by_name = {row["draft"]: row for row in rows}
    assert by_name["tea.txt"]["status"] == "unchanged"
    assert by_name["empty.txt"]["status"] == "unreadable"
    assert by_name["booklet.docx"]["rewritten"] > 0
    text = (out / OWN / "summary.csv").read_text(encoding="utf-8-sig")
    table = list(csv.DictReader(io.StringIO(text)))
    assert [row["draft"] for row in table] == [row["draft"] for row in rows]
    assert "'" not in {row["findings"] for row in table}
    assert [int(row["rewritten"]) for row in table] == [row["rewritten"] for row in rows]
    assert f"{sum(row['rewritten'] for row in rows)} rewritten and verified" in screen
    links: list[str] = []

    class Links(HTMLParser):
        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            links.extend(value or "" for name, value in attrs if name == "href")

    Links().feed((out / OWN / "summary.html").read_text(encoding="utf-8"))
    assert len(links) == sum(bool(row["out"]) for row in rows)
    assert all((out / OWN / link).resolve().is_file() for link in links)


def test_only_what_changed_is_done_again(drafts: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    bulk(drafts, "--out", out)
    first = tree(out)
    target = out / "tea.txt"
    target.write_text("somebody's own words")  # what is done is not written again
    bulk(drafts, "--out", out)
    assert target.read_text() == "somebody's own words"
    target.unlink()  # but what is missing is
    (drafts / "asked.txt").unlink()
    bulk(drafts, "--out", out)
    assert tree(out)["tea.txt"] == first["tea.txt"]
    assert "asked.txt" not in (out / OWN / "summary.csv").read_text(encoding="utf-8-sig")
    bulk(drafts, "--out", out, "--turn", "japanese")
    changed = [name for name, sha in tree(out).items() if first.get(name) not in (None, sha)]
    assert any(name.endswith(".md") for name in changed)


def test_choices_of_what_is_written(drafts: Path, tmp_path: Path) -> None:
    dry = tmp_path / "dry"
    bulk(drafts, "--out", dry, "--dry-run")
    assert not dry.exists()
    only = tmp_path / "only"
    assert bulk(drafts, "--out", only, "--only-changed", "--glob", "*.md", "--glob", "tea.txt") == 0
    assert not (only / "tea.txt").exists()
    assert all(p.suffix == ".md" for p in only.rglob("*") if p.is_file() and OWN not in p.parts)


def test_what_it_fails_on(tmp_path: Path) -> None:
    folder = tmp_path / "drafts"
    folder.mkdir()
    (folder / "asked.txt").write_text(
        "Back\nShape shoulders\nCast off 5 sts at beg of next 4 rows, 81 sts. Cast off rem 20 sts.\n"
    )
    out = tmp_path / "out"
    assert bulk(folder, "--out", out) == 0
    rows = [json.loads(line) for line in (out / OWN / "summary.jsonl").read_text().splitlines()]
    assert rows[0]["questions"] == 1
    assert bulk(folder, "--out", out, "--fail-on", "question") == 1
    assert bulk(folder, "--out", out, "--fail-on", "left") == 0


@pytest.mark.parametrize(
    ("out", "told"),
    [
        ("drafts/out", "outside the folder"),
        ("drafts", "outside the folder"),
        (".", "outside the folder"),
        ("theirs", "files that no run made"),
        ("file.txt", "this is a file"),
        ("file.txt/out", "cannot be opened"),
    ],
)
def test_no_file_of_anybody_is_overwritten(
    drafts: Path, tmp_path: Path, out: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "theirs").mkdir()
    (tmp_path / "theirs" / "letter.txt").write_text("Dear all")
    (tmp_path / "file.txt").write_text("Dear all")
    before = tree(tmp_path)
    assert bulk(drafts, "--out", tmp_path / out) == 2
    assert told in capsys.readouterr().err
    assert tree(tmp_path) == before


def test_a_folder_without_drafts(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "none").mkdir()
    assert bulk(tmp_path / "none", "--out", tmp_path / "out") == 2
    assert bulk(tmp_path / "nowhere", "--out", tmp_path / "out") == 2
    told = capsys.readouterr().err
    assert "no draft in it" in told
    assert "no such folder" in told


def test_all_questions_of_a_folder_stand_in_one_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, out, file = tmp_path / "drafts", tmp_path / "out", tmp_path / "questions.toml"
    for name in ("old/one.txt", "new/two.txt"):
        (folder / name).parent.mkdir(parents=True)
        (folder / name).write_text(
            "Back\nWork until armholes measure 20 cm, ending with a WS row.\nShape shoulders\n"
            "Cast off 8 sts at beg of next 6 rows, minding the buds. Cast off rem 28 sts.\n"
        )
    (folder / "tea.txt").write_text("Put the kettle on.\n")
    bulk(folder, "--out", out, "--questions", file)
    asked = tomllib.loads(file.read_text())
    assert [d["name"] for d in asked["draft"]] == ["new/two.txt", "old/one.txt"]
    assert asked["draft"][0]["question"][0]["about"] == "minding the buds"
    before, _, after = file.read_text().rpartition('answer = ""')
    file.write_text(f'{before}answer = "harmless"{after}')  # about old/one.txt
    assert bulk(folder, "--out", out, "--questions", file) == 2  # they would be lost
    assert "has answers in it" in capsys.readouterr().err
    assert bulk(folder, "--out", out, "--answers", file, "--questions", file) == 0
    rows = [json.loads(line) for line in (out / OWN / "summary.jsonl").read_text().splitlines()]
    assert {r["draft"]: r["status"] for r in rows} == {
        "new/two.txt": "question",
        "old/one.txt": "rewritten",
        "tea.txt": "unchanged",
    }
    kept = tomllib.loads(file.read_text())
    answers = {d["name"]: [q["answer"] for q in d["question"]] for d in kept["draft"]}
    assert answers["old/one.txt"] == ["harmless"]
    assert answers["new/two.txt"] == [""]
    file.write_text(file.read_text().replace('"harmless"', '"perhaps"'))
    assert bulk(folder, "--out", out, "--answers", file) == 2
    assert "perhaps" in capsys.readouterr().err


# --- limits -----------------------------------------------------------------------------------------


def _settings(out: Path, seconds: float = 60, megabytes: int = 2048) -> Settings:
    return Settings(
        Options(),
        "tracked",
        "2026-01-01T00:00:00Z",
        "Ada Lind",
        Limits(seconds, megabytes),
        False,
        True,
    )


def _job(folder: Path, name: str) -> Job:
    return Job(name, str(folder / name), str(folder.parent / "out" / name), "")


def test_a_draft_that_takes_too_long_is_given_up(drafts: Path, tmp_path: Path) -> None:
    record = work_one(_job(drafts, "booklet.docx"), _settings(tmp_path, seconds=0.01))
    assert record.status == "failed"
    assert "given up after 0.01 seconds" in record.findings[0].text
    assert work_one(_job(drafts, "tea.txt"), _settings(tmp_path)).status == "unchanged"


def test_a_draft_that_needs_too_much_memory_is_given_up(drafts: Path, tmp_path: Path) -> None:
    script = (
        "import sys; from tests.test_bulk import _job, _settings; from pathlib import Path;"
        "from rewriter.bulk.worker import work_one; import rewriter.formats as f;"
        "f.open_draft = lambda data, name: bytearray(1 << 30);"
        "r = work_one(_job(Path(sys.argv[1]), 'tea.txt'), _settings(Path(sys.argv[2]), 60, 700));"
        "print(r.status, r.findings[0].text)"
    )
    told = subprocess.run(
        [sys.executable, "-c", script, str(drafts), str(tmp_path)],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parent.parent,
    )
    assert "needs more than 700 MB" in told.stdout


class _Breaking(Pool):
    """Processes of which those that get a certain draft are ended."""

    def open(self) -> object:  # type: ignore[override]
        return self

    def alone(self) -> object:  # type: ignore[override]
        return self

    def __enter__(self) -> _Breaking:
        return self

    def __exit__(self, *_: object) -> None: ...

    def submit(self, work: object, chunk: tuple[Job, ...], settings: Settings) -> Future[object]:
        future: Future[object] = Future()
        if any(job.path == "tea.txt" for job in chunk):
            future.set_exception(BrokenExecutor("ended"))
        else:
            future.set_result([work_one(job, settings) for job in chunk])
        return future


def test_a_draft_that_ends_its_process_is_the_only_one_lost(drafts: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    with Manifest(out / OWN / "manifest.sqlite") as manifest:
        run(
            drafts,
            out,
            (),
            _settings(out),
            manifest,
            _Breaking(1),
            lambda job: job,
            lambda tally: None,
        )
        found = {r.path: r.status for r in manifest.records()}
    assert found.pop("tea.txt") == "failed"
    assert found.pop("empty.txt") == "unreadable"
    assert "failed" not in found.values()
    assert len(found) > 10


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "2 × 25 + 31 = 81, but 83 sts are on the needle in size 10",
            "… × … + … = …, but … sts are on the needle in size …",
        ),
        ("the words 'opening' are not understood here", "the words … are not understood here"),
        (
            "is this a shoulder? it stands in the front; answer kind=shoulder",
            "is this a shoulder? it stands in the front",
        ),
    ],
)
def test_reasons_are_counted_without_what_is_a_drafts_own(text: str, told: str) -> None:
    assert general(text) == told


def test_a_reason_names_its_draft_and_once_has_its_numbers(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "drafts"
    folder.mkdir()
    steps = "BACK\nWork in st st until armholes measure 20 cm, ending with a WS row. {} sts.\n"
    steps += "Shape shoulders\nCast off 8 sts at beg of next 4 rows. Cast off rem {} sts.\n"
    (folder / "a.txt").write_text(steps.format(70, 40))
    bulk(folder, "--out", tmp_path / "one")
    told = "to put right: 2 × 16 + 40 = 72, but 70 sts are on the needle (a.txt)"
    assert told in " ".join(capsys.readouterr().out.split())
    (folder / "b.txt").write_text(steps.format(71, 40))
    bulk(folder, "--out", tmp_path / "two")
    told = "2 × to put right: … × … + … = …, but … sts are on the needle (first in a.txt)"
    assert told in " ".join(capsys.readouterr().out.split())


# --- a cluster --------------------------------------------------------------------------------------


def test_a_cluster_gives_the_same_and_survives_the_loss_of_a_worker(tmp_path: Path) -> None:
    distributed = pytest.importorskip("distributed")
    many(tmp_path / "drafts")
    here, there = tmp_path / "here", tmp_path / "there"
    bulk(tmp_path / "drafts", "--out", here)
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None, silence_logs=50
    ) as cluster:
        pids = [worker.pid for worker in cluster.workers.values()]
        killed: list[int] = []

        def told(tally: object) -> None:
            if getattr(tally, "done", 0) >= 16 and not killed:
                killed.append(pids[0])
                os.kill(pids[0], signal.SIGKILL)

        pool = Pool(2, cluster.scheduler_address)
        with Manifest(there / OWN / "manifest.sqlite") as manifest:
            run(
                tmp_path / "drafts",
                there,
                (),
                _settings(there),
                manifest,
                pool,
                lambda job: job,
                told,
            )
            pool.close()
            assert killed
            assert "failed" not in {r.status for r in manifest.records()}
    ours = {name: sha for name, sha in tree(here).items() if OWN not in name}
    assert {name: sha for name, sha in tree(there).items() if OWN not in name} == ours


def test_a_cluster_that_is_not_there(
    drafts: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert bulk(drafts, "--out", tmp_path / "out", "--scheduler", "nowhere") == 2
    assert "no scheduler answers" in capsys.readouterr().err
