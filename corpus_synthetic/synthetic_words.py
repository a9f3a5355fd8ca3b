"""The wording of a draft: its paragraphs in the words of a house."""

from __future__ import annotations

import random
import re
from dataclasses import dataclass, field

from synthetic_house import MARK, House
from synthetic_plan import Axes, Group, Numbers, Shaping

OTHER = {"RS": "WS", "WS": "RS"}
NEUTRAL = ("nothing",)  # what tells the side: then no row may be knitted or purled


@dataclass
class Voice:
    """A house speaking about one draft; every draw of a variant is seeded."""

    house: House
    axes: Axes
    numbers: Numbers
    rng: random.Random

    def say(self, key: str, **fields: str) -> str:
        """Fill in one of the variants of a phrase."""
        return self.fill(self.rng.choice(self.house.phrases[key]), **fields)

    def fill(self, template: str, **fields: str) -> str:
        """Fill in a template and begin its sentence."""
        words = {**self.house.words, **fields}
        capitals = {f"{key}_": self.house.cap(word) for key, word in words.items()}
        return self.house.cap(template.replace("^", MARK).format_map({**words, **capitals}))

    def inner(self, key: str, **fields: str) -> str:
        """Fill in a phrase that stands inside a sentence."""
        template = self.rng.choice(self.house.phrases[key])
        return template.format_map({**self.house.words, **fields})

    def number(self, values: tuple[int, ...]) -> str:
        """Write a count per size."""
        return self.house.number(values)

    def count(self, values: tuple[int, ...]) -> str:
        """Write how many stitches there are now, as a sentence with a blank before it."""
        return " " + self.say("count", n=self.number(values))

    def row_words(self, key: str, values: tuple[int, ...]) -> str:
        """Write "next row(s)" or "foll alt row(s)"."""
        if set(values) == {1}:
            return self.inner(f"{key}_one")
        return self.inner(f"{key}_many", n=self.house.rows_number(values))

    def ending(self, first: str, kind: str = "endings") -> str:
        """Write the side the work ends with, so that the next row is a `first` row."""
        variants = list(self.house.phrases[kind])
        if kind == "endings" and self.axes.stitch == "stocking":
            variants += self.house.phrases["endings_stocking"]
        last = OTHER[first]
        fields = {
            "last": self.house.words[last],
            "next": self.house.words[first],
            "last_word": self.house.words["K" if last == "RS" else "P"],
            "last_long": "knit" if last == "RS" else "purl",
        }
        template = self.rng.choice(variants)
        return ", " + template.format_map({**self.house.words, **fields})

    def how(self, side: str | None) -> str:
        """Name the way a row is worked."""
        if self.axes.stitch in ("moss", "texture"):
            return self.house.words["patt"]
        if self.axes.stitch == "garter":
            return self.house.words["K"]
        if side is None:
            return "work"
        return self.house.words["K" if side == "RS" else "P"]


@dataclass
class Piece:
    """The paragraphs of a piece and the passages in them, in text order."""

    blocks: list[tuple[str, str]] = field(default_factory=list)
    passages: list[str] = field(default_factory=list)  # their kinds

    def para(self, *texts: str) -> None:
        """Add a paragraph of several sentences."""
        self.blocks.append(("para", "".join(texts)))

    def rows(self, lines: list[str]) -> None:
        """Add a line for each row."""
        self.blocks.extend(("row", line) for line in lines)

    def heading(self, text: str) -> None:
        """Add a heading of a part."""
        self.blocks.append(("shaping", text))

    def passage(self, kind: str) -> None:
        """Note that a stepped passage stands in the next paragraph."""
        self.passages.append(kind)


def first_mark(text: str, seen: bool = False) -> str:
    """Keep only the first mark of a passage."""
    at = -1 if seen else text.find(MARK)
    return "".join(c for i, c in enumerate(text) if c != MARK or i == at)


def body(voice: Voice, piece: Piece) -> None:
    """Cast on, rib, and work to the armholes."""
    numbers, axes = voice.numbers, voice.axes
    small, large = numbers.needles
    piece.para(
        voice.say("cast_on", small=small, n=voice.number(numbers.cast_on)),
        " ",
        voice.say("rib", r=str(numbers.rib_rows)),
    )
    silent = axes.told == "nothing" and (axes.lead == "counted" or axes.turn % 2 == 0)
    kind = "endings_side" if axes.one_edged else "endings"
    ending = "" if silent else voice.ending(numbers.armhole_side, kind)
    fields = {
        "large": large,
        "stitch": voice.inner(f"in_{axes.stitch}"),
        "piece": "front" if axes.one_edged else "back",
        "length": voice.house.measure(numbers.body),
        "ending": ending,
    }
    if numbers.increases:
        place = "place_side" if axes.one_edged else "place_both"
        fields |= {"n": voice.number(numbers.underarm), "place": voice.inner(place)}
        fields["prep"] = voice.inner("prep_edge" if axes.one_edged else "prep_both")
        piece.para(voice.say("body_inc", **fields))
    else:
        piece.para(voice.say("body", **fields))


