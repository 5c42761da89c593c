"""The twist of a member in itself, from the torsion it carries, against closed forms and the solved turn of its end."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from framecheck.frame.results import Bound, Warping, most_twisted, own_twist
from framecheck.model.frame import Orientation
from tests.unit.frame.frames import bar, held, push, section, solved

ENDS = {"a": (0.0, 0.0, 0.0), "b": (2.0, 0.0, 0.0)}
G, J, LENGTH, TORQUE = 80e9, 8e-7, 2.0, 500.0


def test_a_shaft_turns_by_torque_times_length_over_gj() -> None:
    """T L / (G J), Saint-Venant: any handbook."""
    frame = held(ENDS, (bar("rail", "a", "b"),), "a")
    solution = solved(frame, push("b", (0.0, 0.0, 0.0), (TORQUE, 0.0, 0.0)), of=section(g=G, j=J))
    found = own_twist(frame.members[0], solution.members[0])
    assert found[-1, 0] == approx(TORQUE * LENGTH / (G * J), rel=1e-9)
    assert found[:, 0] == approx(TORQUE * solution.members[0].stations / (G * J), rel=1e-9)
    assert found[-1, 0] == approx(solution.displacements[1, 0, 3], rel=1e-9)


@pytest.mark.parametrize(
    "orientation", [Orientation(), Orientation(mirrored=True), Orientation(1), Orientation(2, mirrored=True)]
)
def test_a_rail_held_from_warping_turns_as_solved(orientation: Orientation) -> None:
    """V. Z. Vlasov: T/(G J) (L - tanh(k L/2) 2/k), k^2 = G J/(E Cw), both ends held from warping (from memory)."""
    member = replace(bar("rail", "a", "b"), orientation=orientation)
    frame = held(ENDS, (member,), "a")
    open_section = section(g=G, j=4e-9, warping=2e-10)
    turned = push("b", (0.0, 0.0, 0.0), (20.0, 0.0, 0.0))
    solution = solved(frame, turned, of=open_section, bound=Bound(Warping.FIXED))
    k = np.sqrt(G * 4e-9 / (200e9 * 2e-10))
    by_hand = 20.0 / (G * 4e-9) * (LENGTH - 2 / k * np.tanh(k * LENGTH / 2))
    found = own_twist(member, solution.members[0])[-1, 0]
    assert solution.displacements[1, 0, 3] == approx(by_hand, rel=1e-6)
    assert found == approx(by_hand, rel=1e-3)


def test_the_most_twisted_is_a_rail_in_its_worst_load_case() -> None:
    """Two shafts, each turned at its end, the crossmember the more: a rail is asked for, and 300 Nm turn it more than 100."""
    points = {**ENDS, "c": (0.0, 1.0, 0.0), "d": (2.0, 1.0, 0.0)}
    rail, cross = replace(bar("rail", "a", "b"), role="rail"), bar("cross", "c", "d")
    frame = held(points, (cross, rail), "a", "c")
    far = push("d", (0.0, 0.0, 0.0), (900.0, 0.0, 0.0), name="on the other")
    cases = (far, push("b", (0.0, 0.0, 0.0), (-300.0, 0.0, 0.0)), push("b", (0.0, 0.0, 0.0), (100.0, 0.0, 0.0)))
    solution = solved(frame, *cases, of=section(g=G, j=J))
    found = most_twisted(frame, (solution,))
    assert found is not None
    assert (found.bound, found.member, found.case) == (0, 1, 1)
    assert found.between == approx(300.0 * LENGTH / (G * J), rel=1e-9)
    assert sorted(solution.members[1].stations[[found.first, found.second]]) == [0.0, LENGTH]


def test_where_nothing_twists_there_is_none() -> None:
    frame = held(ENDS, (bar("rail", "a", "b"),), "a")
    assert most_twisted(frame, (solved(frame, push("b", (0.0, 0.0, -100.0))),)) is None
