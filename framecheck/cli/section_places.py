"""Sections that a person names, worked out; what shows only then to be wrong is told with its line, as all else is."""

from __future__ import annotations

from dataclasses import replace

from framecheck.cli.context import is_file
from framecheck.cli.files import read_text
from framecheck.errors import InputError
from framecheck.model.frame import Section
from framecheck.section.analysis import section_properties
from framecheck.section.properties import SectionProperties
from framecheck.section.store import SectionStore


def worked_out(words: str, section: Section, store: SectionStore) -> SectionProperties:
    """Return a section's properties; words: how it was named, as a file, FILE:SECTION or one of the library."""
    try:
        return section_properties(section, store)
    except InputError as error:
        place = place_of(words, section.name)
        raise InputError([each if each.place else replace(each, place=place) for each in error.faults]) from None


def place_of(words: str, section: str) -> str:
    """Return "file:line" of a section, "" for one of the library."""
    from framecheck.reading.section_file import place_of

    file = words if is_file(words) else words.rpartition(":")[0]
    return place_of(read_text(file), file, section) if file and is_file(file) else ""