def decreases(voice: Voice, shaping: Shaping, place: str, prep: str) -> str:
    """Word the decreases of an armhole or a neck."""
    key = {"both": "dec1", "alternate": "dec2", "every": "dec3"}[shaping.form]
    fields = {
        "place": voice.inner(place),
        "prep": voice.inner(prep),
        "e_rows": voice.row_words("next", shaping.every),
        "e_times": voice.house.times(shaping.every),
        "f_alt": voice.row_words("alt", shaping.alternate) if any(shaping.alternate) else "",
        "f_times": voice.house.times(shaping.alternate) if any(shaping.alternate) else "",
    }
    return voice.say(key, **fields)


def minus(values: tuple[int, ...], *others: tuple[int, ...]) -> tuple[int, ...]:
    """Subtract per size."""
    return tuple(v - sum(o) for v, *o in zip(values, *others, strict=True))


def armhole(voice: Voice, piece: Piece) -> None:
    """Shape the armhole or armholes."""
    numbers, one = voice.numbers, voice.axes.one_edged
    shaping = numbers.armhole
    piece.heading("armhole" if one else "armholes")
    if one:
        after = tuple(s + n for s, n in zip(numbers.shoulder, numbers.neck, strict=True))
        text = _one_edged_bind_offs(voice, piece, shaping, ("one_row", "two_rows"), "armhole")
    else:
        after = numbers.before
        groups = tuple(Group(v, (1,) * len(v)) for v in shaping.bind_offs)
        piece.passage("armhole")
        text, _ = chain(voice, groups, voice.house.clauses[0], numbers.underarm, edges=2)
    place, prep = ("place_armhole", "prep_edge") if one else ("place_both", "prep_both")
    piece.para(text, " ", decreases(voice, shaping, place, prep), voice.count(after))


def _one_edged_bind_offs(
    voice: Voice, piece: Piece, shaping: Shaping, keys: tuple[str, str], kind: str
) -> str:
    """Word one or two bind-offs at one edge; two are a stepped passage."""
    first = shaping.bind_offs[0]
    if len(shaping.bind_offs) == 1:
        return first_mark(voice.say(keys[0], n=voice.number(first)), seen=True)
    piece.passage(kind)
    second = voice.number(shaping.bind_offs[1])
    return voice.say(keys[1], n=voice.number(first), n2=second)


def chain(
    voice: Voice,
    groups: tuple[Group, ...],
    form: tuple[str, str, str],
    before: tuple[int, ...],
    *,
    edges: int,
    everywhere: bool = False,
) -> tuple[str, tuple[int, ...]]:
    """Word groups of steps at two edges; return the text and the stitches left."""
    opening, later, joint = form
    house = voice.house
    text = ""
    for number, group in enumerate(groups):
        sts = house.words["sts"]
        same = len(set(group.values)) == 1 and len(group.values) > 1
        if everywhere and same and house.same == "note" and number == 0:
            sts += " (all sizes)"
        rows = tuple(edges * c for c in group.counts)
        fields = {"n": voice.number(group.values), "sts": sts, "m": house.rows_number(rows)}
        taken = tuple(v * r for v, r in zip(group.values, rows, strict=True))
        before = minus(before, taken)
        if not number:
            text = voice.fill(opening, **fields)
        elif joint:
            template = later.replace("^", "")
            text += joint + template.format_map({**house.words, **fields})
        else:
            text += " " + voice.fill(later.replace("^", ""), **fields)
        if not joint:
            text += "." + ("" if house.counts == "none" else voice.count(before))
    return text if not joint else text + ".", before


def front_neck(voice: Voice, piece: Piece) -> None:
    """Shape a front's neck before its shoulder."""
    numbers, axes = voice.numbers, voice.axes
    shaping = numbers.neck_shaping
    if shaping is None:
        return
    text = ""
    if shaping.bind_offs:
        neck_side = OTHER[axes.first or "RS"]
        piece.para(
            voice.say(
                "lead",
                armhole=voice.inner("armhole_measures"),
                length=voice.house.measure(numbers.neck_at),
                ending=voice.ending(neck_side, "endings_neck"),
            )
        )
        piece.heading("neck")
        if axes.neck == "held":
            how = voice.how(neck_side)
            text = voice.say("neck_hold", n=voice.number(shaping.bind_offs[0]), how=how)
        else:
            keys = ("neck_cast", "neck_cast_two")
            text = _one_edged_bind_offs(voice, piece, shaping, keys, "neck")
        text += " "
    else:
        piece.heading("neck")
    decs = decreases(voice, shaping, "place_neck", "prep_edge")
    piece.para(text, decs, voice.count(numbers.shoulder))


