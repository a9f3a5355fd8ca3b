"""A technical editing sheet as a page to read on a screen or to print."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from rewriter.sheetmodel import Place, Sheet, ShoulderSheet
from rewriter.sheetscope import compared, not_compared
from rewriter.sheetwords import (
    ABOUT,
    BESIDE,
    ENDINGS,
    VERDICTS,
    compared_cell,
    depth_words,
    gauge_words,
    lines_of,
    list_words,
    message,
    tally,
    term_words,
    verdict,
)
from rewriter.webpage import web_page


def sheet_page(sheet: Sheet, name: str) -> str:
    """Return a sheet as one HTML page; `name` is that of the draft."""
    parts = [
        ("findings", "Findings", _findings(sheet)),
        ("scope", "What was compared", _scope(sheet)),
    ]
    for number, shoulder in enumerate(sheet.shoulders, 1):
        title = f"{_capital(shoulder.piece)}, shoulder ({shoulder.place.where})"
        parts.append((f"shoulder-{number}", title, _shoulder(shoulder, sheet)))
    if sheet.comparison or sheet.not_compared:
        parts.append(("compared", "Shoulders compared", _comparison(sheet)))
    parts.append(("draft", "The draft as a whole", _whole(sheet)))
    contents = "".join(f'<li><a href="#{key}">{escape(title)}</a></li>' for key, title, _ in parts)
    sections = "\n".join(
        f'<section aria-labelledby="{key}"><h2 id="{key}">{escape(title)}</h2>\n{body}</section>'
        for key, title, body in parts
    )
    count = f"{len(sheet.sizes)} sizes: " if len(sheet.sizes) > 1 else ""
    body = f"""<a class="skip" href="#findings">Go to the findings</a>
