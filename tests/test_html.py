"""HTML drafts: what is read of a page, and that only the words that change are touched."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from rewriter.cli import main
from rewriter.formats import open_draft
from rewriter.options import Options
from rewriter.pipeline import rewrite_bytes

PAGE = """<!DOCTYPE html>
<html><head><meta charset="utf-8"><title>Kittiwake</title>
<style>p { margin: 0 }</style><script>var bind = "Cast off 3 sts";</script></head>
<body>
<h1>Kittiwake</h1>
<!-- Cast off 4 sts at beg of next 2 rows. -->
<table><tr><th>Size</th><td>S</td><td>M</td></tr><tr><th>Bust</th><td>81</td><td>86</td></tr></table>
<ul><li>2 stitch holders</li><li>Yarn needle</li></ul>
<h2>Back</h2>
<p>Using 4&nbsp;mm needles cast&shy;ing on, work until
   armholes measure 20&frac12;&nbsp;cm, ending with a <em>WS</em> row.</p>
<h3>Shape shoulders</h3>
<p class="row" id="r1"><b>Next row (RS):</b> Cast off 8(9) sts, K to end.</p>
<p class="row"><b>Next row (WS):</b> Cast off 8(9) sts, P to end.</p>
<p class="row"><b>Next row (RS):</b> Cast off 9(9) sts, K to end.</p>
<p class="row"><b>Next row (WS):</b> Cast off 9(9) sts, P to end. 38(40) sts.</p>
<p>Cast off rem 38(40)&nbsp;sts.<sup>1</sup> &amp; sew.</p>
</body></html>
"""


@cache
def revised(page: str, changes: str = "tracked", encoding: str = "utf-8") -> str:
    _, out = rewrite_bytes(
        page.encode(encoding),
        "draft.html",
        Options(),
        changes="applied" if changes == "applied" else "tracked",
        date="2026-01-06T09:00:00Z",
    )
    return out.decode(encoding)


def settled(page: str, accept: bool) -> str:
    """Settle `ins` and `del` by their meaning alone."""
    gone, kept = ("del", "ins") if accept else ("ins", "del")
    page = re.sub(rf"<{gone}\b[^>]*>.*?</{gone}>", "", page, flags=re.S)
    return re.sub(rf"</?{kept}\b[^>]*>", "", page)


def text_of(page: str) -> str:
    return open_draft(page.encode(), "draft.html").source.text


def test_a_page_is_read_with_headings_lists_tables_and_references() -> None:
    text = text_of(PAGE)
    for stretch in (
        "# Kittiwake\n\n| Size | S | M |\n| --- | --- | --- |\n| Bust | 81 | 86 |",
        "- 2 stitch holders\n- Yarn needle",
        "## Back\n\nUsing 4\u00a0mm needles casting on, work until armholes measure 20½\u00a0cm, ending",
        "**Next row (RS):** Cast off 8(9) sts, K to end.",
        "sts.[^1] & sew.",
    ):
        assert stretch in text, stretch
    assert "var bind" not in text and "next 2 rows" not in text


def test_refusing_gives_the_page_back_byte_for_byte() -> None:
    out = revised(PAGE)
    assert "<del" in out and "<ins" in out
    assert settled(out, False) == PAGE
    assert "<em><del" in out, "the side changes where it stands, in its own format"


def test_accepting_gives_the_changes_made_in_earnest() -> None:
    assert text_of(settled(revised(PAGE), True)) == text_of(revised(PAGE, "applied"))
    assert "data-slopewise" not in revised(PAGE, "applied")


def test_new_rows_are_paragraphs_like_the_old_ones_with_bold_labels() -> None:
    out = revised(PAGE, "applied")
    rows = re.findall(r'<p class="row"><b>Next row \(.S\):</b> ', out)
    assert len(rows) >= 4
    assert out.count('id="r1"') == 1


def test_reasons_are_told_and_a_second_revision_changes_nothing() -> None:
    out = revised(PAGE)
    assert 'title="The first short row takes the place' in out
    assert revised(out) == out


def test_letters_the_page_cannot_hold_become_references() -> None:
    page = PAGE.replace("utf-8", "iso-8859-1").replace("(RS)", "(RS)")
    out = revised(page, encoding="iso-8859-1")
    assert "ending with a <em><del" in out


@pytest.mark.parametrize(
    "damaged",
    [
        PAGE[:700],
        PAGE.replace("</p>", ""),
        PAGE.replace("</b>", "</i>"),
        PAGE.replace("<p", "<p <"),
        "<html>" + "<div>" * 3000 + PAGE,
        "<html>" + "<table><tr><td>" * 300 + PAGE,
        PAGE.replace("&nbsp;", "&nbsp"),
    ],
)
def test_a_damaged_page_is_read_or_refused(
    damaged: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    draft = tmp_path / "draft.html"
    draft.write_text(damaged, encoding="utf-8")
    assert main(["rewrite", str(draft), "-o", str(tmp_path / "out.html")]) in (0, 1, 2)
    assert main(["read", str(draft)]) in (0, 1)
    assert "a fault of its own" not in capsys.readouterr().err


def test_a_page_goes_to_standard_output_and_to_markdown(
    tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    draft = tmp_path / "draft.html"
    draft.write_text(PAGE, encoding="utf-8")
    assert main(["rewrite", str(draft)]) == 0
    assert capfdbinary.readouterr().out.startswith(b"<!DOCTYPE html>")
    assert main(["rewrite", str(draft), "-o", str(tmp_path / "out.md")]) == 0
    assert "\n\n**Next row (WS):**" in (tmp_path / "out.md").read_text(encoding="utf-8")