def lead_in(voice: Voice, piece: Piece) -> None:
    """Work straight to the shoulder."""
    numbers, axes = voice.numbers, voice.axes
    ending = ""
    if axes.lead == "edge":
        ending = voice.ending(axes.first or "RS", "endings_edge")
    elif axes.told == "words" and axes.first:
        ending = voice.ending(axes.first)
    if axes.lead == "counted":
        piece.para(voice.say("counted", m=voice.number(numbers.straight), ending=ending))
        return
    measures = "armhole_measures" if axes.one_edged else "armholes_measure"
    piece.para(
        voice.say(
            "lead",
            armhole=voice.inner(measures),
            length=voice.house.measure(numbers.depth),
            ending=ending,
        )
    )


class Labels:
    """Row labels one after the other, with a side where the draft tells it so."""

    def __init__(self, voice: Voice, first: str | None) -> None:
        """Start before the first row of a passage."""
        self.voice = voice
        self.first = first
        self.number = 0

    def side(self) -> str | None:
        """Return the side of the row labelled last."""
        if self.first is None:
            return None
        return self.first if self.number % 2 else OTHER[self.first]

    def next(self) -> str:
        """Return the next label."""
        self.number += 1
        hidden = self.voice.axes.told in ("nothing", "counting")
        return self.voice.house.label(self.number, None if hidden else self.side())


def _bo_row(voice: Voice, labels: Labels, values: tuple[int, ...], left: tuple[int, ...]) -> str:
    """Word one row of a two-edged shoulder."""
    label = labels.next()
    end = voice.inner("to_end", how=voice.how(labels.side()))
    text = label + voice.say("bo_row", n=voice.number(values), end=end)
    counts = voice.house.counts
    if counts == "all" or (counts == "ends" and labels.number % 2 == 0):
        text += voice.count(left)
    return text


def shoulder_rows(voice: Voice, repeats: bool) -> list[str]:
    """Word a two-edged shoulder row by row, with or without repeats."""
    labels = Labels(voice, voice.axes.first)
    left = voice.numbers.before
    lines: list[str] = []
    for group in voice.numbers.groups:
        each = group.values
        written = 1 if repeats else group.counts[0]
        for _ in range(written):
            for _ in range(2):
                left = minus(left, each)
                lines.append(_bo_row(voice, labels, each, left))
        more = tuple(c - written for c in group.counts)
        if any(more):
            taken = tuple(2 * v * m for v, m in zip(each, more, strict=True))
            left = minus(left, taken)
            last = labels.number
            again = voice.house.times(more)
            numbers = {"a": str(last - 1), "b": str(last)}
            text = voice.say("rep_last", times=again, **numbers)
            lines.append(text + ("" if voice.house.counts == "none" else voice.count(left)))
            labels.number += 2 * max(more)
    return [line if i == 0 else line.replace(MARK, "") for i, line in enumerate(lines)]


def _ranges(voice: Voice) -> list[str]:
    """Word repeats as labelled ranges of rows."""
    labels = Labels(voice, voice.axes.first)
    left = voice.numbers.before
    lines: list[str] = []
    for group in voice.numbers.groups:
        for _ in range(2):
            left = minus(left, group.values)
            lines.append(_bo_row(voice, labels, group.values, left))
        more = group.counts[0] - 1
        if more:
            left = minus(left, tuple(2 * v * more for v in group.values))
            b = labels.number
            fields = {"a": b - 1, "b": b, "c": b + 1, "d": b + 2 * more}
            x = "" if more == 1 else " " + voice.house.times((more,))
            text = voice.say("range", x=x, **{k: str(v) for k, v in fields.items()})
            lines.append(text + ("" if voice.house.counts == "none" else voice.count(left)))
            labels.number += 2 * more
    return [line if i == 0 else line.replace(MARK, "") for i, line in enumerate(lines)]


def shoulder_pairs(voice: Voice, star: bool) -> list[str]:
    """Word a two-edged shoulder as pairs of rows, repeated."""
    axes, house = voice.axes, voice.house
    lines: list[str] = []
    first = None if axes.told in NEUTRAL else axes.first
    for group in voice.numbers.groups:
        n = voice.number(group.values)
        more = tuple(c - 1 for c in group.counts)
        fields = {"n": n, "end": voice.inner("to_end", how=voice.how(None))}
        if star and any(more):
            fields["end1"] = voice.inner("to_end", how=voice.how(first))
            second = OTHER[first] if first else None
            fields["end2"] = voice.inner("to_end", how=voice.how(second))
            lines.append(voice.say("star", times=house.times(more), **fields))
            continue
        text = voice.say("pair", **fields)
        if any(more):
            text += " " + voice.fill(
                house.phrases["rep_last"][-1]
                if "last" in house.phrases["rep_last"][-1]
                else "{rep} last 2 rows {times} more.",
                times=house.times(more),
            )
        lines.append(text)
    return [line if i == 0 else line.replace(MARK, "") for i, line in enumerate(lines)]


