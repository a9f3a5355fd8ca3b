"""How many rows the neck and the whole piece gain, in the words that reports and the page share."""

from __future__ import annotations

from rewriter.report import Verification


def row_count(n: int) -> str:
    """Return a number of rows in words: "no row", "1 row", "3 rows"."""
    return f"{n or 'no'} row{'' if n in (0, 1) else 's'}"


def beside_the_shoulders(proof: Verification, size: int) -> list[str]:
    """Return what neck and piece gain or lose in one size, a clause for each that does not keep its rows."""
    told = (("neck", proof.neck_rows_gained), ("piece", proof.piece_rows_gained))
    return [
        f"the {name} has {row_count(abs(rows[size]))} {'more' if rows[size] > 0 else 'fewer'}"
        for name, rows in told
        if rows and rows[size]
    ]
