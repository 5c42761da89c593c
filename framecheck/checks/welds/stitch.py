"""Stitch welds along a built-up member, from the shear flow at the seam."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from framecheck.checks.joint_rows import Capacity, Line, governing_first, judged, of_joint
from framecheck.checks.welds.fillet import METAL_SOURCE, weld_metal
from framecheck.checks.welds.limits import largest_gap, largest_gap_en, least_stitch
from framecheck.checks.welds.walls import wall_capacities
from framecheck.model.joints import ASKED, JointTargets
from framecheck.model.weld_joints import SeamForces, ShearWay, Stitch
from framecheck.results.row import Check, Mode

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


def check(stitch: Stitch, forces: Sequence[SeamForces], targets: JointTargets = ASKED) -> tuple[Line, ...]:
    """Return the rows of a stitched seam, governing first."""
    rows: list[Line] = list(layout(stitch))
    for each in forces:
        rows += strength_rows(stitch, each.load_case, force_per_stitch(stitch, each), targets)
    return governing_first(rows)


def strength_rows(stitch: Stitch, case: str, force: float, targets: JointTargets) -> Iterator[Line]:
    """Yield weld metal and walls of one stitch under a force, N."""
    subject = of_joint(Check.STITCH_WELD, stitch.name)
    metal = weld_metal(stitch.electrode.shear, stitch.leg)
    capacities = [Capacity(Mode.WELD_METAL, metal, targets.strength, METAL_SOURCE)]
    for part in stitch.parts:
        capacities += wall_capacities(part, stitch.length, targets)
    for one in capacities:
        whole = Capacity(one.mode, one.value * stitch.length, one.target, f"{one.source}; {FLOW}", part=one.part)
        yield judged(subject, case, force, whole)


def layout(stitch: Stitch) -> Iterator[Line]:
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
