"""What legs carry at their kinks in every mixture of the soft and stiff ends about them (soft_frame.py). SI."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

import numpy as np

from framecheck.frame.geometry import OneFrame, point_stations
from framecheck.frame.kinks import KinkSide, kinks_of
from framecheck.frame.results import Bound, FrameSolution, MemberForces
from framecheck.frame.soft_frame import SoftFrame, UnitTold
from framecheck.frame.star_mitres import star_mitres
from framecheck.frame.unlike import MOST_CLASSES, Ends, classes_along, mixture
from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Frame
from framecheck.value_class import array_class


@array_class
class KinkMixtures:
    """What one leg carries at its kink in m mixtures of the classes of ends; row: of the leg's member in its table.

    forces (m, k, 9), member_forces (m, k, 6): as MemberForces.
    """

    side: KinkSide
    row: int
    line: MemberForces
    classes: tuple[Ends, ...]
    forces: Array
    member_forces: Array

    def bound(self, number: int, of: tuple[Frame, Ends, Bound]) -> Bound:
        """Return one of the mixtures as a bound; of: the frame, its ends that may be unlike, the bound of all else."""
        return mixture(of, self.classes, number)


def kink_mixtures(soft: SoftFrame) -> Iterator[KinkMixtures]:
    """Yield what each leg carries at each of its kinks, and each end that may be mitred at its point."""
    seen = set()
    for kink in (*kinks_of(soft.frame), *star_mitres(soft.frame)):
        for side in kink.sides:
            if (place := (side.member, side.leg, side.end)) not in seen:
                seen.add(place)
                yield of_side(soft, side)


def of_side(soft: SoftFrame, side: KinkSide) -> KinkMixtures:
    """Return what one leg carries at its kink."""
    member, line = soft.frame.members[side.member], soft.told[1].members[side.member]
    points = member.points[side.leg], member.points[side.leg + 1]
    classes = classes_along(OneFrame(soft.frame), soft.every, side.member, points, max(soft.most_classes, MOST_CLASSES))
    row = row_on_leg(soft.frame, line, side)
    found = soft.mixtures(classes, partial(_numbers, (side.member, row))).transpose(0, 2, 1)
    return KinkMixtures(side, row, line, classes, frozen(found[..., :9]), frozen(found[..., 9:]))


def _numbers(where: tuple[int, int], told: FrameSolution | UnitTold) -> Array:
    """Return what a member carries at a row of its table, (15, k)."""
    line, row = told.members[where[0]], where[1]
    return np.concatenate((line.forces[row], line.member_forces[row]), axis=1).T


def row_on_leg(frame: Frame, line: MemberForces, side: KinkSide) -> int:
    """Return the row of a kink on one of its legs: of those at that place, the one whose axis is the leg's."""
    there = line.rows_at_point(point_stations(frame, frame.members[side.member]), side.leg + side.end)
    along = side.out if side.end == 0 else -side.out
    return int(there[np.argmax(line.axes[there, 0] @ along)])
