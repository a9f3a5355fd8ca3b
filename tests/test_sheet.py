"""The technical editing sheet: its figures, its findings, and its three forms."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser
from pathlib import Path

import jsonschema
import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension

from rewriter import read
from rewriter.cli import main
from rewriter.formats import open_draft
from rewriter.options import Options
from rewriter.pipeline import read_text
from rewriter.report import Report
from rewriter.sheetmodel import Sheet, SheetFinding
from rewriter.sheetpage import sheet_page
from rewriter.sheettext import sheet_text
from rewriter.spans import quote
from tests.booklet import booklet
from tests.drafts import CORPUS, SyntheticDraft, all_drafts

DRAFTS = [d for d in all_drafts() if d.path.parent.name == "drafts"]
SHOWN = (
    "drafts/uk-saltmarsh-pullover.md",
    "drafts/us-depot-street-jacket.txt",
    "forms/37-tin-roof-cardigan.txt",
)
SALTMARSH = (CORPUS / SHOWN[0]).read_text(encoding="utf-8")


COUNTED = "BACK\nArmholes: Dec 1 st at each end of next and foll alt rows until 48 sts rem.\n"
ENDS = (
    "ending with a WS row.\nShape shoulders\nCast off 7 sts at beg of next 4 rows. "
    "Cast off rem 20 sts.\n"
)


def sheet_of_file(path: Path) -> Sheet:
    sheet = read_text(open_draft(path.read_bytes(), path.name).source, Options()).sheet
    assert sheet is not None
    return sheet


def sheet_of_text(text: str) -> Sheet:
    sheet = read(text, name="draft.md").sheet
    assert sheet is not None
    return sheet


def found(sheet: Sheet, code: str) -> list[SheetFinding]:
    return [f for f in sheet.findings if f.code == code]


class Words(SingleFileSnapshotExtension):
    """One file a snapshot."""

    file_extension = "txt"


@pytest.mark.parametrize("name", SHOWN, ids=lambda name: Path(name).stem)
def test_the_sheet_as_text(name: str, snapshot: SnapshotAssertion) -> None:
    text = sheet_text(sheet_of_file(CORPUS / name), Path(name).name)
    assert text.encode() == snapshot.use_extension(Words)


# --- figures ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("draft", DRAFTS, ids=lambda d: d.name)
def test_the_figures_are_those_the_draft_was_made_from(draft: SyntheticDraft) -> None:
    sheet = sheet_of_file(draft.path)
    told = [p for p in draft.truth["passages"] if p["kind"] == "shoulder" and p.get("edges")]
    compared = 0
    for truth in told:
        begins = " ".join(truth["starts_with"].split())[:24]
        own = [s for s in sheet.shoulders if s.piece == truth["piece"]]
        shoulder = next((s for s in own if begins in s.place.words), None)
        if shoulder is None or not shoulder.read or not truth["convertible"]:
            continue
        compared += 1
        assert shoulder.before is not None
        assert list(shoulder.before.values) == truth["stitches_before"]
        steps = [[list(step.values) for step in edge.steps] for edge in shoulder.edges]
        assert steps == [edge["steps"] for edge in truth["edges"]]
        if len(steps) == 2 and truth.get("neck") and shoulder.neck is not None:
            assert list(shoulder.neck.values) == truth["neck"]
        assert not [s for s in shoulder.sums if s.result == "differs"]
        for i in range(len(sheet.sizes)):
            sums = [sum(step[i] for step in edge["steps"]) for edge in truth["edges"]]
            assert [edge.total[i] for edge in shoulder.edges] == sums
    assert compared or not [t for t in told if t["convertible"]]


def test_the_places_of_figures_hold_the_words() -> None:
    sheet = sheet_of_file(CORPUS / SHOWN[0])
    lines = SALTMARSH.split("\n")
    places = [f.place for s in sheet.shoulders for e in s.edges for f in e.steps]
    places += [f.place for s in sheet.shoulders for f in (s.before, s.neck) if f is not None]
    for place in places:
        assert place is not None
        assert place.where == f"line {place.line}:{place.column}"
        assert lines[place.line - 1][place.column - 1 :].startswith(place.words[:40])


def test_the_depth_is_rows_by_the_drafts_own_gauge() -> None:
    back, front = sheet_of_file(CORPUS / SHOWN[0]).shoulders
    for shoulder in (back, front):
        assert {d.words for d in shoulder.depth if d} == {"6 rows ÷ 30 × 10 = 2 cm (¾ in)"}
        assert shoulder.edges[0].slope_rows == (6,) * 5


def test_without_rows_in_the_gauge_there_is_no_depth() -> None:
    sheet = sheet_of_text(SALTMARSH.replace("22 sts and 30 rows to 10 cm", "22 sts to 10 cm"))
    assert not any(d for s in sheet.shoulders for d in s.depth)
    assert [f.code for f in sheet.findings] == ["gauge-no-rows"]
    none = sheet_of_text(SALTMARSH.replace("22 sts and 30 rows to 10 cm, measured", "Measured"))
    assert {s.depth_note for s in none.shoulders} == {"no gauge of the draft could be read"}


def depth_note(gauge: str, knitted: str) -> str:
    tension = f"Tension: 20 sts and 28 rows to 10 cm over {gauge}.\n"
    rib = "BACK\nCast on 48 sts. Work 8 rows in K.1, P.1 rib.\n"
    sheet = sheet_of_text(f"{tension}{rib}Change to larger needles and {knitted} until {ENDS}")
    return sheet.shoulders[0].depth_note


@pytest.mark.parametrize("stocking", ["st st", "st. st.", "st.st.", "st-st", "stocking stitch"])
def test_stocking_stitch_with_points_is_stocking_stitch(stocking: str) -> None:
    assert "that gauge" not in depth_note("stocking stitch", stocking)
    assert "that gauge" not in depth_note(stocking, "stocking stitch")


def test_a_gauge_over_another_stitch_pattern_is_told() -> None:
    assert "that gauge" not in depth_note("moss st", "cont in moss st")
    assert "that gauge" not in depth_note("patt", "cont in moss st")
    assert depth_note(
        "moss stitch", "work moss st 10, panel 22, moss st to end of each row"
    ).endswith("that gauge is over moss stitch, the shoulder is in a panel and moss stitch")
    assert depth_note("lace", "cont in moss st").endswith(
        "over lace, the shoulder is in moss stitch"
    )


# --- findings ---------------------------------------------------------------------------------------

BACK = "Cast off 7(8:8:8:8) sts at beg of next 4 rows, then 8(7:7:8:8) sts"
FRONT = "Cast off 7(8:8:8:8) sts at beg of next and foll alt row"


def test_a_clean_draft_has_no_findings() -> None:
    assert sheet_of_text(SALTMARSH).findings == ()


@pytest.mark.parametrize(
    ("old", "new", "code", "line", "sizes"),
    [
        # the neck of the third size
        ("Leave rem 32(32:34:", "Leave rem 32(32:36:", "sums", 42, ("91",)),
        # a step of the back in the fourth size: sts do not add up, and front and back do not meet
        (BACK, BACK.replace("8(7:7:8:8)", "8(7:7:9:8)"), "sums", 42, ("97",)),
        (BACK, BACK.replace("8(7:7:8:8)", "8(7:7:9:8)"), "shoulders-differ", 66, ("97",)),
        ("18(19:19:20:21) cm", "18(19:19:20) cm", "list-length", 44, ()),
        ("cast on 98(104:110:116:122)", "cast on 98(104:110:116)", "list-length", 32, ()),
        ("18(19:19:20:21) cm", "18(19,19,20,21) cm", "list-notation", 44, ()),
        ("alt = alternate; ", "", "abbreviation-undefined", 42, ()),
        ("alt = alternate;", "alt = alternate; M1 = make 1;", "abbreviation-unused", 24, ()),
        ("alt = alternate;", "alt = alternate; alt = every other;", "abbreviation-twice", 24, ()),
        ("22 sts and 30 rows", "22 sts and 80 rows", "gauge-unusual", 20, ()),
        ("22 sts and 30 rows to 10 cm", "22 sts and 30 rows", "gauge-no-length", 20, ()),
        # the front in two steps, alike in their sum
        (
            f"{FRONT}.\n\nWork 1 row. Cast off rem 8(7:7:8:8) sts.",
            "Cast off 11(11:11:12:12) sts at beg of next row.\n\n"
            "Work 1 row. Cast off rem 11(12:12:12:12) sts.",
            "steps-differ",
            66,
            ("81", "86", "91", "97", "102"),
        ),
        # a WS lead-in, but the first row labelled WS too
        (
            "**Shape shoulders**\n\nCast off 7(8:8:8:8) sts at beg of next 4 rows, then",
            "**Shape shoulders**\n\nNext row (WS): Cast off 7(8:8:8:8) sts, P to end.\n\n"
            "Next row: Cast off 7(8:8:8:8) sts, K to end.\n\n"
            "Cast off 7(8:8:8:8) sts at beg of next 2 rows, then",
            "sides-contradict",
            44,
            (),
        ),
    ],
)  # fmt: skip
def test_a_fault_is_found_at_its_place(
    old: str, new: str, code: str, line: int, sizes: tuple[str, ...]
) -> None:
    assert SALTMARSH.count(old) >= 1
    sheet = sheet_of_text(SALTMARSH.replace(old, new, 1))
    findings = found(sheet, code)
    assert findings, [f.code for f in sheet.findings]
    assert (findings[0].place.line, findings[0].sizes) == (line, sizes)


def test_a_list_of_abbreviations_that_is_not_read_is_told_at_the_top() -> None:
    sheet = sheet_of_text(f"ABBREVIATIONS: those on page 2.\n\n{COUNTED}Cont for 20 cm, {ENDS}")
    assert [f.severity for f in found(sheet, "abbreviations-not-read")] == ["remark"]
    assert "FINDINGS: 1 remark" in sheet_text(sheet, "draft.md")


def test_silence_names_what_was_compared_and_what_was_not() -> None:
    told = sheet_text(sheet_of_text(SALTMARSH), "draft.md")
    assert "FINDINGS: none in what was compared" in told
    done, left = told.split("\nCOMPARED\n")[1].split("\nNOT COMPARED\n")
    assert (
        "the sum of each shoulder with the counts that are printed: back/shoulder/1, front/" in done
    )
    assert "back with front" in done and "abbreviations" in done
    assert "counts from the cast-on to the armholes" in left
    assert "sides, told once" in left


def test_what_has_no_other_count_is_not_said_to_be_compared() -> None:
    text = f"BACK\nCont for 20 cm, {ENDS}"
    scope = sheet_text(sheet_of_text(text), "draft.md").split("\nSHOULDER ")[0]
    done, left = scope.split("\nNOT COMPARED\n")
    assert "the sum of each shoulder" not in done and "COMPARED\n  nothing" in done
    assert "no other count is printed: back/shoulder/1" in left
    assert "back with front: one shoulder alone" in left
    assert "abbreviations: no list" in left and "without rows in the gauge" in left


DECREASED = """Sizes 8 (10)

