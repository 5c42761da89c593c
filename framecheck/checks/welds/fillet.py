"""Fillet welds: strength per length of weld metal and of the metal beside it, sizes and lengths, runs as lines of springs in
space.

For a plane group it gives the textbook f = V / Lw, M / Sw, T c / Jw, added as vectors; for a group in space it stays
exact,
because a run's second moments are integrated in closed form and the force per length varies straight along a run.
"""

from __future__ import annotations

import math
from collections.abc import Container, Iterable, Sequence
from math import sin, sqrt

import numpy as np

from framecheck.checks.formulas.en1993_1_8 import fillet_shear
from framecheck.checks.joint_forces import ThroatStress, every_case_by_bound, throat_stress
from framecheck.checks.joint_rows import Capacity
from framecheck.frame.geometry import cross
from framecheck.model.arrays import Array, frozen
from framecheck.model.joints import JointLoad, JointTargets
from framecheck.model.shop_tables import LeastLeg
from framecheck.model.weld_joints import Direction, WeldedPart, WeldGroup, WeldRun
from framecheck.results.row import Mode
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class

THROAT = sqrt(0.5)
SHEET = 3 / 16 * 0.0254
LONG_SOURCE = "a run beyond 100 legs: ANSI/AISC 360-22, eq. (J2-1)"
METAL_SOURCE = "ANSI/AISC 360-22, J2.4, table J2.5: nominal shear strength (0.60 FEXX) on the throat (ASD 2.00)"
YIELD_SOURCE = "ANSI/AISC 360-22, eq. (J4-3): 0.60 Fy t (ASD 1.50), strength beside the weld"
RUPTURE_SOURCE = "ANSI/AISC 360-22, eq. (J4-4): 0.60 Fu t (ASD 2.00), strength beside the weld"
SHEET_SOURCE = "AISI S100-16, J2.5, longitudinal, from memory (ASD 2.55 to 25 t of length, 3.05 beyond)"


def weld_metal(shear: float, leg: float) -> float:
    """Return the strength of an equal-leg fillet, N/m: nominal shear strength (0.60 FEXX for steel) x 0.707 leg.

    ANSI/AISC 360-22, J2.4 and table J2.5.
    """
    return shear * THROAT * leg


def european(shear: float, metals: Iterable[tuple[float, float]]) -> str:
    """Return in words what EN 1993-1-8 gives of a weld metal's strength (Pa) by the weaker part, "" where it gives no less.

    metals: yield and tensile strength of each part of steel, Pa. AISC judges the metal beside the weld by itself (J4), EN lets it
    limit the weld; the row stays AISC's with AISC's factor, and says so.
    """
    per_cent = 100 * min((fillet_shear(*each) / shear for each in metals), default=1.0)
    words = f"EN 1993-1-8:2005, 4.5.3.3, gives {per_cent:.0f} % of it by the weaker part, without its factors"
    return words if per_cent < 99.5 else ""


def european_beside(shear: float, parts: Iterable[WeldedPart]) -> str:
    """Return the same of parts that a weld is made on."""
    steel = (part for part in parts if part.material.kind == "steel")
    return european(shear, ((part.yield_beside_weld, part.ultimate_beside_weld) for part in steel))


def directional_factor(angle: float) -> float:
    """Return 1 + 0.50 sin^1.5(angle): strength of a fillet loaded at an angle (rad) to its length. AISC 360-22,
    J2.4(a)(1).
    """
    return 1.0 + 0.50 * math.pow(sin(angle), 1.5)


def allowed_factor(angle: float, ends_a_tube: bool, direction: Direction) -> float:
    """Return the directional factor where it may be used, else 1.

    ANSI/AISC 360-22, J2.4(a)(2) and the note to K5: 1.0 for fillets to the end of a rectangular tube. Tests on tube
    joints
    found the increase unsafe together with effective lengths (McFadden, Sun, Packer: Weld Design and Fabrication for
    RHS
    Connections).
    """
    if direction is Direction.IGNORED or ends_a_tube:
        return 1.0
    return directional_factor(angle)


def wall_yield(yield_strength: float, thickness: float) -> float:
    """Return the shear yield of the wall beside the weld, N/m. ANSI/AISC 360-22, eq. (J4-3): 0.60 Fy t."""
    return 0.60 * yield_strength * thickness


def wall_rupture(ultimate: float, thickness: float) -> float:
    """Return the shear rupture of the wall beside the weld, N/m. ANSI/AISC 360-22, eq. (J4-4): 0.60 Fu t."""
    return 0.60 * ultimate * thickness


def sheet_longitudinal(ultimate: float, thickness: float, length: float) -> float:
    """Return the strength of a fillet along its force on sheet up to 3/16 in, N/m. AISI S100-16, J2.5, from memory.

    (1 - 0.01 L/t) t Fu for L/t < 25, else 0.75 t Fu.
    """
    return max(1.0 - 0.01 * length / thickness, 0.75) * thickness * ultimate


