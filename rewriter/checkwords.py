"""Say a comparison in plain words, for a terminal or a pipe."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from rewriter.comparison import CheckFinding, Comparison, EdgeComparison, PassageComparison
from rewriter.spans import SourceText, quote

RESULTS = {
    "same": "same fabric",
    "within-one-row": "same fabric but for one row",
    "differs": "differs",
    "not-compared": "not compared",
}


def comparison_text(found: Comparison, original: SourceText, revised: SourceText) -> str:
    """Return a comparison as text: the result, the findings, then each passage with its sizes."""
    lines = [f"{original.name} and {revised.name}: {headline(found)}"]
    if not found.passages:
        lines.append("No stepped bind-offs were found in the original.")
    if found.findings:
        lines.append("")
    if found.swapped:
        lines.insert(
            1,
            f"The first text given ({revised.name}) has the short rows and the second the stepped "
            "bind-offs: they were taken the other way round, the steps as the original.",
        )
    lines += [finding_line(f, found, original, revised) for f in found.findings]
    for passage in found.passages:
        lines += ["", *_passage(passage, found, original, revised)]
    lines += ["", *looked_at(found)]
    return "\n".join(lines).rstrip() + "\n"


def headline(found: Comparison) -> str:
    """Return the result in words: about the fabric, then whether something else is wrong."""
    words = RESULTS[found.result]
    if found.result in ("same", "within-one-row") and not found.faultless:
        return f"{words}, but an abbreviation is missing from the list"
    return words


_SEAMS = frozenset({"live-meets-bound-off", "sewn-over-live", "live-join-over-bound-off"})


def passage_result(passage: PassageComparison, whole: Comparison) -> str:
    """Return the result of a passage in words; where only its seam is wrong, that is said."""
    wrong = {f.code for f in whole.findings if f.passage == passage.id and f.severity == "error"}
    if passage.result == "differs" and wrong and wrong <= _SEAMS:
        return f"{RESULTS['same']}, but the seam does not go with it"
    return RESULTS[passage.result]


def looked_at(found: Comparison) -> Iterator[str]:
    """Say what was compared and what was not."""
    number = sum(p.result != "not-compared" for p in found.passages)
    passages = f"{number or 'no'} stepped passage{'' if number == 1 else 's'}"
    yield (
        f"Compared: the rows of {passages} with the words that lead up to them, how shoulders are joined, "
        "and in changed words the lists of sizes and the abbreviations."
    )
    yield (
        "Not looked at: whether the words that both texts share are right, and what other changed words "
        "mean (they are listed as remarks); stitch patterns; measurements."
    )


def finding_line(
    found: CheckFinding, whole: Comparison, original: SourceText, revised: SourceText
) -> str:
    """Return a finding in words: with its places, or as what follows from the one before it."""
    places = []
    if found.revised_span is not None:
        places.append(f"{revised.name} {revised.named_place(found.revised_span[0])}")
    if found.original_span is not None:
        places.append(f"{original.name} {original.named_place(found.original_span[0])}")
    sizes = ""
    if found.sizes and len(found.sizes) < len(whole.sizes):
        sizes = f" (size{'s' if len(found.sizes) > 1 else ''} {', '.join(found.sizes)})"
    elif found.sizes:
        sizes = " (all sizes)"
    quoted = ""
    if found.revised_span is not None:
        words = revised.text[found.revised_span[0] : found.revised_span[1]]
        named = repr(quote(words)) in found.message
        quoted = f" “{quote(words)}”" if words.strip() and not named else ""
    elif found.original_span is not None:
        quoted = f" “{quote(original.text[found.original_span[0] : found.original_span[1]])}”"
    about = f"{found.passage}: " if found.passage else ""
    if found.consequence:
        return f"    so, as the rows stand: {found.message}{sizes}"
    place = f"{', '.join(places)}: " if places else ""
    return f"{place}{found.severity}: {about}{found.message}{sizes}{quoted}"


def _passage(
    passage: PassageComparison, whole: Comparison, original: SourceText, revised: SourceText
) -> Iterator[str]:
    places = f"{original.name} {original.named_place(passage.original_span[0])}"
    if passage.revised_span is not None:
        places += f", {revised.name} {revised.named_place(passage.revised_span[0])}"
    unchanged = "" if passage.changed else ", unchanged"
    yield f"{passage.id} ({places}): {passage_result(passage, whole)}{unchanged}"
    if not passage.edges:
        return
    wrong = _wrong_sizes(passage, whole)
    width = max(len(s) for s in whole.sizes)
    for i, size in enumerate(whole.sizes):
        if i not in wrong:
            continue
        told = [edge_words(edge, i, passage) for edge in passage.edges]
        neck = passage.neck_gained[i] if passage.neck_gained else None
        if neck is not None and len(passage.edges) == 2:
            told.append(f"neck {neck:+d}" if neck else "neck 0")
        yield f"  {size:<{width}}  {'; '.join(told)}"
    yield from _agreeing(passage, whole, [i for i in range(len(whole.sizes)) if i not in wrong])


def _wrong_sizes(passage: PassageComparison, whole: Comparison) -> set[int]:
    """Return the numbers of the sizes about which there is something to say."""
    if passage_result(passage, whole) != RESULTS[passage.result] or passage.result == "same":
        return set()
    told = [f for f in whole.findings if f.passage == passage.id and f.severity != "remark"]
    if not told or not all(f.sizes for f in told):
        return set(range(len(whole.sizes)))
    named = {size for f in told for size in f.sizes}
    return {i for i, size in enumerate(whole.sizes) if size in named}


def _agreeing(
    passage: PassageComparison, whole: Comparison, numbers: Sequence[int]
) -> Iterator[str]:
    """Say of sizes whose turns are all in place what their columns gain, like sizes together."""
    groups: dict[str, list[str]] = {}
    for i in numbers:
        size = whole.sizes[i]
        told = []
        for edge in passage.edges:
            rows = {c.rows for c in edge.gained[i]}
            told.append(
                f"{_edge_name(edge, passage)} {_signed(rows.pop()) if rows else 'not worked'}"
            )
        neck = passage.neck_gained[i] if passage.neck_gained else None
        if neck is not None and len(passage.edges) == 2:
            told.append(f"neck {_signed(neck)}")
        groups.setdefault(", ".join(told), []).append(size)
    for words, sizes in groups.items():
        named = "every size" if len(sizes) == len(whole.sizes) else f"size {', '.join(sizes)}"
        yield f"  {named}: every turn in place; rows gained: {words}"


def _edge_name(edge: EdgeComparison, passage: PassageComparison) -> str:
    return f"{edge.edge} edge" if len(passage.edges) > 1 and edge.edge != "unknown" else "edge"


def _signed(rows: int) -> str:
    return f"{rows:+d}" if rows else "0"


def edge_words(edge: EdgeComparison, size: int, passage: PassageComparison) -> str:
    """Return what was found of one edge in one size: its steps, its turns, the rows gained."""
    name = _edge_name(edge, passage)
    steps = " + ".join(map(str, edge.steps[size]))
    made = edge.turns[size]
    turns = "no turns"
    if made:
        apart = [after.row - before.row for before, after in pairwise(made)]
        first, sts = row_words(made[0].row), [str(t.unworked) for t in made]
        if all(rows == 2 for rows in apart):
            places = f"on {first}{' and every 2nd row after it' if apart else ''}"
            turns = f"turns before the last {' and '.join(_parted(sts))} sts, {places}"
        else:
            later = [
                f"{n} {rows} row{'s' if rows > 1 else ''} later"
                for n, rows in zip(sts[1:], apart, strict=True)
            ]
            turns = ", ".join([f"turns before the last {sts[0]} sts on {first}", *later])
    gained = edge.gained[size]
    rows = (
        "not worked"
        if not gained
        else ", ".join(
            f"{_sts(c.sts)} {c.rows:+d}" if c.rows else f"{_sts(c.sts)} 0" for c in gained
        )
    )
    if gained and all(c.rows == 0 for c in gained):
        rows = "0"
    return f"{name} {steps}: {turns}; rows gained {rows}"


def _parted(words: Sequence[str]) -> list[str]:
    """Return words for an "and" before the last of them."""
    return [", ".join(words[:-1]), words[-1]] if len(words) > 1 else list(words)


def _sts(number: int) -> str:
    return f"{number} st{'' if number == 1 else 's'}"


def row_words(row: int) -> str:
    """Return how a row is called: row 0 is that of the original's first bind-off."""
    if row == 0:
        return "the row of the first bind-off"
    side = "before" if row < 0 else "after"
    if abs(row) == 1:
        return f"the row {side} the first bind-off"
    return f"the row {abs(row)} rows {side} the first bind-off"
