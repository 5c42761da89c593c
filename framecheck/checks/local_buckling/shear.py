"""Slender walls in shear."""

from __future__ import annotations

import numpy as np

from framecheck.checks.effective import thicknesses, widths
from framecheck.checks.plate_buckling import shear_share_left, shear_slenderness
from framecheck.checks.wall_stress import on_wall
from framecheck.model.arrays import Array, BoolArray
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.stress import largest_shear

SOURCE = (
    "EN 1993-1-5:2006, 5.1(2), 5.3, table 5.1, the largest shear stress of the wall, away from sharp re-entrant corners, taken for "
    "its mean (unfavourable)"
)


def slender_in_shear(section: SectionProperties, epsilon: Array) -> list[int]:
    """Return the walls, by number, that may buckle in shear: h/t > 72 epsilon. EN 1993-1-5:2006, 5.1(2), eta = 1."""
    limit = 72 * epsilon
    free = np.array([wall.free_start or wall.free_end for wall in section.walls], dtype=bool)
    return np.flatnonzero((widths(section) / thicknesses(section) > limit) & ~free).tolist()


def smooth(fields: UnitFields, on: BoolArray) -> BoolArray:
    """Return the points (n,) of a wall away from sharp re-entrant corners, as yield is judged; all of them where none are."""
    away = on & ~fields.sharp
    return away if away.any() else on


def shear_use(section: SectionProperties, fields: UnitFields, forces: Array, epsilon: Array) -> tuple[Array, Array]:
    """Return the (demand, capacity) in shear of the slender wall nearest its limit, each (...,), Pa; forces (..., 9).

    epsilon: see `wall_rules.shear_epsilon`.
    """
    demand, capacity = np.zeros(forces.shape[:-1]), np.full(forces.shape[:-1], np.inf)
    slender = slender_in_shear(section, epsilon)
    if not slender:
        return demand, capacity
    for number in slender:
        wall = section.walls[number]
        on = smooth(fields, on_wall(section, fields, number)[1])
        strength = float(section.wall_strengths[number])
        most = largest_shear(fields, forces, on)
        ratio = np.array(wall.width / wall.thickness)
        left = float(shear_share_left(shear_slenderness(ratio, np.broadcast_to(epsilon, len(section.walls))[number])))
        holds = left * strength / 3**0.5
        worse = most / holds > demand / capacity
        demand, capacity = np.where(worse, most, demand), np.where(worse, holds, capacity)
    return demand, capacity
