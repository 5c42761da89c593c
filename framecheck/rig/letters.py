"""The letters by which dials are called on a sheet and in readings."""

from __future__ import annotations

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without I and O, which look like figures."""


def letter(dial: int) -> str:
    """Return the letter of a dial by its number."""
    return LETTERS[dial % len(LETTERS)] + (str(dial // len(LETTERS)) if dial >= len(LETTERS) else "")
