"""Mass, centre of gravity and inertia."""

from __future__ import annotations

import numpy as np
import pytest

from framecheck.model.frame import Frame, Member, MemberEnd, Stretch
from framecheck.vehicle.masses import LineMass, combine, frame_mass, member_lines, point_mass, scaled_payload
from tests.unit.vehicle.trucks import MASSES


def test_a_rod_about_its_middle_and_end() -> None:
    """m L2 / 12 about the middle, m L2 / 3 about the end (mechanics texts, from memory)."""
    rod = frame_mass([LineMass((0.0, 0.0, 0.0), (3.0, 0.0, 0.0), 2.0)])
    assert rod.mass == pytest.approx(6.0)
    assert np.diag(rod.inertia) == pytest.approx([0.0, 6 * 9 / 12, 6 * 9 / 12])
    heavy_end = combine([rod, point_mass(1e12, (0.0, 0.0, 0.0))])
    assert heavy_end.inertia[2, 2] == pytest.approx(6 * 9 / 3, rel=1e-6)


def test_a_rod_in_pieces_is_the_same_rod() -> None:
    whole = frame_mass([LineMass((0.0, 1.0, 0.2), (3.0, -1.0, 0.8), 2.0)])
    halves = [LineMass((0.0, 1.0, 0.2), (1.5, 0.0, 0.5), 2.0), LineMass((1.5, 0.0, 0.5), (3.0, -1.0, 0.8), 2.0)]
    pieces = frame_mass(halves)
    assert pieces.cg == pytest.approx(whole.cg)
    assert pieces.inertia == pytest.approx(whole.inertia)


def test_two_masses_balance_between_them() -> None:
    both = combine([point_mass(3.0, (0.0, 0.0, 0.0)), point_mass(1.0, (4.0, 0.0, 0.0))])
    assert both.cg == pytest.approx([1.0, 0.0, 0.0])
    assert both.inertia[1, 1] == pytest.approx(3 * 1 + 1 * 9)


def test_stretches_kinks_and_arms_of_a_member() -> None:
    points = {"a": (0.0, 0.0, 0.0), "b": (-2.0, 0.0, 0.0), "c": (-2.0, 0.0, 1.0)}
    member = Member(
        "rail", ("a", "b", "c"), (Stretch("light", 1.5), Stretch("heavy")), start=MemberEnd(arm=(0.1, 0, 0))
    )
    lines = member_lines(Frame(points, (member,), {}), {"light": 4.0, "heavy": 8.0})
    assert [line.start for line in lines] == [(0.1, 0.0, 0.0), pytest.approx((-1.4, 0.0, 0.0)), (-2.0, 0.0, 0.0)]
    assert frame_mass(lines).mass == pytest.approx(4 * 1.5 + 8 * 1.6)


def test_the_centroid_beside_the_reference_line() -> None:
    points = {"a": (0.0, 0.0, 0.0), "b": (-2.0, 0.0, 0.0)}
    frame = Frame(points, (Member("rail", ("a", "b"), (Stretch("channel"),)),), {})
    lines = member_lines(frame, {"channel": 5.0}, lambda member, section, direction: (0.0, 0.01, 0.0))
    assert frame_mass(lines).cg == pytest.approx([-1.0, 0.01, 0.0])


def test_only_the_payload_is_scaled() -> None:
    before, after = MASSES, scaled_payload(MASSES, 2.0)
    assert [new.mass / old.mass for old, new in zip(before, after, strict=True)] == [1.0, 1.0, 1.0, 1.0, 2.0]