def sheet_target(thickness: float, length: float) -> float:
    """Return the ASD factor of a longitudinal fillet on sheet: 2.55 for L/t < 25, else 3.05. AISI S100-16, from
    memory.
    """
    return 2.55 if length / thickness < 25 else 3.05


def end_loaded_factor(length: float, leg: float) -> float:
    """Return the length reduction of an end-loaded fillet: 1.2 - 0.002 L/w, 1 up to 100 w. ANSI/AISC 360-22, eq.
    (J2-1).

    Beyond 300 w the effective length is 180 w (J2.2b(d)), from memory.
    """
    slenderness = length / leg
    if slenderness > 300:
        return 180 / slenderness
    return min(1.2 - 0.002 * slenderness, 1.0)


def leg_required(force_per_length: float, shear: float, target: float, length: float) -> float:
    """Return the leg, m, at which the weld metal of a run (length: m) meets the target under a force per length, N/m.

    The throat strength solved for the leg; a run beyond 100 legs counts by its end_loaded_factor, solved with it.
    """
    effective = force_per_length * target / (shear * THROAT)
    if length <= 100 * effective:
        return effective
    leg = (effective + 0.002 * length) / 1.2
    return leg if length <= 300 * leg else sqrt(effective * length / 180)


def wall_capacities(part: WeldedPart, length: float, targets: JointTargets) -> list[Capacity]:
    """Return yield and rupture of the wall beside the weld and, for sheet, the tearing of the sheet, N/m of one fillet.

    length: of the run, m. The strengths are those of the heat-affected zone where the material has its own.
    """
    share = 1.0 / part.fillets
    yielding = wall_yield(part.yield_beside_weld, part.thickness) * share
    rupture = wall_rupture(part.ultimate_beside_weld, part.thickness) * share
    rows = [
        Capacity(Mode.WALL_YIELDS_AT_WELD, yielding, targets.yielding, YIELD_SOURCE, "N/m", part.name),
        Capacity(Mode.WALL_RUPTURES_AT_WELD, rupture, targets.strength, RUPTURE_SOURCE, "N/m", part.name),
    ]
    if part.thickness <= SHEET:
        tear = sheet_longitudinal(part.ultimate_beside_weld, part.thickness, length)
        asked = max(targets.strength, sheet_target(part.thickness, length))
        rows.append(Capacity(Mode.SHEET_TEARS_AT_WELD, tear, asked, SHEET_SOURCE, "N/m", part.name))
    return rows


LENGTH_SOURCE = "ANSI/AISC 360-22, J2.2b: at least 4 legs"
EDGE_SOURCE = "ANSI/AISC 360-22, J2.2b: t under 6 mm, else t - 2 mm, along an edge"


def least_leg(rows: tuple[LeastLeg, ...], thinner: float) -> LeastLeg:
    """Return the least leg for the thinner part (m), never more than the part itself. ANSI/AISC 360-22, table J2.4."""
    ordered = sorted(rows, key=lambda row: row.thickness)
    row = next((row for row in ordered if thinner <= row.thickness * (1 + 1e-6)), ordered[-1])
    return LeastLeg(row.thickness, min(row.leg, thinner), row.source)


def largest_leg(thickness: float) -> float:
    """Return the largest leg along the edge of a part, m. ANSI/AISC 360-22, J2.2b: t under 6 mm, else t - 2 mm."""
    return thickness if thickness < 0.006 else thickness - 0.002


def least_length(leg: float) -> float:
    """Return the least effective length of a fillet, m. ANSI/AISC 360-22, J2.2b: 4 legs."""
    return 4 * leg


def least_stitch(leg: float) -> float:
    """Return the least length of a stitch, m. ANSI/AISC 360-22, J2.2b: 4 legs and 38 mm."""
    return max(4 * leg, 0.038)


def largest_gap(thinner: float) -> float:
    """Return the largest clear gap between stitches, m: 24 t, at most 300 mm.

    ANSI/AISC 360-22, J3.6(a), written for fasteners of painted parts in contact, used here for stitches.
    """
    return min(24 * thinner, 0.300)


def largest_gap_en(thinner: float) -> float:
    """Return the largest gap in compression or shear, m: 12 t, at most 200 mm. EN 1993-1-8:2005, 4.3.2, from memory."""
    return min(12 * thinner, 0.200)


@array_class
class LineProperties:
    """Properties of a weld group as lines. length: m; centroid (3,), m; inertia (3, 3) about it, m3.

    Lines are weighed by leg over the largest leg, so that unequal legs share as their throats do; length is weighed
    too.
    inertia = integral of (|r|2 I - r r^T): for a plane group its normal entry is Jw, the in-plane ones are Iw.
    """

    length: float
    centroid: Array
    inertia: Array


@array_class
class WeldForces:
    """Force per length of throat-weighed weld at both ends of each run, N/m: per_length (n, 2, 3).

    moment_left: the moment the lines can't carry (about a single straight run), Nm.
    """

    per_length: Array
    moment_left: float


