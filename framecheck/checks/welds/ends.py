"""The weld of every member end on a wall, judged without being asked: the leg it needs, and the walls beside it.

The end is taken as welded all round with one fillet. A soft wall loads the weld unevenly: of the lengths across the rail only what the
effective width leaves counts, at the corners (ANSI/AISC 360-22, K5 and table K5.1, seen); the line method on what counts gives the
le, Sip and Sop of that table, and force along the wall and twist besides.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import cos, pi, sin

import numpy as np

from framecheck.checks.face_of_tube import no_rule
from framecheck.checks.feet import EndOnWall, WallKind, feet_of
from framecheck.checks.formulas import en1993_1_8 as en
from framecheck.checks.joint_rows import Capacity, Judging, Line, judged
from framecheck.checks.loads_on_wall import end_loads, worst_of
from framecheck.checks.quarter_turns import worse_of_turns
from framecheck.checks.welds.fillet import (
    METAL_SOURCE,
    RUPTURE_SOURCE,
    YIELD_SOURCE,
    end_loaded_factor,
    european,
    forces_on_runs,
    least_leg,
    leg_required,
    wall_rupture,
    wall_yield,
    weld_metal,
)
from framecheck.model.arrays import Array
from framecheck.model.frame import Make
from framecheck.model.joining import E70_SHEAR
from framecheck.model.joints import ASKED, AtMemberEnd
from framecheck.model.said import SaidAmount, said
from framecheck.model.shop_tables import JointTables, LeastLeg
from framecheck.model.weld_joints import WeldRun
from framecheck.results.row import Check, CheckResult, Mode, Sizing
from framecheck.results.subjects import Open, Question, Subject, Thing, left_open
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class

SOURCE = "effective lengths: ANSI/AISC 360-22, K5, seen"
ARC = 8
"""Straight pieces of an arc: a twelfth of a turn is then half a per mille longer than its chord."""
NO_LEG = "write `leg:` in each `ends` block, or a `welds` or `bolts` joint"


def check(outcome: SolvedCase) -> Iterator[Line]:
    """Yield the rows, the leg asked and what is open of every end on a wall that no joint of the file holds."""
    held = {getattr(joint, "place", None) for joint in outcome.case.joints}
    least_legs = (outcome.case.joint_tables or JointTables()).least_legs
    for turns in feet_of(outcome.case.frame):
        if AtMemberEnd(turns[0].member, turns[0].terminal) not in held:
            lines = tuple(worse_of_turns(turns, lambda foot: lines_of(outcome, foot, least_legs)))
            yield from lines
            yield from (no_leg(turns[0], line, least_legs) for line in lines if isinstance(line, Sizing) and line.given is None)


def lines_of(outcome: SolvedCase, foot: EndOnWall, least_legs: tuple[LeastLeg, ...]) -> Iterator[Line]:
    """Yield what is to be said of one end's weld."""
    why = no_rule(foot) or filler(foot)
    if why:
        yield left_open(Thing.MEMBER_END, foot.member, Question.FASTENING, why, foot.point, "write a `welds` or `bolts` joint")
        return
    welds, loads = tuple(welds_of(foot)), end_loads(outcome, foot)
    runs = tuple(run for weld in welds for run in weld)
    in_wall, size = largest_on_runs(foot, welds, loads)
    yield from wall_rows(outcome, foot, in_wall)
    needed = needed_leg(runs, size.max(axis=(0, 1)))
    given, least = foot.made.leg, least_leg(least_legs, min(foot.wall.t0, foot.branch.t1))
    where = Subject(Thing.MEMBER_END, foot.member, foot.point)
    source = f"{METAL_SOURCE}; {SOURCE}"
    yield Sizing(Check.END_WELD, where.words, "leg all round that the loads ask for", needed, "m", given, source)
    if given is not None:
        strength = np.array([weld_metal(E70_SHEAR, given) * end_loaded_factor(length_of(run), given) for run in runs])
        note = european(E70_SHEAR, ((each.yield_strength, each.ultimate) for each in (foot.wall.metal, foot.branch.metal)))
        yield worst(outcome, where, size, RunLimit(Mode.WELD_METAL, strength, ASKED.strength, source, note=note))
        capacity = Capacity(Mode.LEAST_LEG, given, 1.0, least.source, "m")
        yield judged(Judging(Check.END_WELD, where), None, least.leg, capacity)


