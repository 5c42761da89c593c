"""Section forces over a stretch of a member, surface points of a side, the stress at walls' ends."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.model.frame import SAME_STATION
from framecheck.model.shapes import Side
from framecheck.section.properties import SectionProperties, UnitFields, Wall
from framecheck.surface_stress import STRETCHING


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


def bending_plane(i_vertical: Array, i_sideways: Array, i_product: Array, moments: tuple[Array, Array]) -> tuple[Array, Array]:
    """Return the slopes of the bending stress, (along z, along y), Pa/m, of moments (Mv, Ms). Shapes follow numpy's rules.

    Beam theory with a product of inertia: sigma = a z + b y, Mv = a Iv + b Ivs, Ms = a Ivs + b Is.
    """
    mv, ms = moments
    determinant = i_vertical * i_sideways - i_product**2
    return (i_sideways * mv - i_product * ms) / determinant, (i_vertical * ms - i_product * mv) / determinant


def wall_ends(walls: tuple[Wall, ...]) -> Array:
    """Return the (y, z) of both ends of each wall, (n_wall, 2, 2), m from the centroid."""
    return np.array([(wall.start, wall.end) for wall in walls], dtype=np.float64).reshape(-1, 2, 2)


def wall_end_stress(section: SectionProperties, forces: Array) -> Array:
    """Return the normal stress at both ends of each wall, (..., n_wall, 2), Pa, from forces (..., 9)."""
    by_force = by_unit_force_at_ends(section)
    return np.asarray((forces[..., STRETCHING] @ by_force.reshape(4, -1)).reshape(*forces.shape[:-1], *by_force.shape[1:]))


@lru_cache(maxsize=256)
def by_unit_force_at_ends(section: SectionProperties) -> Array:
    """Return the normal stress at both ends of each wall, (4, n_wall, 2), per unit N, Mv, Ms and B."""
    across, up = wall_ends(section.walls).transpose(2, 0, 1)
    inertia = [np.array(each) for each in (section.i_vertical, section.i_sideways, section.i_product)]
    slopes = [bending_plane(inertia[0], inertia[1], inertia[2], of) for of in ((1.0, 0.0), (0.0, 1.0))]  # type: ignore[arg-type]
    straight = (np.full_like(up, 1 / section.area), *(rising * up + aside * across for rising, aside in slopes))
    return np.stack((*(each * section.wall_moduli[:, None] for each in straight), warping_at_ends(section)))


@lru_cache(maxsize=256)
def warping_at_ends(section: SectionProperties) -> Array:
    """Return the stress per bimoment at both ends of each wall, (n_wall, 2), 1/m4.

    A straight line through the field at the surface points of each wall: warping varies straight along a flat thin wall.
    """
    found = np.zeros((len(section.walls), 2))
    if section.fields is None:
        return frozen(found)
    for number in range(len(section.walls)):
        share, near = on_wall(section, section.fields, number)
        if near.any() and np.ptp(share[near]) > 0.5:
            slope, start = np.polyfit(share[near], section.fields.normal[near, 3], 1)
            found[number] = start, start + slope
    return frozen(found)


def on_wall(section: SectionProperties, fields: UnitFields, number: int) -> tuple[Array, BoolArray]:
    """Return how far along a wall, by number, each surface point lies, and which are on its faces and of its metal."""
    wall = section.walls[number]
    share, near = along_wall(wall, fields.points)
    return (share, near) if fields.metal is None else (share, near & (fields.metal == wall.metal))


def along_wall(wall: Wall, points: Array) -> tuple[Array, BoolArray]:
    """Return how far along a wall points (n, 2) lie (0 at its start, 1 at its end), and which of them are on its faces."""
    start, end = np.array(wall.start), np.array(wall.end)
    span = end - start
    length = float(np.linalg.norm(span))
    share = (points - start) @ span / length**2
    off = np.abs((points - start) @ np.array([-span[1], span[0]])) / length
    near = (off <= 0.55 * wall.thickness) & (share >= -0.02) & (share <= 1.02)
    return share, near
