"""`framecheck new FILE --from DRAWING`: a first case from a frame's middle lines in a drawing or a table."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from framecheck.cli.files import library, read_text
from framecheck.errors import Fault, InputError
from framecheck.reading.centre_line_files import FRONTS, DrawingLayout, drawn_lines, listed_lines
from framecheck.reading.centre_lines import CentreLine, DrawnFrame, frame_of, mirrored
from framecheck.reading.diagnostics import Diagnostics, refuse_faults
from framecheck.reading.frame_text import StarterFrame, frame_text
from framecheck.reading.kinds import AllowedSign, QuantityKind
from framecheck.reading.line_questions import AnswerError, LineQuestion, asking
from framecheck.reading.section_file import section_named
from framecheck.reading.yamltext import Text
from framecheck.value_class import value_class

TABLES = (".csv", ".tsv", ".txt")
OPTIONS = {
    LineQuestion.UNIT: "--unit, --overall-length",
    LineQuestion.OVERALL: "--overall-length",
    LineQuestion.FRONT: "--front",
    LineQuestion.TOLERANCE: "--tolerance",
    LineQuestion.SECTION: "--made-of",
}


@value_class
class LinesAsked:
    """How a file of lines is to be read. source: its path; unit, overall, tolerance: lengths as written; front: a word of FRONTS;
    half: whether one side is drawn, the other being its mirror image."""

    source: str
    unit: str
    overall: str
    front: str
    half: bool
    tolerance: str


def case_from_lines(asked: LinesAsked, file: str, title: str, section: str) -> tuple[str, str]:
    """Return the text of a case with the frame in a file of lines, and what was found there, in a line; faults of an answer name the
    option that gives it.
    """
    try:
        return case_from_text(read_text(asked.source), asked, file, title, section)
    except AnswerError as error:
        option = OPTIONS[error.question]
        raise InputError([replace(each, remedy=f"{each.remedy} ({option})") for each in error.faults]) from None


def case_from_text(text: str, asked: LinesAsked, file: str, title: str, section: str) -> tuple[str, str]:
    """Return the text of a case with the frame in the text of a file of lines, and what was found there, in a line."""
    with asking(LineQuestion.SECTION):
        section_named(section, library())
    tolerance = length(LineQuestion.TOLERANCE, asked.tolerance)
    where = Path(asked.source).name
    lines = lines_in(text, asked, where)
    whole = mirrored(lines, tolerance) if asked.half else lines
    frame = frame_of(whole, tolerance, where)
    known = StarterFrame(title, where, Path(file).name, section, inches=asked.unit in ("", "in", "ft"))
    return frame_text(frame, known), told(frame)


def lines_in(text: str, asked: LinesAsked, where: str) -> list[CentreLine]:
    """Return the lines in a drawing or a table, by the file's ending."""
    ending = Path(asked.source).suffix.lower()
    if ending in TABLES:
        return listed_lines(text, where, asked.unit)
    if ending != ".dxf":
        raise InputError([Fault(where, "", "is neither a drawing nor a table", "give a .dxf drawing or a .csv table")])
    if bool(asked.unit) == bool(asked.overall):
        fault = "two ways to scale the drawing were given" if asked.unit else "a drawing's numbers have no unit of their own"
        remedy = "give either the unit, or the overall length, the frame's whole length along the vehicle"
        raise AnswerError([Fault(where, "", fault, remedy)], LineQuestion.UNIT)
    overall = length(LineQuestion.OVERALL, asked.overall) if asked.overall else 0.0
    return drawn_lines(text, where, DrawingLayout(asked.unit, overall, FRONTS[asked.front]))


def length(question: LineQuestion, text: str) -> float:
    """Return a length above zero that answers a question, m."""
    diagnostics = Diagnostics("", library().gauges())
    value = QuantityKind("length", AllowedSign.POSITIVE).read(Text(0, text, quoted=False), question.value, diagnostics)
    with asking(question):
        refuse_faults(diagnostics)
    return float(value)  # type: ignore[arg-type]


def told(frame: DrawnFrame) -> str:
    """Return what was found: read before the file is trusted."""
    met = f" ({frame.crossings} where lines cross)" if frame.crossings else ""
    return f"found {len(frame.points)} points{met} and {len(frame.members)} members: {', '.join(each.name for each in frame.members)}"
