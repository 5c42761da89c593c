"""A frame from a drawing of its middle lines, or from a table that is pasted or lies in the folder, for the page."""

from __future__ import annotations

from pathlib import PurePosixPath
from typing import Any

from framecheck.bench.files import Folder
from framecheck.cli.frame_from_lines import LinesAsked, case_from_text
from framecheck.errors import InputError
from framecheck.reading.centre_line_files import FRONTS
from framecheck.reading.line_questions import AnswerError, LineQuestion

PASTED = "pasted table.csv"
FIELDS = ("source", "unit", "overall", "front", "tolerance", "section", "table")
FIELD_OF = {
    LineQuestion.UNIT: "unit",
    LineQuestion.OVERALL: "overall",
    LineQuestion.FRONT: "front",
    LineQuestion.TOLERANCE: "tolerance",
    LineQuestion.SECTION: "section",
}
"""Which field answers a question; all other faults are about the drawing or the table itself."""


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
        own = "source" if said["source"] else "table"
        field = FIELD_OF[error.question] if isinstance(error, AnswerError) else own
        return {"faults": [{"field": field, "said": str(fault)} for fault in error.faults]}
    return {"text": text, "name": name, "found": found}
