"""The page in Chromium, for tests: the browser, a page that is watched, and what is done on it."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import files

import pytest

from rewriter import samples
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


@contextmanager
def browsing() -> Iterator[tuple[Browser, str]]:
    """Yield Chromium, and the address of a server that runs meanwhile."""
    with served() as (_, url), sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser, url
        browser.close()


@contextmanager
def watched(browser: Browser, url: str) -> Iterator[Page]:
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
    assert kept == [0, 0, ""], kept
    assert not amiss, amiss


def paste(page: Page, text: str) -> None:
    """Put a text in, and wait for its result."""
    page.get_by_role("textbox", name="Your pattern").fill(text)
    expect(page.locator("#output[aria-busy], #picture[aria-busy]")).to_have_count(0)
    expect(page.locator("#summary")).to_be_visible()


def sample(page: Page) -> None:
    """Ask for the sample, and wait for its result."""
    page.get_by_role("button", name="Try a sample").click()
    expect(page.locator("#summary")).to_contain_text("2 shoulder shapings rewritten")
    expect(page.locator("#picture[aria-busy]")).to_have_count(0)


def is_accessible(page: Page) -> None:
    """Fail where axe-core finds a fault."""
    found = Axe().run(page)
    assert not found.violations_count, found.generate_report()


def fits(page: Page, width: int) -> None:
    """Fail where the page is wider than its window."""
    assert page.evaluate("document.documentElement.scrollWidth") <= width
