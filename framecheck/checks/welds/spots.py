"""Welds that hold one part on another here and there: plugs, arc spots, resistance spots, and stitches along a built-up member."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, pi, sqrt

import numpy as np

from framecheck.checks.joint_forces import forces_in_two_planes, pattern
from framecheck.checks.joint_rows import Capacity, Line, governing_first, judged, of_joint
from framecheck.checks.welds.fillet import (
    METAL_SOURCE,
    european_beside,
    largest_gap,
    largest_gap_en,
    least_stitch,
    wall_capacities,
    weld_metal,
)
from framecheck.model.arrays import Array
from framecheck.model.joints import ASKED, JointLoad, JointTargets
from framecheck.model.weld_joints import SeamForces, ShearWay, SpotGroup, SpotKind, Stitch
from framecheck.results.row import Check, Mode

PLUG_SOURCE = "ANSI/AISC 360-22, J2.3a and table J2.5: 0.60 FEXX on the hole's area"
PLUG_SIZE = "ANSI/AISC 360-22, J2.3b"
ARC_SOURCE = "AISI S100-16, J2.2.2, from memory (ASD 2.55; 2.80 and 3.05 where the sheet is thin for the spot)"
SHEET_YOUNG = 203e9
"""Pa. AISI S100-16, E = 29 500 ksi, from memory."""
RESISTANCE_SOURCE = "AISI S100-16, J2.6, from memory (ASD 2.35)"


def spot_forces(group: SpotGroup, load: JointLoad) -> tuple[Array, Array]:
    """Return the shear on each spot (n,), N, and the pull along the normal (n,), N (below 0: pressed).

    Equal springs under a rigid part: F / n and M r / sum(r2), as vectors in space (elastic method). On two sides of a tube they push
    in its walls' planes alone, and what presses the walls together or apart passes by the tubes' fit.
    """
    if group.apart:
        carried = forces_in_two_planes(pattern(group.plane, group.positions), group.apart, load)
        return np.linalg.norm(carried.forces, axis=2).ravel(), np.zeros(2 * len(group.positions))
    axes = np.array([group.plane.across, group.plane.along])
    points = np.asarray(group.plane.origin) + np.asarray(group.positions) @ axes
    centroid = points.mean(axis=0)
    arms = points - centroid
    force = np.asarray(load.force, dtype=np.float64)
    moment = np.asarray(load.moment, dtype=np.float64) - np.cross(centroid, force)
    inertia = float(np.sum(arms**2)) * np.eye(3) - arms.T @ arms
    turn, *_ = np.linalg.lstsq(inertia, moment, rcond=1e-12)
    each = force / len(arms) + np.cross(turn, arms)
    normal = np.asarray(group.plane.facing)
    pull = each @ normal
    return np.linalg.norm(each - pull[:, None] * normal, axis=1), np.asarray(pull, dtype=np.float64)


def plug(shear: float, diameter: float) -> float:
    """Return the shear strength of a plug weld, N: nominal shear x area of the hole. ANSI/AISC 360-22, J2.3a, table
    J2.5.
    """
    return shear * pi * diameter**2 / 4


def sheet_round_plug(ultimate: float, diameter: float, thickness: float) -> float:
    """Return the shear rupture of the sheet round the plug, N: 0.60 Fu pi d t / 2, the half in front of it. Statics."""
    return 0.60 * ultimate * pi * diameter * thickness / 2


def arc_spot_metal(strength: float, diameter: float, thickness: float) -> float:
    """Return the shear strength of an arc spot weld's metal, N: 0.589 de2 Fxx.

    AISI S100-16, J2.2.2.1, from memory: de = 0.7 d - 1.5 t, at most 0.55 d; thickness: all sheets, m.
    """
    effective = min(0.7 * diameter - 1.5 * thickness, 0.55 * diameter)
    return 0.589 * max(effective, 0.0) ** 2 * strength


def sheet_round_arc_spot(ultimate: float, diameter: float, thickness: float) -> tuple[float, float]:
    """Return what the sheet round an arc spot weld bears, N, and its ASD factor: 2.20 t da Fu, less round thin sheet; da = d - t.

    AISI S100-16, J2.2.2.1, from memory: 2.20 up to da/t = 0.815 sqrt(E / Fu), 0.280 (1 + 5.59 sqrt(E / Fu) / (da/t)) with ASD 2.80 up
    to 1.397 sqrt(E / Fu), 1.40 with 3.05 beyond. 2.55 is asked before, the weld's, and each factor is reached from nine tenths of its
    limit on, so that no size makes it jump.
    """
    slenderness = (diameter - thickness) / thickness / sqrt(SHEET_YOUNG / ultimate)
    share = min(2.20, max(0.280 * (1 + 5.59 / max(slenderness, 1e-9)), 1.40))
    steps = sum(min(max(10 * slenderness / limit - 9, 0.0), 1.0) for limit in (0.815, 1.397))
    return share * thickness * max(diameter - thickness, 0.0) * ultimate, 2.55 + 0.25 * steps


def resistance_spot(thickness: float) -> float:
    """Return the shear strength of a resistance spot weld, N. AISI S100-16, J2.6, from memory.

    5.51 t^1.47 kN for t under 3.56 mm, 7.6 t + 8.57 kN to 4.57 mm; t of the thinner sheet in mm within the formula.
    """
    millimetres = thickness * 1e3
    kilonewtons = 5.51 * millimetres**1.47 if millimetres < 3.56 else 7.6 * min(millimetres, 4.57) + 8.57
    return kilonewtons * 1e3


def least_plug(thickness: float) -> float:
    """Return the least hole for a plug weld, m. ANSI/AISC 360-22, J2.3b(a): t + 8 mm, rounded up to even mm."""
    return 2e-3 * ceil(round((thickness + 0.008) / 2e-3, 6))


def largest_plug(thickness: float) -> float:
    """Return the largest hole, m. ANSI/AISC 360-22, J2.3b(a): least + 3 mm or 2 1/4 times the weld's thickness, the
    larger.
    """
    return max(least_plug(thickness) + 0.003, 2.25 * thickness)


def strengths(group: SpotGroup, targets: JointTargets) -> list[Capacity]:
    """Return what one spot carries in shear, by its kind."""
    thin = min(group.parts, key=lambda part: part.thickness)
    outer = group.parts[0]
    if group.kind is SpotKind.RESISTANCE:
        value, asked = resistance_spot(thin.thickness), max(targets.strength, 2.35)
        return [Capacity(Mode.RESISTANCE_SPOT, value, asked, RESISTANCE_SOURCE)]
    if group.kind is SpotKind.ARC_SPOT:
        metal = arc_spot_metal(group.electrode.strength, group.diameter, outer.thickness), 2.55
        sheet = sheet_round_arc_spot(outer.ultimate_beside_weld, group.diameter, outer.thickness)
        value, asked = min(metal, sheet, key=lambda each: each[0] / max(targets.strength, each[1]))
        return [Capacity(Mode.ARC_SPOT, value, max(targets.strength, asked), ARC_SOURCE)]
    around = sheet_round_plug(outer.ultimate_beside_weld, group.diameter, outer.thickness)
    return [
        Capacity(Mode.PLUG, plug(group.electrode.shear, group.diameter), targets.strength, PLUG_SOURCE,
                 note=european_beside(group.electrode.shear, group.parts)),
        Capacity(Mode.SHEET_ROUND_PLUG, around, targets.strength, "statics: shear before the plug", part=outer.name),
    ]  # fmt: skip


def check_spots(group: SpotGroup, loads: Sequence[JointLoad], targets: JointTargets = ASKED) -> tuple[Line, ...]:
    """Return the rows of a spot group, governing first. A pull is LOW: spots and plugs are not counted in peel."""
    rows: list[Line] = list(spot_layout(group))
    subject = of_joint(Check.SPOTS, group.name)
    for load in loads:
        shear, pull = spot_forces(group, load)
        rows += [judged(subject, load.load_case, float(shear.max()), each) for each in strengths(group, targets)]
        if float(pull.max()) > 1e-6 * float(np.linalg.norm(load.force) + shear.max() + np.abs(pull).max()):
            peel = Capacity(Mode.PULL_ON_SPOTS, 0.0, 1.0, "common practice, no source")
            rows.append(judged(subject, load.load_case, float(pull.max()), peel))
    return governing_first(rows)


def spot_layout(group: SpotGroup) -> Iterator[Line]:
    """Yield hole sizes and spacing of plug welds, m."""
    if group.kind is not SpotKind.PLUG:
        return
    subject, thickness = of_joint(Check.SPOTS, group.name), group.parts[0].thickness
    least = Capacity(Mode.LEAST_PLUG, group.diameter, 1.0, PLUG_SIZE, "m")
    yield judged(subject, None, least_plug(thickness), least)
    most = Capacity(Mode.LARGEST_PLUG, largest_plug(thickness), 1.0, PLUG_SIZE, "m")
    yield judged(subject, None, group.diameter, most)
    if len(group.positions) > 1:
        points = np.asarray(group.positions)
        gaps = np.linalg.norm(points[:, None] - points[None, :], axis=2) + np.diag([np.inf] * len(points))
        spacing = Capacity(Mode.PLUG_SPACING, float(gaps.min()), 1.0, f"{PLUG_SIZE}: 4 diameters", "m")
        yield judged(subject, None, 4 * group.diameter, spacing)


FLOW = "shear flow V Q / I (+ T / 2 A where the seams close a cell)"


def shear_flow(shear: float, first_moment: float, second_moment: float) -> float:
    """Return V Q / I, N/m (beam theory)."""
    return shear * first_moment / second_moment


def torsion_flow(torsion: float, enclosed_area: float) -> float:
    """Return T / (2 A), N/m. R. Bredt (1896): closed thin-walled cell."""
    return torsion / (2 * enclosed_area)


def force_per_stitch(stitch: Stitch, forces: SeamForces) -> float:
    """Return the force on one stitch, N: flow per seam x pitch; bending and torsion added (unfavourable)."""
    shear = forces.shear_vertical if stitch.way is ShearWay.VERTICAL else forces.shear_sideways
    flow = abs(shear_flow(shear, stitch.first_moment, stitch.second_moment)) / stitch.seams
    if stitch.enclosed_area:
        flow += abs(torsion_flow(forces.torsion, stitch.enclosed_area))
    return flow * stitch.pitch


def check_stitches(stitch: Stitch, forces: Sequence[SeamForces], targets: JointTargets = ASKED) -> tuple[Line, ...]:
    """Return the rows of a stitched seam, governing first."""
    rows: list[Line] = list(stitch_layout(stitch))
    for each in forces:
        rows += strength_rows(stitch, each.load_case, force_per_stitch(stitch, each), targets)
    return governing_first(rows)


def strength_rows(stitch: Stitch, case: str, force: float, targets: JointTargets) -> Iterator[Line]:
    """Yield weld metal and walls of one stitch under a force, N."""
    subject = of_joint(Check.STITCH_WELD, stitch.name)
    metal = weld_metal(stitch.electrode.shear, stitch.leg)
    note = european_beside(stitch.electrode.shear, stitch.parts)
    capacities = [Capacity(Mode.WELD_METAL, metal, targets.strength, METAL_SOURCE, note=note)]
    for part in stitch.parts:
        capacities += wall_capacities(part, stitch.length, targets)
    for one in capacities:
        whole = Capacity(one.mode, one.value * stitch.length, one.target, f"{one.source}; {FLOW}", part=one.part, note=one.note)
        yield judged(subject, case, force, whole)


def stitch_layout(stitch: Stitch) -> Iterator[Line]:
    """Yield the length of a stitch and the gap between two, m, against their limits."""
    subject = of_joint(Check.STITCH_WELD, stitch.name)
    shortest = least_stitch(stitch.leg)
    length = Capacity(Mode.STITCH_LENGTH, stitch.length, 1.0, "ANSI/AISC 360-22, J2.2b: 4 legs and 38 mm", "m")
    yield judged(subject, None, shortest, length)
    thinner = min(part.thickness for part in stitch.parts)
    gap = max(stitch.pitch - stitch.length, 0.0)
    aisc = "ANSI/AISC 360-22, J3.6(a), written for fasteners: 24 t and 300 mm"
    yield judged(subject, None, gap, Capacity(Mode.STITCH_GAP_US, largest_gap(thinner), 1.0, aisc, "m"))
    en = "EN 1993-1-8:2005, 4.3.2, from memory: 12 t and 200 mm"
    yield judged(subject, None, gap, Capacity(Mode.STITCH_GAP_EN, largest_gap_en(thinner), 1.0, en, "m"))
