"""What acts at a member's kinks, and the stress that a kink adds to that of straight legs. For the checks of kinks and of fatigue."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from framecheck.frame.geometry import point_stations
from framecheck.frame.kink.data import DISTANCES, WALLS, CornerGive
from framecheck.frame.kink.data import Corner as KinkLeg
from framecheck.frame.kinks import Covered, Kink, KinkSide, corner_of, covered, give_of, kinks_of, readings_of
from framecheck.frame.results import MemberForces
from framecheck.frame.runs import run_seen_from
from framecheck.model.arrays import Array
from framecheck.model.frame import SAME_STATION, Frame
from framecheck.stress import Outcome
from framecheck.value_class import array_class

GONE = 1.5
"""How far on, in the farthest of DISTANCES, nothing of a kink's stress is left."""
SOURCE = "inner shell model of the kink (docs/theory/kinks.md), read 1.5 walls from the mitre"


@array_class
class LegAtKink:
    """One leg at a kink in all load cases, made as one of the kink's readings.

    station: m along its member; row: number of its station on this leg.
    actions (n_case, 4): moments in the kink's plane, out of it, torsion about the mean direction, Nm, and pull along the leg, N.
    """

    kink: Kink
    made: Kink
    side: KinkSide
    corner: KinkLeg
    give: CornerGive
    station: float
    row: int
    actions: Array

    def reaches(self, stations: Array) -> bool:
        """Return whether the kink's stress is felt at any of some stations."""
        return bool((np.abs(stations - self.station) < GONE * self._farthest).any())

    @property
    def _farthest(self) -> float:
        """Return how far on the model looks, m."""
        return max(DISTANCES[-1] * self._size, WALLS * self.corner.wall)

    @property
    def _size(self) -> float:
        """Return the size that distances are shares of, m."""
        return max(self.corner.height, self.corner.width) - self.corner.wall

    def at_surface(self, stations: Array) -> Array:
        """Return the stress (n_station, 4) that unit actions add at the wall's surface, by how far a station is from the kink."""
        places = np.maximum(np.array((*DISTANCES, 0.0)) * self._size, WALLS * self.corner.wall)
        places[-1] = GONE * self._farthest
        rows = np.array((*self.give.surface, (0.0,) * 4))
        away = np.abs(stations - self.station)
        return np.stack([np.interp(away, places, each) for each in rows.T], axis=1)


def legs_at_kinks(outcome: Outcome, bound: int) -> Iterator[LegAtKink]:
    """Yield every leg at a kink that the model covers, once for each way it may be made, under one bound by its number."""
    frame = outcome.case.frame
    for kink in kinks_of(frame):
        for side in kink.sides:
            if any(covered(kink, each) is not Covered.YES for each in kink.sides):
                continue
            line = outcome.solutions[bound].members[side.member]
            station = point_stations(frame, frame.members[side.member])[side.leg + side.end]
            row = row_on_leg(line, station, side)
            actions = actions_on(kink, line, row)
            for made in readings_of(kink):
                corner = corner_of(made, side)
                yield LegAtKink(kink, made, side, corner, give_of(corner, None), station, row, actions)


def row_on_leg(line: MemberForces, station: float, side: KinkSide) -> int:
    """Return the number of a kink's station on one of its legs: of those at that place, the one whose axis is the leg's."""
    there = np.flatnonzero(np.abs(line.stations - station) <= SAME_STATION)
    along = side.out if side.end == 0 else -side.out
    return int(there[np.argmax(line.axes[there, 0] @ along)])


def actions_on(kink: Kink, line: MemberForces, row: int) -> Array:
    """Return what acts (n_case, 4) at a station on a leg: moments about the kink's axes, and pull along the leg.

    A member's moments turn about its x (T), y (Mv = integral of z) and, against it, z (Ms = integral of y).
    """
    pull, _, _, twist, vertical, sideways = line.member_forces[row].T
    moments = np.stack((twist, vertical, -sideways), axis=1) @ line.axes[row]
    mean, inside, square = kink.axes
    return np.stack((moments @ square, moments @ inside, moments @ mean, pull), axis=1)


def along_member(frame: Frame, legs: Sequence[LegAtKink], number: int) -> list[LegAtKink]:
    """Return the legs at every kink of the run that a member belongs to, at their stations along that member or beyond its ends: what
    a kink adds does not end where one member is written as two.
    """
    if all(each.side.member == number for each in legs):
        return list(legs)
    members, stations = run_seen_from(frame, number)
    return [
        replace(each, station=station) for each in legs if each.side.member in members for station in stations[each.kink.point]
    ]
