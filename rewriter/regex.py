"""The package `regex`, its compiled expressions kept between runs as Python keeps its byte code.

To compile the expressions of the lexicon takes seconds, to load them milliseconds. They are kept beside
the byte code of the package, for this version of Python and of `regex`, and written only where Python
writes byte code; a file that is absent, old or cut short costs no more than the time to compile.
Expressions that hold words of a draft are never kept: they are made with `compile_new`.
"""

from __future__ import annotations

import atexit
import contextlib
import os
import pickle
import sys
from collections.abc import Callable, Iterator

import regex as package

from rewriter._resources import beside_byte_code

Pattern = package.Pattern
Match = package.Match
I, M, S = package.I, package.M, package.S  # noqa: E741 - their names in the package
compile_new = package.compile
escape = package.escape

_PLACE = beside_byte_code(f"expressions-{package.__version__}")


def _load() -> dict[tuple[str, int], bytes]:
    """Return the expressions that are kept, each as it was pickled."""
    if _PLACE is not None:
        with contextlib.suppress(Exception), _PLACE.open("rb") as file:
            return dict(pickle.load(file))
    return {}


_kept = _load()
_made: dict[tuple[str, int], Pattern[str]] = {}
_new: list[tuple[str, int]] = []
"""Keys of those that were not kept."""


def compile(pattern: str, flags: int = 0) -> Pattern[str]:
    """Return an expression, made from what is kept of it where that is anything."""
    key = (pattern, int(flags))
    found = _made.get(key)
    if found is None:
        found = _made[key] = _remade(key)
    return found


def load_all() -> None:
    """Make all expressions that are kept, for a process that waits for its first draft."""
    for key in _kept:
        compile(*key)


def _remade(key: tuple[str, int]) -> Pattern[str]:
    with contextlib.suppress(Exception):
        found: Pattern[str] = pickle.loads(_kept[key])
        return found
    _new.append(key)
    return package.compile(*key)


@atexit.register
def _keep() -> None:
    """Add the expressions that were compiled in this run to those that are kept."""
    if _PLACE is None or sys.dont_write_bytecode or not _new:
        return
    kept = {**_load(), **{key: pickle.dumps(_made[key]) for key in _new}}
    with contextlib.suppress(OSError):
        _PLACE.parent.mkdir(exist_ok=True)
        draft = _PLACE.with_name(f"{_PLACE.name}.{os.getpid()}")
        draft.write_bytes(pickle.dumps(kept))
        draft.replace(_PLACE)


def search(pattern: str, text: str) -> Match[str] | None:
    """Look for an expression anywhere in a text."""
    return compile(pattern).search(text)


def match(pattern: str, text: str) -> Match[str] | None:
    """Match an expression at the start of a text."""
    return compile(pattern).match(text)


def fullmatch(pattern: str, text: str) -> Match[str] | None:
    """Match an expression with the whole of a text."""
    return compile(pattern).fullmatch(text)


def finditer(
    pattern: str, text: str, pos: int | None = None, endpos: int | None = None
) -> Iterator[Match[str]]:
    """Yield the matches of an expression."""
    return compile(pattern).finditer(text, pos, endpos)


def findall(pattern: str, text: str) -> list[str]:
    """Return what an expression matches, or its groups, as the package does."""
    return compile(pattern).findall(text)


def sub(pattern: str, repl: str | Callable[[Match[str]], str], text: str) -> str:
    """Return a text with the matches of an expression replaced."""
    return compile(pattern).sub(repl, text)


def split(pattern: str, text: str) -> list[str]:
    """Return a text cut at the matches of an expression."""
    return compile(pattern).split(text)
