"""Section forces over a stretch of a member, and the surface points of one side of a section."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, BoolArray
from framecheck.model.frame import SAME_STATION
from framecheck.model.shapes import Side
from framecheck.section.properties import SectionProperties, UnitFields


def over(line: MemberForces, start: float, end: float) -> Iterator[tuple[SectionProperties, Array, Array]]:
    """Yield (section, stations (2,), forces (2, n_case, 9)) of every piece of a member between two stations, m.

    Forces vary straight between neighbouring stations. Where a force or a section jumps at either end, both its sides count.
    """
    stations = line.stations
    for i in range(len(stations) - 1):
        a, b = stations[i], stations[i + 1]
        beside = b < start - SAME_STATION or a > end + SAME_STATION
        if beside or b - a <= 0.0 or line.sections[i] is not line.sections[i + 1]:
            continue
        first, last = min(max(start, a), b), max(min(end, b), a)
        share = (np.array([first, last]) - a) / (b - a)
        forces = line.forces[i] + share[:, None, None] * (line.forces[i + 1] - line.forces[i])
        yield line.sections[i], np.array([first, last]), forces


def gathered(line: MemberForces, start: float, end: float) -> list[tuple[SectionProperties, Array, Array]]:
    """Return the pieces of a stretch joined section by section: (section, stations (k,), forces (k, n_case, 9)).

    Where a force jumps there are two stations at one place, before and beyond.
    """
    found: dict[SectionProperties, tuple[list[Array], list[Array]]] = {}
    for section, stations, forces in over(line, start, end):
        places, each = found.setdefault(section, ([], []))
        again = 1 if places and places[-1][-1] == stations[0] and np.array_equal(each[-1][-1], forces[0]) else 0
        places.append(stations[again:])
        each.append(forces[again:])
    return [(section, np.concatenate(places), np.concatenate(each)) for section, (places, each) in found.items()]


def on_side(section: SectionProperties, fields: UnitFields, side: Side | None) -> BoolArray:
    """Return which surface points (n_point,) lie on a side, in the section's own axes; all where side is None.

    On it: within a fiftieth of the section's size.
    """
    y_min, y_max, z_min, z_max = section.box
    y, z = fields.points[:, 0], fields.points[:, 1]
    wide, high = 0.02 * (y_max - y_min), 0.02 * (z_max - z_min)
    chosen = {
        Side.TOP: z >= z_max - high,
        Side.BOTTOM: z <= z_min + high,
        Side.LEFT: y >= y_max - wide,
        Side.RIGHT: y <= y_min + wide,
    }
    return np.ones(len(y), dtype=bool) if side is None else chosen[side]
