"""What members' ends do in every mixture of soft and stiff ends (soft_frame.py): what the checks of walls and welds at ends ask, the
forces of members' ends, and what the rails carry there. SI.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

import numpy as np

from framecheck.frame.geometry import point_stations
from framecheck.frame.report import SolvedFrame
from framecheck.frame.results import Bound, FrameSolution
from framecheck.frame.soft_frame import SoftFrame, UnitTold, seated_members
from framecheck.frame.unlike import Ends, classes_about, mixture
from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Frame
from framecheck.section.properties import SectionProperties
from framecheck.surface_stress import STRETCHING
from framecheck.value_class import array_class, value_class


@array_class
class RailRows:
    """What a member carries at a point in m mixtures: its sections (r,) there, and forces (m, r, k, 4): N, Mv, Ms, B."""

    sections: tuple[SectionProperties, ...]
    forces: Array


@array_class
class EndMixtures:
    """What one member's ends do in m mixtures. base: the bound of all else; every: the ends that may be unlike; classes: of them; the
    k-th is stiff in the mixtures whose k-th bit is. ends: (m, k, 2, 6) as FrameSolution.member_ends; rails: by place in the frame and
    point.
    """

    member: str
    frame: Frame
    base: Bound
    every: Ends
    classes: tuple[Ends, ...]
    ends: Array
    rails: Mapping[tuple[int, str], RailRows]

    def bound(self, number: int) -> Bound:
        """Return one of the mixtures as a bound."""
        return mixture((self.frame, self.every, self.base), self.classes, number)


def end_mixtures(soft: SoftFrame) -> Iterator[EndMixtures]:
    """Yield what the ends of every member that stands on another do in the mixtures about it."""
    members = seated_members(soft.frame)
    for number in members:
        classes = classes_about(soft.frame, soft.every, number, soft.most_classes)
        places = places_of(soft.frame, number, soft.told[1])
        found = soft.mixtures(classes, partial(numbers_of, places))
        yield _told((soft.answered, soft.every, classes), places, soft.told[1], found)


@value_class
class EndPlaces:
    """What is told about a member's ends: its name, and the others under them (place in the frame, point, rows of its table)."""

    member: str
    rails: tuple[tuple[int, str, tuple[int, ...]], ...]


def places_of(frame: Frame, number: int, told: FrameSolution) -> EndPlaces:
    """Return what is told about a member's ends."""
    own = frame.members[number]
    rails = tuple(
        (other, point, tuple(told.members[other].rows_at_point(drawn, place).tolist()))
        for other, member in enumerate(frame.members)
        if other != number and {own.points[0], own.points[-1]} & set(member.points)
        for drawn in [point_stations(frame, member)]
        for place, point in enumerate(member.points)
        if point in (own.points[0], own.points[-1])
    )
    return EndPlaces(own.name, rails)


def numbers_of(places: EndPlaces, told: FrameSolution | UnitTold) -> Array:
    """Return what is told, (p, k): the forces of both ends, then what others carry there."""
    ends = told.member_ends[places.member].transpose(1, 2, 0)
    found = [ends.reshape(12, -1)]
    for number, _, there in places.rails:
        rows = told.members[number].forces[list(there)][..., STRETCHING].transpose(0, 2, 1)
        found.append(rows.reshape(-1, rows.shape[2]))
    return np.concatenate(found)


def _told(
    of: tuple[SolvedFrame, Ends, tuple[Ends, ...]], places: EndPlaces, told: FrameSolution, found: Array
) -> EndMixtures:
    """Return a member's mixtures from their numbers (m, p, k), in the order of numbers_of."""
    (answered, every, classes), (m, _, k) = of, found.shape
    ends = found[:, :12].reshape(m, 2, 6, k).transpose(0, 3, 1, 2)
    rails, at = {}, 12
    for other, point, there in places.rails:
        sections = tuple(told.members[other].sections[row] for row in there)
        own = found[:, at : at + 4 * len(sections)].reshape(m, len(sections), 4, k).transpose(0, 1, 3, 2)
        rails[other, point], at = RailRows(sections, frozen(own)), at + 4 * len(sections)
    return EndMixtures(places.member, answered.structure.frame, answered.structure.bound, every, classes, frozen(ends), rails)
