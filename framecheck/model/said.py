"""Words for people with amounts in them, kept as numbers until somebody shows them in the reader's units."""

from __future__ import annotations

from enum import Enum
from typing import overload

from framecheck.value_class import value_class


class Topic(Enum):
    """What words are about, where that decides where they are told."""

    TRAVEL = "travel of a suspension"


@value_class
class SaidAmount:
    """A number in SI and its quantity, as in output/display."""

    value: float
    quantity: str


@value_class
class Said:
    """Words and amounts in their order; no code reads the words."""

    parts: tuple[str | SaidAmount, ...]
    topic: Topic | None = None


Words = str | Said


def said(*parts: Words | SaidAmount, topic: Topic | None = None) -> Said:
    """Return words and amounts put together."""
    found: list[str | SaidAmount] = []
    for part in parts:
        found += part.parts if isinstance(part, Said) else (part,)
    return Said(tuple(found), topic)


@overload
def joined(*words: str) -> str: ...


@overload
def joined(*words: Words) -> Words: ...


def joined(*words: Words) -> Words:
    """Return words in one line, empty ones left out; plain text where all are."""
    kept = [each for each in words if each]
    plain = [each for each in kept if isinstance(each, str)]
    if len(plain) == len(kept):
        return "; ".join(plain)
    return said(*[part for each in kept for part in ("; ", each)][1:])


def length(metres: float) -> SaidAmount:
    """Return a length."""
    return SaidAmount(metres, "length")


def force(newtons: float) -> SaidAmount:
    """Return a force."""
    return SaidAmount(newtons, "force")
