"""What is asked beside a file of lines, and faults that are about one of these answers and not about the file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from enum import Enum

from framecheck.errors import Fault, InputError


class LineQuestion(Enum):
    """How a drawing or a table is to be read."""

    UNIT = "the unit"
    OVERALL = "the overall length"
    FRONT = "where forward is"
    TOLERANCE = "the tolerance"
    SECTION = "the section"


class AnswerError(InputError):
    """Faults of one answer. question: to what."""

    def __init__(self, faults: Sequence[Fault], question: LineQuestion) -> None:
        super().__init__(faults)
        self.question = question


@contextmanager
def asking(question: LineQuestion) -> Iterator[None]:
    """Tell what is refused within as faults of the answer to a question."""
    try:
        yield
    except InputError as error:
        raise AnswerError(error.faults, question) from None
