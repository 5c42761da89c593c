"""The check of fillet groups under the solved frame's forces: weld metal, walls, sizes, the leg needed; the governing mode first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from framecheck.checks.joint_forces import joint_loads, seam_forces
from framecheck.checks.joint_rows import Capacity, Line, claims, governing_first, judged, of_joint, unjudged_joint
from framecheck.checks.welds.fillet import (
    EDGE_SOURCE,
    LENGTH_SOURCE,
    LONG_SOURCE,
    METAL_SOURCE,
    WeldForces,
    allowed_factor,
    angles,
    end_loaded_factor,
    european_beside,
    largest_leg,
    least_leg,
    least_length,
    leg_required,
    wall_capacities,
    weld_forces,
    weld_metal,
)
from framecheck.checks.welds.spots import check_spots as spot_check
from framecheck.checks.welds.spots import check_stitches as stitch_check
from framecheck.model.arrays import Array
from framecheck.model.joints import ASKED, JointLoad, JointTargets
from framecheck.model.shop_tables import JointTables, LeastLeg
from framecheck.model.weld_joints import Direction, SpotGroup, SpotKind, Stitch, WeldAt, WeldedPart, WeldGroup, WeldRun
from framecheck.results.row import Check, Mode, Sizing
from framecheck.results.subjects import Remark
from framecheck.stress import SolvedCase


def check_fillets(
    group: WeldGroup,
    loads: Sequence[JointLoad],
    least_legs: tuple[LeastLeg, ...],
    targets: JointTargets = ASKED,
) -> tuple[Line, ...]:
    """Return a row a mode (worst run end, worst load case), governing first, and what could not be checked."""
    rows: list[Line] = [*layout(group, least_legs), *said(group)]
    found = tuple(zip(loads, weld_forces(group.runs, loads), strict=True))
    for load, forces in found:
        rows += metal_rows(group, load.load_case, forces.per_length, targets)
        rows += left_over(group, load, forces)
    rows += wall_rows(group, loads, [forces.per_length for _, forces in found], targets)
    return governing_first(rows)


def metal_rows(group: WeldGroup, case: str, per_length: Array, targets: JointTargets) -> Iterator[Line]:
    """Yield the weld metal at the end of a run that is nearest to its strength. per_length: (n, 2, 3), N/m."""
    size = np.linalg.norm(per_length, axis=2)
    factors = np.vectorize(lambda angle: allowed_factor(angle, group.ends_a_tube, group.direction))(
        angles(group.runs, per_length)
    )
    strength = np.array([run_strength(group, run) for run in group.runs])[:, None] * factors
    worst = np.unravel_index(int(np.argmax(size / strength)), size.shape)
    source = f"{METAL_SOURCE}; {LONG_SOURCE}" if counted(group.runs[worst[0]]) < 1 else METAL_SOURCE
    note = european_beside(group.electrode.shear, group.parts)
    capacity = Capacity(Mode.WELD_METAL, float(strength[worst]), targets.strength, source, "N/m", note=note)
    yield judged(of_joint(Check.WELDS, group.name), case, float(size[worst]), capacity)


def run_strength(group: WeldGroup, run: WeldRun) -> float:
    """Return the strength of a run's weld metal, N/m, less where it is beyond 100 legs long.

    How the load runs along it is not asked: every long run counts as loaded from its end, which is unfavourable.
    """
    return weld_metal(group.electrode.shear, run.leg) * counted(run)


def counted(run: WeldRun) -> float:
    """Return the share of a run's length that counts."""
    return end_loaded_factor(length_of(run), run.leg)