def two_shoulders(voice: Voice, piece: Piece) -> None:
    """Shape both shoulders of a back, then its neck."""
    axes, numbers = voice.axes, voice.numbers
    piece.heading("shoulders")
    piece.passage("shoulder")
    centre = _centre(voice)
    manner = axes.form % 4
    uneven = any(len(set(g.counts)) > 1 for g in numbers.groups)
    if axes.shape == "back-rows":
        piece.rows(shoulder_rows(voice, repeats=False))
    elif axes.shape == "back-repeats" and manner == 3 and "range" in voice.house.phrases:
        piece.rows(_ranges(voice))
    elif axes.shape == "back-repeats" and manner % 2:
        piece.rows(shoulder_rows(voice, repeats=True))
    elif axes.shape == "back-repeats" or (axes.shape == "back-counts" and axes.turn % 4 == 2):
        piece.rows(shoulder_pairs(voice, star=manner == 2 and not uneven))
    else:
        form = voice.house.clauses[axes.turn % len(voice.house.clauses)]
        text, _ = chain(voice, numbers.groups, form, numbers.before, edges=2, everywhere=True)
        piece.para(text, " ", centre)
        return
    piece.para(centre)


def _centre(voice: Voice) -> str:
    """Say what becomes of the neck stitches of a back."""
    key = {"cast off": "neck_off", "held": "neck_held", "bare": "neck_bare"}[voice.axes.neck]
    return voice.say(key, n=voice.number(voice.numbers.neck))


def one_shoulder(voice: Voice, piece: Piece) -> None:
    """Shape the shoulder of a front at its armhole edge."""
    axes, numbers = voice.axes, voice.numbers
    piece.heading("shoulder")
    steps = numbers.steps()
    last = tuple(s[-1] for s in steps)
    closing = (
        voice.say("neck_bare")
        if axes.neck == "bare"
        else voice.say("rem_off", n=voice.number(last))
    )
    if axes.k == 1:
        piece.para(closing)
        return
    piece.passage("shoulder")
    count = tuple(len(s) - 1 for s in steps)
    first = tuple(s[0] for s in steps)
    manner = axes.form % 4
    if manner == 3:
        piece.rows(_front_rows(voice, first, count))
        piece.para(closing)
        return
    fields = {"n": voice.number(first)}
    final = {"n": voice.number(last)}
    text, tail = _front_clause(voice, manner, count, fields, final)
    if axes.neck == "bare" or not tail:
        piece.para(text, ". ", voice.say("work_one"), " ", closing)
    else:
        piece.para(text, ", then ", tail, ".")


def _front_clause(
    voice: Voice,
    manner: int,
    count: tuple[int, ...],
    fields: dict[str, str],
    final: dict[str, str],
) -> tuple[str, str]:
    """Word all steps of a front but the last; and the last where it is told the same way."""
    house = voice.house
    if manner == 1:
        text = voice.say("edge_form", times=house.times(count), **fields)
        return text, voice.inner("edge_later", times="once", **final)
    if manner == 2:
        side = house.words[voice.axes.first or "RS"]
        one = set(count) == {1}
        rows = f"{side} row" if one else f"{house.rows_number(count)} {side} rows"
        text = voice.say("side_form", side_rows=rows, **fields)
        return text, voice.inner("side_later", side_rows=f"{side} row", **final)
    again = tuple(c - 1 for c in count)
    if not any(again):
        return voice.say("alt_form_one", **fields), ""
    fields |= {"and_alt": voice.row_words("alt", again), "times_more": house.times(again) + " more"}
    return voice.say("alt_form", **fields), ""


def _front_rows(voice: Voice, first: tuple[int, ...], count: tuple[int, ...]) -> list[str]:
    """Word all steps of a front but the last row by row."""
    labels = Labels(voice, voice.axes.first)
    label = labels.next()
    end = voice.inner("to_end", how=voice.how(labels.side()))
    one = label + voice.say("bo_row", n=voice.number(first), end=end)
    label = labels.next()
    end = voice.inner("to_end", how=voice.how(labels.side()))
    lines = [one, f"{label}{voice.house.cap(end)}."]
    more = tuple(c - 1 for c in count)
    if any(more):
        lines.append(voice.say("rep_last", times=voice.house.times(more), a="1", b="2"))
    return lines


def tidy(text: str) -> str:
    """Let an abbreviation's full stop end the sentence; drop doubled blanks."""
    return re.sub(r" {2,}", " ", re.sub(r"([.,])\1+", r"\1", text))
