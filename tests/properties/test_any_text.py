"""Whatever is done to a case file, the answer is a case or faults with their places: never a crash, never a silent half."""

from __future__ import annotations

import re
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from framecheck.errors import Fault, InputError
from framecheck.model.case import Case
from tests.unit.reading.shop import LIBRARY, TRUCK, read_case
from tests.unit.reading.test_beyond_yield import FATIGUE, JOINTS, PLATES

WHOLE = TRUCK + JOINTS + FATIGUE + PLATES
VALUE = re.compile(r": ([^{\[\n,}]+)")
JUNK = (
    "",
    "no",
    "[]",
    "{}",
    "-1 in",
    "0 in",
    "nan",
    "1e999 in",
    "left tail",
    "~",
    "[a, b]",
    "{x: 1 in}",
    "1/0 in",
    '"',
    "*x",
    "rails",
)
LETTERS = "{}[]:,\"'\t#&*!|>%@`-\n 9"


def damaged(text: str, chance: Random) -> str:
    """Return the text with a line gone, a value replaced, or a letter changed."""
    kind = chance.random()
    if kind < 0.3:
        lines = text.split("\n")
        del lines[chance.randrange(len(lines))]
        return "\n".join(lines)
    if kind < 0.8:
        value = chance.choice(list(VALUE.finditer(text)))
        return text[: value.start(1)] + chance.choice(JUNK) + text[value.end(1) :]
    at = chance.randrange(len(text))
    return text[:at] + chance.choice(LETTERS) + text[at + 1 :]


def faults_of(text: str) -> tuple[Fault, ...]:
    """Return the faults of a text, none where it is a case."""
    try:
        assert isinstance(read_case(text, "any.yaml", LIBRARY), Case)
    except InputError as error:
        return error.faults
    return ()


def well_told(fault: Fault) -> bool:
    """Return whether a fault says where, what, and what would do."""
    return bool(re.fullmatch(r"any\.yaml:\d+", fault.place) and fault.fault and fault.remedy)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 2**32), st.integers(1, 3))
def test_a_damaged_case_is_read_or_refused(seed: int, times: int) -> None:
    chance, text = Random(seed), WHOLE
    for _ in range(times):
        text = damaged(text, chance)
    assert all(map(well_told, faults_of(text)))


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=200))
def test_any_text_is_refused_with_its_line(text: str) -> None:
    told = faults_of(text)
    assert told
    assert all(map(well_told, told))
