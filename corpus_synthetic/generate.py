"""Write synthetic drafts of knitted pieces, with the truth that they were made from.

Run ``python corpus_synthetic/generate.py --out DIR --count 72 --first-seed 1``.  The same seeds
give the same bytes.  ``generate(seed)`` returns one draft; this folder must be on ``sys.path``.
"""

from __future__ import annotations

import argparse
import json
import random
import re
import textwrap
from pathlib import Path

import synthetic_words as words
from synthetic_house import MARK, House, houses
from synthetic_plan import Axes, Numbers, axes_of, numbers_of
from synthetic_words import Piece, Voice, tidy

LETTERS = ("XXS", "XS", "S", "M", "L", "XL", "2XL", "3XL", "4XL", "5XL")
STEMS = ("Threll", "Osker", "Pellan", "Wending", "Carrow", "Brindel", "Stavver", "Mossop")
ENDINGS = ("marsh", "ness", "gate", "holm", "rigg")
LONG = {
    "K": "knit",
    "P": "purl",
    "st": "stitch",
    "sts": "stitches",
    "beg": "beginning",
    "rem": "remaining",
    "foll": "following",
    "alt": "alternate",
    "cont": "continue",
    "dec": "decrease",
    "inc": "increase",
    "patt": "pattern",
    "rep": "repeat",
    "RS": "right side",
    "WS": "wrong side",
}
FABRICS = {
    "stocking": {"UK": "stocking stitch", "US": "stockinette stitch"},
    "garter": {"UK": "garter stitch", "US": "garter stitch"},
    "moss": {"UK": "moss stitch", "US": "seed stitch"},
    "off": {"UK": "cast off", "US": "bind off"},
    "on": {"UK": "cast on", "US": "cast on"},
}


def generate(seed: int) -> tuple[str, str, dict[str, object]]:
    """Return the file name, the text (with its own line ends) and the truth of a draft."""
    every = houses()
    axes = axes_of(seed, len(every))
    house = every[axes.house]
    rng = random.Random(seed)
    numbers = numbers_of(axes, rng, house.sizes == "ages")
    voice = Voice(house, axes, numbers, rng)
    piece = Piece()
    words.body(voice, piece)
    words.armhole(voice, piece)
    words.front_neck(voice, piece)
    words.lead_in(voice, piece)
    if axes.one_edged:
        words.one_shoulder(voice, piece)
    else:
        words.two_shoulders(voice, piece)
    labels = size_labels(house, numbers)
    title = f"{rng.choice(STEMS)}{rng.choice(ENDINGS)} {_garment(axes)}"
    blocks = [
        ("title", title),
        ("para", house.maker),
        ("para", _size_line(house, labels)),
        *_head(voice),
        ("piece", piece_name(axes)),
        *piece.blocks,
        *_rest(voice),
    ]
    blocks = _with_abbreviations(voice, blocks)
    marked = render(house, blocks)
    truth = _truth(house, axes, numbers, labels=labels, kinds=piece.passages, marked=marked)
    truth["title"] = marked.split("\n", 1)[0].lstrip("# ")
    text = marked.replace(MARK, "")
    if house.newline == "crlf":
        text = text.replace("\n", "\r\n")
    name = f"{seed:03d}-{house.name}-{axes.shape}.{house.extension}"
    return name, text, {"title": truth.pop("title"), **truth}


def size_labels(house: House, numbers: Numbers) -> list[str]:
    """Name the sizes as the house does."""
    count = len(numbers.shoulder)
    places = range(numbers.start, numbers.start + count)
    labels = {
        "dress": [str(8 + 2 * j) for j in places],
        "bust": [str(81 + 5 * j) for j in places],
        "bust_in": [str(32 + 2 * j) for j in places],
        "letters": [LETTERS[j] for j in places],
        "numbers": [str(j + 1) for j in range(count)],
        "ages": [str(j + 1) for j in places],
    }
    return labels[house.sizes]


