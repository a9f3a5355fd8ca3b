"""Checking a revised text: no false alarm, and every seeded fault at its place and size."""

from __future__ import annotations

import json
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from rewriter import check, rewrite
from rewriter.cli import main
from rewriter.comparison import Comparison
from rewriter.options import Options
from rewriter.source import read_source
from tests.drafts import CORPUS, SyntheticDraft, all_drafts


@cache
def cases() -> dict[str, dict[str, Any]]:
    """Return the rewritings by people, each with a fault that can be put into it."""
    out = {
        path.stem: tomllib.loads(path.read_text(encoding="utf-8"))
        for path in sorted((CORPUS / "checks").glob("*.toml"))
    }
    assert len(out) >= 40
    return out


def errors(found: Comparison) -> list[str]:
    """Return the errors as text, for a message that can be read."""
    return [
        f"{f.code} {f.revised_line} {f.sizes}: {f.message}"
        for f in found.findings
        if f.severity == "error"
    ]


@pytest.mark.parametrize("name", cases())
def test_a_right_rewriting_gives_no_alarm(name: str) -> None:
    case = cases()[name]
    found = check(case["original"], case["revised"])
    assert errors(found) == []
    assert found.result == case.get("result", "same")
    assert any(p.changed for p in found.passages)


@pytest.mark.parametrize("name", cases())
def test_a_seeded_fault_is_found_at_its_place_and_size(name: str) -> None:
    case = cases()[name]
    fault = case["fault"]
    texts = {"original": case["original"], "revised": case["revised"]}
    where = fault.get("in", "revised")
    assert texts[where].count(fault["find"]) >= 1
    texts[where] = texts[where].replace(fault["find"], fault["put"], 1)
    found = check(texts["original"], texts["revised"])
    line = texts["revised"][: texts["revised"].index(fault["near"])].count("\n") + 1
    told = [
        f
        for f in found.findings
        if f.severity == "error" and f.code in fault["codes"] and f.revised_line == line
    ]
    assert told, (fault["kind"], errors(found))
    assert any(sorted(f.sizes) == sorted(fault["sizes"]) for f in told), errors(found)
    assert found.result == "differs"


# --- the tool's own output ------------------------------------------------------------------------

# Options in turn, so that each draft is checked with a few of them only.
OPTIONS = (
    Options(),
    Options(turn="wrap", markers=False),
    Options(turn="japanese", spelling="full"),
    Options(turn="yarn-over"),
    Options(turn="shadow", markers=False, spelling="full"),
)
OWN = [
    pytest.param(
        draft, OPTIONS[n % len(OPTIONS)], id=f"{draft.name}-{OPTIONS[n % len(OPTIONS)].turn}"
    )
    for n, draft in enumerate(d for d in all_drafts() if d.path.parent.name == "drafts")
]


@pytest.mark.parametrize(("draft", "options"), OWN)
def test_own_output_is_the_same_fabric(draft: SyntheticDraft, options: Options) -> None:
    text = read_source(draft.data, draft.path.name).text
    report = rewrite(text, options, name=draft.path.name)
    found = check(text, report.output, names=(draft.path.name, draft.path.name))
    assert errors(found) == []
    done = {p.id for p in report.passages if p.status == "rewritten"}
    assert done <= {p.id for p in found.passages if p.changed}
    assert {p.id for p in found.passages if p.result == "not-compared"} == set()


# --- the command ------------------------------------------------------------------------------------


@pytest.fixture
def pair(tmp_path: Path) -> tuple[str, str, dict[str, Any]]:
    """Write the first case to two files."""
    case = next(iter(cases().values()))
    one, two = tmp_path / "old.txt", tmp_path / "new.txt"
    one.write_text(case["original"], encoding="utf-8")
    two.write_text(case["revised"], encoding="utf-8")
    return str(one), str(two), case


def test_exit_status_tells_same_from_different(
    pair: tuple[str, str, dict[str, Any]], capsys: pytest.CaptureFixture[str]
) -> None:
    one, two, case = pair
    assert main(["check", one, two]) == 0
    assert "same fabric" in capsys.readouterr().out
    fault = case["fault"]
    Path(two).write_text(case["revised"].replace(fault["find"], fault["put"]), encoding="utf-8")
    assert main(["check", one, two]) == 1
    told = capsys.readouterr().out
    assert "new.txt line" in told
    assert "old.txt line" in told
    assert main(["check", one, two, "--report", "json"]) == 1
    report = json.loads(capsys.readouterr().out)
    assert report["schema"] == "slopewise/comparison/1"
    assert Comparison.model_validate(report).result == "differs"


def test_what_cannot_be_read_is_said(
    pair: tuple[str, str, dict[str, Any]], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    one, _, _ = pair
    empty = tmp_path / "empty.txt"
    empty.write_text("\n", encoding="utf-8")
    for two, words in (
        ("-", "standard input"),
        (str(empty), "empty"),
        ("gone.txt", "no such file"),
    ):
        first = "-" if two == "-" else one
        assert main(["check", first, two]) == 2
        assert words in capsys.readouterr().err


def test_the_schema_of_a_check_is_written(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", "comparison"]) == 0
    assert json.loads(capsys.readouterr().out)["title"] == "Comparison"


def test_a_text_is_the_same_as_itself() -> None:
    for case in list(cases().values())[:3]:
        found = check(case["original"], case["original"])
        assert (found.result, found.findings) == ("same", ())
        assert all(not p.changed for p in found.passages)


def test_a_passage_that_is_gone_is_missed() -> None:
    case = cases()["02-us-back-german-relative"]
    lost = case["original"].replace(
        "BO 7 sts at beg of next 4 rows, then 8 sts at beg of next 2 rows.", ""
    )
    found = check(case["original"], lost)
    assert [f.code for f in found.findings if f.severity == "error"] == ["passage-missing"]
    assert found.passages[0].result == "not-compared"