LEFT FRONT
Work until armhole measures 12 cm, ending with a RS row. 30 (33) sts.
Shape neck
Next row: Dec 1 st at neck edge on next 6 (7) rows.
Work straight until armhole measures 20 cm, ending with a WS row.
Shape shoulder
Cast off 8 sts at beg of next and foll alt row. Work 1 row. Cast off 8 ({last}) sts.
"""


def test_a_sum_is_set_beside_a_count_from_which_the_neck_is_decreased() -> None:
    right = sheet_of_text(DECREASED.format(last=10))
    assert {one.result for one in right.shoulders[0].sums} == {"agrees"}
    assert not found(right, "sums")
    wrong = sheet_of_text(DECREASED.format(last=9))
    assert [one.result for one in wrong.shoulders[0].sums] == ["agrees", "differs"]
    (finding,) = found(wrong, "sums")
    assert (finding.place.line, finding.sizes) == (4, ("10",))
    assert finding.beside is not None and finding.beside.line == 9
    assert "the 33 sts printed before, less the 7" in finding.message


def test_a_sum_that_fails_names_the_count_and_the_steps() -> None:
    sheet = sheet_of_text(SALTMARSH.replace("Leave rem 32(32:34:", "Leave rem 32(32:36:"))
    (finding,) = found(sheet, "sums")
    assert (finding.place.line, finding.place.words) == (42, "76(78:80:82:84) sts")
    assert finding.beside is not None and finding.beside.line == 48
    assert "the steps: line 48:1 “Cast off 7" in sheet_text(sheet, "draft.md")
    assert "the steps:" in sheet_page(sheet, "draft.md")


def test_the_depth_says_how_its_rows_are_counted(capsys: pytest.CaptureFixture[str]) -> None:
    convention = "from the first row that binds off to the last, and the row after it"
    told = sheet_text(sheet_of_text(SALTMARSH), "draft.md")
    assert f"depth of the slope: its rows are counted {convention}" in told
    with pytest.raises(SystemExit):
        main(["read", "--help"])
    assert convention in " ".join(capsys.readouterr().out.split())


FRONT_SIDES = """FRONT
**{first}:** Cont until armhole measures 20 cm, ending with a WS row. 14 sts.
Cast off 7 sts at beg of next row. P 1 row. Cast off rem 7 sts.
**{second}:** Cont until armhole measures 20 cm, ending with a RS row. 14 sts.
Cast off 7 sts at beg of next row. K 1 row. Cast off rem 7 sts.
"""


def test_the_halves_of_a_front_have_the_names_of_their_headings() -> None:
    back = f"{COUNTED}Cont for 20 cm, {ENDS}"
    sheet = sheet_of_text(back + FRONT_SIDES.format(first="Left side", second="Right side"))
    assert [one.name for one in sheet.comparison][-2:] == ["front, left side", "front, right side"]


def test_a_piece_told_as_another_is_named() -> None:
    text = f"{COUNTED}Cont for 20 cm, {ENDS}FRONT\nWork as for back, reversing all shapings.\n"
    (other,) = [o for o in sheet_of_text(text).others if o.kind == "told as another piece"]
    assert (other.id, other.place.words) == ("front", "Work as for back, reversing all shapings.")


def test_a_running_count_of_the_neck_is_printed_there() -> None:
    rows = (
        "Row 1 (RS): Cast off 7 sts, k to end.\nRow 2: Cast off 7 sts, p to end. {} sts remain.\n"
        "Row 3: Cast off 7 sts, k to end.\nRow 4: Cast off 7 sts, p to end. {} sts remain.\n"
        "Cast off remaining sts.\n"
    )
    lead = "BACK\nWork in st st for 20 cm, ending with a WS row.\nShape shoulders\n"
    neck = sheet_of_text(lead + rows.format(34, 20)).shoulders[0].neck
    assert neck is not None and neck.place is not None
    assert (neck.origin, neck.values, neck.place.line) == ("printed", (20,), 7)


def test_it_is_told_how_the_rows_of_a_slope_are_counted() -> None:
    assert (
        "worked out: from the first row that binds off to the last, and the row after it"
        in sheet_text(sheet_of_text(f"{COUNTED}Cont for 20 cm, {ENDS}"), "draft.md")
    )


def test_a_slip_is_told_with_the_word_that_it_is_read_as() -> None:
    slips = f"{COUNTED}Cont for 20 cm, {ENDS}".replace(
        "Cast off 7 sts at beg", "Cast of 7 sts at heg"
    )
    told = [f.message for f in found(sheet_of_text(slips), "slip-read")]
    assert told == ["'Cast of' is read as 'Cast off'", "'heg' is read as 'beg'"]


@pytest.mark.parametrize("limit", range(8, 60))
def test_a_quote_is_cut_between_words(limit: int) -> None:
    text = "Cast off seven sts at the beginning of the next four rows and knit to the end"
    head, tail = quote(text, limit).split(" … ")
    assert len(f"{head} … {tail}") <= limit + 2
    assert f"{text} ".startswith(f"{head} ") or limit < 12
    assert f" {text}".endswith(f" {tail}") or limit < 12


def test_where_sums_fail_the_figures_are_shown_all_the_same() -> None:
    sheet = sheet_of_text(SALTMARSH.replace("Leave rem 32(32:34:", "Leave rem 32(32:36:"))
    back = sheet.shoulders[0]
    assert back.read and back.unread
    assert [s.result for s in back.sums] == ["agrees", "agrees", "differs", "agrees", "agrees"]
    assert back.sums[2].words == "8 + 8 + 7 = 23; 2 × 23 + 36 = 82"
    assert back.sums[2].against == "the 80 sts printed before"


def test_a_last_step_that_is_not_printed_bears_nothing_out() -> None:
    sheet = sheet_of_text(SALTMARSH.replace("Cast off rem 8(7:7:8:8) sts", "Cast off rem sts"))
    front = sheet.shoulders[1]
    assert [step.origin for step in front.edges[0].steps] == ["printed", "printed", "worked out"]
    assert {s.result for s in front.sums} == {"nothing to compare"}


@pytest.mark.parametrize("edge", ["first cast off sts", "first cast-off sts", "cast-off edge"])
def test_a_length_from_the_cast_off_sts_is_no_shaping(edge: str) -> None:
    sheet = sheet_of_text(f"{COUNTED}Cont until armholes measure 20 cm from {edge}, {ENDS}")
    assert {s.against for s in sheet.shoulders[0].sums} == {"the 48 sts printed before"}


def test_a_count_that_is_passed_over_is_named() -> None:
    sheet = sheet_of_text(f"{COUNTED}Dec 1 st at each end of every row.\nCont for 20 cm, {ENDS}")
    (told,) = sheet.shoulders[0].sums
    assert told.result == "nothing to compare"
    assert told.against == "after the 48 printed before, more sts are shaped"
    assert "no other count to compare (after the 48 printed before" in sheet_text(sheet, "draft.md")


def test_sides_that_agree_are_told_with_their_places() -> None:
    fronts = sheet_of_file(CORPUS / SHOWN[2]).shoulders[1:]
    endings = [s.ending for s in fronts if s.ending is not None]
    assert [(e.lead_in, e.label, e.by_edge, e.first_bind_off, e.result) for e in endings] == [
        ("WS", "RS", "RS", "RS", "agrees"),
        ("RS", "WS", "WS", "WS", "agrees"),
    ]


# --- forms ------------------------------------------------------------------------------------------


class Tables(HTMLParser):
    """Collects the tables of a page and checks that elements close in order."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tables: list[list[list[str]]] = []
        self.captions: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        self.ids += [told["id"] or ""] if "id" in told else []
        self.links += [(told["href"] or "")[1:]] if "href" in told else []
        if tag != "meta":
            self.open.append(tag)
        if tag == "table":
            self.tables.append([])
        elif tag == "caption":
            self.captions.append("")
        elif tag == "tr":
            self.tables[-1].append([])
        elif tag in ("th", "td"):
            first = not self.tables[-1][-1]
            wanted = "col" if "thead" in self.open else "row" if first else None
            assert (tag, told.get("scope")) == (("th", wanted) if wanted else ("td", None))
            self.tables[-1][-1].append("")

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "caption" in self.open:
            self.captions[-1] += data
        elif self.tables and ("td" in self.open or "th" in self.open):
            self.tables[-1][-1][-1] += data


