"""A body told by its stiffness alone, beside the drawn members."""

from __future__ import annotations

from collections.abc import Mapping
from math import degrees
from typing import Any

import pytest

from tests.unit.reading.test_broken import faults_of
from tests.verification.manual import FrontDoor, Held, Kind, proof
from tests.verification.panel_files import forces

BODY = "  stated body: {corners: [lf, rf, lr, rr], middle: [lm, rm], torsion: 2000 N·m/deg, bending: 3 kN/mm, source: stated}\n"


def ladder(body: str) -> str:
    """Return two rails and two crossmembers, twisted at their corners and pressed at mid length."""
    points = {
        f"{side}{end}": (x, y)
        for side, y in (("l", 400), ("r", -400))
        for end, x in (("f", 2000), ("m", 900), ("r", 0))
    }
    rows = "".join(f"    {name}: {{x: {x} mm, y: {y} mm}}\n" for name, (x, y) in points.items())
    members = (("left", "lf, lm, lr"), ("right", "rf, rm, rr"), ("front", "lf, rf"), ("rear", "lr, rr"))
    drawn = "".join(
        f"    - {{name: {name}, points: [{along}], section: rail, ends: rigid}}\n" for name, along in members
    )
    twist = forces({"lf": 1000, "rf": -1000, "lr": -1000, "rr": 1000})
    press = forces({"lm": -1000, "rm": -1000, "lf": 450, "rf": 450, "lr": 550, "rr": 550})
    tube = "{shape: rectangular tube, height: 80 mm, width: 50 mm, wall: 3 mm, material: A500 grade B}"
    held = "".join(
        f"    - {{point: {point}, held: [{ways}]}}\n"
        for point, ways in (("lr", "x, y, z"), ("rr", "x, z"), ("lf", "z"))
    )
    loads = f"load cases:\n  - twist: {{forces: {twist}}}\n  - press: {{forces: {press}}}\n"
    start = f"title: a stated body\nsections: {{rail: {tube}}}\nframe:\n  points:\n"
    return f"{start}{rows}  members:\n{drawn}{body}  supports:\n{held}{loads}"


def stiffnesses(written: Mapping[str, Any]) -> list[tuple[float, float]]:
    """Return, of each bound, the couple of 800 Nm over the twist, Nm/deg, and 2000 N over the movement midway, kN/mm."""
    found = []
    for bound in [each["bound"] for each in written["bounds"]]:
        rows = {row["name"]: row["points"] for row in written["load_cases"] if row["bound"] == bound}

        def up(case: str, point: str, rows: Mapping[str, Any] = rows) -> float:
            return float(rows[case][point]["displacement_m"][2])

        turn = (up("twist", "lf") - up("twist", "rf") - up("twist", "lr") + up("twist", "rr")) / 0.8
        ends = 0.45 * (up("press", "lf") + up("press", "rf")) + 0.55 * (up("press", "lr") + up("press", "rr"))
        sag = (ends - up("press", "lm") - up("press", "rm")) / 2
        found.append((800 / degrees(turn), 2000 / (1e6 * sag)))
    return found


@proof(Kind.DERIVED)
def test_a_stated_body_stands_beside_the_frame(held: Held, front_door: FrontDoor) -> None:
    """Springs side by side add up: the frame's own stiffness against the same loads, plus what is stated."""
    ((twist, press),) = stiffnesses(front_door(ladder("")))
    ((both, pressed),) = stiffnesses(front_door(ladder(BODY)))
    held(both - twist, 2000.0, rel=1e-6)
    held(pressed - press, 3.0, rel=1e-6)


@proof(Kind.DERIVED)
def test_both_ends_of_a_range_are_solved(held: Held, front_door: FrontDoor) -> None:
    """Springs side by side add up, at either end of the range."""
    ((twist, _),) = stiffnesses(front_door(ladder("")))
    written = front_door(ladder(BODY.replace("torsion: 2000 N·m/deg", "torsion: [4000 N·m/deg, 0 N·m/deg]")))
    assert [each["bound"] for each in written["bounds"]] == ["the body at its softest", "the body at its stiffest"]
    (soft, _), (stiff, _) = stiffnesses(written)
    held(soft, twist, rel=1e-9)
    held(stiff - twist, 4000.0, rel=1e-6)
    assert {each["what"] for each in written["verdict"]["open"]} >= {"panels of sheet"}


ORDER = "its corners are not left front, right front, left rear and right rear; write them in that order"


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (
            "[lf, rf, lr, rr]",
            "[rf, lf, lr, rr]",
            ORDER,
        ),
        (", bending: 3 kN/mm", "", "'bending' and 'middle' go together; write both, or neither"),
    ],
)
def test_a_body_that_cannot_be_is_refused(old: str, new: str, message: str) -> None:
    told = faults_of(ladder(BODY.replace(old, new)))
    assert [each for each in told if each.endswith(f"frame > stated body: {message}")]
