"""A crossmember that is written by its points slides along its rails: expected places by hand, on the straight line of each rail."""

from __future__ import annotations

import pytest

from framecheck.bench.document import data_of, with_moved
from framecheck.bench.handles import Handle, handles_of
from framecheck.reading.case_file import read_case
from tests.cases.test_sections import LIBRARY

INCH = 0.0254
FRAME = """title: by points
targets: {{safety factor: 1.5}}
frame:
  points:
    l1: {{x: 60 in, y: 15 in, z: 20 in}}   # comments stay
    l2: {{x: 10 in, y: {left} in, z: 20 in}}
    l3: {{x: -40 in, y: {rear} in, z: 20 in}}
    r1: {{x: 1524 mm, y: -381 mm, z: 508 mm}}
    r2: {{x: 254 mm, y: -381 mm, z: 508 mm}}
    r3: {{x: -1016 mm, y: -381 mm, z: 508 mm}}
    mount: {{x: 10 in{y}, z: 20 in}}
  members:
    - {{name: left rail, points: [l1, l2, l3], section: tube 4 x 2 x 3/16 in}}
    - {{name: right front, points: [r1, r2], section: tube 4 x 2 x 3/16 in}}
    - {{name: right rear, points: [r2, r3], section: tube 4 x 2 x 3/16 in}}
    - {{name: front cross, points: [l1, r1], section: tube 2 x 2 x 11 ga}}
    - {{name: middle, points: [l2, mount, r2], section: tube 2 x 2 x 11 ga}}
{more}  supports:
    - {{point: l1, held: place}}
    - {{point: r1, held: [x, z]}}
    - {{point: l3, held: [z]}}
    - {{point: r3, held: [z]}}
load cases:
  - weight: {{own weight: 1, forces: [{{point: {loaded}, force: {{z: -100 lb}}}}]}}
"""
STRAIGHT, SLANTED = (15, 15), (16, 17)


def text_of(sides: tuple[float, float] = STRAIGHT, more: str = "", loaded: str = "mount", y: str = ", y: 0 in") -> str:
    return FRAME.format(left=sides[0], rear=sides[1], more=more, loaded=loaded, y=y)


def handle(text: str, name: str = "middle") -> Handle | None:
    frame = read_case(text, "x.yaml", LIBRARY).frame
    return next((each for each in handles_of(frame, data_of(text)) if each.name == name), None)


@pytest.mark.parametrize("sides", [STRAIGHT, SLANTED])
def test_both_ends_and_what_is_on_it_slide_along_the_rails(sides: tuple[float, float]) -> None:
    text = text_of(sides)
    found = handle(text)
    assert found is not None
    assert not found.held
    moved = with_moved(text, found.moves, -4.02 * INCH)
    points = read_case(moved, "x.yaml", LIBRARY).frame.points
    slope = (sides[0] - 15) / -50  # of the left rail: y for each inch of x
    assert points["l2"] == pytest.approx((6 * INCH, (sides[0] - 4 * slope) * INCH, 20 * INCH), abs=2e-6)
    assert points["r2"] == pytest.approx((6 * INCH, -15 * INCH, 20 * INCH), abs=2e-6)
    assert points["mount"][0] == pytest.approx(6 * INCH, abs=1e-5)
    assert "x: 6 in" in moved
    assert "x: 152.4 mm" in moved
    assert "# comments stay" in moved
    again = handle(moved)
    assert again is not None
    assert not again.held  # the rail is straight still


def test_it_stops_before_the_rails_next_points() -> None:
    found = handle(text_of())
    assert found is not None
    assert found.reach == pytest.approx((-50 * INCH + 0.025, 50 * INCH - 0.025), abs=1e-9)


BRACE = "    - {name: brace, points: [l3, r2], section: tube 2 x 2 x 11 ga}\n"
HANGER = "    - {name: hanger, points: [mount, l3], section: tube 2 x 2 x 11 ga}\n"


@pytest.mark.parametrize(
    ("text", "name", "why"),
    [
        (text_of(more=BRACE), "middle", "'r2' belongs to right front, right rear, brace too"),
        (text_of(more=HANGER), "middle", "'mount' belongs to hanger too"),
        (text_of(), "front cross", "left rail ends at 'l1'"),
        (text_of((17, 17)), "middle", "the rail turns at 'l2'"),
        (text_of(SLANTED, y=""), "middle", "frame > points > mount > y is not written and would change"),
        (text_of(loaded="r2"), "middle", "'r2' is used in load cases > 1 > weight > forces too"),
    ],
)
def test_one_that_would_take_others_along_stays_and_says_why(text: str, name: str, why: str) -> None:
    found = handle(text, name)
    assert found is not None
    assert (found.held, found.moves) == (why, ())


@pytest.mark.parametrize("name", ["left rail", "right rear"])
def test_a_rail_is_no_crossmember(name: str) -> None:
    assert handle(text_of(), name) is None
