"""What a technical editing sheet compared, and what it did not, so that silence is not taken for assent."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rewriter.sheetmodel import Sheet, ShoulderSheet

_OUTSIDE = (
    "all that stands outside the shoulders but lists of sizes and abbreviations: counts from the cast-on to "
    "the armholes, necks, sleeves, numbers of rows, measurements, amounts of yarn"
)


def compared(sheet: Sheet) -> list[str]:
    """Return what was set beside something else in the draft, a phrase for each."""
    out = [
        f"the sum of each shoulder with the counts that are printed: {words}"
        for words in _told(_summed(one, sheet, True) for one in sheet.shoulders)
    ]
    if sheet.comparison:
        first, *others = (one.name for one in sheet.comparison)
        out.append(f"sts, steps and rows of the shoulders, {first} with {', '.join(others)}")
    sided = [s.id for s in sheet.shoulders if s.ending and s.ending.result in _TWICE]
    out += [f"the sides that lead-in, rows and edge name: {words}" for words in _told(sided)]
    deep = [s.id for s in sheet.shoulders if any(s.depth)]
    out += [f"the depth of the slope with what is usual: {words}" for words in _told(deep)]
    if sheet.lists.sizes > 1 and sheet.lists.counted:
        out.append("the length and notation of the lists for the sizes")
    if sheet.abbreviations.found == "read":
        out.append("the abbreviations used with those of the draft's list")
    return out


_TWICE = ("agrees", "contradicts")


def not_compared(sheet: Sheet) -> list[str]:
    """Return what was not compared, with the reason where it is not plain."""
    unread = [s.id for s in sheet.shoulders if not s.read]
    out = [f"shoulders that were not read: {words}" for words in _told(unread)]
    read = [s for s in sheet.shoulders if s.read]
    out += [
        f"sums beside which no other count is printed: {words}"
        for words in _told(_summed(one, sheet, False) for one in read)
    ]
    if sheet.not_compared:
        out.append(f"with other shoulders: {', '.join(sheet.not_compared)}")
    elif len(sheet.shoulders) == 1:
        out.append("back with front: one shoulder alone is on this sheet")
    once = [s.id for s in read if s.ending and s.ending.result not in _TWICE]
    out += [f"sides, told once or not at all: {words}" for words in _told(once)]
    flat = [
        s.id for s in read if not any(s.depth) and any(n for e in s.edges for n in e.slope_rows)
    ]
    out += [f"the depth of the slope, without rows in the gauge: {words}" for words in _told(flat)]
    if sheet.lists.sizes > 1 and not sheet.lists.counted:
        out.append("lists for the sizes: none was read")
    if sheet.abbreviations.found != "read":
        none = sheet.abbreviations.found == "none"
        out.append(f"abbreviations: {'no list' if none else 'a list that is not read'}")
    return [*out, _OUTSIDE]


def _summed(shoulder: ShoulderSheet, sheet: Sheet, done: bool) -> str:
    """Return a shoulder whose sums were (or were not) compared, with its sizes where that holds of some."""
    sizes = [
        size
        for size, one in zip(sheet.sizes, shoulder.sums, strict=False)
        if (one.result != "nothing to compare") == done
    ]
    if not sizes:
        return ""
    return shoulder.id if len(sizes) == len(sheet.sizes) else f"{shoulder.id} ({', '.join(sizes)})"


def _told(names: Sequence[str] | Iterator[str]) -> Iterator[str]:
    """Yield the names that are not empty as one list, if there are any."""
    if told := [name for name in names if name]:
        yield ", ".join(told)
