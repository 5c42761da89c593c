"""Which members buckle as one, and the metals' curves."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest
from pytest import approx

from framecheck.checks.lateral_buckling.curves import CURVES, MetalKind, kind_of, reduction
from framecheck.checks.lateral_buckling.lengths import brace_stations, chains_of, members_at
from framecheck.model.frame import Frame, Make, Member, MemberEnd, Stretch

PLACES = {
    "a": (0.0, 0.0, 0.0), "b": (1.0, 0.0, 0.0), "c": (3.0, 0.0, 0.0),
    "d": (4.0, 0.5, 0.0), "e": (4.0, 3.0, 0.0), "f": (1.0, 1.0, 0.0),
}  # fmt: skip
PINNED, UNSAID = MemberEnd(Make.PINNED), MemberEnd()


def member(name: str, points: str, start: MemberEnd = UNSAID, end: MemberEnd = UNSAID) -> Member:
    return Member(name, tuple(points), (Stretch("s"),), start=start, end=end)


def test_members_end_to_end_are_one_whichever_way_they_are_written() -> None:
    frame = Frame(PLACES, (member("one", "ab"), member("two", "cb"), member("three", "cd"), member("turned", "de")), {})
    chain = chains_of(frame)[1]
    assert chain.members == (0, 1, 2)
    assert chain.backward == (False, True, False)
    assert chain.points(frame) == ("a", "b", "c", "d")
    assert chain.stations(frame) == approx({"a": 0.0, "b": 1.0, "c": 3.0, "d": 3.0 + sqrt(1.25)})
    assert chains_of(frame)[3].members == (3,)  # it turns by 63 degrees


def test_a_hinge_or_a_third_member_parts_them() -> None:
    hinged = Frame(PLACES, (member("one", "ab", end=PINNED), member("two", "bc")), {})
    assert chains_of(hinged)[0].members == (0,)
    met = Frame(PLACES, (member("one", "ab"), member("two", "bc"), member("cross", "bf")), {})
    assert {chain.members for chain in chains_of(met).values()} == {(0,), (1,), (2,)}


def test_a_point_where_two_members_go_on_is_no_brace() -> None:
    frame = Frame(PLACES, (member("one", "ab"), member("two", "bc"), member("cross", "ce")), {})
    assert brace_stations(frame, chains_of(frame)[0], members_at(frame)) == [3.0]


def test_a_ring_is_no_chain() -> None:
    places = {"a": (0.0, 0.0, 0.0), "b": (1.0, 0.1, 0.0), "c": (2.0, 0.0, 0.0)}
    frame = Frame(places, (member("one", "ab"), member("two", "bc"), member("three", "ca")), {})
    assert all(len(chain.members) <= 2 for chain in chains_of(frame).values())


@pytest.mark.parametrize(("slenderness", "chi"), [(0.5, 0.8319), (1.0, 0.5721), (2.0, 0.2080)])
def test_aluminium_columns_of_class_b(slenderness: float, chi: float) -> None:
    # EN 1999-1-1:2007, 6.3.1.2, class B (alpha 0.32, lambda 0 = 0; from memory), by hand: phi 0.705, 1.16, 2.82;
    # chi = 1 / (0.705 + 0.49702), 1 / (1.16 + 0.58788), 1 / (2.82 + 1.98806)
    elastic = np.array([240e6 / slenderness**2])
    assert float(CURVES[MetalKind.ALUMINIUM].column(240e6, elastic)[0]) / 240e6 == approx(chi, abs=1e-4)


def test_curves_never_exceed_euler_or_yield_and_fall() -> None:
    slender = np.linspace(0.01, 5.0, 200)
    for metal in MetalKind:
        column = CURVES[metal].column(1.0, 1 / slender**2)
        assert (column <= np.minimum(1.0, 1 / slender**2) + 1e-12).all()
        assert (np.diff(column) <= 1e-12).all()
    assert (reduction(slender, 0.76, 0.0) <= reduction(slender, 0.32, 0.0)).all()


def test_a_metal_without_rules_gets_the_worst_curve() -> None:
    assert kind_of("titanium") is MetalKind.OTHER
    elastic = np.array([100e6])
    least = CURVES[MetalKind.OTHER].column(240e6, elastic)
    assert all(float(least[0]) <= float(CURVES[metal].column(240e6, elastic)[0]) for metal in MetalKind)
