"""A worksheet as one page, to print or to tick on a screen; and that page as a PDF."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from rewriter.webpage import web_page
from rewriter.worksheetmodel import Line, Needle, NoSheet, PieceSheet, Worksheet, words

PAPERS = {"a4": "A4", "letter": "letter"}


def worksheet_page(sheet: Worksheet, paper: str = "a4", charts: Sequence[str] = ()) -> str:
    """Return a worksheet as one HTML page; `charts` are pictures in SVG."""
    title = f"{sheet.title}, size {sheet.size}" if sheet.size else sheet.title
    pieces = "\n".join(_piece(piece, number) for number, piece in enumerate(sheet.pieces, 1))
    size = f'<p class="size">Size <strong>{escape(sheet.size)}</strong></p>' if sheet.size else ""
    about = "".join(f"<p>{escape(p)}</p>" for p in sheet.about)
    body = f"""<a class="skip" href="#piece-1">Go to the rows</a>
<header>
<p class="kind">Worksheet</p>
<h1>{escape(sheet.title)}</h1>
{size}
{about}{_compared(sheet)}
</header>
<main>
<section class="before" aria-labelledby="before"><h2 id="before">Before you begin</h2>
<dl class="facts">{_facts(sheet)}</dl>
{_method(sheet)}
{_abbreviations(sheet)}
{_columns()}
</section>
{pieces}
{_list("finish", "Finishing the shoulders", sheet.finish)}
{_list("missing", "Not on this sheet", sheet.missing)}
{_list("care", "Take care", sheet.cautions)}
{_charts(charts)}
</main>"""
    return web_page(f"{title}: worksheet", "worksheet.css", body, PAPERS[paper])


def worksheet_pdf(page: str) -> bytes:
    """Return a worksheet page as a PDF; raises NoSheet where what it takes is not installed."""
    try:
        from weasyprint import HTML
    except (ImportError, OSError):  # the package, or the system's library for setting text
        raise NoSheet(
            "a PDF needs more than is installed: pip install 'slopewise[worksheet]' (and Pango, from the "
            "system's packages), or write OUT.html and print it from a browser"
        ) from None
    made = HTML(string=page).write_pdf(pdf_variant="pdf/ua-1")
    assert isinstance(made, bytes)
    return made


# --- before the rows --------------------------------------------------------------------------------


def _facts(sheet: Worksheet) -> str:
    needs = [("You need", "; ".join(n[:1].lower() + n[1:] for n in sheet.needs))]
    facts = [*sheet.options, *(needs if sheet.needs else [])]
    return "".join(
        f"<div><dt>{escape(name)}</dt><dd>{escape(told)}</dd></div>" for name, told in facts
    )


def _method(sheet: Worksheet) -> str:
    steps = "".join(
        f"<div><dt>{escape(name)}</dt><dd>{escape(told)}</dd></div>" for name, told in sheet.method
    )
    name = escape(sheet.options[0][1])
    return f'<div class="method"><h3>How to turn: {name}</h3><dl>{steps}</dl></div>'


def _abbreviations(sheet: Worksheet) -> str:
    if not sheet.abbreviations:
        return ""
    entries = "".join(
        f"<div><dt>{escape(key)}</dt><dd>{escape(means)}</dd></div>"
        for key, means in sheet.abbreviations
    )
    return f'<h3>Abbreviations in these rows</h3><dl class="short">{entries}</dl>'


def _columns() -> str:
    says = words()["columns"]
    return f'<p class="columns">{escape(says["needle"])} {escape(says["counts"])}</p>'


def _compared(sheet: Worksheet) -> str:
    if not sheet.compared:
        return ""
    rows = "".join(
        f'<tr><th scope="row">{escape(name)}</th><td class="needle">{_needle(sts)}</td></tr>'
        for name, sts in sheet.compared
    )
    return (
        '<table class="compared"><caption>The same needle, in small</caption><thead><tr>'
        '<th scope="col">Piece</th><th scope="col">Steps, neck, steps in sts</th></tr></thead>'
        f"<tbody>{rows}</tbody></table>"
    )


# --- the rows ---------------------------------------------------------------------------------------


def _piece(piece: PieceSheet, number: int) -> str:
    ident = f"piece-{number}"
    told = f'<p class="about">{escape(piece.about)}</p>' if piece.about else ""
    lead = f"{escape(piece.lead_in)} " if piece.lead_in else ""
    begins = f'<p class="lead">{lead}{escape(piece.begins)}</p>' if lead or piece.begins else ""
    sts = f'<p class="needle">{_needle(piece.needle)}</p>' if piece.needle else ""
    notes = "".join(f"<p>{escape(_capital(note))}</p>" for note in piece.notes)
    rows = _table(piece, ident) if piece.lines else ""
    after = f'<p class="after">{escape(piece.after)}</p>' if piece.after else ""
    opening = f'<h2 id="{ident}">{escape(piece.title)}</h2>{told}{begins}{sts}{notes}'
    return (
        f'<section class="piece" aria-labelledby="{ident}"><div class="opening">{opening}</div>{rows}{after}'
        f"</section>"
    )


def _charts(pictures: Sequence[str]) -> str:
    drawn = "\n".join(f'<figure class="chart">{p}</figure>' for p in pictures)
    if not drawn:
        return ""
    head = '<h2 id="charts">Charts</h2>'
    return f'<section class="charts" aria-labelledby="charts">{head}{drawn}</section>'


def _needle(needle: Needle) -> str:
    return (
        f'<span class="edge">{needle.begins} edge</span> {escape(needle.sts)} '
        f'<span class="edge">{needle.ends} edge</span>'
    )


def _table(piece: PieceSheet, ident: str) -> str:
    off = any(line.off for line in piece.lines)
    sided = any(line.side for line in piece.lines)
    ticks = "".join(f'<th scope="col" class="tick">{escape(t)}</th>' for t in piece.ticks)
    heads = [
        ("num", "Row"),
        *([("side", "Side")] if sided else []),
        ("words", "Work"),
        ("count worked", "Worked"),
        ("count waiting", "Waiting"),
    ]
    heads += [("count off", "Off")] if off else []
    heads += [("count needle", "On needle")]
    head = ticks + "".join(f'<th scope="col" class="{c}">{h}</th>' for c, h in heads)
    body = "\n".join(
        _row(piece, line, i, ident, off, sided) for i, line in enumerate(piece.lines, 1)
    )
    caption = f"{escape(piece.title)}: the rows"
    return (
        f'<div class="wide" tabindex="0" role="region" aria-label="{caption}"><table class="rows">'
        f"<caption>{caption}</caption><thead><tr>{head}</tr></thead>\n<tbody>{body}</tbody></table></div>"
    )


def _row(piece: PieceSheet, line: Line, index: int, ident: str, off: bool, sided: bool) -> str:
    name = f"row {line.number}" if line.number is not None else "the last step"
    boxes = ""
    for column, tick in enumerate(piece.ticks):
        key = f"{ident}-{index}-{column}"
        whose = f"{piece.title}, {name} done" if tick == "Done" else f"{tick}, {name} done"
        label = f'<label for="{key}">{escape(whose)}</label>'
        boxes += f'<td class="tick"><span><input type="checkbox" id="{key}">{label}</span></td>'
    said = escape(line.words)
    number = "" if line.number is None else str(line.number)
    side = line.side or ""
    cells = ["\u2013" if line.worked == 0 else _count(line.worked), _waiting(line)]
    cells += [str(line.off) if line.off else "\u2013"] if off else []
    cells.append(_count(line.on_needle))
    counts = "".join(f'<td class="count">{c}</td>' for c in cells)
    kind = f' class="{side.lower()}"' if side else ""
    head = f'<th scope="row" class="num">{number or "<span>then</span>"}</th>'
    head += f'<td class="side">{side}</td>' if sided else ""
    return f'<tr{kind}>{boxes}{head}<td class="words">{said}</td>{counts}</tr>'


def _count(n: int | None) -> str:
    return "" if n is None else str(n)


def _waiting(line: Line) -> str:
    """Return what waits at the beginning and at the end of a row: "16 + 8"."""
    if line.worked is None:
        return ""
    return " + ".join(str(n) for n in line.waiting if n) or "\u2013"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _list(ident: str, title: str, items: Sequence[str]) -> str:
    if not items:
        return ""
    told = "".join(f"<li>{escape(item)}</li>" for item in items)
    head = f'<h2 id="{ident}">{title}</h2>'
    return f'<section class="end" aria-labelledby="{ident}">{head}<ul>{told}</ul></section>'
