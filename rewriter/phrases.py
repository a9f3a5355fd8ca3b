"""The small change of writing in a draft's style: numbers, labels, names of sizes, markers."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from functools import cache
from typing import Any

from rewriter import regex
from rewriter._resources import grammar_file
from rewriter.listform import listed
from rewriter.numberwords import in_words
from rewriter.options import Options
from rewriter.planner import Plan
from rewriter.rows import Side
from rewriter.shapingmodel import Shaping
from rewriter.stitchwork import Fabric
from rewriter.style import Style
from rewriter.voice import PLAIN, Voice


@cache
def wording(voice: Voice = PLAIN) -> dict[str, Any]:
    """Return the wording tables, with the words of a draft's voice in them."""
    words = [(f"{{{name}}}", word) for name, word in asdict(voice).items()]
    return {
        name: table if name in _UNVOICED else _voiced(table, words)
        for name, table in _tables().items()
    }


@cache
def _tables() -> dict[str, Any]:
    """Return the wording tables as they stand in their file."""
    return tomllib.loads(grammar_file("wording.toml"))


_UNVOICED = ("steps", "lead")
"""Tables that take their articles from the words about them."""


def _voiced(value: Any, words: Sequence[tuple[str, str]]) -> Any:
    """Put words of a voice in the places that are named for them."""
    if isinstance(value, dict):
        return {key: _voiced(inner, words) for key, inner in value.items()}
    if not isinstance(value, str) or "{" not in value:
        return value
    for place, word in words:
        value = value.replace(place, word)
    return value


@dataclass(frozen=True)
class Ground:
    """The fabrics of the shoulders of a draft, taken together: the turning method is told once for all."""

    garter: bool = False
    """Every row of them is knit."""
    patterned: bool = False
    """A turn may stand in a stitch pattern, where a st is no knit or purl st by its row."""
    cabled: bool = False
    """The pattern crosses sts."""
    over: str = ""
    """A lace pattern's word for its yarn over; empty for no lace."""
    striped: bool = False
    """The yarn changes between rows."""
    faced: bool = False
    """The draft leaves open which side is the outside."""


@dataclass(frozen=True)
class Job:
    """Everything that one passage is written from."""

    plan: Plan
    shaping: Shaping
    style: Style
    fabric: Fabric
    options: Options
    edge: str
    """How the outer edge is called: armhole, shoulder, side."""
    inner: str
    """How the inner edge of a one-edged piece is called."""
    neck: str
    """back or front, for the neck; empty where the words serve both."""
    numbered_from: int | None
    """Number of the first row label; None for "Next row"."""
    first_has_number: bool
    """False where the numbers go on after the new text: the first row, one more than there were, has none."""
    with_note: bool
    """Explain the turning method here."""
    listed: bool
    """The method stands in the draft's list of abbreviations, so no note explains it."""
    ordinals: tuple[str, ...]
    """Names of the sizes: 1st, 2nd, ..."""
    names: tuple[str, ...] = ()
    """The draft's own names of the sizes (S, M, ...), where those are used; else the ordinals are."""
    before: tuple[str, str, str] | None = None
    """Words of the first row where they stand in the draft already: up to the work word that goes to
    the end, that word, and what follows it."""
    stays: bool = False
    """That row stays where it stands, and only the words of its last stretch are new."""
    divides: bool = False
    """It parts the two sides of a neck, so the markers before it are told by the edge where it ends."""
    joins: bool = False
    """Another ball of yarn is joined in it: the rows after it go over both sides of a neck."""
    ground: Ground = Ground()
    yarn_told: bool = False
    """The words behind the passage say themselves that the yarn is broken."""
    both_told: bool = False
    """The words that stay before the rows say that both sides are in work at once."""
    to_have: tuple[int, int] = (0, 0)
    """Markers that the draft needs in one colour and in another, where this passage has to tell it."""
    opening: str = ""
    """Words that stood before the first bind-off and go with the first row."""


