"""The page in a real browser: what a reader does with it, and what becomes of it."""

from __future__ import annotations

import importlib.util
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from rewriter import rewrite
from rewriter.cli import main
from rewriter.formats import open_draft
from rewriter.onesize import in_one_size
from rewriter.options import Options
from tests.booklet import booklet
from tests.browsing import (
    NO_COUNT,
    NO_SIDE,
    SAMPLE,
    browsing,
    paste,
    sample,
    watched,
)
from tests.docxtools import MAIN, parts
from tests.serving import served


@pytest.fixture(scope="module")
def place() -> Iterator[tuple[Browser, str]]:
    with browsing() as place:
        yield place


@pytest.fixture
def page(place: tuple[Browser, str]) -> Iterator[Page]:
    with watched(*place) as page:
        yield page


def downloaded(page: Page, name: str, folder: Path) -> tuple[str, bytes]:
    with page.expect_download() as waiting:
        page.get_by_role("button", name=name, exact=True).click()
    path = folder / "downloaded"
    waiting.value.save_as(path)
    return waiting.value.suggested_filename, path.read_bytes()


def command(draft: Path, out: Path, *arguments: str) -> bytes:
    """Return what the command writes for a draft."""
    assert main(["rewrite", str(draft), "-o", str(out), *arguments]) in (0, 1)
    return out.read_bytes()


def test_paste_choose_and_read_the_result(page: Page) -> None:
    paste(page, SAMPLE.decode())
    changes = page.locator(".changes")
    expect(changes.locator("ins").first).to_be_visible()
    expect(page.get_by_role("status")).to_contain_text("2 shoulder shapings rewritten")
    expect(page.get_by_role("img", name="8 · 8 · 8 ‖ 35 ‖ 8 · 8 · 8")).to_be_visible()
    expect(page.locator(".proof").first).to_have_text(
        "Every column of the fabric keeps exactly its rows."
    )
    expect(page.locator(".left")).to_contain_text("Back, armhole")
    page.get_by_label("Wrap and turn").check()
    expect(changes).to_contain_text("P to last 8(9:9:10) sts (marker), w&t")
    page.get_by_label("Three-needle bind-off").check()
    expect(changes).to_contain_text("three-needle cast-off")
    expect(page.locator(".proof").first).to_contain_text("gains 1 row")
    expect(page.locator("#summary")).to_contain_text(
        "Your back will be one row longer at the shoulders, your front as long as written."
    )
    page.get_by_text("More choices").click()
    page.get_by_label("Name markers").uncheck()
    expect(changes).not_to_contain_text("(marker)")
    expected = rewrite(
        SAMPLE.decode(),
        Options(turn="wrap", shoulders="three-needle", markers=False),
        name="x.md",
    )
    assert page.locator("#copy-text").input_value() == expected.output


def test_views_show_changes_whole_and_new(page: Page) -> None:
    sample(page)
    untouched = page.get_by_text("22 sts and 30 rows to 10 cm over st st")
    gone = page.locator(".changes del").first
    expect(untouched.last).to_be_hidden()
    page.get_by_label("Whole pattern").check(force=True)
    expect(untouched.last).to_be_visible()
    expect(gone).to_be_visible()
    page.get_by_role("radio", name="New pattern").check(force=True)
    expect(gone).to_be_hidden()
    expect(page.locator(".notes").first).to_be_hidden()
    page.get_by_label("Shadow wraps").check()
    expect(page.locator(".changes")).to_contain_text("twin st")
    expect(page.get_by_role("radio", name="New pattern")).to_be_checked()


def test_a_question_is_answered_in_place_and_asked_again(page: Page) -> None:
    paste(page, NO_SIDE)
    asked = page.get_by_role("group", name=re.compile("On which side is the first bind-off row"))
    changes = page.locator(".changes")
    expect(changes).not_to_contain_text("(right side)")
    asked.get_by_label("right-side row").click()  # a question that is answered goes at once
    expect(changes).to_contain_text("Next row (wrong side): Work to last 8 sts")
    expect(
        page.get_by_text("Your answer: the first bind-off row (or cast-on row) is a right-side row")
    ).to_be_visible()
    page.get_by_label("Wrap and turn").check()
    expect(changes).to_contain_text("Next row (wrong side): Work to last 8 sts (marker), w&t")
    page.get_by_role("button", name="Ask me again").click()
    expect(asked).to_be_visible()
    expect(changes).not_to_contain_text("(wrong side)")
    # an answer is for the words it was given for
    asked.get_by_label("wrong-side row").click()
    expect(changes).to_contain_text("Next row (right side): Work to last 8 sts")
    paste(page, NO_SIDE.replace("8", "9"))
    expect(changes).to_contain_text("last 9 sts")
    expect(changes).not_to_contain_text("(right side)")


