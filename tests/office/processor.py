"""Open documents in LibreOffice, settle their changes, and give back their words and pages.

This file runs under the Python that has LibreOffice's `uno` module, outside the project's own
environment, so it imports nothing of the project. Each line of standard input is a job in JSON:

    {"file": PATH, "settle": "keep" | "accept" | "refuse", "pdf": PATH or ""}

and each is answered by a line of JSON: `changes` (how many were open), `comments`, and `lines`, the
words of each paragraph, table cell, text box and note, or `error`. An office that ends or hangs is started
anew, and the document opened once more; what happens is told on standard error.
"""

from __future__ import annotations

import contextlib
import json
import os
import re
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from typing import Any

import uno
from com.sun.star.beans import PropertyValue

_SETTLE = {"accept": ".uno:AcceptAllTrackedChanges", "refuse": ".uno:RejectAllTrackedChanges"}
_START_SECONDS = 90
_JOB_SECONDS = 180
"""A document that takes longer is taken for one over which the office hangs."""
_END_SECONDS = 30
_ATTEMPTS = 2
"""How often the office is started, and a document opened, before that is given up."""


def main() -> int:
    """Do the jobs of standard input; the exit status is 1 where the office cannot be started."""
    office = _Office()
    try:
        for line in sys.stdin:
            if line.strip():
                print(json.dumps(office.done(json.loads(line))), flush=True)
    except _NotStarted as error:
        print(f"LibreOffice: {error}", file=sys.stderr)
        return 1
    finally:
        office.end()
    return 0


class _NotStarted(Exception):
    """The office does not start, or does not answer."""


class _Office:
    """An office of its own, started anew when it has ended or does not come to an end."""

    def __init__(self) -> None:
        self.process: subprocess.Popen[bytes] | None = None
        self.profile: tempfile.TemporaryDirectory[str] | None = None
        self.context: Any = None
        self.started = 0

    def done(self, job: dict[str, str]) -> dict[str, Any]:
        """Do a job; once more with a new office where this one ends with the document open."""
        for _ in range(_ATTEMPTS):
            self._running()
            process = self.process
            assert process is not None
            # an office that hangs is ended, and then taken for one that has ended by itself
            watch = threading.Timer(_JOB_SECONDS, process.kill)
            watch.start()
            try:
                answer = _done(self.context, job)
            finally:
                watch.cancel()
            if process.poll() is None and _answers(self.context):
                return answer
            print(
                f"LibreOffice ended with {os.path.basename(job['file'])} open ({job['settle']}); "
                "it is started anew",
                file=sys.stderr,
            )
            self.end()
            # the lock of an office that was ended keeps the next one from opening the document
            folder, name = os.path.split(job["file"])
            with contextlib.suppress(FileNotFoundError):
                os.remove(os.path.join(folder, f".~lock.{name}#"))
        return {**job, "error": f"LibreOffice ended {_ATTEMPTS} times while it was open"}

    def _running(self) -> None:
        """See that an office is there that answers; raises _NotStarted where none can be started."""
        if self.process is not None and self.process.poll() is None:
            return
        why = ""
        for _ in range(_ATTEMPTS):
            self.end()
            self.started += 1
            pipe = f"slopewise-sweep-{os.getpid()}-{self.started}"
            self.profile = tempfile.TemporaryDirectory(ignore_cleanup_errors=True)
            self.process = subprocess.Popen(
                [
                    "soffice", "--headless", "--norestore", "--nologo",
                    f"-env:UserInstallation=file://{self.profile.name}/profile",
                    f"--accept=pipe,name={pipe};urp;StarOffice.ComponentContext",
                ],
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                start_new_session=True,
            )  # fmt: skip
            try:
                self.context = _connected(pipe, self.process)
                return
            except Exception as error:  # its exceptions have no common base
                why = f"{type(error).__name__}: {error}"
        raise _NotStarted(f"it does not start, tried {_ATTEMPTS} times ({why})")

    def end(self) -> None:
        """End the office with all its processes, and take away its profile."""
        if self.process is not None:
            if self.process.poll() is None:
                with contextlib.suppress(Exception):  # it may end before it has answered
                    _desktop(self.context).terminate()
                with contextlib.suppress(subprocess.TimeoutExpired):
                    self.process.wait(_END_SECONDS)
            # `soffice` starts the office itself as a process of its own, in this session
            with contextlib.suppress(ProcessLookupError):
                os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()
        if self.profile is not None:
            self.profile.cleanup()
        self.process = self.profile = self.context = None


def _answers(context: Any) -> bool:
    """Say whether the office still takes orders: its process may be there and its bridge gone."""
    try:
        _desktop(context).getName()
    except Exception:  # its exceptions have no common base
        return False
    return True


def _connected(pipe: str, process: subprocess.Popen[bytes]) -> Any:
    """Return the office's context; raises what it says where it ends or does not answer in time."""
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext(
        "com.sun.star.bridge.UnoUrlResolver", local
    )
    until = time.monotonic() + _START_SECONDS
    while True:
        try:
            return resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except Exception:  # the office is still starting: its exceptions have no common base
            if process.poll() is not None or time.monotonic() > until:
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
        with contextlib.suppress(Exception):  # it is gone where the office has ended
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