class Phrases:
    """Says counts, labels and sizes as the draft does."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.style = job.style
        self.full = job.options.spelling == "full" or job.style.spelled_out
        self.wording = wording(job.style.voice)
        self.method = self.wording[job.options.turn]
        self.sizes = len(job.shaping.rows)
        self.marked = job.options.markers and job.plan.slopes
        self.group: tuple[int, ...] = ()
        """The sizes that the words in hand are for, where they are not for all."""
        self.names_edge = not job.shaping.two_edged
        """A row without a side says at which edge it turns, for only one edge is a shoulder's."""

    def finish(self, text: str) -> str:
        """Give a line the draft's capitals throughout and the points of its abbreviations."""
        return finished(text, self.style)

    def row_case(self, text: str) -> str:
        """Begin the words of a row as the draft's rows begin after their label."""
        if self.style.labels.capital is False:
            return text if text[1:2].isupper() else text[0].lower() + text[1:]
        return self.case(text)

    def case(self, text: str) -> str:
        if self.style.case == "lower":
            return text if text[1:2].isupper() else text[0].lower() + text[1:]
        return text[0].upper() + text[1:]

    def _method(self, key: str) -> str:
        full: str | None = self.method.get(f"{key}_full") if self.full else None
        if key in ("aid", "named") and self.style.slip_spelled:
            full = self.method.get(f"{key}_slip", full)
        text: str = full if full is not None else self.method.get(key, "")
        return text

    def parked(self, turns: int) -> str:
        """Return what goes with sts that wait on a holder, some of their turns still open."""
        each = "each" if turns > 1 else "the"
        return self._method("parked").format(st=self.style.st, each=each) if turns else ""

    def note(self) -> str:
        told = _told(self.job.options.turn, self.style, self.job.ground)
        named = self._method("named").format(st=self.style.st)
        return str(self.wording["notes"]["note"].format(named=named, **told))

    def explains(self) -> bool:
        """Say whether a note explains the turning method at this passage."""
        return self.job.with_note and not self.job.listed

    def _group(self, group: Sequence[int], everyone: Sequence[int]) -> str:
        rows = self.wording["rows"]
        if tuple(group) == tuple(everyone):
            return self.case(rows["all_sizes"])
        return self.case(self._only(group))

    def _only(self, group: Sequence[int]) -> str:
        """Return "3rd and 4th sizes only", or "sizes L and XL only" by the draft's own names."""
        key = "only" if not self.job.names else "only_named"
        size = _size_word(group)
        return str(self.wording["rows"][key].format(sizes=self._names(group, runs=True), size=size))

    def _names(self, group: Sequence[int], *, runs: bool = False) -> str:
        """Return "1st, 2nd and 5th", or "S to L"; with `runs` "1st to 4th and 6th" too."""
        names = self.job.names or self.job.ordinals
        out: list[str] = []
        at = 0
        while at < len(group):
            end = at
            while end + 1 < len(group) and group[end + 1] == group[end] + 1:
                end += 1
            whole = at == 0 and end == len(group) - 1
            if end - at > 1 and (whole if self.job.names else runs):
                ends = {"first": names[group[at]], "last": names[group[end]]}
                out.append(self.wording["rows"]["run_of_sizes"].format(**ends))
            else:
                out += [names[i] for i in group[at : end + 1]]
            at = end + 1
        return out[0] if len(out) == 1 else f"{', '.join(out[:-1])} and {out[-1]}"

    def listed(self, values: Sequence[int]) -> str:
        if len(set(values)) == 1 and 1 < values[0] <= self.style.words_up_to:
            return in_words(values[0])
        return listed(values, self.style.list_form, self.group)

    def count(self, values: Sequence[int]) -> str:
        one = set(values) == {1}
        return f"{self.listed(values)} {self.style.unit_one if one else self.style.unit}"

    def _label(self, number: int | None, side: Side | None) -> str:
        style = self.style
        word = "" if side is None else style.rs if side == "RS" else style.ws
        n = None if number is None else str(number)
        if number is not None and style.labels.ordinal:
            n = ordinal(number)
        return self._first(style.labels.write(n, word))

    def _first(self, text: str) -> str:
        return text[0].lower() + text[1:] if self.style.case == "lower" else text

    def _except(self, sizes: Sequence[int]) -> str:
        if not sizes:
            return ""
        return str(
            self.wording["rows"]["not_sizes"].format(
                sizes=self._names(sizes), size=_size_word(sizes)
            )
        )

    def turning(self, work: str, leaves: Sequence[int]) -> str:
        """Return "K to last 16 sts (marker), turn"."""
        return str(
            self.wording["rows"]["turn"].format(
                work=work,
                n=self.count(leaves),
                marker=" (marker)" if self.marked else "",
                turn=self._method("turn").format(st=self.style.st),
            )
        )

    def divided_markers(self) -> list[str]:
        """Return the sentence that places the markers of both halves."""
        sizes = range(self.sizes)
        k = {len(self.job.plan.steps[i][0].rows) for i in sizes}
        if len(k) > 1:
            self.marked = False
            return []
        text = self._marker_sentence(k.pop(), list(sizes)).replace(
            f"from {self.style.voice.the}{self.job.edge} edge", f"from each {self.job.edge} edge"
        )
        return [f"{self.have()}{self.case(text)} {self._markers_off()}"]

    def have(self) -> str:
        """Return how many markers are needed, if no list of materials tells it."""
        first, second = self.job.to_have
        if not first:
            return ""
        key = "markers_two" if second else "markers" if first > 1 else "marker"
        table, words = self.wording, self.style.words_up_to
        n, m = (in_words(k) if words and k else str(k) for k in self.job.to_have)
        markers = table["notions"][key].format(n=n, m=m, colour=self.style.colour)
        return self.case(table["markers"]["have"].format(markers=markers))

    def _markers(self) -> list[str]:
        """Return the sentence that places the markers, one for each group of sizes with equal k."""
        steps = self.job.plan.steps
        groups: dict[int, list[int]] = {}
        for i in range(self.sizes):
            k = max(len(s.rows) for s in steps[i])
            if k >= 2:
                groups.setdefault(k, []).append(i)
        if any(
            len(s) == 2 and s[0].sts != s[1].sts for s in steps
        ):  # unequal edges: no sentence could serve both
            self.marked = False
            return []
        out = []
        for k in sorted(groups):
            sizes = groups[k]
            self.group = tuple(sizes)
            text = self._marker_sentence(k, sizes)
            self.group = ()
            if len(sizes) < self.sizes:
                text = f"{self._only(sizes)}: {text[0].lower()}{text[1:]}"
            out.append(self.case(text))
        if out:
            out[0] = f"{self.have()}{out[0]}"
            off = self._markers_off()
            if len(groups) == 1 and len(groups[min(groups)]) == self.sizes:
                out[-1] += f" {off}"
            else:  # of all sizes
                out.append(off)
        return out

    def _markers_off(self) -> str:
        """Return when the markers come off: in full once, then in short."""
        boundary, two_edged = self._has_boundary(), self.job.shaping.two_edged
        steps = max(len(s.rows) for edges in self.job.plan.steps for s in edges)
        if not two_edged and not boundary and steps == 2:
            key = "off_one"
        elif boundary:
            again = not self.job.with_note
            if not two_edged:
                key = "off_again_one" if again else "off_boundary_one"
            elif self.job.plan.join != "sewn":
                key = "off_again_held" if again else "off_held"
            else:
                key = "off_again_boundary" if again else "off_boundary"
        else:
            key = "off" if self.job.with_note else "off_again"
        return self.case(self.off(key))

    def off(self, key: str) -> str:
        """Return when the markers come off, and that they can pin the yarn where a turn asks for a pin."""
        words = {"colour": self.style.colour, "sts": self.style.unit}
        pins = {name: self._method(name) for name in ("pin", "pins")}
        return str(self.wording["markers"][key].format(**words, **pins))

    def _has_boundary(self) -> bool:
        """Say whether sts lie beyond the shoulder, so that a marker can part them from it."""
        return any(n is None or n > 0 for n in self.job.shaping.neck)

    def _marker_sentence(self, k: int, sizes: Sequence[int]) -> str:
        table = self.wording["markers"]
        steps = self.job.plan.steps
        places = []
        for j in range(1, k):
            at = [sum(steps[i][0].sts[:j]) for i in sizes]
            places.append(table["place"].format(n=self.count(at)))
        listed = places[0] if len(places) == 1 else f"{', '.join(places[:-1])} and {places[-1]}"
        boundary = ""
        if self._has_boundary():
            total = self.count([steps[i][0].total for i in sizes])
            boundary = table["boundary"].format(n=total, colour=self.style.colour)
        key = "two_edges" if self.job.shaping.two_edged else "one_edge"
        if not self.job.shaping.two_edged:  # the sts are not all in work when the markers are hung
            key += "_ahead" if self.job.divides else "_waiting" if self.job.joins else ""
        return f"{table[key].format(edge=self.job.edge, places=listed)}{boundary}."


