"""Drawings of notches, bolts, welds and plates say the sizes and forces that follow by hand."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from pytest import approx

from framecheck.model.frame import Cut
from framecheck.model.joints import JointLoad
from framecheck.model.plate import BoltedPlate, Patch, PlateBolt, Press
from framecheck.model.shapes import Side
from framecheck.model.weld_joints import WeldRun
from framecheck.output.charts.chart import Area, Chart, Note
from framecheck.output.charts.sheets import bolts_chart, notch_chart, plate_chart, weld_chart
from framecheck.output.display import Units
from tests.unit.checks.joint_samples import STEEL, four_bolts, weld_group


def notes(chart: Chart) -> list[str]:
    return [mark.text for mark in chart.marks if isinstance(mark, Note)]


def test_a_notch_takes_its_rectangle_less_two_corners_out() -> None:
    """A fillet in a square corner keeps (1 - pi/4) r2 (geometry): what is drawn lacks 60 x 20 less two of radius 10."""
    chart = notch_chart(Cut("axle", Side.TOP, 1.0, 0.02, 0.06, 0.01), 0.1, Units.SI)
    ring = next(mark.rings[0] for mark in chart.marks if isinstance(mark, Area))
    x, y = ring.T
    area = abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2
    whole = float(np.ptp(x)) * 100.0
    assert whole - area == approx(60.0 * 20.0 - 2 * (1 - pi / 4) * 10.0**2, rel=2e-3)
    assert notes(chart) == ["60", "20", "100", "left 80", "R 10"]


def test_each_of_four_bolts_bears_a_quarter() -> None:
    """4 kN across and 2 kN square to the faces through the middle (elastic method): 1 kN of shear and 0.5 of pull on each."""
    said = notes(bolts_chart(four_bolts(), JointLoad("pull", (4000.0, 2000.0, 0.0)), Units.SI))
    assert [line.split(": ")[1] for line in said[:4]] == ["shear 1.00, pull 0.500 kN"] * 4
    assert said[4:] == ["80", "60"]


def test_the_throat_of_a_run_bears_its_force() -> None:
    """10 kN along 100 mm of a leg of 5: 10000 / (0.7071 x 5 x 100) = 28.28 MPa (throat: leg over root two)."""
    group = weld_group((WeldRun((-0.05, 0.0, 0.0), (0.05, 0.0, 0.0), 0.005),))
    assert notes(weld_chart(group, JointLoad("pull", (10e3, 0.0, 0.0)), Units.SI)) == ["leg 5: 28.3 MPa on the throat"]


@pytest.mark.parametrize(("used", "is_hatched"), [(0.5, False), (1.2, True)])
def test_a_plate_shows_its_bolts_the_rock_and_whether_it_misses(used: float, is_hatched: bool) -> None:
    bolt, press = PlateBolt("front", (0.3, 0.1), 0.02), Press("rock", Patch((0.2, 0.1), (0.05, 0.05)), 1000.0)
    chart = plate_chart(BoltedPlate("pan", 0.4, 0.2, 0.006, STEEL, (bolt,), loads=(press,)), "rock", used, Units.SI)
    assert notes(chart) == ["front", "the rock", "400", "200"]
    sheet = next(mark for mark in chart.marks if isinstance(mark, Area))
    assert sheet.is_hatched is is_hatched
