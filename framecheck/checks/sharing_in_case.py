"""Bolts and welds of a case that hold the same parts together: what each path carries, and whether the weld is needed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import product

import numpy as np

from framecheck.checks.bolt_strength import slip_resistance
from framecheck.checks.bolts.check import bolt_lines
from framecheck.checks.bolts.group import bolt_forces
from framecheck.checks.bolts.sleeve import Through, crossing_forces, face_resistance, through
from framecheck.checks.joint_forces import joint_loads
from framecheck.checks.joint_rows import Capacity, Line, judged, of_joint, unjudged_joint
from framecheck.checks.sharing import BoltPath, Sharing, WeldPath, bolt_stiffness, joint_sharing
from framecheck.checks.welds.check import check_fillets as weld_check
from framecheck.model.case import Case
from framecheck.model.joints import ASKED, BoltGroup, JointLoad
from framecheck.model.said import SaidAmount, Words, said
from framecheck.model.shop_tables import JointTables
from framecheck.model.weld_joints import Stitch, WeldGroup
from framecheck.results.row import Check, CheckResult, Kind, Mode
from framecheck.results.row_order import margin
from framecheck.results.subjects import Open, Remark
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class

Pair = tuple[BoltGroup, WeldGroup]


@value_class
class Margins:
    """The least strength of each path in one load case as if it carried everything: safety factor over what is asked.

    force: on the worst bolt, N; slip: resistance of that bolt, N (0: not tightened, or the faces not known); planes: of the bolt that
    carry that force; a sleeve's bolts are reckoned wall by wall, each in one plane.
    """

    load_case: str
    bolts: CheckResult
    welds: CheckResult
    force: float
    slip: float
    planes: int


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the row of each pair of bolts and welds in one joint, and what is said of stitches along a member."""
    lines: list[Line] = []
    for bolts, welds in pairs(outcome.case):
        lines += pair_lines(outcome, bolts, welds)
    return (*lines, *unsure_lines(outcome.case), *stitch_lines(outcome.case))


def pairs(case: Case) -> Iterator[Pair]:
    """Yield the bolts and welds that hold the same parts together: at one place by the parts' names, or named by one of the two.

    Bolts and welds at one place that have one part in common stand in a row (a crossmember welded to a plate, the plate bolted to a
    rail): the whole load goes through both, and neither may be left out.
    """
    for bolts, welds in every_pair(case):
        if named(bolts, welds) or (bolts.place == welds.place and len(in_common(bolts, welds)) > 1):
            yield bolts, welds


def every_pair(case: Case) -> Iterator[Pair]:
    """Yield every bolt group with every weld group."""
    joints = case.joints
    return product(
        [joint for joint in joints if isinstance(joint, BoltGroup)],
        [joint for joint in joints if isinstance(joint, WeldGroup)],
    )


def in_common(bolts: BoltGroup, welds: WeldGroup) -> set[str]:
    """Return the names of the parts that both hold."""
    return {ply.name for ply in bolts.plies} & {part.name for part in welds.parts}


def unsure_lines(case: Case) -> Iterator[Open]:
    """Yield the bolts and welds at one place whose parts have no name in common: nobody said how they stand to one another."""
    for bolts, welds in every_pair(case):
        if bolts.place == welds.place and not in_common(bolts, welds) and not named(bolts, welds):
            reason = "at one place, but no part of the one is a part of the other: 'shares with' says whether both hold the same parts"
            yield unjudged_joint(bolts.name, f"with {welds.name}", reason)


def named(bolts: BoltGroup, other: WeldGroup | Stitch) -> bool:
    """Return whether one of two joints says that it shares its load with the other."""
    return bolts.shares_with == other.name or other.shares_with == bolts.name


def stitch_lines(case: Case) -> Iterator[Remark]:
    """Yield why bolts and stitches along a member are not compared."""
    for stitch in (joint for joint in case.joints if isinstance(joint, Stitch)):
        for bolts in (joint for joint in case.joints if isinstance(joint, BoltGroup)):
            if named(bolts, stitch):
                reason = "stitches carry the shear flow along the member, the bolts the force of the joint: neither spares the other"
                yield Remark(f"{bolts.name} with {stitch.name}", reason)