def _size_line(house: House, labels: list[str]) -> str:
    listing = house.listing(labels)
    many = "s" if len(labels) > 1 else ""
    unit = "ins." if house.terms == "UK" else "in"
    lines = {
        "dress": f"Size{many} {listing}",
        "bust": f"To fit bust {listing} cm",
        "bust_in": f"To fit bust {listing} {unit}",
        "letters": f"Size{many}: {listing}",
        "numbers": f"Size{many}: {listing}",
        "ages": f"To fit age {listing} years",
    }
    return house.cap(lines[house.sizes].lower() if house.case == "lower" else lines[house.sizes])


def piece_name(axes: Axes) -> str:
    """Name the piece as in the truth."""
    if not axes.one_edged:
        return "back"
    return "left front" if axes.left else "right front"


def _garment(axes: Axes) -> str:
    if axes.one_edged:
        return "Waistcoat" if axes.neck == "bare" else "Cardigan"
    return {"cast off": "Slipover", "held": "Vest", "bare": "Top"}[axes.neck]


def _head(voice: Voice) -> list[tuple[str, str]]:
    """Materials, tension, notes: what stands before the first piece."""
    numbers, house, axes = voice.numbers, voice.house, voice.axes
    count = len(numbers.shoulder)
    balls = tuple(3 + numbers.start // 2 + (j + axes.k) // 2 for j in range(count))
    small, large = numbers.needles
    materials = [
        voice.say("yarn", balls=voice.number(balls), weight=numbers.weight),
        voice.say("needles", small=small, large=large),
    ]
    if axes.neck == "held":
        materials.append(voice.say("holder"))
    stitches, rows = (str(g) for g in numbers.gauge)
    over = house.words["patt"] if axes.stitch == "texture" else house.words[axes.stitch]
    tension = voice.say("tension", g=stitches, r=rows, stitch=over, large=large)
    width = tuple(u / numbers.gauge[0] * 10 for u in numbers.underarm)
    size = house.measure(tuple(round(w * 2) / 2 for w in width))
    blocks = [
        ("section", f"materials\t{' '.join(materials)}"),
        ("section", f"tension\t{tension}"),
        ("para", voice.say("width", length=size)),
    ]
    if axes.stitch == "texture":
        blocks.append(("section", f"notes\t{voice.say('pattern')}"))
    return blocks


def _rest(voice: Voice) -> list[tuple[str, str]]:
    """Other pieces told in a sentence, and the making up."""
    axes = voice.axes
    blocks: list[tuple[str, str]] = []
    if axes.one_edged and axes.turn % 2 == 0:
        blocks.append(("piece", "right front" if axes.left else "left front"))
        blocks.append(("para", voice.say("reverse", other=piece_name(axes))))
    elif not axes.one_edged and axes.neck != "held":
        blocks += [("piece", "front"), ("para", voice.say("as_back"))]
    small = voice.numbers.needles[0]
    if axes.neck == "held" and not axes.one_edged:
        parts = ["join_one", "neckband", "join_left", "armbands", "sides"]
    elif axes.neck == "held":
        parts = ["join", "neckband", "armbands", "sides"]
    else:
        parts = ["join", "armbands", "sides"]
    per_cm = voice.numbers.gauge[0] / 10
    arm = tuple(2 * round(d * per_cm) + 1 for d in voice.numbers.depth)
    whole = 4 if axes.one_edged else 2
    neck = tuple(whole * n + 2 * round(6 * per_cm) - 1 for n in voice.numbers.neck)
    picked = {"neckband": voice.number(neck), "armbands": voice.number(arm)}
    making_up = " ".join(voice.say(key, small=small, n=picked.get(key, "")) for key in parts)
    return [*blocks, ("piece", "making_up"), ("para", making_up)]


def _with_abbreviations(voice: Voice, blocks: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Put a list of the abbreviations that occur before the first piece."""
    house = voice.house
    body = " ".join(text for _, text in blocks)
    entries = []
    for key, spelled in [*LONG.items(), *((k, v[house.terms]) for k, v in FABRICS.items())]:
        short = house.words[key]
        shorter = len(short) < len(spelled) and short[0].lower() == spelled[0]
        if shorter and re.search(rf"(?i)(?<!\w){re.escape(short)}(?![^\W\d_])", body):
            entries.append((short, spelled))
    form, joint = house.abbreviation
    items = [form.format(short=short, long=spelled) for short, spelled in entries]
    zeros = any(0 in g.values or 0 in (c - 1 for c in g.counts) for g in voice.numbers.groups)
    if zeros and house.zero in body and voice.axes.shape.endswith(("zeros", "counts")):
        items.append(voice.inner("zero"))
    if not items:
        return blocks
    if joint == "\n":
        bullets = [f"- {item}" if house.extension == "md" else item for item in items]
        listed = "\n" + "\n".join(bullets)
    else:
        listed = joint.join(items) + "."
    at = next(i for i, (kind, _) in enumerate(blocks) if kind == "piece")
    return [*blocks[:at], ("section", f"abbreviations\t{listed}"), *blocks[at:]]


def render(house: House, blocks: list[tuple[str, str]]) -> str:
    """Set the blocks as the house does; marks stay in."""
    markdown = house.extension == "md"
    lines: list[str] = []
    lead = ""
    inside = False
    for kind, raw in _joined(house, blocks):
        if kind == "shaping":
            heading = house.headings[raw]
            if house.shaping == "own":
                lines += [""] if markdown else []
                lines.append(_format(house, "shaping", heading))
            elif house.shaping == "runin":
                lead = _format(house, "shaping", heading)
            continue
        text = tidy(lead + raw)
        lead = ""
        inside = inside or kind == "piece"
        if kind in ("title", "piece"):
            name = house.headings.get(text, text if kind == "title" else text.capitalize())
            lines += ["", _format(house, kind, name), *([] if markdown else [""])]
        elif kind == "section":
            label, content = text.split("\t")
            start = _format(house, "section", house.headings[label])
            if label != "abbreviations":
                content = house.cap(content)
            lines += ["", *_set(house, start.rstrip() if content[0] == "\n" else start, content)]
        else:
            bullet = house.format["item"] if inside else ""
            lines += [""] if markdown and not (bullet and lines[-1].startswith(bullet)) else []
            lines += _wrap(house, bullet + text if bullet else house.cap(text))
    result = "\n".join(lines).strip("\n") + "\n"
    result = re.sub(r"\n{3,}", "\n\n", result)
    if house.case == "lower":  # no capitals but RS and WS
        return re.sub(r"(?<![A-Z])[A-Z](?=[a-z ])", lambda m: m[0].lower(), result)
    return result.upper() if house.case == "upper" else result


def _joined(house: House, blocks: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Run paragraphs and run-in headings together where the house sets a piece as one block."""
    if not house.dense:
        return blocks
    result: list[tuple[str, str]] = []
    headed = [
        ("para", _format(house, "shaping", house.headings[text]).rstrip())
        if kind == "shaping"
        else (kind, text)
        for kind, text in blocks
    ]
    for kind, text in headed:
        before = result[-1] if result else ("", "")
        inside = any(k == "piece" for k, _ in result)
        runs_on = kind == "para" and before[0] == "para" and inside
        if runs_on or (kind == "row" and before[1].endswith(":")):
            result[-1] = ("para", f"{before[1]} {text}")
        else:
            result.append((kind, text))
    return result


def _format(house: House, kind: str, text: str) -> str:
    cased = text.lower() if house.case == "lower" else text
    return house.format[kind].format(text=cased, TEXT=text.upper(), lower=text.lower())


def _set(house: House, start: str, content: str) -> list[str]:
    """Set a section: its label and its text or lines."""
    lines = content.strip("\n").split("\n")
    if content[0] == "\n":
        blank = [""] if house.extension == "md" else []
        return [start, *blank, *lines]
    if start.endswith("\n"):
        blank = [""] if house.extension == "md" else []
        return [start.rstrip(), *blank, *_wrap(house, lines[0])]
    return _wrap(house, start + lines[0])


def _wrap(house: House, text: str) -> list[str]:
    if not house.wrap:
        return [text]
    return textwrap.wrap(text, house.wrap, break_long_words=False, break_on_hyphens=False)


def _truth(
    house: House,
    axes: Axes,
    numbers: Numbers,
    *,
    labels: list[str],
    kinds: list[str],
    marked: str,
) -> dict[str, object]:
    """Collect what the draft was made from."""
    starts = _starts(marked)
    if len(starts) != len(kinds):
        raise AssertionError(f"seed {axes.seed}: {len(kinds)} passages, {len(starts)} marks")
    passages: list[dict[str, object]] = []
    for kind, start in zip(kinds, starts, strict=True):
        passage: dict[str, object] = {
            "piece": piece_name(axes),
            "kind": kind,
            "starts_with": start,
            "convertible": kind == "shoulder" and axes.k > 1,
        }
        if kind == "shoulder":
            passage |= {
                "stitches_before": list(numbers.before),
                "neck": None if axes.one_edged else list(numbers.neck),
                "edges": _edges(axes, numbers),
            }
        passages.append(passage)
    return {
        "title": "",
        "house": house.name,
        "terms": house.terms,
        "sizes": labels,
        "passages": passages,
        "seed": axes.seed,
        "axes": {
            "house": house.name,
            "shape": axes.shape,
            "piece": piece_name(axes),
            "sizes": axes.sizes,
            "k": max(len(s) for s in numbers.steps()),
            "neck": axes.neck,
            "lead_in": axes.lead,
            "first_side": axes.first or "unknown",
            "side_told_by": axes.told,
            "stitch": axes.stitch,
            "heading": house.shaping,
            "format": "markdown" if house.extension == "md" else "plain",
            "wrapped": house.wrap > 0,
            "newline": house.newline,
        },
    }


def _edges(axes: Axes, numbers: Numbers) -> list[dict[str, object]]:
    """Return the edges of the shoulder, the one bound off first at the head."""
    per_size = numbers.steps()
    most = max(map(len, per_size))
    steps = [[s[i] if i < len(s) else 0 for s in per_size] for i in range(most)]
    edges: list[dict[str, object]] = []
    for place in range(1 if axes.one_edged else 2):
        side = axes.first
        if place and side:
            side = words.OTHER[side]
        edges.append(
            {
                "edge": {"RS": "right", "WS": "left", None: "unknown"}[side],
                "first_bind_off_side": side,
                "steps": steps,
                "rows": [[place + 2 * i for i in range(len(s))] for s in per_size],
            }
        )
    return edges


def _starts(marked: str) -> list[str]:
    """Return the text from each mark on, 25 to 50 characters if the line allows.

    Rows may repeat word for word, so the text is not always the only such one; it is the first.
    """
    flat = marked.replace("\n", " ")
    plain = flat.replace(MARK, "")
    starts = []
    for number, match in enumerate(re.finditer(MARK, marked)):
        place = match.start() - number
        rest = plain[place:]
        block = marked[match.end() :].replace(MARK, "").split("\n\n")[0].rstrip("\n")
        ends = [m.start() for m in re.finditer(r"(?<=\S)(?=\s|$)", rest[:120])]
        inside = [e for e in ends if 25 <= e <= min(50, len(block))] or [min(50, len(block))]
        only = [e for e in inside if plain.count(rest[:e]) == 1]
        first = [e for e in inside if plain.find(rest[:e]) == place]
        later = [e for e in ends if e > inside[-1] and plain.find(rest[:e]) == place]
        starts.append(rest[: (only or first or later)[0]])
    return starts


def write(folder: Path, count: int, first_seed: int) -> list[Path]:
    """Write drafts and truths into a folder and return the paths of the drafts."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for seed in range(first_seed, first_seed + count):
        name, text, truth = generate(seed)
        path = folder / name
        path.write_bytes(text.encode("utf-8"))
        dumped = json.dumps(truth, ensure_ascii=False, indent=1) + "\n"
        path.with_suffix(".truth.json").write_bytes(dumped.encode("utf-8"))
        paths.append(path)
    return paths


def main() -> None:
    """Write the corpus from the command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=Path(__file__).parent / "generated")
    parser.add_argument("--count", type=int, default=72)
    parser.add_argument("--first-seed", type=int, default=1)
    arguments = parser.parse_args()
    paths = write(arguments.out, arguments.count, arguments.first_seed)
    print(f"{len(paths)} drafts in {arguments.out}")


if __name__ == "__main__":
    main()
