"""The page in a real browser: what a reader does with it, by mouse, by keyboard, and read aloud."""

from __future__ import annotations

import importlib.util
import os
import re
import shutil
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

import pytest

from rewriter import rewrite, samples
from rewriter.cli import main
from rewriter.formats import open_draft
from rewriter.onesize import in_one_size
from rewriter.options import Options
from rewriter.pipeline import rework
from rewriter.source import read_source
from rewriter.worksheet import worksheet
from rewriter.worksheetpage import worksheet_page
from tests.booklet import booklet
from tests.docxtools import MAIN, parts
from tests.drafts import CORPUS
from tests.serving import served

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
if CHROMIUM is None and not os.environ.get("NEEDS_BROWSER"):
    pytest.skip("needs Chromium: make browser installs it", allow_module_level=True)

from axe_playwright_python.sync_playwright import Axe  # noqa: E402
from playwright.sync_api import Browser, Page, expect, sync_playwright  # noqa: E402

expect.set_options(timeout=15_000)
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--disable-quic",
]  # fmt: skip
SAMPLE = (files("rewriter.samples") / samples.SAMPLE).read_bytes()
NO_SIDE = "Shape shoulders\nCast off 8 sts at beg of next 4 rows.\nCast off rem 20 sts.\n"
NO_COUNT = (
    "BACK\nSizes 1 (2)\nWork even until armhole measures 20 cm, ending with a WS row.\nShape shoulders\n"
    "BO 5 (6) sts at beg of every row until 31 (33) sts rem. BO rem sts.\n"
)