@pytest.mark.parametrize("name", SHOWN)
def test_the_page_has_real_tables_and_all_figures(name: str) -> None:
    sheet = sheet_of_file(CORPUS / name)
    page = sheet_page(sheet, name)
    read_back = Tables(page)
    assert not read_back.open
    assert len(read_back.captions) == len(read_back.tables) and all(read_back.captions)
    assert len(set(read_back.captions)) == len(read_back.captions)
    for table in read_back.tables:
        assert len({len(row) for row in table}) == 1
    assert len(set(read_back.ids)) == len(read_back.ids)
    assert set(read_back.links) <= set(read_back.ids)
    assert not re.search(r"<script|https?:|url\(|@import", page)
    cells = {tuple(row[1:-1]) for table in read_back.tables for row in table}
    for shoulder in sheet.shoulders:
        for edge in shoulder.edges:
            assert all(tuple(map(str, step.values)) in cells for step in edge.steps)
    for finding in sheet.findings:
        assert any(row[0] == finding.place.where for table in read_back.tables for row in table)


def test_words_of_the_draft_are_no_markup_of_the_page() -> None:
    page = sheet_page(sheet_of_text(SALTMARSH.replace("Leave rem", "<b>&Leave</b> rem")), "<i>.md")
    assert "<i>" not in page and "<b>" not in page