def wall_rows(
    group: WeldGroup, loads: Sequence[JointLoad], per_length: Sequence[Array], targets: JointTargets
) -> Iterator[Line]:
    """Yield the walls beside each run in its worst load case, of equals the first.

    The whole force is taken as shear on the wall, which is unfavourable.
    """
    if not loads:
        return
    subject = of_joint(Check.WELDS, group.name)
    sizes = np.linalg.norm(np.stack(per_length), axis=3).max(axis=2)
    for number, run in enumerate(group.runs):
        case = int(np.argmax(sizes[:, number]))
        for part in group.parts:
            for capacity in wall_capacities(part, length_of(run), targets):
                yield judged(subject, loads[case].load_case, float(sizes[case, number]), capacity)


def length_of(run: WeldRun) -> float:
    """Return the length of a run, m."""
    return float(np.linalg.norm(np.subtract(run.end, run.start)))


def layout(group: WeldGroup, least_legs: tuple[LeastLeg, ...]) -> Iterator[Line]:
    """Yield leg and length of each run against their limits, m."""
    subject = of_joint(Check.WELDS, group.name)
    least = least_leg(least_legs, min(part.thickness for part in group.parts))
    for run in group.runs:
        yield judged(subject, None, least.leg, Capacity(Mode.LEAST_LEG, run.leg, 1.0, least.source, "m"))
        yield from edge_rows(group, run)
    if not runs_on(group.runs):
        shortest = min(group.runs, key=lambda run: length_of(run) / run.leg)
        length = Capacity(Mode.LEAST_RUN, length_of(shortest), 1.0, LENGTH_SOURCE, "m")
        yield judged(subject, None, least_length(shortest.leg), length)


def edge_rows(group: WeldGroup, run: WeldRun) -> Iterator[Line]:
    """Yield the largest leg on every part whose edge is welded."""
    for part in group.parts:
        if part.weld_at is WeldAt.EDGE:
            most = Capacity(Mode.LARGEST_LEG, largest_leg(part.thickness), 1.0, EDGE_SOURCE, "m", part.name)
            yield judged(of_joint(Check.WELDS, group.name), None, run.leg, most)


def runs_on(runs: tuple[WeldRun, ...]) -> bool:
    """Return whether every run starts where the one before ends: one weld then, its pieces have no length of their
    own.
    """
    return all(first.end == second.start for first, second in pairwise(runs)) and len(runs) > 1


def said(group: WeldGroup) -> Iterator[Line]:
    """Yield what the line method leaves out, and the increase that was asked for and not allowed."""
    if group.direction is Direction.COUNTED and group.ends_a_tube:
        reason = "not allowed on the end of a tube (ANSI/AISC 360-22, J2.4(a)(2)); the plain strength is used"
        yield Remark(f"{group.name}: directional increase of the fillets", reason)
    if group.ends_a_tube:
        reason = "the line method loads the whole run alike; on a thin wall the middle of the tube's face carries less"
        part, remedy = "uneven load along a run across a tube's face", "ask an engineer, or accept with a reason"
        yield unjudged_joint(group.name, part, reason, remedy)


def left_over(group: WeldGroup, load: JointLoad, forces: WeldForces) -> Iterator[Line]:
    """Yield a LOW row where a moment turns about a single straight run: lines can't carry it, its root would tear."""
    scale = 1e-9 * (float(np.linalg.norm(load.moment)) + float(np.linalg.norm(load.force)))
    if forces.moment_left > scale:
        alone = Capacity(Mode.MOMENT_ON_ONE_RUN, 0.0, 1.0, "statics of lines", "Nm")
        yield judged(of_joint(Check.WELDS, group.name), load.load_case, forces.moment_left, alone)


