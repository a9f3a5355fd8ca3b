"""Checks against published figures; each names its source and says what is computed by us."""
