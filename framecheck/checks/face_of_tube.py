"""The wall under every member end, judged without being asked, from the member's own end forces; and what its rules have been
tested for.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

import numpy as np

from framecheck.checks.face_strength import Bears, branch_yields, compressed, face, punched, used
from framecheck.checks.feet import EndOnWall, WallKind, feet_of
from framecheck.checks.formulas import en1993_1_8 as en
from framecheck.checks.formulas import wall_bending
from framecheck.checks.joint_rows import Line
from framecheck.checks.loads_on_wall import WallLoads, wall_loads, worst_of
from framecheck.checks.quarter_turns import worse_of_turns
from framecheck.frame.stand_in import Unmodelled
from framecheck.model.arrays import Array
from framecheck.model.frame import Make
from framecheck.model.joints import ASKED, AtMemberEnd
from framecheck.model.said import Words, joined
from framecheck.model.weld_joints import Bracket
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Question, Subject, Thing, left_open
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class

SOURCE = "EN 1993-1-8:2005, tables 7.1 and 7.8, from memory; ANSI/AISC 360-22, tables K3.2A and K4.2A, seen"
SLENDER, ROUND_SLENDER = 35.0, 50.0
LEAST_WALL, MOST_STRENGTH, DUCTILE = 0.0025, 460e6, 0.81
"""m; Pa; yield over tensile strength: 0.8, and A500 grade C, 0.807, is accepted."""
LEAN = 0.1736
"""Cosine of 80 degrees between branch and rail: the rules for moments are for square joints."""
MOST_LEAN = 0.66
"""Cosine of 49 degrees: a branch that leans more meets no wall (frame/leaning.py has the same limit for flat ones)."""
EDGE = 1e-6
UNJUDGED_MAKES = {
    Make.ON_PLATE: "a plate lies between, and the rules are for ends that stand on the wall itself",
    Make.BOLTED: "a plate lies between, and the rules are for ends that stand on the wall itself",
    Make.ON_TOP: "it lies across the wall, and the rules are for ends that stand on one",
    Make.UNDERNEATH: "it lies across the wall, and the rules are for ends that stand on one",
}


def no_rule(foot: EndOnWall) -> str:
    """Return why nothing is known of a wall under an end, "" where something is."""
    if foot.made.make in UNJUDGED_MAKES:
        return UNJUDGED_MAKES[foot.made.make]
    if foot.made.welded:
        return "it is welded on some of its sides only, for which there is no rule"
    if foot.wall.kind in (WallKind.OTHER, WallKind.PLATE):
        return "no rule is built in for a rail of that shape"
    if foot.branch.kind is WallKind.OTHER:
        return "no rule is built in for a branch of that shape"
    if foot.unmodelled is Unmodelled.RAIL_END or not foot.rails:
        return "it stands on a member's end, for which there is no rule"
    if foot.unmodelled is Unmodelled.ASKEW or abs(foot.lean) > MOST_LEAN:
        return "it meets no wall squarely, for which there is no rule"
    if abs(foot.branch.offset) + foot.branch.b1 / 2 > foot.wall.b0 / 2 + EDGE:
        return "it reaches beyond the edge of the wall that it stands on, for which there is no rule"
    if foot.wall.left < -EDGE:
        return "it reaches beyond the rail's end, for which there is no rule"
    return ""


def outside(foot: EndOnWall) -> Iterator[str]:
    """Yield what lies outside the range that the rules have been tested in."""
    wall, branch = foot.wall, foot.branch
    beta, round_rail = branch.b1 / wall.b0, wall.kind is WallKind.ROUND
    slender = ROUND_SLENDER if round_rail else SLENDER
    yield from over("the rail's wall", wall.b0 / wall.t0, slender)
    if branch.kind in (WallKind.BOX, WallKind.ROUND):
        limit = ROUND_SLENDER if branch.kind is WallKind.ROUND else SLENDER
        yield from over("the branch's wall", max(branch.b1, branch.h1) / branch.t1, limit)
    if wall.kind is WallKind.BOX:
        yield from over("the walls beside it", wall.h0 / wall.t0, slender)
        yield from ratio("the rail's depth over its width", wall.h0 / wall.b0)
    if branch.kind is WallKind.BOX:
        yield from ratio("the branch's length over its width", branch.h1 / branch.b1)
    if beta < 0.25 * (1 - EDGE):
        yield f"the branch is {beta:.2f} as wide as the wall, under 0.25"
    if branch.kind is WallKind.ROUND and not round_rail and beta > 0.8 * (1 + EDGE):
        yield f"a round branch {beta:.2f} as wide as the wall, over 0.80"
    if min(wall.t0, branch.t1) < LEAST_WALL * (1 - EDGE):
        yield f"a wall of {1e3 * min(wall.t0, branch.t1):.1f} mm, under 2.5 mm"
    if abs(foot.lean) > LEAN:
        yield "it leans more than 10 degrees from square"
    yield from metals(foot)
    if branch.kind is WallKind.CHANNEL:
        yield "the branch is open, and rules are tested on closed ones"


def over(what: str, slenderness: float, limit: float) -> Iterator[str]:
    """Yield that a wall is too slender."""
    if slenderness > limit * (1 + EDGE):
        yield f"{what} is {slenderness:.0f} times as wide as thick, over {limit:.0f}"


def ratio(what: str, value: float) -> Iterator[str]:
    """Yield that one size over another is not within 0.5 to 2."""
    if not 0.5 * (1 - EDGE) <= value <= 2.0 * (1 + EDGE):
        yield f"{what} is {value:.2f}, not 0.5 to 2"


def metals(foot: EndOnWall) -> Iterator[str]:
    """Yield what the rules have not been tested on."""
    for name, metal in (("the rail", foot.wall.metal), ("the branch", foot.branch.metal)):
        if metal.kind != "steel":
            yield f"{name} is of {metal.kind}, and the rules are tested on steel"
        elif metal.yield_strength > MOST_STRENGTH:
            yield f"{name} yields at {metal.yield_strength / 1e6:.0f} MPa, over 460"
        elif metal.yield_strength > DUCTILE * metal.ultimate:
            yield f"{name}'s metal yields at {metal.yield_strength / metal.ultimate:.2f} of its tensile strength, over 0.8"


PUNCHING_FACTOR, BRANCH_FACTOR = 1.58, 1.67
"""ASD factors: ANSI/AISC 360-22, table K3.2 (seen, punching) and J4.1 (branch), from memory."""
ENGINEER = "ask an engineer, or accept with a reason"


@value_class
class FaceFailure:
    """One way in which a wall under an end fails: what it bears, the factor asked, where the rule stands."""

    mode: Mode
    bears: Bears
    asked: float
    source: str


def check(outcome: SolvedCase) -> Iterator[Line]:
    """Yield a row a way of failing for every end on a wall, its worst load case and bound, and what no rule covers."""
    told = {joint.place for joint in outcome.case.joints if isinstance(joint, Bracket)}
    for turns in feet_of(outcome.case.frame):
        if AtMemberEnd(turns[0].member, turns[0].terminal) not in told:
            yield from worse_of_turns(turns, partial(lines_of, outcome))


def lines_of(outcome: SolvedCase, foot: EndOnWall) -> Iterator[Line]:
    """Yield the rows of one end, or why there are none."""
    why = no_rule(foot)
    if why:
        yield left_open(Thing.MEMBER_END, foot.member, Question.FACE, why, foot.point, ENGINEER)
        return
    beyond = tuple(outside(foot))
    loads = wall_loads(outcome, foot)
    for way in ways(foot):
        yield row(outcome, foot, (way, loads), beyond)
    if beyond:
        reason = f"outside what the rules are tested for: {'; '.join(beyond)} ({SOURCE})"
        yield left_open(Thing.MEMBER_END, foot.member, Question.FACE, reason, foot.point, ENGINEER)


def ways(foot: EndOnWall) -> tuple[FaceFailure, ...]:
    """Return the ways in which the wall under an end fails."""
    source = wall_bending.HINGED if foot.wall.kind is WallKind.CHANNEL else f"{en.FACE}; {en.SIDES}"
    source = f"{source}; {wall_bending.OPEN_SIDED}" if foot.branch.kind is WallKind.CHANNEL else source
    return (
        FaceFailure(Mode.FACE_FOLDS, face(foot), ASKED.yielding, source),
        FaceFailure(Mode.FACE_PUNCHED, punched(foot), PUNCHING_FACTOR, en.PUNCHING),
        FaceFailure(Mode.BRANCH_YIELDS, branch_yields(foot), BRANCH_FACTOR, en.UNEVEN),
    )


def is_through(foot: EndOnWall) -> bool:
    """Return whether an end passes through both walls of its rail and is welded to both."""
    return foot.made.make is Make.THROUGH and foot.wall.kind in (WallKind.BOX, WallKind.ROUND)


def counted(foot: EndOnWall, way: FaceFailure, loads: WallLoads) -> tuple[Array, Array, Array]:
    """Return the force square to the wall and both moments that one way of failing feels, (n_bound, n_case) each.

    Passed through both walls, these share a force and hold a moment in their own planes, as the weld's rows tell.
    """
    if way.mode is Mode.BRANCH_YIELDS or not is_through(foot):
        return loads.pull, loads.in_plane, loads.about_rail
    return loads.pull / 2, np.zeros_like(loads.pull), np.zeros_like(loads.pull)


def shares(foot: EndOnWall, way: FaceFailure, loads: WallLoads) -> Array:
    """Return the share of strength that is used, (n_bound, n_case)."""
    total = used(way.bears, *counted(foot, way, loads))
    if way.mode is not Mode.FACE_FOLDS:
        return total
    return total / compressed(foot, way.asked * loads.rail / foot.wall.metal.yield_strength)


def row(outcome: SolvedCase, foot: EndOnWall, of: tuple[FaceFailure, WallLoads], beyond: tuple[str, ...]) -> CheckResult:
    """Return the worst load case and bound of one way of failing."""
    way, loads = of
    share = shares(foot, way, loads)
    bound, case = worst_of(share)
    return CheckResult(
        check=Check.FACE,
        mode=way.mode,
        subject=Subject(Thing.MEMBER_END, foot.member, foot.point),
        load_case=outcome.loads[case].name,
        demand=float(share[bound, case]),
        capacity=1.0,
        unit="1",
        target=way.asked,
        source=way.source,
        bound=outcome.bound(foot.member, bound),
        note=words(foot, way, loads, (bound, case), beyond),
    )


def words(foot: EndOnWall, way: FaceFailure, loads: WallLoads, at: tuple[int, int], beyond: tuple[str, ...]) -> Words:
    """Return what makes up a share: force, both moments, and what compression in the rail takes."""
    pull, turn, over = (float(each[at]) for each in counted(foot, way, loads))
    named = (
        ("pull" if pull >= 0 else "push", abs(pull) / (way.bears.pull if pull >= 0 else way.bears.push)),
        ("bending along the rail", abs(turn) / way.bears.in_plane),
        ("bending across it", abs(over) / way.bears.about_rail),
    )
    total = sum(share for _, share in named) or 1.0
    parts = ", ".join(f"{name} {100 * share / total:.0f} %" for name, share in named)
    beta = foot.branch.b1 / foot.wall.b0
    range_of = "outside the tested range" if beyond else ""
    return joined(f"{beta:.2f} as wide as the wall: {parts}", range_of)