<header>
<h1>{escape(name)}: technical editing sheet</h1>
<p>{sheet.terms} terms. {count}{escape(", ".join(sheet.sizes))}.</p>
<p>Findings: {escape(tally(sheet))}.</p>
<nav aria-label="Contents"><ul class="contents">{contents}</ul></nav>
</header>
<main>
{sections}
</main>"""
    return web_page(f"{name}: technical editing sheet", "sheet.css", body)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _table(
    caption: str, heads: Sequence[str], rows: Sequence[Sequence[str]], kind: str = ""
) -> str:
    """Return a table whose first column heads its rows; the cells are HTML."""
    head = "".join(f'<th scope="col">{h}</th>' for h in heads)
    body = "".join(
        f'<tr><th scope="row">{row[0]}</th>{"".join(f"<td>{cell}</td>" for cell in row[1:])}</tr>\n'
        for row in rows
    )
    shown = escape(caption)
    classes = f' class="{kind}"' if kind else ""
    return (
        f'<div class="wide" tabindex="0" role="region" aria-label="{shown}"><table{classes}>'
        f"<caption>{shown}</caption><thead><tr>{head}</tr></thead>\n<tbody>{body}</tbody></table></div>\n"
    )


def _quoted(place: Place | None) -> str:
    """Return a place with the words that stand there, as HTML."""
    if place is None:
        return ""
    words = f' <q class="quote">{escape(place.words)}</q>' if place.words else ""
    return f'<span class="place">{escape(place.where)}</span>{words}'


def _findings(sheet: Sheet) -> str:
    if not sheet.findings:
        return "<p>Nothing is amiss in what was compared; the next part says what was.</p>\n"
    rows = [
        (
            f'<span class="place">{escape(found.place.where)}</span>',
            f'<span class="{found.severity}">{found.severity}</span>',
            ABOUT[found.about],
            f"{escape(_capital(message(found)))}",
            (f'<q class="quote">{escape(found.place.words)}</q>' if found.place.words else "")
            + (f"; {BESIDE} {_quoted(found.beside)}" if found.beside else ""),
        )
        for found in sheet.findings
    ]
    heads = ("Place", "Weight", "About", "Finding", "The draft’s words")
    return _table(f"Findings in the order of the text: {tally(sheet)}", heads, rows, "said")


def _scope(sheet: Sheet) -> str:
    told = (("Compared", compared(sheet) or ["nothing"]), ("Not compared", not_compared(sheet)))
    return _facts([(name, [escape(words) for words in lines]) for name, lines in told])


def _shoulder(shoulder: ShoulderSheet, sheet: Sheet) -> str:
    told = [("Taken for a shoulder", [escape(shoulder.decided)])]
    if shoulder.unread:
        name = "Amiss" if shoulder.read else "Not read"
        told.append((name, [f'<span class="amiss">{escape(shoulder.unread)}</span>']))
    if shoulder.read:
        words = [escape(w) for w in depth_words(shoulder, sheet.sizes)]
        told.append(("Depth of the slope", words))
    if shoulder.ending is not None:
        end = shoulder.ending
        places = [_quoted(p) for p in (end.lead_in_place, end.label_place) if p is not None]
        told.append((f"Sides {ENDINGS[end.result]}", [escape(end.words), *places]))
    facts = _facts(told)
    lines = lines_of(shoulder)
    if not lines:
        return facts
    figures = [
        (
            escape(line.name),
            *map(escape, line.values),
            f"{escape(line.origin)}{', ' if line.place else ''}{_quoted(line.place)}",
        )
        for line in lines
    ]
    heads = ("Size", *map(escape, sheet.sizes), "Where it comes from")
    sums = [
        (escape(size), escape(one.words), _verdict(verdict(one), one.result == "differs"))
        for size, one in zip(sheet.sizes, shoulder.sums, strict=True)
    ]
    name = shoulder.id
    return (
        facts
        + _table(f"Stitches for each size ({name})", heads, figures, "figures")
        + _table(f"Sums ({name})", ("Size", "Sum", "Beside the draft’s own count"), sums)
    )


def _facts(told: Sequence[tuple[str, Sequence[str]]]) -> str:
    """Return names with what is told of each, one line or several of HTML."""
    items = "".join(
        f"<dt>{name}</dt>{''.join(f'<dd>{words}</dd>' for words in lines)}" for name, lines in told
    )
    return f"<dl>{items}</dl>\n"


def _verdict(words: str, amiss: bool) -> str:
    return f'<span class="amiss">{escape(words)}</span>' if amiss else escape(words)


def _comparison(sheet: Sheet) -> str:
    rows = [
        (
            escape(size),
            *(
                escape(compared_cell(one.total[i], one.steps[i], one.slope_rows[i]))
                for one in sheet.comparison
            ),
        )
        for i, size in enumerate(sheet.sizes)
    ]
    verdicts = [
        _verdict(
            VERDICTS[one.result] + (f" ({', '.join(one.sizes)})" if one.sizes else ""),
            one.result == "other sts",
        )
        for one in sheet.comparison
    ]
    heads = ("Size", *(escape(_capital(one.name)) for one in sheet.comparison))
    out = ""
    if sheet.comparison:
        out = _table(
            "The shoulder at one edge: steps from the armhole inward",
            heads,
            [*rows, ("All", *verdicts)],
        )
    if sheet.not_compared:
        out += f"<p>Not compared: {escape(', '.join(sheet.not_compared))}.</p>\n"
    return out


def _whole(sheet: Sheet) -> str:
    told = [
        ("Gauge", [escape(words) for words in gauge_words(sheet)]),
        ("Size lists", [escape(list_words(sheet))]),
        ("Size line", [_quoted(sheet.lists.size_line) or "none was found"]),
        ("Abbreviations", [escape(term_words(sheet))]),
    ]
    out = _facts(told)
    if sheet.others:
        rows = [
            (escape(o.id), f'<span class="place">{escape(o.place.where)}</span>', escape(o.decided))
            for o in sheet.others
        ]
        out += _table(
            "Stepped passages that are not on this sheet", ("Passage", "Place", "Why"), rows
        )
    return out