def ends_of(runs: tuple[WeldRun, ...]) -> Array:
    """Return the end points of the runs, (n, 2, 3), m."""
    return np.array([(run.start, run.end) for run in runs], dtype=np.float64)


def line_properties(runs: tuple[WeldRun, ...]) -> LineProperties:
    """Return weighed length, centroid and inertia of the lines; each run integrated exactly.

    A straight run of length L with mid-point m and direction d: integral r r^T = L m m^T + L3 / 12 d d^T.
    """
    ends = ends_of(runs)
    legs = np.array([run.leg for run in runs])
    spans = ends[:, 1] - ends[:, 0]
    weights = legs / legs.max() * np.linalg.norm(spans, axis=1)
    middles = ends.mean(axis=1)
    length = float(weights.sum())
    centroid = weights @ middles / length
    arms = middles - centroid
    spread = np.einsum("n,ni,nj->ij", weights, arms, arms) + np.einsum("n,ni,nj->ij", weights / 12, spans, spans)
    return LineProperties(length, frozen(centroid), frozen(np.trace(spread) * np.eye(3) - spread))


def weld_forces(runs: tuple[WeldRun, ...], loads: Sequence[JointLoad]) -> tuple[WeldForces, ...]:
    """Return, load by load, the force per length at the ends of every run, where it is largest (a straight-varying vector).

    f = w (F / L + turn x r) with inertia turn = moment; w: leg over the largest leg. Elastic line method, O. W.
    Blodgett,
    Design of Welded Structures, 7.4; AISC Steel Construction Manual, part 8, elastic method.
    """
    lines = line_properties(runs)
    force = np.array([load.force for load in loads], dtype=np.float64).reshape(-1, 3)
    moment = np.array([load.moment for load in loads], dtype=np.float64).reshape(-1, 3) - cross(lines.centroid, force)
    turn = np.asarray(np.linalg.lstsq(lines.inertia, moment.T, rcond=1e-12)[0], dtype=np.float64)
    left = np.linalg.norm(moment.T - lines.inertia @ turn, axis=0).tolist()
    legs = np.array([run.leg for run in runs])
    along = force[:, None, None] / lines.length + cross(turn.T[:, None, None], ends_of(runs) - lines.centroid)
    per_length = frozen(along * (legs / legs.max())[:, None, None])
    return tuple(WeldForces(each, rest) for each, rest in zip(per_length, left, strict=True))


def forces_on_runs(runs: tuple[WeldRun, ...], loads: Array) -> Array:
    """Return the force per length at the ends of runs of one leg under many loads (n, 6), N and Nm: (n, n_run, 2, 3), N/m.

    As `weld_forces`; the runs must hold a moment about every axis.
    """
    lines = line_properties(runs)
    force, moment = loads[:, :3], loads[:, 3:]
    about = moment - cross(np.broadcast_to(lines.centroid, force.shape), force)
    turn = np.asarray(np.linalg.solve(lines.inertia, about.T).T, dtype=np.float64)
    arms = np.broadcast_to(ends_of(runs) - lines.centroid, (len(loads), len(runs), 2, 3))
    return np.asarray(force[:, None, None] / lines.length + cross(turn[:, None, None], arms), dtype=np.float64)


def angles(runs: tuple[WeldRun, ...], per_length: Array) -> Array:
    """Return the angle between the force and the run at both ends of each run, (n, 2), rad."""
    ends = ends_of(runs)
    spans = ends[:, 1] - ends[:, 0]
    directions = spans / np.linalg.norm(spans, axis=1, keepdims=True)
    size = np.linalg.norm(per_length, axis=2)
    along = np.abs(np.einsum("nki,ni->nk", per_length, directions))
    return np.asarray(np.arccos(np.clip(along / np.maximum(size, 1e-30), 0.0, 1.0)), dtype=np.float64)


def throat_stresses(outcome: SolvedCase, names: Container[str]) -> dict[str, ThroatStress]:
    """Return the throat stress of the weld groups of some names whose loads are known in all load cases."""
    groups = [joint for joint in outcome.case.joints if isinstance(joint, WeldGroup) and joint.name in names]
    found = ((group.name, of_group(outcome, group)) for group in groups)
    return {name: stress for name, stress in found if stress is not None}


def of_group(outcome: SolvedCase, group: WeldGroup) -> ThroatStress | None:
    """Return the throat stress of a weld group, its points once a bound; None where a load case is missing."""
    bounds = every_case_by_bound(outcome, group.place)
    if bounds is None:
        return None
    forces = [np.stack([each.per_length for each in weld_forces(group.runs, bound)]) for bound in bounds]
    each = [throat_stress(group.runs, per_length) for per_length in forces]
    across = np.concatenate([stress.across for stress in each], axis=1)
    return ThroatStress(frozen(across), frozen(np.concatenate([stress.along for stress in each], axis=1)))
