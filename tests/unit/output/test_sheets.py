"""Drawings of notches, bolts, welds and plates say the sizes and forces that follow by hand."""

from __future__ import annotations

import re
from math import pi

import numpy as np
import pytest
from pytest import approx

from framecheck.checks.plate import solve
from framecheck.checks.plate.answer import PlateAnswer
from framecheck.frame.panel.results import PanelForces
from framecheck.model.frame import Cut
from framecheck.model.joints import JointLoad
from framecheck.model.plate import BoltedPlate, Patch, PlateBolt, Press
from framecheck.model.shapes import Side
from framecheck.model.weld_joints import WeldRun
from framecheck.output.charts.chart import INK, Area, Chart, Note, colour_of
from framecheck.output.charts.panel_sheet import panel_chart
from framecheck.output.charts.plate_sheet import moved_of, plate_chart
from framecheck.output.charts.room import Pixels
from framecheck.output.charts.sheets import bolts_chart, notch_chart
from framecheck.output.charts.square_on import looking_along, way_words
from framecheck.output.charts.weld_sheet import weld_chart
from framecheck.output.display import Units
from tests.unit.checks.joint_samples import STEEL, four_bolts, weld_group

SIZE = Pixels(860.0, 430.0)


def notes(chart: Chart) -> list[str]:
    return [mark.text for mark in chart.marks if isinstance(mark, Note)]


def test_a_notch_takes_its_rectangle_less_two_corners_out() -> None:
    """A fillet in a square corner keeps (1 - pi/4) r2 (geometry): what is drawn lacks 60 x 20 less two of radius 10."""
    chart = notch_chart(Cut("axle", Side.TOP, 1.0, 0.02, 0.06, 0.01), 0.1, Units.SI, is_below=False)
    ring = next(mark.rings[0] for mark in chart.marks if isinstance(mark, Area))
    x, y = ring.T
    area = abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2
    whole = float(np.ptp(x)) * 100.0
    assert whole - area == approx(60.0 * 20.0 - 2 * (1 - pi / 4) * 10.0**2, rel=2e-3)
    assert notes(chart) == ["60", "20", "100", "80 remains", "R 10"]


def test_a_notch_in_the_bottom_is_drawn_below() -> None:
    """The same member and notch upside down: each height with the other sign (a mirror in the member's line)."""
    cut = Cut("axle", Side.TOP, 1.0, 0.02, 0.06, 0.01)
    above, below = (notch_chart(cut, 0.1, Units.SI, is_below=each) for each in (False, True))
    rings = [next(mark.rings[0] for mark in each.marks if isinstance(mark, Area)) for each in (above, below)]
    assert rings[1] == approx(rings[0] * (1.0, -1.0))
    assert notes(below) == notes(above)


def test_each_of_four_bolts_bears_a_quarter() -> None:
    """4 kN across and 2 kN square to the faces through the middle (elastic method): 1 kN of shear and 0.5 of pull on each."""
    said = notes(bolts_chart(four_bolts(), JointLoad("pull", (4000.0, 2000.0, 0.0)), Units.SI, SIZE))
    assert said[:6] == ["80", "60", "rear", "front", "up", "down"]
    assert [line.split(": ")[1] for line in said[6:]] == ["1.00 / 0.500"] * 4


def test_rounding_is_no_force_on_a_bolt() -> None:
    """A push along the plane leaves no pull at all (statics), not 1e-14."""
    said = notes(bolts_chart(four_bolts(), JointLoad("push", (4000.0, 1e-9, 0.0)), Units.SI, SIZE))
    assert [line.split(": ")[1] for line in said[6:]] == ["1.00 / 0"] * 4


@pytest.mark.parametrize(
    ("facing", "words"),
    [
        ((0.0, 1.0, 0.0), ("rear", "up")),  # from the left of the vehicle its front is at the left hand
        ((0.0, -1.0, 0.0), ("rear", "up")),
        ((1.0, 0.0, 0.0), ("left", "up")),  # from in front its left is at the right hand
        ((0.0, 0.0, 1.0), ("front", "left")),  # a plan
    ],
)
def test_a_picture_says_which_way_of_the_vehicle_is_right_and_up(facing: tuple[float, ...], words: tuple[str, str]) -> None:
    """Axes of ISO 8855: x forward, y left, z up; right, up and to the eye are right-handed."""
    look = looking_along(np.array(facing))
    assert np.cross(look.right, look.up) == approx(look.facing)
    assert (way_words(look.right), way_words(look.up)) == words


