"""What is asked of the process that works things out: an answer to a text, or a paper of it."""

from __future__ import annotations

from enum import Enum

from framecheck.value_class import value_class


class Paper(Enum):
    """What a button hands out."""

    REPORT = "report"
    TEST_SHEET = "test sheet"
    TABLES = "tables"
    DRAWING = "drawing"


@value_class
class Asked:
    """A text and what to make of it. file: where it lies or would lie; shown_name: how it is called on paper; paper: None for the
    answer; looked_at: the path of the field that is being filled in; with_test: whether a test of the frame is part of the answer;
    tab: which page asks.
    """

    text: str
    file: str
    shown_name: str = "case.yaml"
    paper: Paper | None = None
    looked_at: tuple[str | int, ...] = ()
    with_test: bool = False
    tab: str = ""
