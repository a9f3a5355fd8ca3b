"""The HTTP interface described in OpenAPI 3.1, from the same models that it takes and gives."""

from __future__ import annotations

from functools import cache
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import models_json_schema

from rewriter._version import __version__
from rewriter.comparison import Comparison
from rewriter.report import Report
from rewriter.web.models import CheckIn, DraftIn, OptionsIn
from rewriter.web.problems import MEDIA_TYPE, Problem

_FILE = {"type": "string", "format": "binary"}


@cache
def openapi() -> dict[str, Any]:
    """Return the description."""
    models: list[type[BaseModel]] = [DraftIn, OptionsIn, CheckIn, Report, Comparison, Problem]
    _, schemas = models_json_schema(
        [
            (m, "serialization" if m in (Report, Comparison, Problem) else "validation")
            for m in models
        ],
        ref_template="#/components/schemas/{model}",
    )
    draft_form = {
        "type": "object",
        "required": ["file"],
        "properties": {"file": _FILE, "options": _ref("OptionsIn")},
    }
    two_forms = {
        "type": "object",
        "required": ["original", "revised"],
        "properties": {"original": _FILE, "revised": _FILE},
    }
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Slopewise",
            "version": __version__,
            "description": "Turns stepped shoulders of knitting patterns into short rows, and proves "
            "that the fabric stays the same. Nothing that is sent is stored.",
        },
        "paths": {
            "/api/rewrite": _post("Rewrite a draft", "DraftIn", draft_form, "Report"),
            "/api/read": _post(
                "Say what is understood of a draft", "DraftIn", draft_form, "Report"
            ),
            "/api/check": _post(
                "Compare a revised text with its original", "CheckIn", two_forms, "Comparison"
            ),
        },
        "components": {"schemas": schemas["$defs"]},
    }


def _ref(name: str) -> dict[str, str]:
    return {"$ref": f"#/components/schemas/{name}"}


def _post(summary: str, taken: str, form: dict[str, Any], given: str) -> dict[str, Any]:
    return {
        "post": {
            "operationId": summary.split()[0].lower(),
            "summary": summary,
            "requestBody": {
                "required": True,
                "content": {
                    "application/json": {"schema": _ref(taken)},
                    "multipart/form-data": {
                        "schema": form,
                        "encoding": {"options": {"contentType": "application/json"}}
                        if "options" in form["properties"]
                        else {},
                    },
                },
            },
            "responses": {
                "200": {
                    "description": "What was found",
                    "content": {"application/json": {"schema": _ref(given)}},
                },
                "default": {
                    "description": "Why it was refused",
                    "content": {MEDIA_TYPE: {"schema": _ref("Problem")}},
                },
            },
        }
    }
