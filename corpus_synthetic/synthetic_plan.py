"""The axes of a draft and its numbers: sizes, steps, neck, armholes, lengths, counted rows.

Nothing here knows about words.  Every number is worked out per size, and the counts of rows are
kept so that the side of each row is known.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

SHAPES = (
    "back-prose",
    "back-rows",
    "back-repeats",
    "left-front",
    "right-front",
    "back-unequal",
    "back-zeros",
    "back-counts",
    "front-counts",
)
NECKS = ("cast off", "held", "bare")
RUN = 36  # within so many seeds every house meets 3 shapes, every shape 4 houses

# What the lead-in says, the side of the first bind-off, and what tells that side.
TWO_EDGED = (
    ("side", "RS", "words"),
    ("length", None, "nothing"),
    ("counted", "WS", "words"),
    ("side", "WS", "words"),
    ("counted", None, "nothing"),
    ("side", "RS", "words"),
    ("length", None, "nothing"),
    ("counted", "RS", "counting"),
)
LABELLED = (
    ("side", "RS", "words"),
    ("length", "RS", "labels"),
    ("counted", "WS", "words"),
    ("length", "WS", "labels"),
    ("counted", None, "nothing"),
    ("side", "WS", "words"),
    ("length", None, "nothing"),
    ("counted", "RS", "labels"),
)
ONE_EDGED = ("side", "length", "counted", "edge", "side", "length", "counted", "edge")
STEPS = ((3, 2, 5, 4, 6, 2, 3, 5), (6, 4, 2, 3, 5, 4, 6, 3))
STITCHES = ("stocking", "garter", "stocking", "moss", "stocking", "texture", "stocking", "stocking")
SQUARE = (("back-prose", 2), ("back-rows", 5), ("left-front", 1))  # k = 1 here, of each 8


@dataclass(frozen=True)
class Axes:
    """Where a draft stands on every axis; a function of the seed alone."""

    seed: int
    house: int
    shape: str
    sizes: int
    k: int
    neck: str
    lead: str
    first: str | None
    told: str
    stitch: str
    form: int
    turn: int  # which of the eight places of its shape

    @property
    def one_edged(self) -> bool:
        """Whether the piece is a front with one armhole edge."""
        return "front" in self.shape

    @property
    def left(self) -> bool:
        """Whether a one-edged piece is the left front."""
        return self.shape == "left-front" or (self.shape == "front-counts" and self.turn % 2 == 0)


def axes_of(seed: int, houses: int = 12) -> Axes:
    """Place a seed on the axes; any 72 seeds from 72n+1 on cover them evenly."""
    place = seed - 1
    number = (place + place // RUN) % len(SHAPES)
    shape = SHAPES[number]
    turn = place // len(SHAPES)
    cell = (turn + 3 * number) % 8
    house = place % houses
    mixed = shape.endswith(("zeros", "counts"))
    sizes = 2 + (2 * turn + 5 * number) % 9 if mixed else 1 + (3 * turn + 7 * number) % 10
    k = STEPS[number % 2][(3 * turn + 2 * number) % 8]
    if (shape, turn % 8) in SQUARE:
        k = 1
    if shape == "front-counts":
        k = max(k, 3)
    stitch = STITCHES[(5 * turn + number) % 8]
    neck = NECKS[(turn + number) % 3]
    lead, first, told = _lead(shape, cell, turn)
    if stitch == "texture" and "front" in shape:
        stitch = "moss"
    return Axes(seed, house, shape, sizes, k, neck, lead, first, told, stitch, turn + number, turn)


def _lead(shape: str, cell: int, turn: int) -> tuple[str, str | None, str]:
    """Return the kind of lead-in, the first side, and what tells it."""
    if shape == "back-rows":
        return LABELLED[cell]
    if "front" not in shape:
        return TWO_EDGED[cell]
    left = shape == "left-front" or (shape == "front-counts" and turn % 2 == 0)
    lead = ONE_EDGED[cell]
    told = "words" if lead in ("side", "counted") else "piece"
    return lead, "RS" if left else "WS", told


@dataclass(frozen=True)
class Group:
    """So many equal steps at each edge: a value and a count for each size (0 and 0: none)."""

    values: tuple[int, ...]
    counts: tuple[int, ...]


@dataclass(frozen=True)
class Shaping:
    """Bind-offs at an edge, then decreases: on every row, then on alternate rows."""

    bind_offs: tuple[tuple[int, ...], ...]
    every: tuple[int, ...]
    alternate: tuple[int, ...]
    form: str  # "both": every row, then alternate rows; "alternate"; "every"

    def decrease_rows(self) -> tuple[int, ...]:
        """Return the rows from the first to the last decrease, per size."""
        return tuple(e + 2 * a for e, a in zip(self.every, self.alternate, strict=True))


@dataclass(frozen=True)
class Numbers:
    """All numbers of one draft, per size where they are tuples."""

    start: int  # index of the first size
    groups: tuple[Group, ...]
    shoulder: tuple[int, ...]
    neck: tuple[int, ...]  # between the shoulders; of a front: between shoulder and centre
    armhole: Shaping
    neck_shaping: Shaping | None
    before: tuple[int, ...]  # when the shoulder starts
    underarm: tuple[int, ...]
    cast_on: tuple[int, ...]
    increases: int  # rows on which the body widens
    rib_rows: int
    gauge: tuple[int, int]
    weight: str
    needles: tuple[str, str]
    body: tuple[float, ...]
    depth: tuple[float, ...]
    neck_at: tuple[float, ...]
    straight: tuple[int, ...]  # rows between the last shaping and the shoulder
    armhole_side: str

    def steps(self) -> list[list[int]]:
        """Return the steps of each size, from the armhole inward, none of them zero."""
        return [
            [g.values[i] for g in self.groups for _ in range(g.counts[i])]
            for i in range(len(self.shoulder))
        ]


def numbers_of(axes: Axes, rng: random.Random, child: bool) -> Numbers:
    """Work out the numbers of a draft."""
    start = rng.randrange(0, 11 - axes.sizes)
    sizes = range(start, start + axes.sizes)
    gauge, weight, needles = _gauge(axes)
    per_cm = gauge[0] / 10
    rows_per_cm = gauge[1] / 10
    targets = [round(((7 if child else 9.5) + 0.3 * j) * per_cm) for j in sizes]
    groups = _rising(_groups(axes, rng, targets))
    shoulder = _totals(groups)
    neck = tuple(2 * round(((11 if child else 15) + 0.3 * j) * per_cm / 2) + 1 for j in sizes)
    half = [(30 + 1.6 * j if child else 42 + 2.5 * j) * per_cm for j in sizes]
    removed = _climb(
        [max(4, round((h - 2 * s - n) / 2)) for h, s, n in zip(half, shoulder, neck, strict=True)]
    )
    armhole = _armhole(axes, removed)
    base = [(11 + 0.8 * j) if child else (18 + 0.6 * j) for j in sizes]
    first_rows = [2 * len(armhole.bind_offs) + r for r in armhole.decrease_rows()]
    neck_shaping: Shaping | None
    if axes.one_edged:
        neck = tuple((n + 1) // 2 for n in neck)
        neck_shaping = _neck(axes, neck)
        before = shoulder
        underarm = tuple(s + n + r for s, n, r in zip(shoulder, neck, removed, strict=True))
    else:
        neck_shaping = None
        before = tuple(2 * s + n for s, n in zip(shoulder, neck, strict=True))
        underarm = tuple(b + 2 * r for b, r in zip(before, removed, strict=True))
    neck_rows = _neck_rows(neck_shaping) if neck_shaping else [0] * axes.sizes
    used = [a + n for a, n in zip(first_rows, neck_rows, strict=True)]
    depth = [max(d, (u + 8) / rows_per_cm) for d, u in zip(base, used, strict=True)]
    round_neck = neck_shaping is not None and bool(neck_shaping.bind_offs)
    drop = max(neck_rows) / rows_per_cm + 1.5
    if round_neck:
        depth = [max(d, a / rows_per_cm + 2 + drop) for d, a in zip(depth, first_rows, strict=True)]
    armhole_side = _armhole_side(axes)
    straight = _straight(
        axes,
        side=armhole_side,
        depth=depth,
        rows_per_cm=rows_per_cm,
        armhole_rows=first_rows,
        neck_rows=neck_rows,
        drop=drop,
    )
    increases = 4 if axes.form % 3 == 2 else 0
    edges = 1 if axes.one_edged else 2
    return Numbers(
        start=start,
        groups=groups,
        shoulder=shoulder,
        neck=neck,
        armhole=armhole,
        neck_shaping=neck_shaping,
        before=before,
        underarm=underarm,
        cast_on=tuple(u - edges * increases for u in underarm),
        increases=increases,
        rib_rows=2 * rng.randrange(4, 10),
        gauge=gauge,
        weight=weight,
        needles=needles,
        body=tuple((19.0 if child else 30.0) + 0.5 * (j // 2) + j // 3 for j in sizes),
        depth=tuple(_half(d) for d in depth),
        neck_at=tuple(_half(d - drop) for d in depth),
        straight=straight,
        armhole_side=armhole_side,
    )


def _gauge(axes: Axes) -> tuple[tuple[int, int], str, tuple[str, str]]:
    """Choose a yarn in which so many steps make a slope of two or three centimetres."""
    if axes.k <= 2:
        choice = ((16, 22), "aran", ("4.5", "5")), ((14, 19), "chunky", ("5.5", "6.5"))
    elif axes.k <= 4:
        choice = ((22, 30), "double knitting", ("3.25", "4")), ((20, 27), "worsted", ("4", "4.5"))
    else:
        choice = ((28, 36), "four-ply", ("2.75", "3.25")), ((26, 35), "sport", ("3", "3.5"))
    (stitches, rows), weight, needles = choice[axes.form // 2 % 2]
    if axes.stitch == "garter":
        rows = 2 * round(rows * 0.75)
    return (stitches, rows), weight, needles


def _half(value: float) -> float:
    return round(value * 2) / 2


def _climb(values: list[int]) -> list[int]:
    """Make a list of numbers never fall."""
    return [max(values[: i + 1]) for i in range(len(values))]


def _totals(groups: tuple[Group, ...]) -> tuple[int, ...]:
    sums = ([v * c for v, c in zip(g.values, g.counts, strict=True)] for g in groups)
    return tuple(map(sum, zip(*sums, strict=True)))


def _rising(groups: tuple[Group, ...]) -> tuple[Group, ...]:
    """Add to a size's last step until no shoulder is narrower than a smaller size's."""
    totals = _totals(groups)
    for i, total in enumerate(totals):
        short = max(totals[: i + 1]) - total
        if short:
            last = max(n for n, g in enumerate(groups) if g.counts[i])
            add = -(-short // groups[last].counts[i])
            values = list(groups[last].values)
            values[i] += add
            changed = Group(tuple(values), groups[last].counts)
            return _rising((*groups[:last], changed, *groups[last + 1 :]))
    return groups


def _groups(axes: Axes, rng: random.Random, targets: list[int]) -> tuple[Group, ...]:
    """Divide each shoulder into steps in the manner of the shape."""
    if axes.k == 1:
        return (_even(targets, 1),)
    if axes.shape == "back-unequal":
        return _unequal(axes.k, rng, targets)
    if axes.shape.endswith(("zeros", "counts")):
        return _different(axes, targets)
    manner = axes.form % 3
    if manner == 0 and axes.k <= 4:
        return (_even([round(t / axes.k) for t in targets], axes.k),)
    later = 1 if manner < 2 or axes.one_edged else max(1, axes.k // 2)
    first = [t // axes.k for t in targets]
    extra = [min(2, round((t - axes.k * q) / later)) for t, q in zip(targets, first, strict=True)]
    if not any(extra):
        extra = [1] * len(targets)
    second = [q + e for q, e in zip(first, extra, strict=True)]
    return _even(first, axes.k - later), _even(second, later)


def _even(values: list[int], count: int) -> Group:
    return Group(tuple(max(2, v) for v in values), (count,) * len(values))


def _unequal(k: int, rng: random.Random, targets: list[int]) -> tuple[Group, ...]:
    """Every step differs from the one before it."""
    rise = list(range(k))
    zigzag = [n % 2 for n in range(k)]
    hump = [2 - abs(n % 4 - 2) for n in range(k)]
    patterns = [zigzag, [1 - z for z in zigzag], hump]
    if k <= 3:
        patterns += [rise, rise[::-1], [2 * n for n in rise]]
    pattern = rng.choice(patterns)
    bases = [max(2, round((t - sum(pattern)) / k)) for t in targets]
    steps = [[b + p for b in bases] for p in pattern]
    if len(targets) > 1:  # what does not divide goes into the last step
        rest = [t - sum(s) for t, s in zip(targets, zip(*steps, strict=True), strict=True)]
        steps[-1] = [s + min(max(r, 0), 2) for s, r in zip(steps[-1], rest, strict=True)]
    return tuple(_even(s, 1) for s in steps)


def _different(axes: Axes, targets: list[int]) -> tuple[Group, ...]:
    """Larger sizes have more steps than smaller ones."""
    n = len(targets)
    drop = 2 if axes.k >= 4 and axes.form % 4 == 1 else 1
    few = axes.k - drop
    many = [i >= (n + axes.form % 2) // 2 for i in range(n)]
    ks = [axes.k if m else few for m in many]
    ending = 1 if few >= 2 and (axes.one_edged or axes.form % 2) else 0
    first = [max(2, round(t / k)) for t, k in zip(targets, ks, strict=True)]
    last = [
        max(2, t - q * (k - 1)) if ending else q for t, q, k in zip(targets, first, ks, strict=True)
    ]
    tail = (_even(last, 1),) if ending else ()
    if axes.shape == "back-zeros":
        body = _even(first, few - ending)
        only = Group(
            tuple(q if m else 0 for q, m in zip(first, many, strict=True)),
            tuple(drop if m else 0 for m in many),
        )
        return body, only, *tail
    return Group(tuple(first), tuple(k - ending for k in ks)), *tail


def _odd(value: float, least: int) -> int:
    """Return the odd number near a value, at least `least`."""
    return max(least, 2 * (round(value) // 2) + 1)


def _decreases(numbers: list[int], form: str) -> tuple[tuple[int, ...], tuple[int, ...], str]:
    """Divide decreases into those on every row and those on alternate rows."""
    if form == "every":
        return tuple(numbers), (0,) * len(numbers), form
    if form == "both" and min(numbers) >= 5:
        every = tuple(_odd(d / 2 - 1, 3) for d in numbers)
        return every, tuple(d - e for d, e in zip(numbers, every, strict=True)), form
    return (1,) * len(numbers), tuple(d - 1 for d in numbers), "alternate"


def _armhole(axes: Axes, removed: list[int]) -> Shaping:
    """Divide the stitches removed at an armhole into bind-offs and decreases."""
    first = [max(2, round(r * 0.35)) for r in removed]
    second = [max(2, round(r * 0.15)) for r in removed]
    two = axes.form % 3 == 1 and min(removed) >= 8
    rest = [r - a - (b if two else 0) for r, a, b in zip(removed, first, second, strict=True)]
    counting = axes.told == "counting"
    if counting:  # the decrease rows of all sizes must end on the same side
        first = [a + (d - rest[0]) % 2 for a, d in zip(first, rest, strict=True)]
        rest = [d - (d - rest[0]) % 2 for d in rest]
    form = "every" if counting else "both" if axes.form % 2 else "alternate"
    offs = (tuple(first), tuple(second)) if two else (tuple(first),)
    return Shaping(offs, *_decreases(rest, form))


def _neck(axes: Axes, neck: tuple[int, ...]) -> Shaping:
    """Shape a front neck: stitches cast off or held and then decreases, or a V."""
    if axes.neck == "bare":
        return Shaping((), *_decreases(list(neck), "both"))
    first = tuple(max(2, round(n * 0.4)) for n in neck)
    two = axes.neck == "cast off" and axes.form % 2 == 1 and min(neck) >= 12
    second = tuple(3 if two else 0 for _ in neck)
    rest = [n - a - b for n, a, b in zip(neck, first, second, strict=True)]
    offs = (first, second) if two else (first,)
    return Shaping(offs, *_decreases(rest, "both"))


def _neck_rows(neck: Shaping) -> list[int]:
    """Return the rows from the first row of a front neck to its last decrease, per size."""
    start = max(0, 2 * len(neck.bind_offs) - 1)
    return [start + r for r in neck.decrease_rows()]


def _armhole_side(axes: Axes) -> str:
    """Return the side on which the armholes begin."""
    if axes.one_edged:
        return axes.first or "RS"
    return "WS" if axes.turn % 4 == 3 else "RS"


def _straight(
    axes: Axes,
    *,
    side: str,
    depth: list[float],
    rows_per_cm: float,
    armhole_rows: list[int],
    neck_rows: list[int],
    drop: float,
) -> tuple[int, ...]:
    """Count the rows left before the shoulder so that it begins on its side."""
    odd = axes.first is not None and axes.first != side
    round_neck = axes.one_edged and axes.neck != "bare"
    counts = []
    for d, a, n in zip(depth, armhole_rows, neck_rows, strict=True):
        wanted = round((drop if round_neck else d) * rows_per_cm) - n
        if round_neck:  # the neck begins on the other side
            parity = 1 - n % 2
        else:
            wanted -= a
            parity = (a + n + odd) % 2
        wanted = max(wanted, 3)
        counts.append(wanted + (wanted - parity) % 2)
    return tuple(counts)
