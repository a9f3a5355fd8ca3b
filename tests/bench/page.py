"""Measure the page in Chromium: `python -m tests.bench.page`.

From the paste of a 10 KB draft until its result is laid out, less what an empty request takes there and
back; of that, what the rewriting itself takes. Milliseconds, medians; on a quiet machine.
"""

from __future__ import annotations

import shutil
import statistics
import time

from playwright.sync_api import sync_playwright

from rewriter import parsing
from rewriter.options import Options
from rewriter.pipeline import rewrite_bytes
from rewriter.reading import forget_drafts
from tests.bench import drafts
from tests.serving import served

ROUNDS = 15
_PASTE = """async (draft) => {
    const text = document.getElementById("text"), output = document.getElementById("output");
    const begun = performance.now();
    await fetch("/api/read", { method: "PUT" });
    const there = performance.now();
    const shown = new Promise((done) => {
        new MutationObserver((_, watch) => { watch.disconnect(); done(); })
            .observe(output, { childList: true });
    });
    text.value = draft;
    text.dispatchEvent(new InputEvent("input", { inputType: "insertFromPaste", bubbles: true }));
    await shown;
    output.getBoundingClientRect();
    return performance.now() - there - (there - begun);
}"""


def main() -> None:
    """Print the medians."""
    draft = drafts.of_bytes(10_240)
    pasted: list[float] = []
    with served() as (_, url), sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        page = browser.new_page()
        page.goto(url)
        # words that are new each time: nothing is known from the paste before
        pasted += [page.evaluate(_PASTE, f"{draft}\nRound {n}.\n") for n in range(ROUNDS)]
        browser.close()
    rewriting: list[float] = []
    for n in range(ROUNDS):
        parsing.forget()
        forget_drafts()
        begun = time.perf_counter()
        rewrite_bytes(f"{draft}\nRound {n}.\n".encode(), "draft.md", Options())
        rewriting.append((time.perf_counter() - begun) * 1000)
    print(f"from paste to result, beyond the round trip: {statistics.median(pasted):.0f} ms")
    print(f"of that, the rewriting: {statistics.median(rewriting):.0f} ms")


if __name__ == "__main__":
    main()
