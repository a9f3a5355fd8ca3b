"""The page in a real browser: by keyboard, read aloud, on narrow screens and on paper."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from rewriter.options import Options
from rewriter.pipeline import rework
from rewriter.source import read_source
from rewriter.worksheet import worksheet
from rewriter.worksheetpage import worksheet_page
from tests.browsing import (
    NO_COUNT,
    NO_SIDE,
    SAMPLE,
    browsing,
    fits,
    is_accessible,
    paste,
    sample,
    watched,
)
from tests.drafts import CORPUS


@pytest.fixture(scope="module")
def place() -> Iterator[tuple[Browser, str]]:
    with browsing() as place:
        yield place


@pytest.fixture
def page(place: tuple[Browser, str]) -> Iterator[Page]:
    with watched(*place) as page:
        yield page


def test_a_narrow_screen_goes_to_the_result_of_a_sample(place: tuple[Browser, str]) -> None:
    browser, url = place
    context = browser.new_context(viewport={"width": 360, "height": 740}, reduced_motion="reduce")
    page = context.new_page()
    page.goto(url)
    sample(page)
    expect(page.locator("#summary")).to_be_in_viewport()
    expect(page.get_by_text("swipe it sideways")).to_be_visible()
    page.set_viewport_size({"width": 1280, "height": 900})
    expect(page.get_by_text("swipe it sideways")).to_be_hidden()
    context.close()


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
def test_itis_accessible(place: tuple[Browser, str], scheme: str) -> None:
    browser, url = place
    context = browser.new_context(color_scheme="dark" if scheme == "dark" else "light")
    page = context.new_page()
    page.goto(url)
    is_accessible(page)
    paste(page, NO_SIDE + "\nSleeve\nCast off 4 sts at beg of next 6 rows. Cast off rem 9 sts.\n")
    page.get_by_text("More choices").click()
    is_accessible(page)
    paste(page, NO_COUNT)
    page.get_by_label("How many rows have").fill("x")
    page.get_by_label("How many rows have").press("Enter")
    expect(page.locator(".amiss")).to_be_visible()
    is_accessible(page)
    sample(page)
    is_accessible(page)
    page.get_by_role("radio", name="New pattern").check(force=True)
    page.get_by_label("106", exact=True).check(force=True)
    expect(page.get_by_role("button", name="Copy size 106")).to_be_visible()
    is_accessible(page)
    page.get_by_label("Choose a file").set_input_files(
        {"name": "broken.docx", "mimeType": "", "buffer": b"PK\x03\x04"}
    )
    expect(page.locator(".problem")).to_be_visible()
    is_accessible(page)
    context.close()


@pytest.mark.parametrize("width", [360, 768, 1440])
def test_nothing_overflows(place: tuple[Browser, str], width: int) -> None:
    browser, url = place
    context = browser.new_context(viewport={"width": width, "height": 800})
    page = context.new_page()
    page.goto(url)
    fits(page, width)
    sample(page)
    fits(page, width)
    paste(page, NO_SIDE + "x" * 300)
    fits(page, width)
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
def test_a_worksheet_on_a_narrow_screen_shows_every_count(
    place: tuple[Browser, str], name: str
) -> None:
    browser, _ = place
    both = "BACK AND FRONT\n" + NO_SIDE
    path = CORPUS / "forms" / "06-prairie-pullover.txt"
    data = {"prairie": path.read_bytes(), "both": both.encode()}[name]
    options = Options()
    work = rework(read_source(data, "draft.txt"), options)
    sheet = worksheet(work, 0, options)
    context = browser.new_context(viewport={"width": 360, "height": 800})
    page = context.new_page()
    page.set_content(worksheet_page(sheet))
    fits(page, 360)
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
    is_accessible(page)
    context.close()


def test_a_chart_has_the_type_it_is_drawn_with(page: Page) -> None:
    sample(page)
    sizes = page.locator(".slope-chart text").evaluate_all(
        "all => all.map((e) => [parseFloat(getComputedStyle(e).fontSize), +e.getAttribute('font-size')])"
    )
    assert len(sizes) > 40
    assert all(seen == drawn for seen, drawn in sizes)


def test_where_nothing_is_changed_the_pattern_stands_whole(page: Page) -> None:
    paste(page, NO_COUNT)
    expect(page.locator(".changes")).to_contain_text("BO 5 (6) sts at beg of every row")
    expect(page.locator(".changes").get_by_text("BO 5 (6) sts")).to_be_visible()
    expect(page.locator("#view-changes")).to_have_count(0)
    expect(page.get_by_role("radio", name="2", exact=True)).to_have_count(1)
    sample(page)
    expect(page.locator("#view-changes")).to_be_checked()


def test_panels_below_the_screen_are_there_for_those_who_go_there(page: Page) -> None:
    sample(page)
    skipped = "e => !e.checkVisibility({ contentVisibilityAuto: true })"
    chart = page.locator(".chart > .wide")
    assert chart.locator(".slope-chart").evaluate(skipped)
    page.get_by_role("link", name="proven").click()
    expect(page.locator("#needles-title")).to_be_in_viewport()
    chart.scroll_into_view_if_needed()
    expect(chart).to_be_in_viewport()
    page.wait_for_timeout(100)
    assert not chart.locator(".slope-chart").evaluate(skipped)
