"""Stretches of members and sides of sections."""

from __future__ import annotations

import numpy as np
import pytest
from pytest import approx

from framecheck.checks.member_stress import gathered, on_side
from framecheck.model.frame import Orientation
from framecheck.model.shapes import Side
from tests.unit.checks.members import channel, outcome, row, tube

BOX, CHANNEL = tube(0.1, 0.05, 0.003), channel(0.1, 0.05, 0.003)


@pytest.mark.parametrize(
    ("orientation", "web_on"),
    [
        (Orientation(), Side.LEFT),
        (Orientation(1), Side.TOP),  # the letter C then opens downward
        (Orientation(2), Side.RIGHT),
        (Orientation(3), Side.BOTTOM),
        (Orientation(0, True), Side.RIGHT),
        (Orientation(1, True), Side.BOTTOM),
    ],
)
def test_the_web_of_a_turned_channel(orientation: Orientation, web_on: Side) -> None:
    # model.frame.Orientation: mirrored first, then turned right-handed about member x, +y to +z
    assert orientation.own_side(web_on) is Side.LEFT


def test_sides_of_a_channel() -> None:
    fields = CHANNEL.fields
    assert fields is not None
    y = fields.points[:, 0]
    assert np.all(y[on_side(CHANNEL, fields, Side.LEFT)] > y.max() - 1e-3)
    assert on_side(CHANNEL, fields, None).all()


def test_forces_between_stations_vary_straight() -> None:
    forces = np.stack([row(Mv=0.0), row(Mv=100.0), row(Mv=100.0), row(Mv=50.0)])[:, None]
    line = outcome((BOX, BOX, CHANNEL, CHANNEL), forces, (0.0, 1.0, 1.0, 2.0)).solutions[0].members[0]
    (first, places, moments), (second, *_) = gathered(line, 0.25, 1.5)
    assert (first, second) == (BOX, CHANNEL)
    assert places == approx([0.25, 1.0])
    assert moments[:, 0, 4] == approx([25.0, 100.0])
    (only,) = gathered(line, 0.5, 0.5)
    assert only[2][:, 0, 4] == approx([50.0, 50.0])
