"""The result as HTML, over many drafts: whole, in every size, and true to the report."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from itertools import pairwise

import pytest

from rewriter.formats import open_draft
from rewriter.options import Options
from rewriter.pipeline import rewrite_text
from rewriter.web.bodies import File
from rewriter.web.choices import Choices, Work
from rewriter.web.proofwords import proof_sentences
from rewriter.web.result import picture_of, result_of
from rewriter.web.words import capital
from tests.drafts import CORPUS, SyntheticDraft, all_drafts

SOME = [d for d in all_drafts() if d.path.parent.name == "drafts"][::6]
_VOID = ("input", "meta", "br", "path", "line", "rect", "circle")


class Whole(HTMLParser):
    """Checks that elements close in order and that no id stands twice."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.feed(page)
        self.close()
        assert not self.open
        assert len(set(self.ids)) == len(self.ids)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        assert "style" not in told and not any(name.startswith("on") for name in told)
        assert tag not in ("script", "style")
        self.ids += [told["id"] or ""] if "id" in told else []
        if tag not in _VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag in _VOID or tag == "span"

    def handle_endtag(self, tag: str) -> None:
        if tag not in _VOID:
            assert self.open.pop() == tag


@pytest.mark.parametrize("draft", SOME, ids=lambda d: d.name)
def test_every_size_is_shown_whole(draft: SyntheticDraft) -> None:
    file = File(draft.data, draft.path.name)
    options = Options(shoulders="held", respace=len(draft.name) % 2 == 0)
    report = rewrite_text(open_draft(file.data, file.name).source, options)
    done = [p for p in report.passages if p.status == "rewritten"]
    for size in ("", report.sizes[0], report.sizes[-1]):
        shown = result_of(file, Choices(Work(options), size))
        Whole(shown)
        drawn = picture_of(file, Choices(Work(options), size))
        assert bool(drawn) == ('id="picture"' in shown) == bool(done)
        Whole(shown.replace('small screen"></div>', f'small screen">{drawn}</div>'))
        assert shown.count('<p class="proof">') == len(done)
        assert (size == "" or f'value="{size}" checked' in shown) or len(report.sizes) == 1
        for place in re.findall(r' x[12]?="(-?[\d.]+)%"', shown):
            assert 0 <= float(place) <= 100


@pytest.mark.parametrize("draft", SOME, ids=lambda d: d.name)
def test_proofs_are_told_in_sentences_for_every_size_once(draft: SyntheticDraft) -> None:
    for options in (Options(), Options(shoulders="graft"), Options(respace=True)):
        report = rewrite_text(open_draft(draft.data, draft.path.name).source, options)
        for passage in report.passages:
            if passage.status != "rewritten":
                continue
            told = proof_sentences(passage, report.sizes)
            assert told and all(re.search(r"[A-Z].*\.$", text) for text in told)
            assert "{" not in "".join(told)
            gains = {g for e in passage.edges for g in e.rows_gained}
            assert ("gains" in " ".join(told)) == bool(gains - {0})
            if len(told) > 1:
                heads = [t.partition(":")[0].split(" ", 1)[1].split(", ") for t in told]
                assert sorted(s for head in heads for s in head) == sorted(report.sizes)


def test_two_sides_on_two_balls_are_two_needles() -> None:
    path = CORPUS / "drafts" / "us-millrace-tank.txt"
    shown = result_of(File(path.read_bytes(), path.name), Choices(Work(Options()), "M"))
    back, front = re.findall(r'<svg class="needle".*?</svg>(?=</div>)', shown)
    assert (back.count('class="rod"'), front.count('class="rod"')) == (1, 2)
    assert "5 · 5 · 6 ‖ 36 ‖ 6 · 5 · 5" in back
    assert "5 · 5 · 6 ‖ neck ‖ 6 · 5 · 5" in front and ">neck</text>" in front


def test_counts_below_a_needle_have_room() -> None:
    path = CORPUS / "drafts" / "us-millrace-tank.txt"
    shown = result_of(File(path.read_bytes(), path.name), Choices(Work(Options()), ""))
    needles = re.findall(r'<svg class="needle".*?</svg>(?=</div>)', shown)
    assert len(needles) == 20
    for needle in needles:
        told = re.findall(r'<svg x="([\d.]+)%"(?:(?!<svg).)*?<text class="count"', needle)
        places = sorted(map(float, told))
        assert len(places) >= 4
        assert min(b - a for a, b in pairwise(places)) >= 4.5


def test_a_file_keeps_its_name_where_a_sentence_begins_with_it() -> None:
    assert capital("scan.pdf: the PDF file is damaged") == "scan.pdf: the PDF file is damaged."
    assert capital("line 3: no stitches") == "Line 3: no stitches."
    assert capital("the draft is empty") == "The draft is empty."


def test_a_piece_that_has_no_name_is_not_called_unknown() -> None:
    text = "Shape shoulders\nCast off 8 sts at beg of next 4 rows.\nCast off rem 20 sts.\n"
    shown = result_of(File(text.encode(), "draft.txt"), Choices(Work(Options()), ""))
    assert "Unknown" not in shown
    drawn = picture_of(File(text.encode(), "draft.txt"), Choices(Work(Options()), ""))
    assert re.search(r'<text class="title"[^>]*>Shoulder</text>', drawn)
