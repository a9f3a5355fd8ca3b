"""The signs that stand before the items of a list."""

from __future__ import annotations

BULLETS = "\u2022\u2023\u25aa\u25b8\u25ba\u25cf\u25e6"
"""Signs that are nothing but bullets; a hyphen or star may be one too."""
