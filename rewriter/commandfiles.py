"""Files that a command is given and writes; what cannot be read or written is a message, not a fault."""

from __future__ import annotations

import os
import sys
from pathlib import Path


class Usage(Exception):
    """What was asked cannot be done; the message says what to do instead."""


def bytes_of(draft: str) -> tuple[bytes, str]:
    """Return what a file (or "-", standard input) holds, and its name."""
    if draft == "-":
        return sys.stdin.buffer.read(), "-"
    path = Path(draft)
    try:
        return path.read_bytes(), path.name
    except FileNotFoundError:
        raise Usage(f"{draft}: there is no such file") from None
    except IsADirectoryError:
        raise Usage(f"{draft}: this is a folder; name one draft") from None
    except OSError as error:
        raise Usage(f"{draft}: cannot be read ({error.strerror})") from None


def author_of(name: str | None) -> str:
    """Return who signs the changes of a document: the name that was given, or the program's own."""
    from rewriter.formats.carrier import AUTHOR

    if name is None:
        return AUTHOR
    if not name.strip() or not name.isprintable():
        raise Usage(f"--author {name!r}: give a name that can stand in a document")
    return " ".join(name.split())


def write_file(out: Path, draft: Path, revised: bytes) -> None:
    """Write the revised draft beside its place and move it there; the draft is never overwritten."""
    import tempfile

    if str(draft) != "-" and out.exists() and out.samefile(draft):
        raise Usage(f"{out}: this is the draft itself; name another file to write")
    temporary = None
    try:
        if out.exists() and not out.is_file():  # a pipe, or a device such as /dev/stdout
            out.write_bytes(revised)
            return
        with tempfile.NamedTemporaryFile(dir=out.parent, delete=False) as file:
            temporary = Path(file.name)
            file.write(revised)
        mask = os.umask(0)
        os.umask(mask)
        temporary.chmod(0o666 & ~mask)
        temporary.replace(out)
    except OSError as error:
        if temporary is not None:
            temporary.unlink(missing_ok=True)
        raise Usage(f"{out}: cannot be written ({error.strerror})") from None


def text_of(name: str) -> str:
    """Return what a text file in UTF-8 holds."""
    try:
        return bytes_of(name)[0].decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Usage(f"{name}: not a text in UTF-8") from None
