"""Sample drafts that ship with the package."""
