"""Measure the page in Chromium: `python -m tests.bench.page`.

From the paste of a 10 KB draft until its result is laid out, less what an empty request takes there and
back; of that, what the rewriting itself takes, and what the browser does with the answer; then until the
chart is there, which comes in an answer of its own. Each paste is the
first of a server that has just been started and is ready: nothing is known of its sentences. Then the same
once more with another size picked. Milliseconds, medians; on a quiet machine.
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

ROUNDS = 9
_READY = """async () => {
    const data = new FormData();
    data.set("text", "Bind off 7 sts at beg of next 4 rows.");
    // both processes answer when they have loaded what they need
    await Promise.all([0, 1].map(() => fetch("/result", { method: "POST", body: data })));
}"""
_SHOWN = """async (draft) => {
    const text = document.getElementById("text"), output = document.getElementById("output");
    const begun = performance.now();
    await fetch("/api/read", { method: "PUT" });
    const there = performance.now();
    const fetched = window.fetch;
    let answered = 0;
    window.fetch = async (...asked) => {
        const answer = await fetched(...asked);
        answered = performance.now();
        return answer;
    };
    const shown = new Promise((done) => {
        new MutationObserver((_, watch) => { watch.disconnect(); done(); })
            .observe(output, { childList: true });
    });
    if (draft) {
        text.value = draft;
        text.dispatchEvent(new InputEvent("input", { inputType: "insertFromPaste", bubbles: true }));
    } else document.getElementById("size-2").click();
    await shown;
    output.getBoundingClientRect();
    window.fetch = fetched;
    const now = performance.now();
    const round = there - begun, picture = document.getElementById("picture");
    const shownIn = [now - there - round, now - answered];
    while (picture.getAttribute("aria-busy")) await new Promise((drawn) => setTimeout(drawn, 1));
    return [...shownIn, performance.now() - there - 2 * round];
}"""


def main() -> None:
    """Print the medians."""
    draft = drafts.of_bytes(10_240)
    pasted: list[float] = []
    laid: list[float] = []
    drawn: list[float] = []
    picked: list[float] = []
    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        for _ in range(ROUNDS):
            with served() as (_, url):
                page = browser.new_page()
                page.goto(url)
                page.evaluate(_READY)
                in_all, of_browser, with_chart = page.evaluate(_SHOWN, draft)
                pasted.append(in_all)
                laid.append(of_browser)
                drawn.append(with_chart)
                picked.append(page.evaluate(_SHOWN, "")[0])
                page.close()
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
    print(f"of that, the browser with the answer: {statistics.median(laid):.0f} ms")
    print(f"until the chart is there: {statistics.median(drawn):.0f} ms")
    print(f"another size picked: {statistics.median(picked):.0f} ms")


if __name__ == "__main__":
    main()
