"""What is asked of the process that works things out, an answer to a text or a paper of it, and how it tells faults."""

from __future__ import annotations

from enum import Enum
from typing import Any

from framecheck.errors import Fault, InputError, line_number
from framecheck.rig.setup import RigKind
from framecheck.value_class import value_class

Answer = dict[str, Any]
"""Plain values alone: it goes from process to process and to the page."""


class Paper(Enum):
    """What a button hands out."""

    REPORT = "report"
    TEST_SHEET = "test sheet"
    TABLES = "tables"
    DRAWING = "drawing"


@value_class
class Asked:
    """A text and what to make of it. file: where it lies or would lie; shown_name: how it is called on paper; paper: None for the
    answer; looked_at: the path of the field that is being filled in; test: which test of the frame is part of the answer, or is on
    the sheet; tab: which page asks.
    """

    text: str
    file: str
    shown_name: str = "case.yaml"
    paper: Paper | None = None
    looked_at: tuple[str | int, ...] = ()
    test: RigKind | None = None
    tab: str = ""


def refused_words(error: InputError) -> str:
    """Return how many faults there are, in words."""
    count = len(error.faults)
    return f"The file can't be used yet: {count} {'thing is' if count == 1 else 'things are'} to be mended."


def fault_of(fault: Fault) -> dict[str, Any]:
    """Return a fault with the line it stands on (0: none) and the key it is about."""
    line = line_number(fault.place)
    key = fault.subject.split(" > ")[-1]
    return {"line": line, "key": key, "subject": fault.subject, "fault": fault.fault, "remedy": fault.remedy}