def test_the_throat_of_a_run_bears_its_force() -> None:
    """10 kN along 100 mm of a leg of 5: 10000 / (0.7071 x 5 x 100) = 28.28 MPa (throat: leg over root two)."""
    group = weld_group((WeldRun((-0.05, 0.0, 0.0), (0.05, 0.0, 0.0), 0.005),))
    assert "leg 5: 28.3 MPa" in notes(weld_chart(group, JointLoad("pull", (10e3, 0.0, 0.0)), Units.SI, SIZE))


def test_a_moment_bends_a_single_run_from_end_to_end() -> None:
    """Force per length of a line of length L under a moment M: 6 M / L2 at its ends, none in its middle (statics of a straight
    distribution): 100 Nm on 100 mm, leg 5: 60 000 N/m over 3.536 mm is 16.97 MPa. Legs are drawn to scale.
    """
    group = weld_group((WeldRun((-0.05, 0.0, 0.0), (0.05, 0.0, 0.0), 0.005),))
    chart = weld_chart(group, JointLoad("bend", (0.0, 0.0, 0.0), (0.0, 100.0, 0.0)), Units.SI, SIZE)
    assert "leg 5: 0 to 17.0 MPa" in notes(chart)
    outline = next(mark.rings[0] for mark in chart.marks if isinstance(mark, Area) and mark.edge == INK)
    assert np.ptp(outline, axis=0) == approx((100.0, 5.0))


def plated(gap: float | None, force: float) -> PlateAnswer:
    bolts = tuple(PlateBolt(f"b{x}{y}", (x, y), 0.02) for x in (0.02, 0.38) for y in (0.02, 0.18))
    press = Press("rock", Patch((0.2, 0.1), (0.05, 0.05)), force)
    return solve(BoltedPlate("pan", 0.4, 0.2, 0.003, STEEL, bolts, gap=gap, loads=(press,)))


def test_a_plate_is_coloured_by_the_gap_it_uses() -> None:
    """What the plate moves in the middle is its deflection; the gap less it is left. Twice the load: twice the way (linear theory)."""
    answer = plated(0.02, 500.0)
    (load,) = answer.loads
    chart = plate_chart(answer, load, Units.SI, SIZE)
    (told,) = [each for each in notes(chart) if each.startswith("moves")]
    moved, left = (float(word) for word in re.findall(r"[0-9.]+", told))
    assert moved == approx(1e3 * load.upward, rel=0.01)
    assert moved + left == approx(20.0, abs=0.06)  # in the three digits shown
    twice = plated(0.02, 1000.0)
    ups = [moved.up for each in (answer, twice) if (moved := moved_of(each, each.loads[0], Units.SI)) is not None]
    assert ups[1] == approx(2 * ups[0])
    assert not any(mark.is_hatched for mark in chart.marks if isinstance(mark, Area))


def test_a_plate_that_touches_is_hatched_there_and_without_a_pan_it_has_no_colours() -> None:
    close = plated(0.0002, 500.0)
    chart = plate_chart(close, close.loads[0], Units.SI, SIZE)
    assert any(mark.is_hatched for mark in chart.marks if isinstance(mark, Area))
    assert any(each.endswith("touches") for each in notes(chart))
    unknown = plated(None, 500.0)
    bare = plate_chart(unknown, unknown.loads[0], Units.SI, SIZE)
    assert bare.scale is None
    assert not any("left" in each for each in notes(bare) if each.startswith("moves"))


def test_sheet_in_even_shear_uses_alike_all_over() -> None:
    """Pure shear q = tau t: von Mises' stress is root three times tau (R. von Mises, 1913): 57.7 MPa gives 100 MPa of 200 allowed."""
    square = np.array([(0.0, 0.0, 0.0), (0.5, 0.0, 0.0), (0.5, 0.5, 0.0), (0.0, 0.5, 0.0)])
    corners = np.array([square + np.array([x, y, 0.0]) for x in (0.0, 0.5) for y in (0.0, 0.5)])
    forces = np.zeros((4, 4, 1, 3))
    forces[..., 2] = 100e6 / np.sqrt(3) * 0.001
    rim = np.array([(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0), (0.0, 1.0, 0.0)])
    none = np.zeros((0, 1))
    panel = PanelForces("floor", 0.001, corners, np.eye(3), forces, rim, np.zeros((4, 1, 3)), np.full(4, 0.25), np.ones((1, 2)),
                        np.ones((4, 4)), none)  # fmt: skip
    chart = panel_chart(panel, 0, 200e6, Units.SI, SIZE)
    cells = [mark for mark in chart.marks if isinstance(mark, Area) and mark.colour != "none"]
    assert {each.colour for each in cells} == {colour_of(0.5)}
    assert "100 MPa" in notes(chart)
    assert notes(chart)[:6] == ["1000", "1000", "front", "rear", "left", "right"]
