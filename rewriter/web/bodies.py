"""The bodies of requests: JSON, or a form with files, read within limits and kept in memory alone."""

from __future__ import annotations

import json
from collections.abc import AsyncGenerator
from dataclasses import dataclass, field
from typing import TypeVar

from pydantic import ValidationError
from starlette.datastructures import UploadFile
from starlette.formparsers import MultiPartException, MultiPartParser
from starlette.requests import Request

from rewriter.web.models import CheckIn, DraftIn, OptionsIn
from rewriter.web.models import Request as Model
from rewriter.web.problems import Refused, not_valid

LARGEST = 25_000_000
"""Bytes of a request; a document with photographs has some ten million."""
LONGEST_TEXT = 1_000_000
"""Characters of a pasted text; a pattern has some ten thousand."""
_MOST_FIELDS = 200

ModelT = TypeVar("ModelT", bound=Model)


@dataclass(frozen=True)
class File:
    """A file that was sent, or a text as one."""

    data: bytes
    name: str


@dataclass
class Form:
    """A form that was sent."""

    fields: list[tuple[str, str]] = field(default_factory=list)
    files: dict[str, File] = field(default_factory=dict)

    def get(self, name: str, default: str = "") -> str:
        """Return the first value of a field."""
        return next((v for n, v in self.fields if n == name), default)

    def all(self, name: str) -> list[str]:
        """Return all values of a field."""
        return [v for n, v in self.fields if n == name]


class _InMemory(MultiPartParser):
    """Reads a form without ever putting a file on the disk."""

    spool_max_size = LARGEST + 1


async def read_form(request: Request) -> Form:
    """Read a form; raises Refused where it is too large or broken."""
    out = Form()
    try:
        parser = _InMemory(
            request.headers,
            _limited(request),
            max_files=2,
            max_fields=_MOST_FIELDS,
            max_part_size=4 * LONGEST_TEXT,
        )
        sent = await parser.parse()
    except MultiPartException as error:
        raise Refused("bad-request", error.message) from None
    except KeyError:
        raise Refused("bad-request", "the form names no boundary") from None
    for name, value in sent.multi_items():
        if isinstance(value, UploadFile):
            data = await value.read()
            if data or value.filename:
                out.files[name] = File(data, _bare(value.filename or "draft"))
        else:
            out.fields.append((name, value))
    await sent.close()
    return out


async def _limited(request: Request) -> AsyncGenerator[bytes, None]:
    size = 0
    async for chunk in request.stream():
        size += len(chunk)
        if size > LARGEST:
            raise Refused("too-large", f"larger than {LARGEST // 1_000_000} MB; split it")
        yield chunk


def _bare(name: str) -> str:
    return name.replace("\\", "/").rpartition("/")[2][:200] or "draft"


def text_file(text: str, name: str) -> File:
    """Return a text as a file; raises Refused where it is too long."""
    if len(text) > LONGEST_TEXT:
        raise Refused("too-large", f"longer than {LONGEST_TEXT:,} characters; split it")
    return File(text.encode(), _bare(name))


async def _json(request: Request, model: type[ModelT]) -> ModelT:
    body = b"".join([chunk async for chunk in _limited(request)])
    try:
        return model.model_validate(json.loads(body))
    except ValidationError as error:
        raise not_valid(error) from None
    except (ValueError, RecursionError):
        raise Refused("bad-request", "the body is not JSON in UTF-8") from None


def _kind(request: Request) -> str:
    return request.headers.get("content-type", "").partition(";")[0].strip().lower()


_TAKEN = "send application/json with a text, or multipart/form-data with a file"


async def read_draft(request: Request) -> tuple[File, OptionsIn]:
    """Read a draft with its options from JSON or from a form with the parts `file` and `options`."""
    kind = _kind(request)
    if kind == "application/json":
        sent = await _json(request, DraftIn)
        return text_file(sent.text, sent.name), sent.options
    if kind != "multipart/form-data":
        raise Refused("media-type", _TAKEN)
    form = await read_form(request)
    file = form.files.get("file")
    if file is None:
        raise Refused("invalid", "the form has no part named file")
    try:
        return file, OptionsIn.model_validate_json(form.get("options", "{}"))
    except ValidationError as error:
        raise not_valid(error) from None


async def read_two(request: Request) -> tuple[File, File]:
    """Read two texts from JSON, or from a form with the files `original` and `revised`."""
    kind = _kind(request)
    if kind == "application/json":
        sent = await _json(request, CheckIn)
        return text_file(sent.original, "original"), text_file(sent.revised, "revised")
    if kind != "multipart/form-data":
        raise Refused("media-type", _TAKEN)
    form = await read_form(request)
    for name in ("original", "revised"):
        if name not in form.files:
            raise Refused("invalid", f"the form has no file named {name}")
    return form.files["original"], form.files["revised"]
