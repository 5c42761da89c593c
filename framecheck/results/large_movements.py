"""Movements so large that a frame solved as if it moved little is told with a warning: twist of members, sag between their ends."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from math import pi

import numpy as np

from framecheck.frame.results import Bound, FrameSolution, MemberForces
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Member
from framecheck.stress import Outcome
from framecheck.value_class import value_class

TWIST_LIMIT = 5 * pi / 180
"""Twist between two points of a member, rad. Common practice, no source: the sine errs by 0.1 %, the cosine by 0.4 %."""
SAG_LIMIT = 1 / 50
"""Sag over the length between a member's ends. Common practice, no source."""


class Way(Enum):
    """How a member moves much."""

    TWIST = "twist"
    SAG = "sag"


@value_class
class LargeMovement:
    """A member that moves more in a load case than `limit`. amount, limit: rad of twist, or sag over length."""

    way: Way
    load_case: str
    member: str
    bound: Bound
    amount: float
    limit: float


def large_movements(outcome: Outcome) -> tuple[LargeMovement, ...]:
    """Return each load case's largest movement of each kind that is over its limit, the furthest over first."""
    worst: dict[tuple[Way, str], LargeMovement] = {}
    for each in all_large(outcome):
        key = each.way, each.load_case
        if key not in worst or each.amount > worst[key].amount:
            worst[key] = each
    return tuple(sorted(worst.values(), key=lambda each: -each.amount / each.limit))


def all_large(outcome: Outcome) -> Iterator[LargeMovement]:
    """Yield every member's movements over their limits in every load case and bound."""
    frame = outcome.case.frame
    for solution in outcome.solutions:
        for number, member in enumerate(frame.members):
            twist = twist_of(frame, solution, member)
            sag = sag_of(frame, solution, member, solution.members[number])
            for way, amounts, limit in ((Way.TWIST, twist, TWIST_LIMIT), (Way.SAG, sag, SAG_LIMIT)):
                for case in np.flatnonzero(amounts > limit).tolist():
                    name = outcome.loads[case].name
                    yield LargeMovement(way, name, member.name, solution.bound, float(amounts[case]), limit)


def chord_of(frame: Frame, member: Member) -> tuple[Array, float]:
    """Return the unit direction (3,) from a member's first point to its last, and how far apart they are, m."""
    span = np.subtract(frame.points[member.points[-1]], frame.points[member.points[0]])
    length = float(np.linalg.norm(span))
    return (span / length, length) if length > 0 else (np.array([1.0, 0.0, 0.0]), 1.0)


def twist_of(frame: Frame, solution: FrameSolution, member: Member) -> Array:
    """Return the largest twist between two points of a member about its chord, rad, (n_case,)."""
    along, _ = chord_of(frame, member)
    at = [solution.points.index(name) for name in member.points]
    turns = solution.displacements[at][..., 3:] @ along
    return np.asarray(np.ptp(turns, axis=0))


def sag_of(frame: Frame, solution: FrameSolution, member: Member, line: MemberForces) -> Array:
    """Return how far a member's line leaves the straight one between its moved ends, over its length, (n_case,).

    Where one end is free: the straight one that goes on from the other end as that is turned.
    """
    along, length = chord_of(frame, member)
    share = ((line.places - line.places[0]) @ along / length)[:, None, None]
    moved = line.displacements
    straight = moved[0] + share * (moved[-1] - moved[0])
    for end, other in ((0, -1), (-1, 0)):
        if is_free(frame, member, member.points[other]) and not is_free(frame, member, member.points[end]):
            turn = solution.displacements[solution.points.index(member.points[end])][:, 3:]
            straight = moved[end] + np.cross(turn[None], (line.places - line.places[end])[:, None])
    away = moved - straight
    away = away - (away @ along)[..., None] * along
    return np.asarray(np.linalg.norm(away, axis=2).max(axis=0) / length)


def is_free(frame: Frame, member: Member, point: str) -> bool:
    """Return whether nothing but the member itself is at one of its points."""
    held = {each.point for each in frame.supports} | {name for each in frame.springs for name in each.points}
    return point not in held and not any(point in other.points for other in frame.members if other is not member)
