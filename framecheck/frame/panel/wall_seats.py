"""Sheet whose edge stands on a wall of a member between its corners: the wall bends under it. SI.

As a strip across the wall, simply held at its corners: a line load q at a and b from them moves it by q a^2 b^2 / (3 E' I L), with
E' I = E t^3 / (12 (1 - nu^2)) of a plate (beam tables; from memory). What holds it along the member, and its corners against turning,
is left out, which is the softer: as clamped, four times as stiff, bodies answer the same within 3 %.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from framecheck.frame.joint.data import Outline
from framecheck.frame.joint.outlines import outline_of
from framecheck.frame.panel.division import DividedSheet, Foot
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Section, sections_at
from framecheck.value_class import array_class

WITHIN = 0.25, 0.5
"""Of a section's size from the wall inwards: up to there sheet counts as on the wall, and from there on as within the section."""


@array_class
class WallSeat:
    """How a place of sheet goes beyond the member whose wall it stands on: ways (w, 3), square to walls; give (w,), m/N."""

    ways: Array
    give: Array


def wall_seats(frame: Frame, division: DividedSheet) -> Mapping[tuple[int, int], WallSeat]:
    """Return the seats by node of the sheet and member."""
    standing = {
        (node, foot.leg.member): foot for node, feet in enumerate(division.feet) for foot in feet if foot.stands
    }
    lengths = dict.fromkeys(standing, 0.0)
    for ends in {tuple(sorted(each)) for cell in division.cells.tolist() for each in zip(cell, cell[1:] + cell[:1], strict=True)}:
        for member in {foot.leg.member for foot in division.feet[ends[0]]}:
            if all((node, member) in standing for node in ends):
                apart = abs(standing[ends[0], member].station - standing[ends[1], member].station)
                for node in ends:
                    lengths[node, member] += apart / 2
    found = {}
    for at, foot in standing.items():
        walls = list(_walls(frame, foot, division.places[at[0]])) if lengths[at] else []
        if walls:
            ways, gives = zip(*walls, strict=True)
            found[at] = WallSeat(np.array(ways), np.array(gives) / lengths[at])
    return found


def _walls(frame: Frame, foot: Foot, place: Array) -> Iterator[tuple[Array, float]]:
    """Yield the way (3,) square to each wall that a place stands on, and how far a unit line load there moves it, m2/N."""
    section = frame.sections[sections_at(frame.members[foot.leg.member], foot.station)[0]]
    outline = outline_of(section.shape)
    if outline is None:
        return
    local, size = foot.leg.across @ (place - foot.place), np.array(outline.sizes)
    for strip in outline.strips:
        ends = np.array([outline.corners[number] for number in (strip.first, strip.second)])
        breadth = float(np.linalg.norm(ends[1] - ends[0]))
        normal = np.array([ends[0, 1] - ends[1, 1], ends[1, 0] - ends[0, 0]]) / breadth
        share = _on_wall(abs(float((local - ends[0]) @ normal)), float(np.abs(normal) @ size))
        first = float(np.clip((local - ends[0]) @ (ends[1] - ends[0]) / breadth, 0.0, breadth))
        if share > 0.0 and _between_corners(outline, (strip.first, strip.second)) and 0.0 < first < breadth:
            yield normal @ foot.leg.across, share * _strip_give(section, strip.wall, first, breadth)


def _on_wall(off: float, size: float) -> float:
    """Return how far a place off a wall's middle line counts as on it, up to 1; size: of the section square to the wall, m."""
    near, far = (each * size for each in WITHIN)
    return min(max((far - off) / (far - near), 0.0), 1.0) if size else 0.0


def _between_corners(outline: Outline, ends: tuple[int, int]) -> bool:
    """Return whether other walls hold both ends of a wall."""
    met = [number for strip in outline.strips for number in (strip.first, strip.second)]
    return all(met.count(end) > 1 for end in ends)


def _strip_give(section: Section, wall: float, first: float, breadth: float) -> float:
    """Return a^2 b^2 / (3 E' I L) of a strip, m2/N."""
    plate = section.material.youngs_modulus * wall**3 / (12 * (1 - section.material.poissons_ratio**2))
    return (first * (breadth - first)) ** 2 / (3 * plate * breadth)