def meaning(turn: str, style: Style, ground: Ground) -> str:
    """Return what a turning method means, for a list of abbreviations."""
    means = wording(style.voice)[turn]["means"].format(st=style.st)
    return str(wording()["notes"]["means"].format(means=means, **_told(turn, style, ground)))


def _told(turn: str, style: Style, ground: Ground) -> dict[str, str]:
    """Return how a turn is made and what becomes of it, in words for what is knitted."""
    method = wording(style.voice)[turn]
    fabric = "_garter" if ground.garter else ""
    told = {part: method.get(f"{part}{fabric}", method[part]) for part in ("make", "later")}
    told["riders"] = _riders(ground, sided="_row}" in told["later"])
    (right, wrong), (right_row, wrong_row) = style.sides.told, style.sides.rows
    said = {"rs": right, "ws": wrong, "rs_row": right_row, "ws_row": wrong_row}
    said |= {"k": style.knit, "p": style.purl, "st": style.st, "sts": style.unit}
    said |= {"over": ground.over, "colour": style.colour}
    return {part: words.format(**said) for part, words in told.items()}


def _riders(ground: Ground, sided: bool) -> str:
    """Return what a turn must heed in the fabric; `sided` where its closing depends on the side."""
    heeded = {
        "patterned": ground.patterned,
        "cabled": ground.cabled,
        "lace": bool(ground.over),
        "where_stopped": ground.cabled or bool(ground.over),
        "striped": ground.striped,
        "faced": ground.faced and sided,
    }
    return "".join(wording()["riders"][name] for name, heeds in heeded.items() if heeds)


