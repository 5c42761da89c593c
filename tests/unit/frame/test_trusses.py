"""Trusses whose bars are all pinned: their points turn with nobody to say how far, and the forces are statics alone."""

from __future__ import annotations

from math import sqrt
from random import Random

import numpy as np
import pytest

from framecheck.errors import MechanismError, UnsolvableError
from framecheck.frame.results import FrameSolution
from framecheck.model.arrays import Array, Vector
from framecheck.model.frame import Frame, Make, MemberEnd
from framecheck.model.loads import CaseLoads, PointLoad, Support
from tests.unit.frame.frames import PLACED, bar, push, solved

PINNED = MemberEnd(Make.PINNED)
ASIDE = ((-0.4, 0.4), (-0.4, 0.4), (0.6, 1.2))
BASE = {"a": (1.0, 0.0, 0.0), "b": (-0.5, sqrt(3) / 2, 0.0), "c": (-0.5, -sqrt(3) / 2, 0.0)}


def truss(points: dict[str, Vector], pairs: list[tuple[str, str]]) -> Frame:
    bars = tuple(bar(f"{one}-{other}", one, other, start=PINNED, end=PINNED) for one, other in pairs)
    return Frame(points, bars, {}, tuple(Support(name, PLACED) for name in BASE))


def tripod(of_base: bool) -> Frame:
    ring = [("a", "b"), ("b", "c"), ("c", "a")] if of_base else []
    return truss({**BASE, "top": (0.0, 0.0, 1.5)}, [*ring, *((name, "top") for name in BASE)])


def pull(solution: FrameSolution, number: int) -> float:
    return float(solution.members[number].forces[0, 0, 0])


@pytest.mark.parametrize("of_base", [True, False])
def test_three_legs_share_a_weight(of_base: bool) -> None:
    """Statics: each leg of a regular tripod carries P / (3 cos), cos = 1.5 / sqrt(1 + 1.5^2); here -9000 / 2.4962 = -3605.6 N."""
    solution = solved(tripod(of_base), push("top", (0.0, 0.0, -9000.0)))
    legs = range(len(solution.members) - 3, len(solution.members))
    assert [pull(solution, leg) for leg in legs] == pytest.approx([-9000 * sqrt(3.25) / 4.5] * 3, rel=1e-9)
    assert np.sum([each[0, :3] for each in solution.reactions.values()], axis=0) == pytest.approx([0, 0, 9000.0], abs=1e-6)


def by_joints(points: dict[str, Vector], pairs: list[tuple[str, str]], loads: dict[str, Array]) -> Array:
    """Return bar forces, tension +, by the equilibrium of every free joint (method of joints; statics texts)."""
    free = [name for name in points if name not in BASE]
    rows, right = np.zeros((3 * len(free), len(pairs))), np.concatenate([-loads[name] for name in free])
    for column, pair in enumerate(pairs):
        for one, other in (pair, pair[::-1]):
            if one in free:
                along = np.array(points[other]) - np.array(points[one])
                at = 3 * free.index(one)
                rows[at : at + 3, column] = along / np.linalg.norm(along)
    return np.linalg.solve(rows, right)


@pytest.mark.parametrize("seed", range(12))
def test_simple_space_trusses(seed: int) -> None:
    """A simple space truss, each further point on three bars, carries any load as the equilibrium of its joints says."""
    chance = Random(seed)
    points: dict[str, Vector] = dict(BASE)
    pairs: list[tuple[str, str]] = []
    for number in range(chance.randint(1, 12)):
        name, onto = f"p{number}", chance.sample(sorted(points), 3)
        middle = np.mean([points[each] for each in onto], axis=0)
        points[name] = tuple(float(at + chance.uniform(*by)) for at, by in zip(middle, ASIDE, strict=True))
        pairs += [(each, name) for each in onto]
    loads = {name: np.array([chance.uniform(-1e3, 1e3) for _ in range(3)]) for name in points if name not in BASE}
    acting = CaseLoads("any", tuple(PointLoad(name, tuple(force.tolist())) for name, force in loads.items()))  # type: ignore[arg-type]
    solution = solved(truss(points, pairs), acting)
    expected = by_joints(points, pairs, loads)
    found = [pull(solution, number) for number in range(len(pairs))]
    assert found == pytest.approx(expected, abs=1e-6 * float(np.abs(expected).max()))


def test_a_moment_on_a_joint_of_a_truss_is_refused() -> None:
    with pytest.raises(UnsolvableError, match="where every member is pinned"):
        solved(tripod(True), CaseLoads("twist", (PointLoad("top", (0.0, 0.0, -1.0), (0.0, 0.0, 5.0)),)))


def test_a_truss_that_lacks_a_bar_is_still_a_mechanism() -> None:
    lame = truss({**BASE, "top": (0.0, 0.0, 1.5)}, [("a", "b"), ("b", "c"), ("c", "a"), ("a", "top"), ("b", "top")])
    with pytest.raises(MechanismError, match="point 'top' is free to move"):
        solved(lame, push("top", (0.0, 0.0, -1.0)))
