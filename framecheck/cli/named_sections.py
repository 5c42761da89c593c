"""From what a person types to sections: a name of the library, a file of sections or a case, or one of its sections (FILE:NAME)."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from os.path import isfile

from framecheck.cli.drawings import library_beside
from framecheck.cli.files import read_text
from framecheck.cli.shop_files import library
from framecheck.errors import Fault, InputError
from framecheck.model.frame import Section

ENDINGS = (".yaml", ".yml")


def is_file(words: str) -> bool:
    """Return whether a person means a file."""
    return words.lower().endswith(ENDINGS) or isfile(words)


def sections_named(words: str) -> tuple[Section, ...]:
    """Return the sections meant: one, or all of a file."""
    from framecheck.reading.section_file import section_named, sections_in

    if is_file(words):
        return tuple(sections_in(read_text(words), words, library_beside(words)).values())
    file, colon, name = words.rpartition(":")
    if colon and is_file(file):
        return (one_of(sections_in(read_text(file), file, library_beside(file)), file, name.strip()),)
    return (section_named(words, library()),)


def one_of(found: Mapping[str, Section], file: str, name: str) -> Section:
    """Return a section of a file by name."""
    if name in found:
        return found[name]
    near = get_close_matches(name, found, n=1)
    remedy = f"did you mean '{near[0]}'?" if near else f"it has: {', '.join(found)}"
    raise InputError([Fault(file, name, "there is no section of this name", remedy)])
