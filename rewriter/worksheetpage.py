"""A worksheet as one page, to print or to tick on a screen; and that page as a PDF."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from rewriter.webpage import apostrophes, web_page
from rewriter.worksheetcharts import NO_PICTURES, Pictures
from rewriter.worksheetmodel import Line, Needle, NoSheet, PieceSheet, Worksheet, words

PAPERS = {"a4": "A4", "letter": "letter"}


def worksheet_page(sheet: Worksheet, paper: str = "a4", charts: Pictures = NO_PICTURES) -> str:
    """Return a worksheet as one HTML page; `charts` are its pictures."""
    title = f"{sheet.title}, size {sheet.size}" if sheet.size else sheet.title
    drawn = charts.pieces or ((),) * len(sheet.pieces)
    told = zip(sheet.pieces, drawn, strict=True)
    pieces = "\n".join(_piece(piece, own, number) for number, (piece, own) in enumerate(told, 1))
    hint = f'<p class="swipe">{escape(words()["columns"]["swipe"])}</p>'
    pieces = pieces.replace('<figure class="chart"', f'{hint}<figure class="chart"', 1)
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
{_key(charts)}
{_list("care", "Take care", sheet.cautions)}
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
    told = "".join(
        f"<div><dt>{escape(name)}</dt><dd>{escape(told)}</dd></div>"
        for name, told in says["counts"]
    )
    return (
        f'<h3>Reading the rows</h3><div class="columns"><p>{escape(says["needle"])}</p><dl>{told}</dl>'
        f"<p>{escape(says['aid'])}</p></div>"
    )


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


def _piece(piece: PieceSheet, pictures: Sequence[str], number: int) -> str:
    ident = f"piece-{number}"
    told = f'<p class="about">{escape(piece.about)}</p>' if piece.about else ""
    ended = piece.lead_in.rstrip("\u201d")[-1:] in (".", "!", "?", ":", "")
    lead = f"{escape(piece.lead_in)}{'' if ended else '.'} " if piece.lead_in else ""
    begins = f'<p class="lead">{lead}{escape(piece.begins)}</p>' if lead or piece.begins else ""
    long = " long" if piece.needle and len(piece.needle.sts) > 44 else ""
    sts = f'<p class="needle{long}">{_needle(piece.needle)}</p>' if piece.needle else ""
    notes = "".join(f"<p>{escape(_capital(note))}</p>" for note in piece.notes)
    rows = _table(piece, ident) if piece.lines else ""
    after = f'<p class="after">{escape(piece.after)}</p>' if piece.after else ""
    opening = f'<h2 id="{ident}">{escape(piece.title)}</h2>{told}{begins}{sts}{notes}'
    return (
        f'<section class="piece" aria-labelledby="{ident}"><div class="opening">{opening}</div>{rows}{after}'
        f"{_figures(pictures, f'{piece.title}: the chart')}</section>"
    )


def _figures(pictures: Sequence[str], name: str) -> str:
    """Return pictures as figures, which scroll where a screen is narrow and so are reached by keys."""
    out = ""
    for number, picture in enumerate(pictures, 1):
        label = escape(f"{name} {number}" if len(pictures) > 1 else name)
        out += f'<figure class="chart" tabindex="0" role="region" aria-label="{label}">{picture}</figure>'
    return out


def _key(charts: Pictures) -> str:
    if not charts.key:
        return ""
    head = '<h2 id="key">Reading the charts</h2>'
    told = _figures([charts.key], "The key to the charts")
    return f'<section class="key" aria-labelledby="key">{head}{told}</section>'


def _needle(needle: Needle) -> str:
    return (
        f'<span class="edge">{needle.begins} edge</span> {escape(needle.sts)} '
        f'<span class="edge">{needle.ends} edge</span>'
    )


def _table(piece: PieceSheet, ident: str) -> str:
    off = any(line.off for line in piece.lines)
    sided = any(line.side for line in piece.lines)
    heads = [
        *(("tick", t) for t in piece.ticks),
        ("num", "Row"),
        *([("side", "Side")] if sided else []),
    ]
    heads += [("words", "Work"), ("count worked", "Worked"), ("count", "Waiting")]
    heads += [("count off", "Off")] if off else []
    heads += [("count needle", "On needle")]
    head = "".join(_head(kind, name) for kind, name in heads)
    parts = "".join(
        f'<th scope="col" role="columnheader" class="count part">{p}</th>'
        for p in ("start", "turn")
    )
    body = "\n".join(
        _row(piece, line, i, ident, off, sided) for i, line in enumerate(piece.lines, 1)
    )
    caption = f"{escape(piece.title)}: the rows"
    both = " both" if len(piece.ticks) > 1 else ""
    # the roles are told, for on a narrow screen the table is laid out as a list
    row, rows = '<tr role="row">', 'role="rowgroup"'
    return (
        f'<table class="rows{both}" role="table"><caption>{caption}</caption>'
        f"<thead {rows}>{row}{head}</tr>{row}{parts}</tr></thead>\n<tbody {rows}>{body}</tbody></table>"
    )


def _head(kind: str, name: str) -> str:
    """Return the head of a column; what waits is counted in two, at either end of the row."""
    if name == "Waiting":
        return (
            f'<th scope="colgroup" colspan="2" role="columnheader" class="{kind} two">{name}</th>'
        )
    return f'<th scope="col" rowspan="2" role="columnheader" class="{kind}">{escape(name)}</th>'


def _row(piece: PieceSheet, line: Line, index: int, ident: str, off: bool, sided: bool) -> str:
    name = f"row {line.number}" if line.number is not None else f"line {index}"
    boxes = ""
    for column, tick in enumerate(piece.ticks):
        key = f"{ident}-{index}-{column}"
        whose = f"{piece.title}, {name} done" if tick == "Done" else f"{tick}, {name} done"
        label = f'<label for="{key}">{escape(whose)}</label>'
        named = f' data-name="{escape(tick)}"' if len(piece.ticks) > 1 else ""
        box = f'<span><input type="checkbox" id="{key}">{label}</span>'
        boxes += f'<td role="cell" class="tick"{named}>{box}</td>'
    said = escape(line.words)
    number = "" if line.number is None else str(line.number)
    side = line.side or ""
    works, has = line.worked is not None, line.on_needle is not None
    cells = [
        _count(name, n, works)
        for name, n in zip(_WORKED, (line.worked, *line.waiting), strict=True)
    ]
    cells += [_count("off", line.off, has)] if off else []
    cells.append(_cell("on needle", str(line.on_needle) if has else ""))
    kind = f' class="{side.lower()}"' if side else ""
    head = f'<th scope="row" role="rowheader" class="num">{number or "<span>then</span>"}</th>'
    head += f'<td role="cell" class="side">{side}</td>' if sided else ""
    words = f'<td role="cell" class="words">{said}</td>'
    return f'<tr role="row"{kind}>{boxes}{head}{words}{"".join(cells)}</tr>'


_WORKED = ("worked", "waiting at start", "waiting at turn")
"""What the first counts of a row are called where their heads are not in sight."""


def _count(name: str, n: int | None, told: bool) -> str:
    """Return the cell of a count: a dash for none, and nothing where nothing is counted."""
    return _cell(name, str(n) if n else "\u2013" if told else "")


def _cell(name: str, told: str) -> str:
    none = " none" if told in ("", "\u2013") else ""
    return f'<td role="cell" class="count{none}" data-name="{name}">{told}</td>'


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _list(ident: str, title: str, items: Sequence[str]) -> str:
    if not items:
        return ""
    told = "".join(f"<li>{escape(apostrophes(item))}</li>" for item in items)
    head = f'<h2 id="{ident}">{title}</h2>'
    return f'<section class="end" aria-labelledby="{ident}">{head}<ul>{told}</ul></section>'