_SIDE_ROW = regex.compile(r"(?i)\b(right|wrong) side(?= rows?\b)")


_ON_HOLDERS = regex.compile(r"(?<= on| onto) (?:a )?(?:stitch )?holders?\b")


def finished(text: str, style: Style) -> str:
    """Return a line with the capitals, hyphens and points of abbreviations that a draft has."""
    if style.hyphen:
        text = _SIDE_ROW.sub(r"\1-side", text)
    if style.waste_yarn:
        text = _ON_HOLDERS.sub(" waste yarn", text)
    if style.on_to:
        text = text.replace(" onto ", " on to ")
    if style.points:
        words = "|".join(style.points)
        text = regex.compile_new(rf"\b({words})\b(?![.'-]| =|$)").sub(r"\1.", text)
    return text.upper() if style.case == "upper" else text


def ordinal(number: int) -> str:
    if number % 100 in (11, 12, 13):
        return f"{number}th"
    ending = {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending}"


def ordinals(count: int) -> tuple[str, ...]:
    """Return the names of sizes by their place: 1st, 2nd, ..."""
    return tuple(ordinal(n + 1) for n in range(count))


_LETTERED = regex.compile(r"(?i)(?:\d{0,2}[xX]{0,3}[sml]|\d[xX]|[xX]{1,3}[sSlL]?|[A-Z])")
_ORDINAL_SIZE = regex.compile(r"(?i)\b(?:1st|2nd|3rd|\dth|first|second|third|fourth)\s+sizes?\b")


def own_names(labels: Sequence[str], source: str) -> tuple[str, ...]:
    """Return the names of sizes that are letters (S, M, 2XL), if the draft does not count its sizes."""
    lettered = all(_LETTERED.fullmatch(label) for label in labels)
    return tuple(labels) if lettered and not _ORDINAL_SIZE.search(source) else ()


def _size_word(group: Sequence[int]) -> str:
    return "size" if len(group) == 1 else "sizes"