FILLER_SOURCE = (
    "AWS D1.1 and D1.2, fillers by base metal, from memory: steel filler does not fuse with aluminium, nor the reverse"
)
SPOTS_ON_STEEL = "not of steel, and the rule for resistance spots (AISI S100, J2.6) is for steel sheet alone"


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the rows of every fillet group, stitched seam and spot group of the case."""
    tables, lines = outcome.case.joint_tables or JointTables(), list[Line]()
    for joint in outcome.case.joints:
        if isinstance(joint, WeldGroup):
            loads = joint_loads(outcome, joint.place)
            wrong = tuple(filler_rows(joint, Check.WELDS))
            lines += [*wrong, *check_fillets(joint, loads, tables.least_legs), *claims(outcome.case.frame, joint)]
            lines += () if wrong else shop_lines(joint, loads)
        elif isinstance(joint, Stitch):
            lines += [*filler_rows(joint, Check.STITCH_WELD), *stitch_check(joint, seam_forces(outcome, joint.member))]
        elif isinstance(joint, SpotGroup) and joint.kind is SpotKind.RESISTANCE and not_steel(joint):
            lines.append(unjudged_joint(joint.name, "", f"{', '.join(not_steel(joint))}: {SPOTS_ON_STEEL}"))
        elif isinstance(joint, SpotGroup):
            wrong = () if joint.kind is SpotKind.RESISTANCE else tuple(filler_rows(joint, Check.SPOTS))
            lines += [*wrong, *spot_check(joint, joint_loads(outcome, joint.place)), *claims(outcome.case.frame, joint)]
    return tuple(lines)


def not_steel(joint: SpotGroup) -> tuple[str, ...]:
    """Return the parts of a spot group that are not of steel."""
    return tuple(part.name for part in joint.parts if part.material.kind != "steel")


def filler_rows(joint: WeldGroup | Stitch | SpotGroup, check_of: Check) -> Iterator[Line]:
    """Yield a LOW row where the weld metal is for another metal than that of a part: such a weld holds nothing."""
    filler = joint.electrode
    for part in joint.parts:
        if part.material.kind != filler.metal:
            other = "ER4043 or ER5356" if part.material.kind == "aluminium" else "E60 to E110"
            note = f"it is for {filler.metal}, {part.name} is {part.material.kind}: choose {other}"
            holds = Capacity(Mode.WRONG_FILLER, 0.0, ASKED.strength, FILLER_SOURCE, "1", filler.name, note)
            yield judged(of_joint(check_of, joint.name), None, 1.0, holds)
            return


def shop_lines(group: WeldGroup, loads: Sequence[JointLoad], targets: JointTargets = ASKED) -> Iterator[Sizing]:
    """Yield the leg that the weld metal needs, and what leg each wall can use: more weld than that is no help."""
    if not loads:
        return
    thinnest, thickest = min(run.leg for run in group.runs), max(run.leg for run in group.runs)
    needed = required_leg(group, loads, targets)
    yield Sizing(Check.WELDS, group.name, "leg that the loads ask of the weld metal", needed, "m", thinnest, METAL_SOURCE)
    for part in group.parts:
        leg, source = useful_leg(group, part, targets)
        yield Sizing(Check.WELDS, group.name, f"largest leg that the wall of {part.name} can use", leg, "m", thickest, source)


def required_leg(group: WeldGroup, loads: Sequence[JointLoad], targets: JointTargets = ASKED) -> float:
    """Return the leg, m, equal on all runs, at which the weld metal meets its target in every load case.

    The increase for direction is not counted. The walls may still be too thin for it: no leg mends that.
    """
    even = tuple(WeldRun(run.start, run.end, 1.0) for run in group.runs)
    largest = np.max([np.linalg.norm(each.per_length, axis=2).max(axis=1) for each in weld_forces(even, loads)], axis=0)
    return max(
        leg_required(float(size), group.electrode.shear, targets.strength, length_of(run))
        for run, size in zip(group.runs, largest, strict=True)
    )


def useful_leg(group: WeldGroup, part: WeldedPart, targets: JointTargets = ASKED) -> tuple[float, str]:
    """Return the leg, m, beyond which a part's wall and no longer the weld metal decides, and the wall's rule."""
    per_leg = weld_metal(group.electrode.shear, 1.0) / targets.strength
    longest = max(length_of(run) for run in group.runs)
    least = min(wall_capacities(part, longest, targets), key=lambda each: each.value / each.target)
    return least.value / least.target / per_leg, least.source
