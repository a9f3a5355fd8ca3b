"""The drafts that are measured: one of the corpus, brought to a size."""

from __future__ import annotations

from pathlib import Path

from rewriter.onesize import in_one_size

CORPUS = Path(__file__).parents[2] / "corpus_synthetic"
NINE_SIZES = CORPUS / "houses" / "252-fernlight-pullover.md"
_PROSE = (
    "The pullover is worked in pieces from the bottom up and sewn together, which gives it a firm shoulder "
    "and lets each piece be pressed before it is joined. Read the whole pattern first, and mark the "
    "numbers of your size throughout. The wool blooms when it is washed, so wash the swatch as you will wash "
    "the garment and measure it when it is dry. "
)


def of_bytes(wanted: int, text: str | None = None) -> str:
    """Return a draft of about so many bytes: the pattern, and prose such as patterns have."""
    text = text or NINE_SIZES.read_text(encoding="utf-8")
    paragraphs: list[str] = []
    while len("\n\n".join([text, *paragraphs]).encode()) < wanted:
        paragraphs.append(_PROSE.strip())
    return "\n\n".join([text.rstrip(), "## About this pattern", *paragraphs]) + "\n"


def without_shoulders(wanted: int) -> str:
    """Return a draft of about so many bytes in which there is nothing to convert."""
    text = NINE_SIZES.read_text(encoding="utf-8")
    head = text.partition("\n## ")[0]
    scarf = (
        "## Scarf\n\nCast on 61 sts. Work 8 rows in garter stitch. Row 1 (RS): K4, *p1, k3; rep from * to "
        "last st, p1. Row 2: P to end. Rep these 2 rows until the work measures 150 cm, ending with a WS "
        "row. Work 8 rows in garter stitch. Bind off loosely.\n"
    )
    return of_bytes(wanted, f"{head}\n\n{scarf}")


def repeated(text: str, times: int) -> str:
    """Return a draft that holds another several times, as a booklet does."""
    return "\n\n".join(text.replace("# ", f"# {n + 1}. ", 1) for n in range(times))


def of_one_size(text: str, sizes: int) -> str:
    """Return the draft for its last size alone."""
    lines = [line for line in text.splitlines() if not line.lower().startswith(("size", "sizes"))]
    return in_one_size("\n".join(lines), sizes - 1, sizes) + "\n"


def of_stitches(total: int) -> str:
    """Return a back of so many sts at the shoulders, in three steps an edge whatever its width."""
    step = total * 3 // 8 // 3
    neck = total - 6 * step
    return of_bytes(
        10_000,
        f"# Back\n\nCast on {total} sts. Work in stocking stitch until the armholes measure 20 cm, ending "
        f"with a WS row.\n\nShape shoulders\n\nBind off {step} sts at beg of next 6 rows. "
        f"Bind off rem {neck} sts.\n",
    )