@pytest.fixture(scope="module")
def url() -> Iterator[str]:
    with served() as (_, url):
        yield url


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def page(browser: Browser, url: str) -> Iterator[Page]:
    """Yield the page; whatever it says on the console, or asks of another place, fails the test."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    context.grant_permissions(["clipboard-read", "clipboard-write"])
    page = context.new_page()
    amiss: list[str] = []
    page.on("console", lambda m: amiss.append(m.text) if m.type in ("error", "warning") else None)
    page.on("pageerror", lambda e: amiss.append(str(e)))
    page.on(
        "request",
        lambda r: None if r.url.startswith((url, f"blob:{url}")) else amiss.append(r.url),
    )
    page.set_default_timeout(10_000)
    page.goto(url)
    yield page
    kept = page.evaluate("[localStorage.length, sessionStorage.length, document.cookie]")
    context.close()
    assert kept == [0, 0, ""]
    assert not amiss


def paste(page: Page, text: str) -> None:
    page.get_by_role("textbox", name="Your pattern").fill(text)
    expect(page.locator("#output[aria-busy]")).to_have_count(0)
    expect(page.locator("#summary")).to_be_visible()


def sample(page: Page) -> None:
    page.get_by_role("button", name="Try a sample").click()
    expect(page.locator("#summary")).to_contain_text("2 shoulder shapings rewritten")


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


def test_a_narrow_screen_goes_to_the_result_of_a_sample(browser: Browser, url: str) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 740}, reduced_motion="reduce")
    page = context.new_page()
    page.goto(url)
    sample(page)
    expect(page.locator("#summary")).to_be_in_viewport()
    expect(page.get_by_text("swipe it sideways")).to_be_visible()
    page.set_viewport_size({"width": 1280, "height": 900})
    expect(page.get_by_text("swipe it sideways")).to_be_hidden()
    context.close()


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


def test_by_keyboard_alone(page: Page, tmp_path: Path) -> None:
    def tab_to(label: str, most: int = 40) -> None:
        for _ in range(most):
            page.keyboard.press("Tab")
            focused = page.evaluate(
                "(document.activeElement.labels?.[0] ?? document.activeElement).textContent.trim()"
            )
            if focused.startswith(label):
                shape = page.evaluate(
                    """() => { const a = document.activeElement;
                    const marked = [a, a.parentElement, a.nextElementSibling].filter(Boolean);
                    return marked.some((e) => getComputedStyle(e).outlineStyle !== "none"); }"""
                )
                assert shape, f"{label}: nothing shows that it has the focus"
                return
        pytest.fail(f"{label} cannot be reached")

    tab_to("Go to the result")
    tab_to("Your pattern")
    page.keyboard.insert_text(SAMPLE.decode())
    expect(page.locator("#summary")).to_contain_text("2 shoulder shapings rewritten")
    tab_to("Double stitches")
    page.keyboard.press("ArrowUp")
    expect(page.locator(".changes")).to_contain_text("w&t")
    tab_to("All")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    expect(page.get_by_label("96", exact=True)).to_be_focused()
    expect(page.get_by_role("button", name="Copy size 96")).to_be_visible()
    tab_to("Changes")
    page.keyboard.press("ArrowRight")
    expect(page.get_by_label("Whole pattern")).to_be_checked()
    tab_to("Copy size 96")
    for label, name in (
        ("Text of size 96", "pattern-short-rows-size-96.md"),
        ("Text", "pattern-short-rows.md"),
    ):
        tab_to(label)
        with page.expect_download() as waiting:
            page.keyboard.press("Enter")
        assert waiting.value.suggested_filename == name
    paste(page, NO_SIDE)
    expect(page.locator("#summary")).to_contain_text("1 shoulder shaping rewritten")
    tab_to("The first bind-off row")
    page.keyboard.press("Space")
    expect(page.locator("#summary")).to_be_focused()
    expect(page.locator(".changes")).to_contain_text("(wrong side)")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_is_accessible(browser: Browser, url: str, scheme: str) -> None:
    context = browser.new_context(color_scheme="dark" if scheme == "dark" else "light")
    page = context.new_page()
    page.goto(url)
    _is_accessible(page)
    paste(page, NO_SIDE + "\nSleeve\nCast off 4 sts at beg of next 6 rows. Cast off rem 9 sts.\n")
    page.get_by_text("More choices").click()
    _is_accessible(page)
    paste(page, NO_COUNT)
    page.get_by_label("How many rows have").fill("x")
    page.get_by_label("How many rows have").press("Enter")
    expect(page.locator(".amiss")).to_be_visible()
    _is_accessible(page)
    sample(page)
    _is_accessible(page)
    page.get_by_role("radio", name="New pattern").check(force=True)
    page.get_by_label("106", exact=True).check(force=True)
    expect(page.get_by_role("button", name="Copy size 106")).to_be_visible()
    _is_accessible(page)
    page.get_by_label("Choose a file").set_input_files(
        {"name": "broken.docx", "mimeType": "", "buffer": b"PK\x03\x04"}
    )
    expect(page.locator(".problem")).to_be_visible()
    _is_accessible(page)
    context.close()


def _is_accessible(page: Page) -> None:
    found = Axe().run(page)
    assert not found.violations_count, found.generate_report()


@pytest.mark.parametrize("width", [360, 768, 1440])
def test_nothing_overflows(browser: Browser, url: str, width: int) -> None:
    context = browser.new_context(viewport={"width": width, "height": 800})
    page = context.new_page()
    page.goto(url)
    _fits(page, width)
    sample(page)
    _fits(page, width)
    paste(page, NO_SIDE + "x" * 300)
    _fits(page, width)
    context.close()


def _fits(page: Page, width: int) -> None:
    assert page.evaluate("document.documentElement.scrollWidth") <= width


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


def test_a_server_that_is_gone_is_told(browser: Browser) -> None:
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


def test_it_prints_the_pattern_and_not_the_controls(page: Page) -> None:
    sample(page)
    page.emulate_media(media="print")
    expect(page.get_by_role("textbox", name="Your pattern")).to_be_hidden()
    expect(page.get_by_role("button", name="Copy")).to_be_hidden()
    expect(page.locator(".changes ins").first).to_be_visible()
    expect(page.get_by_text("pick another above")).to_be_hidden()
    expect(page.locator(".swipe")).to_be_hidden()
    for paper in ("A4", "Letter"):
        pdfium = pytest.importorskip("pypdfium2")
        printed = [
            p.get_textpage().get_text_range() for p in pdfium.PdfDocument(page.pdf(format=paper))
        ]
        (chart,) = [p for p in printed if re.search(r"(?m)^Chart\s*$", p)]
        assert "Back, size 86" in chart and "Front, size 86" in chart  # a heading is not left alone
        (needles,) = [p for p in printed if "On the needle, and the proof" in p]
        assert "where the neck begins" in " ".join(needles.split()) and "Back, shoulder" in needles
        assert all(f"{n} / {len(printed)}" in p for n, p in enumerate(printed, 1))


@pytest.mark.parametrize("name", ["prairie", "both"])
def test_a_worksheet_on_a_narrow_screen_shows_every_count(browser: Browser, name: str) -> None:
    both = "BACK AND FRONT\n" + NO_SIDE
    path = CORPUS / "forms" / "06-prairie-pullover.txt"
    data = {"prairie": path.read_bytes(), "both": both.encode()}[name]
    options = Options()
    work = rework(read_source(data, "draft.txt"), options)
    sheet = worksheet(work, 0, options)
    context = browser.new_context(viewport={"width": 360, "height": 800})
    page = context.new_page()
    page.set_content(worksheet_page(sheet))
    _fits(page, 360)
    rows = page.locator(".rows tbody tr")
    assert rows.count() == sum(len(p.lines) for p in sheet.pieces)
    for box in rows.locator("input").all():
        room = box.bounding_box()
        assert room and min(room["width"], room["height"]) >= 24
    seen = rows.locator(".count:not(.none)")
    for cell in seen.all():
        room = cell.bounding_box()
        assert room and room["x"] >= 0 and room["x"] + room["width"] <= 360
    assert seen.count() == sum(
        sum(bool(n) for n in (line.worked, *line.waiting, line.off)) + (line.on_needle is not None)
        for piece in sheet.pieces
        for line in piece.lines
    )
    _is_accessible(page)
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
