"""What the pieces with rewritten shoulders are knitted in, as far as a turn must heed it."""

from __future__ import annotations

from rewriter import regex
from rewriter.options import Options
from rewriter.phrases import Ground
from rewriter.reading import Draft, Finding
from rewriter.sidewords import leaves_sides_open
from rewriter.stitchwork import ON_NEEDLE, Fabric, banded_only

# Cues in lower case; "cable method" and "cable cast-on" are no cables.
_CABLES = regex.compile(
    rf"\bcable\s+needle|\bc\s?\d+\s?[fblr]\b|\bcn\b|\b(?:{ON_NEEDLE}cables?|ropes?)\b(?![\s-]+(?:method|cast))"
)
_OVER = r"(?:yfwd|yfd|yf|yrn|yon|yo|y\.o|wl\.?\s?fwd|wool\s+forward|yarn\s+(?:over|forward))\b\.?"
_LACE = regex.compile(
    # a repeat with a yarn over and a decrease beside it: "* yfwd., k.2 tog., k.1; rep from *"
    rf"\*[^*\n]{{0,80}}?\b(?P<over>{_OVER})[^*\n]{{0,20}}(?:tog\b|sl\b|ssk\b|skp\b|psso\b)"
    rf"|\*[^*\n]{{0,80}}?(?:tog\b|ssk\b|skp\b|psso\b)[^*\n]{{0,20}}\b(?P<over>{_OVER})"
)
_STRIPES = regex.compile(r"\bstrip(?:es?|ed)\b")


def ground_of(draft: Draft, options: Options) -> Ground:
    """Return what the pieces with slopes that are read, of the kinds asked for, are knitted in."""
    told = [f for f in draft.findings if f.shaping and f.kind in options.kinds]
    if not told:
        return Ground()
    fabrics = {fabric_at_turns(draft, f) for f in told}
    patterned = bool(fabrics & {"patterned", "mixed"})
    words = _words_before(draft, max(f.passage.span.end for f in told))
    lace = _LACE.search(words) if patterned else None
    return Ground(
        garter=fabrics == {"garter"},
        patterned=patterned,
        cabled=patterned and _CABLES.search(words) is not None,
        over=lace["over"] if lace else "",
        striped=_STRIPES.search(words) is not None,
        faced=leaves_sides_open(draft.document.source.text),
    )


def fabric_at_turns(draft: Draft, finding: Finding) -> Fabric:
    """Return the fabric that turns of a passage stand in: a band at the front edge lies beyond them all."""
    plain = finding.fabric == "mixed" and banded_only(draft.document, finding.passage)
    return "stocking" if plain else finding.fabric


def _words_before(draft: Draft, end: int) -> str:
    """Return the words that stand before a place, those about sleeves left out, in lower case."""
    source = draft.document.source.text
    return "\n".join(
        source[s.span.start : s.span.end].lower()
        for s in draft.document.sentences
        if s.span.start < end and s.piece != "sleeve"
    )
