"""A frame from a drawing of its middle lines, or from a table that is pasted or lies in the folder, for the page."""

from __future__ import annotations

from pathlib import PurePosixPath
from typing import Any

from framecheck.bench.files import Folder
from framecheck.cli.frame_from_lines import LinesAsked, case_from_text
from framecheck.errors import InputError
from framecheck.reading.centre_line_files import FRONTS

PASTED = "pasted table.csv"
FIELDS = ("source", "unit", "overall", "front", "tolerance", "section", "table")
FIELD_OF = {"tolerance": "tolerance", "overall length": "overall", "section": "section"}
"""Which field a fault is about, by what the reader calls it; all others are about the drawing or the table itself."""
OPTIONS = {"--overall-length": "the overall length", "--unit": "the unit", "--front": "where forward is"}
"""What an option of the command is called on the page."""


def frame_from(given: dict[str, Any], folder: Folder) -> dict[str, Any]:
    """Return the text of a case, the name to save it by and what was found; or the faults, each with the field that it is about."""
    said = {name: str(given.get(name, "")).strip() for name in FIELDS}
    pasted = str(given.get("table", ""))
    source = said["source"] or PASTED
    try:
        front = said["front"] if said["front"] in FRONTS else "right"
        asked = LinesAsked(source, said["unit"], said["overall"], front, given.get("half") is True, said["tolerance"] or "1 mm")
        name = f"{PurePosixPath(source).stem.replace(' ', '-')}.yaml"
        lines = folder.drawing(source) if said["source"] else pasted.replace("\r\n", "\n")
        text, found = case_from_text(lines, asked, name, f"Frame of {PurePosixPath(source).name}", said["section"])
    except InputError as error:
        found_faults = [(field_of(fault.subject, fault.remedy, said), on_page(str(fault))) for fault in error.faults]
        return {"faults": [{"field": field, "said": words} for field, words in found_faults]}
    return {"text": text, "name": name, "found": found}


def on_page(words: str) -> str:
    """Return a fault with the page's fields in place of the command's options."""
    for option, field in OPTIONS.items():
        words = words.replace(option, field)
    return words


def field_of(subject: str, remedy: str, said: dict[str, str]) -> str:
    """Return the field that a fault is about."""
    if subject in FIELD_OF:
        return FIELD_OF[subject]
    if subject == said["section"]:
        return "section"
    if "--unit" in remedy or "--overall-length" in remedy:
        return "unit"
    return "front" if "--front" in remedy else "source" if said["source"] else "table"