def pair_lines(outcome: SolvedCase, bolts: BoltGroup, welds: WeldGroup) -> Iterator[Line]:
    """Yield the answer of one pair, in the load case where the bolts alone have least to spare; welds: in theirs."""
    found = list(margins_of(outcome, bolts, welds))
    if not found:
        yield Remark(f"{bolts.name} with {welds.name}", "nothing loads them")
        return
    welds_worst = min(found, key=lambda each: margin(each.welds)).welds
    worst = replace(min(found, key=lambda each: margin(each.bolts)), welds=welds_worst)
    if worst.slip <= 0.0 and through(outcome.case, bolts) is not None:
        worst = replace(worst, bolts=replace(worst.bolts, mode=Mode.SLIP, part="clamp or friction not known", capacity=0.0, note=""))
    if worst.force <= 0.0:
        reason = "no bolt is loaded across: how they share a pull is not reckoned"
        yield unjudged_joint(bolts.name, f"with {welds.name}", reason)
        return
    shared = joint_sharing(*paths(bolts, welds, worst), worst.force, ASKED.strength)
    words = sentence(worst, shared)
    capacity = Capacity(Mode.SHARED, shared.together * worst.force, ASKED.strength, shared.source, note=words)
    yield judged(of_joint(Check.BOLTS_WITH_WELDS, f"{bolts.name} with {welds.name}"), worst.load_case, worst.force, capacity)


def paths(bolts: BoltGroup, welds: WeldGroup, of: Margins) -> tuple[BoltPath, WeldPath]:
    """Return both paths, scaled to the force on the worst bolt.

    A mode with another target than ASKED.strength counts by its margin. The worst bolt and the worst end of a weld are taken to move
    alike: both hold the same two stiff parts.
    """
    bolt = bolts.bolt
    stiffness = bolt_stiffness(1, bolt.thread.diameter, bolt.grade.tensile, of.planes)
    holds = [margin(row) * ASKED.strength * of.force for row in (of.bolts, of.welds)]
    play = max(bolt.hole - bolt.thread.diameter, 0.0)
    return BoltPath(holds[0], of.slip, stiffness, play), WeldPath(holds[1], max(run.leg for run in welds.runs))


def margins_of(outcome: SolvedCase, bolts: BoltGroup, welds: WeldGroup) -> Iterator[Margins]:
    """Yield both paths in every load case and bound, each as if it had to carry everything by itself."""
    tables, sleeve = outcome.case.joint_tables or JointTables(), through(outcome.case, bolts)
    for on_bolts, on_welds in zip(joint_loads(outcome, bolts.place), joint_loads(outcome, welds.place), strict=False):
        by_bolts = least(bolt_lines(outcome, bolts, (on_bolts,), tables.edges), on_bolts.load_case, sleeve is not None)
        by_welds = least(weld_check(welds, (on_welds,), tables.least_legs), on_welds.load_case)
        if by_bolts is not None and by_welds is not None:
            carried = worst_bolt(bolts, on_bolts) if sleeve is None else worst_crossing(sleeve, on_bolts)
            planes = bolts.bolt.shear_planes if sleeve is None else 1
            yield Margins(on_bolts.load_case, by_bolts, by_welds, *carried, planes)


def least(lines: Iterable[Line], load_case: str, with_slip: bool = False) -> CheckResult | None:
    """Return the row of strength with least margin: no rule of layout, and slip only where it is asked for.

    A sleeve that slips lets its tubes rock in each other: there bolts do without the weld only if they do not slip.
    """
    rows = [row for row in lines if isinstance(row, CheckResult) and row.load_case == load_case]
    of_strength = (row for row in rows if (with_slip or row.mode is not Mode.SLIP) and row.kind is not Kind.LAYOUT)
    return min(of_strength, key=margin, default=None)


def worst_crossing(sleeve: Through, load: JointLoad) -> tuple[float, float]:
    """Return the largest force at a crossing of bolt and walls, and what that face holds before it slips, N."""
    forces = crossing_forces(sleeve, load)
    return forces.worst, face_resistance(sleeve.group, forces) or 0.0


def worst_bolt(bolts: BoltGroup, load: JointLoad) -> tuple[float, float]:
    """Return the largest shear force on a bolt and that bolt's slip resistance, N."""
    forces = bolt_forces(bolts, load)
    shear = np.linalg.norm(forces.shear, axis=1)
    worst = int(np.argmax(shear))
    return float(shear[worst]), slip_resistance(bolts.bolt, float(forces.tension[worst])) or 0.0


def sentence(of: Margins, shared: Sharing) -> Words:
    """Return whether the weld is needed and how the two share, with numbers."""
    bolts, welds = (alone(factor) for factor in (shared.bolts_alone, shared.welds_alone))
    alone_words = (f"; bolts alone {bolts} (", of.bolts.words, f"), welds alone {welds} (", of.welds.words, "); ")
    return said(shared.words, *alone_words, taken(shared))


def alone(factor: float) -> str:
    """Return a safety factor in words."""
    return "over 99" if factor > 99 else f"{factor:.2f}"


def taken(shared: Sharing) -> Words:
    """Return who takes the load first, in words: shares by stiffness before the bolts bear."""
    if shared.weld_share <= 0.0:
        return "friction spares the weld until it slips"
    play, moved = (SaidAmount(each, "deflection") for each in (shared.play, shared.weld_movement))
    share = f"together the weld takes {100 * shared.weld_share:.0f} %: it moves "
    return said(share, moved, ", the bolts bear after ", play)
