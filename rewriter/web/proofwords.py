"""What a proof showed, in whole sentences, told once for all sizes of which it is true."""

from __future__ import annotations

from rewriter.report import PassageReport
from rewriter.web.words import page_words


def proof_sentences(passage: PassageReport, sizes: tuple[str, ...]) -> list[str]:
    """Return what was shown of a rewritten passage; sizes that differ are told apart."""
    words = page_words()["proof"]
    told: dict[str, list[str]] = {}
    for i, size in enumerate(sizes):
        told.setdefault(_sentence(passage, i), []).append(size)
    if len(told) == 1:
        return list(told)
    return [
        words["only" if len(which) == 1 else "only_many"].format(sizes=", ".join(which)) + text
        for text, which in told.items()
    ]


def _sentence(passage: PassageReport, size: int) -> str:
    words = page_words()["proof"]
    proof = passage.verification
    out: list[str] = []
    gained = [edge.rows_gained[size] for edge in passage.edges]
    if proof.against == "even steps":
        most = proof.most_rows_moved[size]
        out.append(words["even" if most else "even_same"].format(rows=_rows(most)))
    elif proof.result == "within-one-row":
        out.append(words["within"])
    elif not any(gained):
        out.append(words["same"])
    if any(gained) and len(set(gained)) == 1:
        out.append(words["gained"].format(rows=_rows(gained[0])))
    elif any(gained):
        first, second = (_rows(g) for g in gained[:2])
        out.append(words["gained_each"].format(first=first, second=second))
    for name, rows in (("neck", proof.neck_rows_gained), ("piece", proof.piece_rows_gained)):
        if rows and rows[size]:
            more = words["more" if rows[size] > 0 else "fewer"]
            out.append(words[name].format(rows=more.format(rows=_rows(abs(rows[size])))))
    return " ".join(out)


def _rows(n: int) -> str:
    words = page_words()["proof"]
    return str(words["none" if n == 0 else "one" if n == 1 else "many"].format(n=n))
