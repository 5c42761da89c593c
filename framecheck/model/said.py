"""Words for people with amounts in them, kept as numbers until somebody shows them in the reader's units."""

from __future__ import annotations

from collections.abc import Iterator
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
    return Said(tuple(each for part in parts for each in parts_of(part)), topic)


def parts_of(part: Words | SaidAmount) -> Iterator[str | SaidAmount]:
    """Yield what words are made of."""
    yield from part.parts if isinstance(part, Said) else (part,)


@overload
def joined(*words: str) -> str: ...


@overload
def joined(*words: Words) -> Words: ...


def joined(*words: Words) -> Words:
    """Return words in one line, empty ones left out; plain text where all are."""
    kept = [each for each in words if each]
    if all(isinstance(each, str) for each in kept):
        return "; ".join(str(each) for each in kept)
    return said(*(part for n, each in enumerate(kept) for part in (("; ",) if n else ()) + (each,)))


def length(metres: float) -> SaidAmount:
    """Return a length."""
    return SaidAmount(metres, "length")


def force(newtons: float) -> SaidAmount:
    """Return a force."""
    return SaidAmount(newtons, "force")
