"""What a proof showed, in whole sentences, told once for all sizes of which it is true."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.report import PassageReport
from rewriter.rowsgained import beside_the_shoulders, row_count
from rewriter.web.words import capital, page_words


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


def longer(passages: Sequence[PassageReport]) -> str:
    """Return which pieces come out longer at the shoulders than the pattern has them, and which do not.

    `passages` were rewritten; "" where all keep their rows.
    """
    words = page_words()["longer"]
    gained: dict[str, set[int]] = {}
    for passage in passages:
        if passage.kind == "shoulder":
            piece = words["piece"] if passage.piece in ("unknown", "other") else passage.piece
            rows = {g for edge in passage.edges for g in edge.rows_gained}
            gained.setdefault(piece, set()).update(rows)
    whole = [p for p, rows in gained.items() if rows == {1}]
    part = [p for p, rows in gained.items() if any(rows) and p not in whole]
    kept = [p for p, rows in gained.items() if not any(rows)]
    named = (("whole", whole), ("part", part), ("kept", kept if whole or part else []))
    told = [words[key].format(pieces=_listed(pieces)) for key, pieces in named if pieces]
    return capital(", ".join(told)) if told else ""


def _listed(pieces: Sequence[str]) -> str:
    *others, last = pieces
    return f"{', '.join(others)} and {last}" if others else last


def _sentence(passage: PassageReport, size: int) -> str:
    words = page_words()["proof"]
    proof = passage.verification
    out: list[str] = []
    gained = [edge.rows_gained[size] for edge in passage.edges]
    if proof.against == "even steps":
        most = proof.most_rows_moved[size]
        out.append(words["even" if most else "even_same"].format(rows=row_count(most)))
    elif proof.result == "within-one-row":
        out.append(words["within"])
    elif not any(gained):
        out.append(words["same"])
    if any(gained) and len(set(gained)) == 1:
        out.append(words["gained"].format(rows=row_count(gained[0])))
    elif any(gained):
        first, second = (row_count(g) for g in gained[:2])
        out.append(words["gained_each"].format(first=first, second=second))
    out += [capital(told) for told in beside_the_shoulders(proof, size)]
    return " ".join(out)