def test_words_and_counts_are_asked_for(page: Page) -> None:
    paste(
        page,
        "BACK\nWork until armholes measure 20 cm, ending with a WS row.\nShape shoulders\nCast off 8 sts"
        " at beg of next 6 rows with the greatest of care and a smile.\nCast off rem 28 sts.\n",
    )
    expect(page.locator("#summary")).to_contain_text("2 questions wait")
    for words in ("greatest of care", "a smile"):
        group = page.get_by_role("group", name=re.compile(f"{words}' in"))
        group.get_by_label("These words change nothing").click()
        expect(group).to_have_count(0)
    expect(page.locator("#summary")).to_contain_text("1 shoulder shaping rewritten")
    expect(page.get_by_role("button", name="Ask me again")).to_have_count(2)

    paste(page, NO_COUNT)
    count = page.get_by_label("How many rows have a bind-off is not said")
    for wrong, told in (("many", "no numbers"), ("51 (57, 60)", "3 numbers")):
        count.fill(wrong)
        count.press("Enter")
        expect(page.locator(".amiss")).to_contain_text(told)
        expect(count).to_have_value(wrong)
        expect(count).to_be_focused()
    count.fill("51 (57)")
    count.press("Enter")
    expect(page.locator("#summary")).to_contain_text("1 shoulder shaping rewritten")
    expect(page.get_by_text("Your answer: 51 (57).")).to_be_visible()
    expect(page.get_by_role("img", name="5 · 5 ‖ 31 ‖ 5 · 5")).to_be_visible()


def test_the_size_changes_all_numbers(page: Page) -> None:
    sample(page)
    page.get_by_label("96", exact=True).check(force=True)
    expect(page.get_by_role("img", name="9 · 9 · 8 ‖ 39 ‖ 8 · 9 · 9")).to_be_visible()
    expect(page.get_by_role("img", name="8 · 8 · 8 ‖ 35 ‖ 8 · 8 · 8")).to_have_count(0)
    expect(page.get_by_label("96", exact=True)).to_be_focused()
    shown = page.locator(".changes").inner_text()
    assert "P to last 9 sts" in shown and "9:9" not in shown
    page.get_by_role("button", name="Copy size 96").click()
    expect(page.get_by_role("button", name="Copied")).to_be_visible()
    output = rewrite(SAMPLE.decode(), name="x.md").output
    assert page.evaluate("navigator.clipboard.readText()") == in_one_size(output, 1, 4)


def test_downloads_are_what_the_command_writes(page: Page, tmp_path: Path) -> None:
    draft = tmp_path / "Größe 1.txt"
    draft.write_bytes(
        "BACK\r\nWork until armholes measure 7½ cm, ending with a WS row.\r\nShape shoulders\r\n"
        "Cast off 8 sts at beg of next 4 rows.\r\nCast off rem 20 sts.\r\n".encode("cp1252")
    )
    page.get_by_label("Choose a file").set_input_files(draft)
    expect(page.locator("#summary")).to_contain_text("1 shoulder shaping rewritten")
    name, data = downloaded(page, "Text", tmp_path)
    out, redline = tmp_path / "out.txt", tmp_path / "redline.html"
    assert (name, data) == (
        "Größe 1-short-rows.txt",
        command(draft, out, "--redline", str(redline)),
    )
    assert b"\xbd" in data
    name, data = downloaded(page, "Page of changes", tmp_path)
    assert (name, data) == ("Größe 1-changes.html", redline.read_bytes())

    document = tmp_path / "booklet.docx"
    document.write_bytes(booklet())
    page.get_by_label("Choose a file").set_input_files(document)
    expect(page.get_by_role("button", name="Word, changes made")).to_be_visible()
    out = tmp_path / "out.docx"
    for label, changes in (("Word, changes tracked", "tracked"), ("Word, changes made", "applied")):
        name, data = downloaded(page, label, tmp_path)
        assert name == "booklet-short-rows.docx"
        made = parts(data)
        expected = parts(command(document, out, "--changes", changes))
        assert made.keys() == expected.keys()
        for part in made:  # but for the minute in which it was made
            minute = rb"\d{4}-\d\d-\d\dT\d\d:\d\d:00Z"
            assert re.sub(minute, b"", made[part]) == re.sub(minute, b"", expected[part]), part
    assert b'w:author="Slopewise"' not in made[MAIN]


