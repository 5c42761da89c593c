"""Sheet on the middle of a thin wall: the wall bends under it, as a strip."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from framecheck.frame.panel.division import divided
from framecheck.frame.panel.wall_seats import wall_seats
from framecheck.reading.case_file import read_case
from tests.cases.test_sections import LIBRARY
from tests.verification.panel_files import METAL

HIGH, WALL = 100.0, 2.0


def stretched(z: float) -> float:
    """Return how far a rail's wall gives under sheet at that z, mm from its middle, in mm a N on each mm of rail."""
    points = "".join(
        f"    {side} {name}{end}: {{x: {x} mm, y: {across} mm, z: {up:.9g} mm}}\n"
        for side, y, at in (("left", 200, 170), ("right", -200, -170))
        for end, x in (("front", 1000), ("rear", 0))
        for name, across, up in (("", y, 0.0), ("sheet ", at, z))
    )
    rails = "".join(f"    - {{name: {side}, points: [{side} rear, {side} front], section: rail}}\n" for side in ("left", "right"))
    text = (
        f"title: two rails\n{METAL}sections:\n  rail: {{shape: rectangular tube, height: {HIGH} mm, width: 60 mm, wall: {WALL} mm, "
        f"material: reference steel}}\nframe:\n  points:\n{points}  members:\n{rails}  panels:\n    - {{name: floor, "
        "corners: [left sheet rear, left sheet front, right sheet front, right sheet rear], thickness: 1 mm, "
        "material: reference steel, free edges: [[left sheet front, right sheet front], [left sheet rear, right sheet rear]]}\n"
    )
    frame = read_case(text, "case.yaml", LIBRARY).frame
    seats = wall_seats(frame, divided(frame))
    assert {member for _, member in seats} == {0, 1}
    along_y = [float(np.abs(seat.ways[:, 1]) @ seat.give) for (_, member), seat in seats.items() if member == 0]
    return 1e6 / sum(1 / give for give in along_y)


@pytest.mark.parametrize("z", [0.0, 20.0, -35.0])
def test_a_wall_gives_as_a_strip_on_two_supports(z: float) -> None:
    """Load between two supports: a^2 b^2 / (3 E I L) (beam tables, from memory), E I of a plate."""
    breadth = HIGH - WALL
    a, b = breadth / 2 - z, breadth / 2 + z
    plate = 200e3 * WALL**3 / (12 * (1 - 0.3**2))
    assert stretched(z) == pytest.approx(a**2 * b**2 / (3 * plate * breadth), rel=1e-9)


def test_sheet_at_a_corner_is_held_and_comes_there_gradually() -> None:
    gives = [stretched(z) for z in np.linspace(40.0, 48.999, 10)]
    assert all(more > less for more, less in pairwise(gives))
    assert gives[-1] < 1e-6 * gives[0]
