"""A sheet between stitches, spots or bolts is a plate strip held at them: it buckles as a column from one to the next."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import pi, sqrt

import numpy as np

from framecheck.checks.joint_rows import Capacity, Judging, judged
from framecheck.checks.wall_stress import wall_end_stress
from framecheck.model.arrays import Array
from framecheck.model.said import length, said
from framecheck.results.row import CheckResult, Mode, worst_by
from framecheck.section.properties import SectionProperties, Wall

SOURCE = (
    "EN 1993-1-8:2005, table 3.3, note 2: a column of 0.6 x the clear length between fasteners; "
    "EN 1993-1-1:2005, 6.3.1.2, buckling curve c (solid section)"
)
HELD = 0.6
"""Buckling length over the clear length between fasteners: EN 1993-1-8:2005, table 3.3, note 2; AISI S100-16, I1.3 is made with it."""
CURVE_C = 0.49
"""Imperfection factor of buckling curve c: EN 1993-1-1:2005, table 6.1."""


def strip_slenderness(gap: float, thickness: float, youngs_modulus: float, yield_strength: float) -> float:
    """Return the slenderness of a strip between fasteners: sqrt(fy / critical stress).

    Critical stress pi2 E / 12 x (t / 0.6 p)2: L. Euler's column of a flat bar. EN 1993-1-8:2005, table 3.3, note 2.
    """
    return HELD * gap / thickness * sqrt(12 * yield_strength / youngs_modulus) / pi


def share_left(slenderness: float) -> float:
    """Return chi, the share of yield that a column of curve c carries. EN 1993-1-1:2005, eq. (6.49); 1 up to 0.2."""
    if slenderness <= 0.2:
        return 1.0
    phi = 0.5 * (1 + CURVE_C * (slenderness - 0.2) + slenderness**2)
    return min(1.0, 1 / (phi + sqrt(phi**2 - slenderness**2)))


def sheet_rows(
    of: Judging, section: SectionProperties, at: tuple[Array, Array], cases: Sequence[tuple[str, float]]
) -> tuple[CheckResult, ...]:
    """Return the worst row of each load case, (its name, its target); at: stations (k,) and forces (n_bound, k, n_case, 9)."""
    found = (
        row
        for number, wall in enumerate(section.walls)
        if wall.gap > 0
        for row in wall_rows(of, section, (number, wall), at, cases)
    )
    return tuple(worst_by(found, lambda row: row.load_case).values())


def wall_rows(
    of: Judging,
    section: SectionProperties,
    which: tuple[int, Wall],
    at: tuple[Array, Array],
    cases: Sequence[tuple[str, float]],
) -> Iterator[CheckResult]:
    """Yield the rows of one sheet: the compression at its more compressed edge against what the strip carries."""
    (number, wall), (stations, forces) = which, at
    young, strength = metal_of(section, wall)
    holds = strength * share_left(strip_slenderness(wall.gap, wall.thickness, young, strength))
    pressed = -wall_end_stress(section, forces)[..., number, :].min(axis=-1).min(axis=0)
    note = said("clear length ", length(wall.gap), f", {wall.gap / wall.thickness:.0f} times its thickness")
    for case, (name, target) in enumerate(cases):
        place = int(np.argmax(pressed[:, case]))
        capacity = Capacity(Mode.SHEET_BETWEEN, holds, target, SOURCE, "Pa", part=side_of(wall), note=note)
        row = judged(of, name, max(float(pressed[place, case]), 0.0), capacity)
        yield replace(row, station=float(stations[place]))


def metal_of(section: SectionProperties, wall: Wall) -> tuple[float, float]:
    """Return Young's modulus and yield strength of a wall, Pa."""
    if not section.metals:
        return section.youngs_modulus, section.yield_strength
    metal = section.metals[wall.metal].material
    return metal.youngs_modulus, metal.yield_strength


def side_of(wall: Wall) -> str:
    """Return on which side of the section a sheet lies, in words."""
    y, z = ((a + b) / 2 for a, b in zip(wall.start, wall.end, strict=True))
    level = abs(wall.start[1] - wall.end[1]) < abs(wall.start[0] - wall.end[0])
    return ("top" if z > 0 else "bottom") if level else ("left" if y > 0 else "right")