def test_the_words_do_not_wait_for_the_chart(page: Page) -> None:
    held: list[Route] = []
    page.route("**/picture", lambda route: held.append(route))
    page.get_by_role("button", name="Try a sample").click()
    expect(page.locator("#summary")).to_contain_text("2 shoulder shapings rewritten")
    expect(page.locator(".changes ins").first).to_be_visible()
    room = page.locator("#picture")
    expect(room).to_be_empty()
    assert room.evaluate("e => e.offsetHeight") > 300  # nothing behind it moves far when it comes
    held[0].continue_()
    expect(page.locator(".slope-chart")).to_contain_text("Back, size 86")
    assert room.get_attribute("style") in (None, "")
    height = room.evaluate("e => e.offsetHeight")
    page.get_by_label("106", exact=True).check(force=True)
    expect(page.locator("#summary")).to_be_visible()
    expect(room).to_be_empty()
    assert room.evaluate("e => e.offsetHeight") == height
    held[1].continue_()
    expect(page.locator(".slope-chart")).to_contain_text("Back, size 106")


def test_the_chart_follows_the_size_and_is_taken_along(page: Page, tmp_path: Path) -> None:
    sample(page)
    chart = page.locator(".slope-chart")
    expect(chart).to_contain_text("Back, size 86")
    page.get_by_label("106", exact=True).check(force=True)
    expect(chart).to_contain_text("Back, size 106")
    expect(chart).to_contain_text("Front, size 106")
    assert chart.locator("style").count() == 0
    stroke = "getComputedStyle(document.querySelector('.slope-chart .sloped')).stroke"
    assert page.evaluate(stroke) != "none"
    draft, out = tmp_path / "draft.md", tmp_path / "out.svg"
    draft.write_bytes(SAMPLE)
    assert main(["chart", str(draft), "--size", "106", "--piece", "all", "-o", str(out)]) == 0
    name, data = downloaded(page, "Download the chart", tmp_path)
    assert (name, data) == ("pattern-chart-size-106.svg", out.read_bytes())


def test_one_size_is_taken_along(page: Page, tmp_path: Path) -> None:
    sample(page)
    expect(page.get_by_role("button", name="Worksheet")).to_have_count(0)
    expect(page.get_by_text("Pick your size above")).to_be_visible()
    page.get_by_label("96", exact=True).check(force=True)
    expect(page.get_by_role("button", name="Worksheet", exact=True)).to_be_visible()
    name, data = downloaded(page, "Text of size 96", tmp_path)
    output = rewrite(SAMPLE.decode(), name="x.md").output
    assert (name, data.decode()) == ("pattern-short-rows-size-96.md", in_one_size(output, 1, 4))
    draft, out = tmp_path / "pattern.md", tmp_path / "sheet.html"
    draft.write_bytes(SAMPLE)
    assert main(["worksheet", str(draft), "--size", "96", "-o", str(out)]) == 0
    name, data = downloaded(page, "Worksheet", tmp_path)
    assert (name, data) == ("pattern-worksheet-size-96.html", out.read_bytes())
    assert main(["worksheet", str(draft), "--size", "96", "--practice", "-o", str(out)]) == 0
    name, data = downloaded(page, "Practice swatch", tmp_path)
    assert (name, data) == ("pattern-practice-size-96.html", out.read_bytes())
    if importlib.util.find_spec("weasyprint"):
        name, data = downloaded(page, "Worksheet, PDF", tmp_path)
        assert name == "pattern-worksheet-size-96.pdf" and data.startswith(b"%PDF")
    page.get_by_text("More choices").click()
    page.get_by_label("The other way round").check()
    expect(page.get_by_role("button", name="Worksheet")).to_have_count(0)


