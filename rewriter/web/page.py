"""The page itself: the pattern, what can be chosen, and the place of the result."""

from __future__ import annotations

from functools import cache
from html import escape

from rewriter.options import JOINS, KINDS, TURNS
from rewriter.web.words import page_words

_MARK = (
    '<svg class="mark" viewBox="0 0 44 28" aria-hidden="true">'
    '<path class="stairs" d="M2 26V20H12V14H22V8H32V2H42V26Z"/><path class="slope" d="M2 24 42 3"/></svg>'
)
_ACCEPTED = ".txt,.md,.markdown,.docx,.docm,.odt,.html,.htm,.xhtml,.pdf,text/plain"


def _radios(group: str, values: tuple[str, ...], first: str) -> str:
    words = page_words()["choice"][group]
    radios = "".join(
        f'<label class="choice"><input type="radio" name="{group}" value="{value}"'
        f"{' checked' if value == first else ''}>"
        f"<span><b>{escape(words[value][0])}</b> <small>{escape(words[value][1])}</small></span></label>"
        for value in values
    )
    return (
        f'<details class="choices" open><summary><span>{escape(words["legend"])} '
        f'<span class="current" data-current="{group}">{escape(words[first][0])}</span></span></summary>'
        f'<fieldset id="choose-{group}" aria-label="{escape(words["legend"])}">'
        f'<p class="help">{escape(words["help"])}</p>{radios}</fieldset></details>'
    )


def _box(name: str, value: str, words: list[str], checked: bool = False) -> str:
    text = f" <small>{escape(words[1])}</small>" if words[1] else ""
    return (
        f'<label class="choice"><input type="checkbox" name="{name}" value="{value}"'
        f"{' checked' if checked else ''}><span><b>{escape(words[0])}</b>{text}</span></label>"
    )


def _more() -> str:
    words = page_words()["more"]
    boxes = "".join(
        (
            _box("markers", "on", words["markers"], True),
            _box("spelling", "full", words["spelling"]),
            _box("respace", "on", words["respace"]),
            _box("exact_live", "on", words["exact_live"]),
            _box("to", "steps", words["steps"]),
        )
    )
    kinds = "".join(_box("kinds", kind, words["kinds"][kind]) for kind in KINDS[1:])
    return (
        f'<details class="choices"><summary>{escape(words["legend"])}</summary>'
        f'<fieldset aria-label="{escape(words["legend"])}">{boxes}</fieldset>'
        f'<fieldset class="kinds" id="choose-kinds"><legend>{escape(words["kinds"]["legend"])}</legend>'
        f"{kinds}</fieldset></details>"
    )


_INTRO = """
<div class="intro">
<svg class="figure" viewBox="0 0 520 132" role="img" aria-label="A shoulder in steps, and the same
 shoulder as one slope">
<path class="steps" d="M8 131V101H56V76H104V51H152V26H232V131"/>
<path class="sloped" d="M288 131V113L432 38V26H512V131"/>
<path class="ghost" d="M288 101H336V76H384V51H432V26"/>
</svg>
<p class="caption"><span>as written: bound off in steps</span><span>as rewritten: one slope</span></p>
<p>Paste a knitting pattern, or part of one. Wherever it binds off shoulders in steps, the rows are written
anew as short rows, in the pattern’s own words and for every size; what leads up to them and what follows
is brought into line.</p>
<p>Both texts are then worked stitch by stitch. Only what knits to the same fabric is changed; where live
shoulders cost a row, the result says so. Whatever is in doubt stays as it is, with the reason or a
question.</p>
</div>
"""


@cache
def page() -> str:
    """Return the page as it is first seen."""
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>Slopewise</title>
<link rel="icon" href="/static/icon.svg" type="image/svg+xml">
<link rel="preload" href="/static/literata.woff2" as="font" type="font/woff2" crossorigin>
<link rel="stylesheet" href="/static/chart.css">
<link rel="stylesheet" href="/static/app.css">
<script type="module" src="/static/app.js"></script>
</head>
<body>
<a class="skip" href="#result">Go to the result</a>
<header class="masthead">
{_MARK}<h1>Slopewise</h1>
<p>Stepped shoulders into short rows, checked stitch by stitch</p>
</header>
<noscript><p class="problem">This page needs JavaScript. In a terminal, slopewise rewrite does the same.</p>
</noscript>
<main>
<form id="draft" autocomplete="off">
<section class="pattern" aria-labelledby="pattern-title">
<h2 id="pattern-title"><label for="text">Your pattern</label></h2>
<textarea id="text" name="text" spellcheck="false" autocomplete="off" autocapitalize="off" autocorrect="off"
 aria-describedby="promise" placeholder="Paste the text here, or drop a file anywhere on the page"></textarea>
<div class="chip" id="chip" hidden><p><b id="chip-name"></b> <span id="chip-size"></span></p>
<button type="button" id="unchoose">Take out</button></div>
<div class="sources">
<label class="button"><input type="file" id="file" name="file" accept="{_ACCEPTED}">Choose a file</label>
<button type="button" id="sample">Try a sample</button>
<button type="button" id="clear" hidden>Clear</button>
</div>
<p class="promise" id="promise">Nothing is stored or sent anywhere: it all happens on this computer.
<span>Text, Markdown, DOCX, ODT, HTML and PDF.</span></p>
</section>
<section class="options" aria-label="Choices">
{_radios("turn", TURNS, "german")}
{_radios("shoulders", JOINS, "sewn")}
{_more()}
</section>
</form>
<div id="result" tabindex="-1">
<p id="status" class="unseen" role="status"></p>
<p id="working" class="working" aria-hidden="true">Working the rows, size by size …</p>
<div id="output">{_INTRO}</div>
</div>
</main>
<p id="drop" class="drop" hidden>Drop the file to rewrite it</p>
</body>
</html>
"""
