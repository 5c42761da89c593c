"""A section is looked at as it sits in the vehicle, whichever way its member was drawn. ISO 8855: x forward, y left, z up."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from framecheck.frame.results import MemberForces
from framecheck.model.frame import Orientation
from framecheck.results.places import found_at, section_view
from framecheck.results.row import Check, Mode
from framecheck.results.subjects import Subject, Thing
from tests.unit.output.samples import FRAME, forces, results, row

FORWARD, REARWARD = np.eye(3), np.diag([-1.0, -1.0, 1.0])
LEFTWARD = np.array([[0.0, 1.0, 0.0], [-1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
"""A member's x, y, z in vehicle axes, z up: y = z cross x."""
LEFT_RAIL = FRAME.members[0]


def along(axes: np.ndarray) -> MemberForces:
    return replace(forces("left rail", 0.0), axes=np.stack([axes, axes]))


@pytest.mark.parametrize(("axes", "right"), [(FORWARD, (-1.0, 0.0)), (REARWARD, (1.0, 0.0)), (LEFTWARD, (1.0, 0.0))])
def test_left_of_the_vehicle_or_front_stands_at_the_left(axes: np.ndarray, right: tuple[float, float]) -> None:
    """Of a rail drawn forward, y is to the left: right on paper is -y; drawn rearward y is to the right. Across: front at the left,
    where y of a member drawn to the left points to the rear.
    """
    view = section_view(LEFT_RAIL, along(axes), 0)
    assert view.turn @ np.array([1.0, 0.0]) == approx(np.array(right))
    assert view.turn @ np.array([0.0, 1.0]) == approx(np.array([0.0, 1.0]))


def test_a_turned_and_a_mirrored_section_are_drawn_so() -> None:
    """A quarter turn takes +y to +z: what was at the left of the letter C stands on top; mirrored, left is right."""
    turned = replace(LEFT_RAIL, orientation=Orientation(quarter_turns=1))
    assert section_view(turned, along(FORWARD), 0).turn @ np.array([1.0, 0.0]) == approx(np.array([0.0, 1.0]))
    mirrored = replace(LEFT_RAIL, orientation=Orientation(mirrored=True))
    assert section_view(mirrored, along(FORWARD), 0).turn @ np.array([1.0, 0.0]) == approx(np.array([1.0, 0.0]))


def test_a_place_on_a_member_and_at_a_point_are_found() -> None:
    """The left rail runs 1 m along x; its end moves 2 mm down in the bump, its middle 1 mm."""
    outcome = results().outcome
    of_member = replace(row(Check.YIELD, Subject(Thing.MEMBER, "left rail"), "bump", 2.0, Mode.FIRST_YIELD), station=0.5)
    found = found_at(outcome, of_member, 0, 1)
    assert found is not None
    assert (found.place.tolist(), found.moved.tolist()) == ([0.5, 0.0, 0.0], [0.0, 0.0, -0.001])
    of_end = row(Check.FACE, Subject(Thing.MEMBER_END, "left rail", "b"), "bump", 2.0, Mode.FACE_FOLDS)
    at_point = found_at(outcome, of_end, 0, 1)
    assert at_point is not None
    assert at_point.place.tolist() == [1.0, 0.0, 0.0]
    assert found_at(outcome, row(Check.PLATE, Subject(Thing.PLATE, "pan"), "bump", 2.0, Mode.PLATE_BENDS), 0, 1) is None
