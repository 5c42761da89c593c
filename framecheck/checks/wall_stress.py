"""Normal stress at the ends of a section's walls, and anywhere on a section, from section forces."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.section.properties import SectionProperties, UnitFields, Wall


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
    ends = wall_ends(section.walls)
    inertia = [np.array(each) for each in (section.i_vertical, section.i_sideways, section.i_product)]
    up, left = bending_plane(inertia[0], inertia[1], inertia[2], (forces[..., 4], forces[..., 5]))
    linear = up[..., None, None] * ends[..., 1] + left[..., None, None] * ends[..., 0]
    plain = (forces[..., 0, None, None] / section.area + linear) * section.wall_moduli[:, None]
    whole: Array = plain + forces[..., 6, None, None] * warping_at_ends(section)
    return whole


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