def test_what_is_no_question_is_not_called_one(page: Page) -> None:
    text = (
        "Sizes: S (M, L)\nBACK\nWork until armholes measure 20 cm, ending with a WS row. 51 (57, 63) sts.\n"
        "Shape shoulders\nBO 8 (9, 9) sts at beg of next 4 rows. BO rem 19 (21, 29) sts.\n"
    )
    paste(page, text)
    expect(page.get_by_role("heading", name="To put right in the pattern")).to_be_visible()
    expect(page.locator("#summary")).to_contain_text("1 place has to be put right")
    page.get_by_label("S", exact=True).check(force=True)
    expect(page.get_by_label("S", exact=True)).to_be_checked()
    # the question is about another size than the one that is shown
    expect(page.locator(".about")).to_contain_text("BO 8 (9, 9) sts")


def test_a_file_is_dropped_and_taken_out(page: Page, tmp_path: Path) -> None:
    drop = """([name, bytes, kind]) => {
        const data = new DataTransfer();
        data.items.add(new File([new Uint8Array(bytes)], name));
        document.body.dispatchEvent(
            new DragEvent(kind, { dataTransfer: data, bubbles: true, cancelable: true }));
    }"""
    for kind in ("dragenter", "drop"):
        page.evaluate(drop, ["tarn.md", list(SAMPLE), kind])
        if kind == "dragenter":
            expect(page.get_by_text("Drop the file")).to_be_visible()
    expect(page.get_by_text("Drop the file")).to_be_hidden()
    expect(page.get_by_text("tarn.md")).to_be_visible()
    expect(page.locator("#summary")).to_contain_text("2 shoulder shapings rewritten")
    name, data = downloaded(page, "Text", tmp_path)
    assert name == "tarn-short-rows.md"
    draft = tmp_path / "tarn.md"
    draft.write_bytes(SAMPLE)
    assert data == command(draft, tmp_path / "out.md")
    page.get_by_role("button", name="Take out").click()
    expect(page.get_by_role("textbox", name="Your pattern")).to_be_focused()
    expect(page.locator("#summary")).to_have_count(0)


def test_what_is_pasted_stays_text(page: Page) -> None:
    script = "<img src=x onerror='window.hit=1'></textarea><script>window.hit = 1</script>"
    paste(page, f"{script}\n{NO_SIDE.replace('rem 20 sts', f'rem 20 sts {script}')}")
    page.get_by_label("Whole pattern").check(force=True)
    expect(page.locator(".changes")).to_contain_text("<script>window.hit = 1</script>")
    page.get_by_label("Choose a file").set_input_files(
        {"name": f"{script[:20]}.txt", "mimeType": "", "buffer": script.encode() + b" " * 40}
    )
    expect(page.locator("#summary")).to_contain_text("No stepped shoulders found")
    # told once
    expect(page.locator("#output").get_by_text("found")).to_have_count(1)
    assert page.evaluate("window.hit") is None
    assert page.locator("#output script, #output img").count() == 0


def test_what_goes_wrong_is_told(page: Page, tmp_path: Path) -> None:
    page.get_by_label("Choose a file").set_input_files(
        {"name": "old.doc", "mimeType": "", "buffer": b"{\\rtf1 x}"}
    )
    expect(page.locator(".problem")).to_contain_text("a rich text file; save it as .docx")
    page.get_by_role("button", name="Take out").click()
    expect(page.locator(".problem")).to_have_count(0)


def test_a_server_that_is_gone_is_told(place: tuple[Browser, str]) -> None:
    browser, _ = place
    context = browser.new_context()
    page = context.new_page()
    with served() as (process, url):
        page.goto(url)
        sample(page)
        process.terminate()
        process.wait(10)
        page.get_by_label("Wrap and turn").check()
        expect(page.locator(".problem")).to_contain_text("start it again in the terminal")
    context.close()


def test_the_page_reads_files_that_the_command_reads() -> None:
    accepted = re.search(r'accept="([^"]+)"', _page_source())
    assert accepted
    for suffix in (".txt", ".md", ".docx", ".docm", ".odt", ".html", ".pdf"):
        assert suffix in accepted[1].split(",")
    assert open_draft(SAMPLE, "x.md").suffixes == ()


def _page_source() -> str:
    from rewriter.web.page import page

    return page()
