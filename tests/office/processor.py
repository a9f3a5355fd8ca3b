"""Open documents in LibreOffice, settle their changes, and give back their words and pages.

This file runs under the Python that has LibreOffice's `uno` module, outside the project's own
environment, so it imports nothing of the project. Each line of standard input is a job in JSON:

    {"file": PATH, "settle": "keep" | "accept" | "refuse", "pdf": PATH or ""}

and each is answered by a line of JSON: `changes` (how many were open), `comments`, and `lines`, the
words of each paragraph, table cell, text box and note, or `error`.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from typing import Any

import uno
from com.sun.star.beans import PropertyValue

_SETTLE = {"accept": ".uno:AcceptAllTrackedChanges", "refuse": ".uno:RejectAllTrackedChanges"}
_START_SECONDS = 90


def main() -> int:
    """Do the jobs of standard input with one office of their own."""
    pipe = f"slopewise-sweep-{os.getpid()}"
    with tempfile.TemporaryDirectory() as profile:
        office = subprocess.Popen(
            [
                "soffice", "--headless", "--norestore", "--nologo",
                f"-env:UserInstallation=file://{profile}/profile",
                f"--accept=pipe,name={pipe};urp;StarOffice.ComponentContext",
            ],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )  # fmt: skip
        try:
            context = _connected(pipe)
            for line in sys.stdin:
                if line.strip():
                    print(json.dumps(_done(context, json.loads(line))), flush=True)
            _desktop(context).terminate()
            office.wait(30)
        finally:
            if office.poll() is None:
                office.kill()
    return 0


def _connected(pipe: str) -> Any:
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext(
        "com.sun.star.bridge.UnoUrlResolver", local
    )
    until = time.monotonic() + _START_SECONDS
    while True:
        try:
            return resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except Exception:  # the office is still starting: its exceptions have no common base
            if time.monotonic() > until:
                raise
            time.sleep(0.5)


def _desktop(context: Any) -> Any:
    return context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)


def _done(context: Any, job: dict[str, str]) -> dict[str, Any]:
    document = None
    try:
        document = _desktop(context).loadComponentFromURL(
            uno.systemPathToFileUrl(job["file"]), "_blank", 0, (_property("Hidden", True),)
        )
        if document is None or not document.supportsService("com.sun.star.text.TextDocument"):
            return {**job, "error": "it is not opened as a text document"}
        changes, comments = _count(document.getRedlines()), _comments(document)
        if command := _SETTLE.get(job["settle"]):
            helper = context.ServiceManager.createInstanceWithContext(
                "com.sun.star.frame.DispatchHelper", context
            )
            frame = document.getCurrentController().getFrame()
            # comments go too: their anchors can make a line a little taller
            for order in (command, ".uno:DeleteAllNotes"):
                helper.executeDispatch(frame, order, "", 0, ())
            if left := _count(document.getRedlines()):
                return {**job, "error": f"{left} changes are left unsettled"}
            document = _opened_again(context, document)
        lines = list(_lines(document)) if job["settle"] != "keep" else []
        if job["pdf"]:
            data = uno.Any(
                "[]com.sun.star.beans.PropertyValue",
                (_property("ExportNotes", False), _property("ExportBookmarks", False)),
            )
            document.storeToURL(
                uno.systemPathToFileUrl(job["pdf"]),
                (_property("FilterName", "writer_pdf_Export"), _property("FilterData", data)),
            )
        return {**job, "changes": changes, "comments": comments, "lines": lines}
    except Exception as error:  # a document that breaks the office is a finding, not the end
        return {**job, "error": f"{type(error).__name__}: {error}"}
    finally:
        if document is not None:
            document.close(True)


def _opened_again(context: Any, document: Any) -> Any:
    """Save a document and open it anew: numbers of items are not drawn anew when changes are settled."""
    with tempfile.TemporaryDirectory() as folder:
        url = uno.systemPathToFileUrl(f"{folder}/settled.odt")
        document.storeToURL(url, (_property("FilterName", "writer8"),))
        document.close(True)
        return _desktop(context).loadComponentFromURL(
            url, "_blank", 0, (_property("Hidden", True),)
        )


def _property(name: str, value: Any) -> Any:
    made = PropertyValue()
    made.Name, made.Value = name, value
    return made


def _each(access: Any) -> Iterator[Any]:
    found = access.createEnumeration()
    while found.hasMoreElements():
        yield found.nextElement()


def _count(access: Any) -> int:
    return sum(1 for _ in _each(access))


def _comments(document: Any) -> int:
    return sum(
        field.supportsService("com.sun.star.text.textfield.Annotation")
        for field in _each(document.getTextFields())
    )


def _lines(document: Any) -> Iterator[str]:
    yield from _text(document.getText())
    frames, shapes = document.getTextFrames(), document.getDrawPage()
    known = set()
    for name in frames.getElementNames():
        known.add(name)
        yield from _text(frames.getByName(name))
    for number in range(shapes.getCount()):
        shape = shapes.getByIndex(number)
        if getattr(shape, "Name", "") not in known and hasattr(shape, "getText"):
            yield from _text(shape.getText())
    for notes in (document.getFootnotes(), document.getEndnotes()):
        for number in range(notes.getCount()):
            yield from _text(notes.getByIndex(number))


def _text(text: Any) -> Iterator[str]:
    for part in _each(text):
        if part.supportsService("com.sun.star.text.TextTable"):
            for name in part.getCellNames():
                yield from _text(part.getCellByName(name))
        elif part.supportsService("com.sun.star.text.Paragraph"):
            yield re.sub(r"\s+", " ", "".join(_pieces(part))).strip()


def _pieces(holder: Any) -> Iterator[str]:
    for portion in _each(holder):
        if portion.TextPortionType == "ContentControl":
            yield from _pieces(portion.ContentControl)
        elif portion.TextPortionType != "Footnote":  # its number
            yield portion.getString()


if __name__ == "__main__":
    sys.exit(main())
