"""What a seam has beside its welds: sheets between stitches, sleeves on their core, and words where a size is not given."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import pi, sqrt

import numpy as np

from framecheck.checks.joint_forces import THROAT
from framecheck.checks.joint_rows import Capacity, Judging, judged
from framecheck.checks.member_stress import wall_end_stress
from framecheck.model.arrays import Array
from framecheck.model.joining import BoltRow, Joining, StitchWeld
from framecheck.model.joints import ASKED
from framecheck.model.said import Said, SaidAmount, length, said
from framecheck.results.row import CheckResult, Mode
from framecheck.results.row_order import worst_by
from framecheck.section.properties import SectionProperties, Share, Wall
from framecheck.value_class import value_class

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


ENDS = 1e-6
"""m: stations this near to an end of the sleeve are at it."""


def sleeve_flow(core: Share, stations: Array, forces: Array, pitch: float) -> Array:
    """Return what crosses between sleeve and core, (k, n_case), N/m: what one bolt carries, over the pitch. Statics.

    forces (n_bound, k, n_case, 9). Between the ends: the core's share of how much the shear changes within a pitch on either side.
    At an end of the sleeve: its share of pull and shear, and of the moments as a pair of forces a pitch apart. Without a pitch (a
    weld all along) the ends are welded round: the moment is taken as the shear it makes over the length of the sleeve.
    """
    length = float(np.ptp(stations)) or 1.0
    reach = pitch or length
    shear = np.stack([core.vertical * forces[..., 2], core.sideways * forces[..., 1]], axis=-1)
    moment = np.stack([core.vertical * forces[..., 4], core.sideways * forces[..., 5]], axis=-1)
    taken = np.stack([_change(shear, np.abs(stations - at) <= reach) for at in stations], axis=1)
    at_end = (stations <= stations.min() + ENDS) | (stations >= stations.max() - ENDS)
    along = np.abs(core.stretch * forces[..., 0])
    entering = np.hypot(np.linalg.norm(shear, axis=-1) + np.linalg.norm(moment, axis=-1) / reach, along)
    force = np.where(at_end[None, :, None], np.maximum(taken, entering), taken)
    return np.asarray(force.max(axis=0) / reach, dtype=np.float64)


def _change(shear: Array, near: Array) -> Array:
    """Return how much the shear (n_bound, k, n_case, 2) changes between the stations that are near, (n_bound, n_case), N."""
    return np.asarray(np.linalg.norm(np.ptp(shear[:, near], axis=1), axis=-1), dtype=np.float64)


GRADE_5 = 0.563 * 827e6
"""Shear strength of a grade 5 or 8.8 bolt on the root of its thread, Pa: 0.563 x 120 ksi (SAE J429; ANSI/AISC 360-10, table J3.2).

That is under AISC's 0.450 on the whole shank, for a root has at most eight tenths of its area, and under EN's 0.6."""


@value_class
class SeamFlow:
    """The largest shear flow at a seam in one load case, N/m, and the station where it is, m."""

    seam: str
    load_case: str
    flow: float
    station: float

    @property
    def where(self) -> Said:
        """Return where it is, in words."""
        return said(f"{self.seam}, '{self.load_case}', at ", SaidAmount(self.station, "station"))


def asked_of(joining: Joining, worst: SeamFlow) -> Said:
    """Return what each seam, and each weld or bolt of it, must carry, and the size that would do."""
    carries = said("each seam must carry up to ", SaidAmount(worst.flow, "line force"), " (", worst.where, ")")
    if isinstance(joining, BoltRow):
        return said(carries, "; ", bolt_asked(joining, worst.flow * joining.pitch))
    if isinstance(joining, StitchWeld):
        return said(carries, "; ", stitch_asked(joining, worst.flow * joining.pitch))
    return said(carries, "; no leg is given: ", leg_asked(worst.flow, joining.shear_strength))


def sleeve_words(joining: Joining, worst: SeamFlow) -> Said:
    """Return what joins a sleeve to its core must carry across."""
    if isinstance(joining, BoltRow):
        return said(bolt_asked(joining, worst.flow * joining.pitch), " (", worst.where, ")")
    weld = "the welds between sleeve and core are not judged: the core's share of the forces comes to "
    return said(weld, SaidAmount(worst.flow, "line force"), " (", worst.where, ")")


def remedy_of(joining: Joining, worst: SeamFlow) -> Said:
    """Return what to write so that the seam is judged."""
    if isinstance(joining, BoltRow):
        force = ASKED.strength * worst.flow * joining.pitch
        return said("write what one holds: joined: {bolts: {pitch: ..., holds: ...}}, ", SaidAmount(force, "force"), " or more")
    length, key = (joining.length / joining.pitch, "stitches") if isinstance(joining, StitchWeld) else (1.0, "weld")
    leg = worst.flow / length * ASKED.strength / (joining.shear_strength * THROAT)
    return said(f"write the leg: joined: {{{key}: {{leg: ...}}}}, ", SaidAmount(leg, "size"), " or more")


def bolt_asked(joining: BoltRow, force: float) -> Said:
    """Return what one bolt must carry, N, and the bolt that would."""
    least = SaidAmount(sqrt(4 * force * ASKED.strength / (pi * GRADE_5)), "size")
    each = said("each bolt, rivet or spot weld at a pitch of ", SaidAmount(joining.pitch, "size"), " ", SaidAmount(force, "force"))
    return said(each, "; its size is not given: a grade 5 or 8.8 bolt would do from ", least, " at the root of its thread")


def stitch_asked(joining: StitchWeld, force: float) -> Said:
    """Return what one stitch must carry, N, and the leg that would."""
    length, pitch = SaidAmount(joining.length, "size"), SaidAmount(joining.pitch, "size")
    each = said("each stitch of ", length, " every ", pitch, " ", SaidAmount(force, "force"))
    return said(each, "; no leg is given: ", leg_asked(force / joining.length, joining.shear_strength))


def leg_asked(flow: float, shear_strength: float) -> Said:
    """Return the leg that the weld metal asks for under a flow, N/m. ANSI/AISC 360-22, J2.4."""
    leg = flow * ASKED.strength / (shear_strength * THROAT)
    return said("weld metal asks for ", SaidAmount(leg, "size"), ", rules for the least leg may ask for more")
