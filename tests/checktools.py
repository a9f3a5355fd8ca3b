"""What the tests of checking share: rewritings by people, and what is said of one."""

from __future__ import annotations

import tomllib
from functools import cache
from typing import Any

from rewriter.comparison import Comparison
from tests.drafts import CORPUS


@cache
def cases() -> dict[str, dict[str, Any]]:
    """Return the rewritings by people, each with a fault that can be put into it."""
    out = {
        path.stem: tomllib.loads(path.read_text(encoding="utf-8"))
        for path in sorted((CORPUS / "checks").glob("*.toml"))
    }
    assert len(out) >= 40
    return out


def errors(found: Comparison) -> list[str]:
    """Return the errors as text, for a message that can be read."""
    return [
        f"{f.code} {f.revised_line} {f.sizes}: {f.message}"
        for f in found.findings
        if f.severity == "error"
    ]
