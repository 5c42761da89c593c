"""No row of a case jumps with a hair more of a wall: sections, joints, notches and checks are continuous between nominal sizes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED

MEMORY = SHARED
CASES = Path(__file__).parents[2] / "cases"
STEP, MOVES = 1e-7, 1e-4
Key = tuple[str, str, str, str | None, str]


def used(text: str) -> dict[Key, float]:
    """Return the largest demand over capacity of each check, mode, subject, part and load case."""
    found: dict[Key, float] = {}
    for row in run(read_case(text, "case.yaml", LIBRARY), MEMORY).rows:
        key = (row.check.name, row.mode.name, repr(row.subject), row.load_case, row.part)
        found[key] = max(found.get(key, 0.0), row.demand / row.capacity if row.capacity else 0.0)
    return found


@pytest.mark.parametrize(("case", "wall_mm"), [("hill-truck", 4.2914), ("hill-truck", 5.8266), ("notched-rail", 3.9816)])
def test_a_hair_more_of_a_wall_moves_no_row(case: str, wall_mm: float) -> None:
    """Walls at which, as it was, up to 15 rows moved by more than 1e-4; none of them is a nominal one."""
    text = (CASES / f"{case}.yaml").read_text(encoding="utf-8")
    assert re.search(r"^ +wall: .*$", text, re.MULTILINE)

    def with_wall(wall: float) -> dict[Key, float]:
        return used(re.sub(r"^( +)wall: .*$", rf"\g<1>wall: {wall!r} mm", text, count=1, flags=re.MULTILINE))

    before, after = with_wall(wall_mm), with_wall(wall_mm * (1 + STEP))
    assert before.keys() == after.keys()
    assert {key: (before[key], after[key]) for key in before if after[key] != pytest.approx(before[key], rel=MOVES)} == {}


def test_a_hair_more_between_a_plates_points_moves_no_row() -> None:
    """A crossmember's point a hair further out: 74 rows moved, the worst 8-fold: read past an armed length."""
    text, seat = (CASES / "skid-plate.yaml").read_text(encoding="utf-8"), "middle left seat, y: 11 in"
    assert text.count(seat) == 1
    before, after = used(text), used(text.replace(seat, f"middle left seat, y: {11 * (1 + 1e-6)!r} in"))
    assert before.keys() == after.keys()
    assert {key: (before[key], after[key]) for key in before if after[key] != pytest.approx(before[key], rel=MOVES)} == {}
