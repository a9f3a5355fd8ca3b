"""Sample drafts that ship with the package."""

SAMPLE = "tarn-pullover.md"
"""The draft that is shown first."""
