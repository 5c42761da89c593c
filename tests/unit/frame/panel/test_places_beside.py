"""Panels that share a node a hair apart: each moves as its own place does, so that a hair times a turn loads no sheet."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from framecheck.frame.panel.legs import legs_of_member
from framecheck.frame.solve import solve_frame
from framecheck.model.arrays import Array
from framecheck.model.case import Case
from framecheck.run import all_loads, prepare
from framecheck.vehicle.load_cases import all_vehicle_loads
from tests.memory import SHARED
from tests.unit.results.cases import case_of


def pressed(case: Case) -> Array:
    """Return what presses the widest field of the bulkhead's side both ways, N/m."""
    prepared = prepare(case, SHARED)
    loads = all_loads(case, prepared.frame, all_vehicle_loads(case, prepared.frame))
    cornering = next(each for each in loads if each.name == "cornering right")
    return solve_frame(prepared.structures[0], [cornering]).panels["right rear bulkhead"].of_bays()[0][0]


def test_sheet_feels_no_hair_between_two_panels_at_one_node() -> None:
    """The wheel house's corner is the bulkhead's too: 0.02 mm of it moved what presses the bulkhead by 6 %."""
    case = case_of("coast-coupe")
    x, y, z = case.frame.points["right quarter front"]
    points = {**case.frame.points, "right quarter front": (x - 2e-5, y, z)}
    before, after = pressed(case), pressed(replace(case, frame=replace(case.frame, points=points)))
    counted = np.abs(before) > 0.05 * np.abs(before).max()
    assert counted.any()
    assert after[counted] == pytest.approx(before[counted], rel=1e-2)


def test_legs_of_a_member_meet_at_one_station_however_an_arm_moves_the_first() -> None:
    """The gearbox bracket's start stands on the rail's face: the floor hung 0.03 mm beside its point there, and its left end alone."""
    frame = prepare(case_of("coast-coupe"), SHARED).structures[0].frame
    for number, member in enumerate(frame.members):
        legs = legs_of_member(frame, number)
        for one, other in pairwise(legs):
            if (one.end - one.start) @ (other.start - np.array(frame.points[member.points[0]])) > 0:
                assert one.station + one.length == pytest.approx(other.station, abs=1e-9), member.name