def largest_on_runs(foot: EndOnWall, welds: tuple[tuple[WeldRun, ...], ...], loads: Array) -> tuple[Array, Array]:
    """Return the largest force per length on each run under loads (n_bound, n_case, 6): in the wall's own plane, and in all,
    (n_bound, n_case, n_run), N/m; from those of unit loads, for loads are many.
    """
    unit = np.concatenate([forces_on_runs(weld, np.eye(6)) for weld in welds], axis=1) @ foot.axes.T
    rows = loads.reshape(-1, 6)
    along, out, across = (np.square(rows @ unit[..., way].reshape(6, -1)) for way in range(3))
    along += across
    out += along
    in_wall, whole = (np.sqrt(np.maximum(each[:, ::2], each[:, 1::2])).reshape(*loads.shape[:2], -1) for each in (along, out))
    return in_wall, whole


def no_leg(foot: EndOnWall, sizing: Sizing, least_legs: tuple[LeastLeg, ...]) -> Open:
    """Return that an end's leg is not given, and which it needs."""
    least = least_leg(least_legs, min(foot.wall.t0, foot.branch.t1)).leg
    reason = said("leg needed: ", SaidAmount(max(sizing.value, least), "length"), " all round; not given")
    return left_open(Thing.MEMBER_END, foot.member, Question.FASTENING, reason, foot.point, NO_LEG)


def filler(foot: EndOnWall) -> str:
    """Return why the strength of the weld metal can't be taken as that of E70, "" where it can."""
    steel = foot.wall.metal.kind == foot.branch.metal.kind == "steel"
    return "" if steel else "its filler is not known, and E70 is for steel"


def needed_leg(runs: tuple[WeldRun, ...], size: Array) -> float:
    """Return the leg, m, with which the weld metal meets its target; size: largest force per length on each run, N/m."""
    found = zip(runs, size.tolist(), strict=True)
    return max(leg_required(each, E70_SHEAR, ASKED.strength, length_of(run)) for run, each in found)


def length_of(run: WeldRun) -> float:
    """Return the length of a run, m."""
    return float(np.linalg.norm(np.subtract(run.end, run.start)))


@value_class
class RunLimit:
    """What each run bears in one way, N/m, (n_run,) or one number; the factor asked, the rule, the part that fails, further words."""

    mode: Mode
    strength: Array
    asked: float
    source: str
    part: str = ""
    note: str = ""


def wall_rows(outcome: SolvedCase, foot: EndOnWall, in_wall: Array) -> Iterator[CheckResult]:
    """Yield yield and rupture of both walls beside the weld, by the force per length in the wall's own plane (n_bound, n_case, n_run):
    the rest is the face's to bear.
    """
    where = Subject(Thing.MEMBER_END, foot.member, foot.point)
    for part, wall, metal in (("rail wall", foot.wall.t0, foot.wall.metal), ("branch wall", foot.branch.t1, foot.branch.metal)):
        yields, tears = wall_yield(metal.yield_strength, wall), wall_rupture(metal.ultimate, wall)
        for limit in (
            RunLimit(Mode.WALL_YIELDS_AT_WELD, np.array(yields), ASKED.yielding, YIELD_SOURCE, part),
            RunLimit(Mode.WALL_RUPTURES_AT_WELD, np.array(tears), ASKED.strength, RUPTURE_SOURCE, part),
        ):
            yield worst(outcome, where, in_wall, limit)


