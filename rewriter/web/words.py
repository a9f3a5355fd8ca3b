"""The words of the page, from the grammar folder."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from typing import Any

from rewriter._resources import grammar_file


@cache
def page_words() -> dict[str, Any]:
    """Return the tables of `page.toml`."""
    return tomllib.loads(grammar_file("page.toml"))


def counted(n: int, one: str, many: str) -> str:
    """Return a number with its noun: "1 row", "3 rows"."""
    return f"{n} {one if n == 1 else many}"


_NAMED = re.compile(r"[^:]*\.\w+: ")


def capital(text: str) -> str:
    """Return a text that begins with a capital and ends as a sentence; a file keeps its name."""
    text = text if _NAMED.match(text) else text[:1].upper() + text[1:]
    return text if text.endswith((".", "?", "!")) else f"{text}."
