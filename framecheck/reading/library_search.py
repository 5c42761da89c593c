"""Sections of the library by what they are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from framecheck.reading.form import Record
from framecheck.reading.library import Library


def fitting(library: Library, asked: Record) -> Iterator[str]:
    """Yield the names of sections of a shape, a metal and sizes."""
    for name in library.section_names():
        section = library.section(name)
        if section is None or section["shape"] != asked["shape"]:
            continue
        if asked["material"] not in (None, section["material"]):
            continue
        if all(within(section.values.get(key), limits) for key, limits in asked["sizes"].items()):
            yield name


def within(size: Any, limits: Record) -> bool:
    """Return whether a size lies between limits, a hair of rounding allowed."""
    return isinstance(size, float) and limits["from"] - 1e-9 <= size <= limits["to"] + 1e-9
