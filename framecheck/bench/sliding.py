"""A crossmember of a frame that is written point by point: dragged, both its ends slide along the rails that they sit on.

Its own inner points go with it. Where an end is more than a place on a straight rail, the crossmember stays and says why.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import pi
from typing import Any

import numpy as np

from framecheck.bench.document import Path, words_of
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Member
from framecheck.value_class import array_class

STRAIGHT = 0.1 * pi / 180
"""A rail that turns by less goes straight on, as the solver has it."""
APART = 0.025
"""How near a crossmember is dragged to the rail's next point, m."""
NAMES = ("name", "member", "members", "section")
"""Keys whose texts are names of other things than points."""


@array_class
class SlidingLeg:
    """A member from a point to its next one. way: (3,) unit vector; length in m."""

    member: str
    way: Array
    length: float

    @property
    def is_rail(self) -> bool:
        """Whether it goes along the vehicle more than across or up."""
        return bool(np.argmax(np.abs(self.way)) == 0)


@array_class
class Slide:
    """How a crossmember moves. moves: each number of the file that changes, and by how much as the first grows by one metre; way: (3,)
    the same of its middle; reach: how far it may go back and forth, m; held: why it may not, "" where it may.
    """

    moves: tuple[tuple[Path, float], ...]
    way: Array
    reach: tuple[float, float]
    held: str = ""


def slide_of(frame: Frame, written: Mapping[str, Any], member: Member) -> Slide | None:
    """Return how a crossmember between two rails moves; None for any other member. written: the whole file."""
    first, last = member.points[0], member.points[-1]
    span = np.abs(np.subtract(frame.points[last], frame.points[first]))
    legs = {name: legs_at(frame, name, member) for name in member.points}
    if np.argmax(span) != 1 or not all(any(leg.is_rail for leg in legs[end]) for end in (first, last)):
        return None
    still = Slide((), np.array([1.0, 0.0, 0.0]), (0.0, 0.0))
    why = next(filter(None, (why_held(name, legs[name], name in (first, last), member, written) for name in member.points)), "")
    if why:
        return replace(still, held=why)
    ways = {end: forward(legs[end]) for end in (first, last)}
    share = {name: float(abs(frame.points[name][1] - frame.points[first][1]) / span[1]) for name in member.points}
    moved = {name: (1 - share[name]) * ways[first] + share[name] * ways[last] for name in member.points}
    moves = tuple(moves_of(moved, written["frame"]["points"]))
    lacking = next((words_of(path) for path, _ in moves if path[-1] not in written["frame"]["points"][path[2]]), "")
    if lacking:
        return replace(still, held=f"{lacking} is not written and would change")
    return Slide(moves, (ways[first] + ways[last]) / 2, reach_of([leg for end in ways for leg in legs[end]]))


def legs_at(frame: Frame, point: str, own: Member) -> list[SlidingLeg]:
    """Return the legs of other members that begin, pass or end at a point."""
    found, here = [], np.array(frame.points[point])
    for member in frame.members:
        for one, other in zip(member.points[:-1], member.points[1:], strict=True):
            if member is not own and point in (one, other):
                span = np.array(frame.points[other if point == one else one]) - here
                found.append(SlidingLeg(member.name, span / np.linalg.norm(span), float(np.linalg.norm(span))))
    return found


def why_held(point: str, legs: list[SlidingLeg], is_end: bool, own: Member, written: Mapping[str, Any]) -> str:
    """Return why a point of a crossmember can't be moved, "" where it can."""
    if point not in (written["frame"].get("points") or {}):
        return f"'{point}' is not written as a point of its own"
    rails, others = [leg for leg in legs if leg.is_rail and is_end], [leg for leg in legs if not (leg.is_rail and is_end)]
    if others or len(rails) > 2:
        return f"'{point}' belongs to {', '.join(dict.fromkeys(leg.member for leg in others or rails))} too"
    if is_end and len(rails) == 1:
        return f"{rails[0].member} ends at '{point}'"
    if is_end and float(np.linalg.norm(rails[0].way + rails[1].way)) > STRAIGHT:
        return f"the rail turns at '{point}'"
    passing = {own.name, *(leg.member for leg in rails)}
    used = next((path for path in uses_of(point, written) if not is_own(path, written, passing)), None) if is_end else None
    return "" if used is None else f"'{point}' is used in {words_of(used[:4])} too"


def uses_of(point: str, data: Any, path: Path = ()) -> Iterator[Path]:
    """Yield the places of a file's data where a point's name stands."""
    if isinstance(data, dict):
        for key, value in data.items():
            if key not in NAMES:
                yield from uses_of(point, value, (*path, key))
    elif isinstance(data, list):
        for number, value in enumerate(data):
            yield from uses_of(point, value, (*path, number))
    elif data == point:
        yield path


def is_own(path: Path, written: Mapping[str, Any], names: set[str]) -> bool:
    """Return whether a place is the list of points of one of these members."""
    if path[:2] != ("frame", "members") or len(path) < 4 or path[3] != "points":
        return False
    return str(written["frame"]["members"][path[2]].get("name", "")) in names


def forward(legs: list[SlidingLeg]) -> Array:
    """Return the way (3,) along a straight rail for each metre forward."""
    way: Array = legs[0].way / legs[0].way[0]
    return way


def moves_of(moved: Mapping[str, Array], points: Mapping[str, Any]) -> Iterator[tuple[Path, float]]:
    """Yield the coordinates that change and how much: those along the vehicle first."""
    for axis, key in enumerate("xyz"):
        for name, way in moved.items():
            if abs(way[axis]) > STRAIGHT / 10 and isinstance(points.get(name), dict):
                yield ("frame", "points", name, key), float(way[axis])


def reach_of(legs: list[SlidingLeg]) -> tuple[float, float]:
    """Return how far back and forward, m, before the nearest next point of a rail."""
    rooms = [leg.length * float(leg.way[0]) for leg in legs]
    back, forth = (min(abs(room) for room in rooms if (room > 0) is ahead) - APART for ahead in (False, True))
    return -max(back, 0.0), max(forth, 0.0)
