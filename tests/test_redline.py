"""The page of changes, and texts compared word by word."""

from __future__ import annotations

import re
import tomllib
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rewriter import check, rewrite
from rewriter._resources import grammar_file
from rewriter.annotations import reason_of
from rewriter.checkredline import redline_of_check
from rewriter.cli import main
from rewriter.formats import open_draft
from rewriter.options import Options
from rewriter.pipeline import rewrite_bytes, rewrite_text
from rewriter.redline import redline_of, redline_of_texts
from rewriter.source import read_source
from rewriter.worddiff import coloured_diff, compare
from tests.checktools import cases
from tests.drafts import CORPUS, SyntheticDraft, all_drafts

SOME = [d for d in all_drafts() if d.path.parent.name == "drafts"][1::5]


class Outline(HTMLParser):
    """Checks that elements close in order, and collects the text of `main` without some elements."""

    def __init__(self, page: str, without: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.text = ""
        self.ids: list[str] = []
        self.links: list[str] = []
        self._without = without
        self._lines = ""
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        self.ids += [told["id"] or ""] if "id" in told else []
        self.links += [(told["href"] or "")[1:]] if "href" in told else []
        if tag not in ("meta", "input", "br"):
            skipped = tag in ("ol", self._without, "i") or told.get("class") == "ref"
            self.open.append(f"{tag}-skipped" if skipped else tag)
        if told.get("class") == "lines":
            self._lines = tag
        self.text += " " if told.get("class") == "lines" or tag in ("section", "span") else ""

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop().removesuffix("-skipped") == tag
        self.text += " " if tag == self._lines else ""
        self._lines = "" if tag == self._lines else self._lines

    def handle_data(self, data: str) -> None:
        if "main" in self.open and not any(t.endswith("-skipped") for t in self.open):
            self.text += data


def words(text: str, markdown: bool) -> list[str]:
    if markdown:
        text = re.sub(r"(?m)^#+ |\*\*|^\*(?=[^*\n]+\*$)|(?<!\*)\*$", "", text)
    return text.split()


@pytest.mark.parametrize("draft", SOME, ids=lambda d: d.name)
def test_the_page_holds_both_texts_and_each_reason(draft: SyntheticDraft) -> None:
    source = open_draft(draft.data, draft.path.name).source
    report = rewrite_text(source, Options())
    page = redline_of(report, source)
    markdown = source.format == "markdown"
    old, new = Outline(page, "ins"), Outline(page, "del")
    assert words(old.text, markdown) == words(source.text, markdown)
    assert words(new.text, markdown) == words(report.output, markdown)
    assert not old.open
    assert len(set(old.ids)) == len(old.ids)
    assert set(old.links) <= set(old.ids)
    for edit in report.edits:
        assert reason_of(edit.why) in unescape(page)
        assert reason_of(edit.why) != edit.why, "each reason is told in words"
    for found in report.diagnostics:
        assert found.message[1:40] in unescape(page)


def test_the_page_asks_nothing_of_other_places_and_runs_nothing() -> None:
    draft = (
        "BACK\nWork 3 rows <script>alert(1)</script>.\nShape shoulders\n"
        "Cast off 8 sts at beg of next 5 rows.\n"
    )
    source = open_draft(draft.encode(), "x.txt").source
    page = redline_of(rewrite(draft), source)
    assert "<script" not in page and "&lt;script&gt;" in page
    assert "default-src 'none'" in page
    assert not re.search(r"(?:src|href)=\"(?!#)|url\(|@import|https?:", page)
    assert "Question" in page


def test_the_page_can_be_printed_and_read_without_colour() -> None:
    page = redline_of_texts("Cast off 8 sts.\n", "Cast off 9 sts.\n", "draft")
    assert "<del>8</del><ins>9</ins>" in page and "1 change." in page
    for needed in (
        "@media print", "prefers-color-scheme: dark", "line-through", "text-decoration: underline",
        'content: " [deleted: "', "focus-visible", 'lang="en"', "width=device-width",
    ):  # fmt: skip
        assert needed in page


def test_the_command_writes_the_page_and_no_draft(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    draft = tmp_path / "draft.txt"
    draft.write_text(
        "BACK\nShape shoulders\nCast off 8 sts at beg of next 4 rows.\nCast off rem 20 sts.\n"
    )
    out = tmp_path / "page.html"
    assert main(["rewrite", str(draft), "--redline", str(out)]) == 0
    assert capfdbinary.readouterr().out == b""
    assert out.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert main(["rewrite", str(draft), "--redline", str(draft)]) == 2


TEXT = st.lists(
    st.sampled_from(
        ["Cast off", " 8(9:10)", " sts", "\n", "\n\n", ", turn", ".", " ½", "\r\n", "#"]
    ),
    max_size=25,
).map("".join)


@given(old=TEXT, new=TEXT)
@settings(max_examples=150, deadline=None)
def test_the_pieces_make_both_texts(old: str, new: str) -> None:
    pieces = compare(old, new)
    assert "".join(p.text for p in pieces if p.kind != "inserted") == old
    assert "".join(p.text for p in pieces if p.kind != "deleted") == new


def test_a_list_of_sizes_is_one_word() -> None:
    pieces = compare("Cast off 8 (9, 10) sts at beg.", "Cast off 8 (9, 11) sts at beg.")
    assert [(p.kind, p.text) for p in pieces if p.kind != "same"] == [
        ("deleted", "8 (9, 10)"),
        ("inserted", "8 (9, 11)"),
    ]


def test_a_terminal_shows_changed_words_without_colours_too() -> None:
    shown = coloured_diff(
        "Knit.\nEnd with a WS row.\n", "Knit.\nEnd with a RS row.\n", "draft\x1b[2J"
    )
    assert "\x1b[2J" not in shown
    lines = re.sub(r"\x1b\[[0-9;]*m", "", shown).splitlines()
    assert lines[2:] == [" Knit.", "-End with a WS row.", "+End with a RS row."]
    assert "\x1b[1;9;31mWS\x1b[0m" in shown and "\x1b[1;4;32mRS\x1b[0m" in shown


@pytest.mark.parametrize("options", [Options(), Options(shoulders="graft"), Options(to="steps")])
def test_every_edit_has_a_reason_in_words(options: Options) -> None:
    reasons = tomllib.loads(grammar_file("reasons.toml"))["reason"]
    for folder in ("drafts", "stated", "topdown"):
        for path in sorted((CORPUS / folder).glob("*.txt"))[:6]:
            data = path.read_bytes()
            if options.to == "steps":
                _, data = rewrite_bytes(data, path.name, Options())
            report, _ = rewrite_bytes(data, path.name, options)
            assert {edit.why for edit in report.edits} <= set(reasons)


WRAPPED = """A pullover in one size that is worked in pieces from the lower edge up to
the shoulders and sewn together, with a neckband that is knitted on to
the finished neck. Read all of the instructions before you begin and see
that your tension is right.
BACK
Work straight in stocking stitch until armholes measure 20 cm from the
beginning of the armhole shaping and then work another 2 rows, ending with a
WS row. 76 sts.
Shape shoulders
Cast off 7 sts at beg of next 4 rows and 8 sts at beg of the following 2
rows. Cast off rem 32 sts loosely for the back of the neck, and fasten
off.
"""


def test_lines_of_a_wrapped_draft_are_joined_on_the_page() -> None:
    source = open_draft(WRAPPED.encode(), "draft.txt").source
    page = redline_of(rewrite_text(source, Options()), source)
    assert "from the beginning of the armhole shaping and" in page
    assert "ending with a <del>" in page
    assert re.search(r'<h2 class="heading">BACK\s*</h2>', page)
    assert '<div class="text">Work straight' in page
    assert "turn.\nNext row" in re.sub(r"<[^>]+>", "", page)


def test_headings_and_labels_behind_a_change_are_set_as_such() -> None:
    text = (
        "## Back\nWork in st st for 20 cm, ending with a WS row.\n\n### Shape shoulders\n\n"
        "Cast off 7 sts at beg of next 4 rows.\n\nCast off rem 32 sts.\n\n## Sleeves\n\n"
        "*Dec row (RS):* K1, ssk, k to end.\n\n*K1, p1; rep from * to end.\n"
    )
    source = open_draft(text.encode(), "draft.md").source
    page = redline_of(rewrite_text(source, Options()), source)
    shown = page[page.index("<main>") : page.index("</main>")]
    assert "#" not in re.sub(r'href="#[^"]*"', "", shown).replace("&#x27;", "")
    assert re.search(r"<h\d class=\"heading\">Back</h\d>", shown)
    assert re.search(r"<h\d class=\"heading\">Sleeves</h\d>", shown)
    assert "<em>Dec row (RS):</em> K1" in shown
    assert "*K1, p1; rep from * to end." in shown


def test_a_table_of_sizes_is_set_as_a_table_with_its_text_whole() -> None:
    table = "| Size | S | M |\n| --- | --- | --- |\n| Bust | 80 | 90 |\n"
    draft = f"# Back\n\n{table}\nWork until armholes measure 20 cm, ending with a WS row.\n\n"
    draft += "Shape shoulders\nCast off 7 sts at beg of next 4 rows. Cast off rem 30 sts.\n"
    source = read_source(draft.encode(), "teal.md")
    page = redline_of(rewrite_text(source, Options()), source)
    assert '<th scope="col"><span class="unseen">| </span>Size' in page
    assert page.count("<td>") >= 3
    assert " ".join(table.split()) in " ".join(Outline(page, "ins").text.split())


TABLE = (
    "# Back\n\n| | S | M |\n| --- | --- | --- |\n| Rows to the shoulder | 52 | 54 |\n"
    "| Shoulder | {} | {} |\n\nKnit.\n"
)


def test_changed_cells_of_a_table_are_marked_within_it() -> None:
    page = redline_of_texts(TABLE.format(6, 8), TABLE.format(7, 8), "draft", markdown=True)
    assert re.search(r"<td>[^/]*</span><del>6</del><ins>7</ins> ", page)
    shown = page[page.index("<main>") : page.index("</main>")]
    assert "<table>" in shown
    assert "|" not in re.sub(r'<span class="unseen">[^<]*</span>', "", shown)
    for without, text in (("ins", TABLE.format(6, 8)), ("del", TABLE.format(7, 8))):
        assert words(Outline(page, without).text, True) == words(text, True)


def test_cells_that_change_side_by_side_are_marked_one_by_one() -> None:
    page = redline_of_texts(TABLE.format(6, 8), TABLE.format(7, 9), "draft", markdown=True)
    assert "<del>6</del><ins>7</ins>" in page and "<del>8</del><ins>9</ins>" in page


def test_a_table_that_gains_a_row_stays_as_written() -> None:
    more = TABLE.replace("\n\nKnit", "\n| Neck | 30 | 32 |\n\nKnit")
    page = redline_of_texts(TABLE.format(6, 6), more.format(6, 6), "draft", markdown=True)
    assert "<table>" not in page


PLAIN = """Teal

BACK

Cast on 76 sts. Work in st st for 40 cm.

Work straight until armholes measure 20 cm, ending with a WS row.

Shape shoulders
Cast off 7 sts at beg of next 4 rows and 8 sts at beg of next 2 rows. Cast off rem 32 sts.

SLEEVES

Cast on 40 sts.
"""


def test_headings_of_a_plain_text_stand_over_its_changes() -> None:
    source = open_draft(PLAIN.encode(), "draft.txt").source
    page = redline_of(rewrite_text(source, Options()), source)
    leads = re.findall(r'<section class="row[^"]* leads"><h\d class="heading">(.*?)\s*</h', page)
    assert leads == ["BACK", "Shape shoulders"]
    assert ":not(.changed, .noted, .leads)" in page
    assert re.search(r'<section class="row"><h2 class="heading">SLEEVES', page)


def test_notes_are_numbered_as_they_stand_in_the_text() -> None:
    for name in ("uk-saltmarsh-pullover.md", "us-millrace-tank.txt"):
        source = open_draft((CORPUS / "drafts" / name).read_bytes(), name).source
        page = redline_of(rewrite_text(source, Options()), source)
        numbers = [int(n) for n in re.findall(r'class="ref" id="r(\d+)"', page)]
        assert len(numbers) > 3
        assert numbers == sorted(numbers)


def test_the_number_of_a_note_ends_the_line_that_it_is_about() -> None:
    source = open_draft(
        (CORPUS / "drafts" / "us-millrace-tank.txt").read_bytes(), "draft.txt"
    ).source
    page = redline_of(rewrite_text(source, Options()), source)
    at = page.index('<a class="ref" id="r2"')
    assert page[:at].endswith("as one st and count it as one)")
    assert re.match(r"<a [^>]*><b>2</b></a>\n</ins>k: knit", page[at:])
    assert not re.search(r'\n<a class="ref"', page)


def test_findings_of_a_check_are_numbered_as_they_stand_in_the_texts() -> None:
    case = cases()["19-uk-front-mismatch"]
    old = read_source(case["original"].encode(), "old.txt")
    fault = case["fault"]
    new = read_source(case["revised"].replace(fault["find"], fault["put"]).encode(), "new.txt")
    page = redline_of_check(check(old.text, new.text), old, new)
    numbers = [int(n) for n in re.findall(r'class="ref" id="r(\d+)"', page)]
    assert numbers == sorted(numbers)