def test_the_json_fits_both_schemas(capsys: pytest.CaptureFixture[str]) -> None:
    schemas = {}
    for model in ("report", "sheet"):
        main(["schema", model])
        schemas[model] = json.loads(capsys.readouterr().out)
    for name in SHOWN:
        main(["read", str(CORPUS / name), "--report", "json"])
        told = json.loads(capsys.readouterr().out)
        assert told["schema"] == "slopewise/report/1"
        assert told["sheet"]["schema"] == "slopewise/sheet/1"
        jsonschema.validate(told, schemas["report"])
        jsonschema.validate(told["sheet"], schemas["sheet"])
        assert Report.model_validate(told).sheet == sheet_of_file(CORPUS / name)


def test_a_rewriting_has_no_sheet(capsys: pytest.CaptureFixture[str]) -> None:
    main(["rewrite", str(CORPUS / SHOWN[0]), "--report", "json"])
    assert "sheet" not in json.loads(capsys.readouterr().out)


def test_a_document_has_its_sheet_by_paragraphs(tmp_path: Path) -> None:
    draft, out = tmp_path / "booklet.docx", tmp_path / "sheet.html"
    draft.write_bytes(booklet())
    assert main(["read", str(draft), "--report", "html", "-o", str(out)]) in (0, 1)
    page = out.read_text(encoding="utf-8")
    assert re.search(r"paragraph \d+", page)
    assert not Tables(page).open


@pytest.mark.parametrize("draft", all_drafts()[1::7], ids=lambda d: d.name)
def test_every_draft_has_a_sheet_in_every_form(draft: SyntheticDraft) -> None:
    sheet = sheet_of_file(draft.path)
    assert not Tables(sheet_page(sheet, draft.name)).open
    text = sheet_text(sheet, draft.name)
    for finding in sheet.findings:
        assert f"{finding.place.where}: {finding.severity}" in text