def worst(outcome: SolvedCase, where: Subject, size: Array, limit: RunLimit) -> CheckResult:
    """Return the worst bound, load case and run; size: force per length, (n_bound, n_case, n_run), N/m."""
    strength = np.broadcast_to(limit.strength, size.shape)
    bound, case, run = worst_of(size / strength)
    return CheckResult(
        check=Check.END_WELD,
        mode=limit.mode,
        subject=where,
        load_case=outcome.loads[case].name,
        demand=float(size[bound, case, run]),
        capacity=float(strength[bound, case, run]),
        unit="N/m",
        target=limit.asked,
        source=limit.source,
        part=limit.part,
        note=limit.note,
        bound=outcome.bound(where.name, bound),
    )


# what of the weld counts ----------------------------------------------------------------------------------------------


def welds_of(foot: EndOnWall) -> Iterator[tuple[WeldRun, ...]]:
    """Yield what the weld may be: through both walls, of both; where the make is left out either, each bearing all."""
    goes_through = foot.wall.kind is not WallKind.CHANNEL
    if not (goes_through and foot.made.make is Make.THROUGH):
        yield runs_at(foot, (0.0,))
    if goes_through and foot.made.make in (Make.THROUGH, Make.UNSAID):
        yield runs_at(foot, (0.0, -foot.wall.h0))


def runs_at(foot: EndOnWall, depths: tuple[float, ...]) -> tuple[WeldRun, ...]:
    """Return what counts of a weld at some depths, m from where the branch meets the wall's outside; legs of 1 m."""
    places = [[(x, depth, z) for x, z in ends] for depth in depths for ends in outline_of(foot)]
    return tuple(WeldRun((*start,), (*end,), 1.0) for start, end in (np.array(places) @ foot.axes).tolist())


Corner = tuple[float, float]


def outline_of(foot: EndOnWall) -> list[tuple[Corner, Corner]]:
    """Return what counts of the weld in the wall's plane: pairs of (along, across) the rail from the branch's middle, m."""
    branch = foot.branch
    b, h, counts = branch.b1, branch.h1, counted(foot)
    if branch.kind is WallKind.ROUND:
        reach = pi / 4 * (1 + counts / b)
        return [piece for middle in (0.0, pi) for piece in arc(b / 2, middle - reach, middle + reach)]
    if branch.kind is WallKind.PLATE:
        return [piece for side in (-h / 2, h / 2) for piece in corners(side, b, counts)]
    along: tuple[float, ...] = (-b / 2, b / 2)
    across: tuple[float, ...] = (-h / 2, h / 2)
    if branch.kind is WallKind.CHANNEL and foot.upright:
        across = (foot.web * h / 2,)
    elif branch.kind is WallKind.CHANNEL:
        along = (foot.web * b / 2,)
    return [*(((-h / 2, end), (h / 2, end)) for end in along), *(piece for side in across for piece in corners(side, b, counts))]


def corners(side: float, b: float, counts: float) -> list[tuple[Corner, Corner]]:
    """Return what counts of a run across the rail, half at each of its ends."""
    return [((side, end * b / 2), (side, end * (b - counts) / 2)) for end in (-1.0, 1.0)]


def arc(radius: float, start: float, end: float) -> list[tuple[Corner, Corner]]:
    """Return an arc in straight pieces; angles from across the rail, rad."""
    turns = np.linspace(start, end, ARC + 1).tolist()
    return list(pairwise((radius * sin(turn), radius * cos(turn)) for turn in turns))


def counted(foot: EndOnWall) -> float:
    """Return what counts of a run across the rail, m: of a branch with walls along the rail no more than half (K5, note)."""
    wall, branch = foot.wall, foot.branch
    if wall.kind is WallKind.ROUND:
        return branch.b1
    strengths = (wall.metal.yield_strength, branch.metal.yield_strength)
    thick = branch.h1 if branch.kind is WallKind.PLATE else branch.t1
    be = en.effective_width(wall.b0, (wall.t0, thick), strengths, branch.b1)
    return be if branch.kind is WallKind.PLATE else min(be, branch.b1 / 2)
