"""From what a person types to sections: a name of the library, a case file, or a section of a case file (FILE:NAME)."""

from __future__ import annotations

from difflib import get_close_matches
from pathlib import Path

from framecheck.cli.shop_files import library
from framecheck.cli.workshop import read
from framecheck.errors import Fault, InputError
from framecheck.model.frame import Section

ENDINGS = (".yaml", ".yml")


def is_file(words: str) -> bool:
    """Return whether a person means a case file."""
    return words.lower().endswith(ENDINGS) or Path(words).is_file()


def sections_named(words: str) -> tuple[Section, ...]:
    """Return the sections meant: one, or all that a case file's members use."""
    if is_file(words):
        return tuple(read(words).frame.sections.values())
    file, colon, name = words.partition(":")
    if colon and is_file(file):
        return (in_case(file, name.strip()),)
    return (in_library(words),)


def in_case(file: str, name: str) -> Section:
    """Return a section that a case file uses, by name."""
    found = read(file).frame.sections
    if name not in found:
        raise _unknown(name, tuple(found), f"{file} uses: {', '.join(found)}")
    return found[name]


def in_library(name: str) -> Section:
    """Return a section of the library by name."""
    from framecheck.reading.build.sections import Shelf
    from framecheck.reading.case_file import refuse_faults
    from framecheck.reading.desk import Desk

    shop = library()
    desk = Desk("sections", shop.gauges())
    shelf = Shelf(desk, shop, {}, {})
    if not shelf.knows_section(name):
        raise _unknown(name, shop.section_names(), "`framecheck list sections` shows them")
    found = shelf.section(name)
    refuse_faults(desk)
    return found


def _unknown(name: str, offered: tuple[str, ...], otherwise: str) -> InputError:
    near = get_close_matches(name, offered, n=1, cutoff=0.5)
    remedy = f"did you mean '{near[0]}'?" if near else otherwise
    return InputError([Fault("", name, "there is no section or file of this name", remedy)])
