"""The wall under every member end, judged without being asked: from the member's own end forces, in every load case and bound."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks import face_limits
from framecheck.checks.face_strength import Bears, branch_yields, compressed, face, punched, used
from framecheck.checks.feet import Foot, Kind, WallLoads, feet_of, wall_loads, worst_of
from framecheck.checks.formulas import en1993_1_8 as en
from framecheck.checks.formulas import yield_lines
from framecheck.checks.joint_rows import Line
from framecheck.model.arrays import Array
from framecheck.model.frame import Make
from framecheck.model.joints import ASKED, AtMemberEnd
from framecheck.model.said import Words, joined
from framecheck.model.weld_joints import Bracket
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Question, Subject, Thing, left_open
from framecheck.stress import Outcome
from framecheck.value_class import value_class

PUNCHING_FACTOR, BRANCH_FACTOR = 1.58, 1.67
"""ASD factors: ANSI/AISC 360-22, table K3.2 (seen, punching) and J4.1 (branch), from memory."""
ENGINEER = "ask an engineer, or accept with a reason"


@value_class
class Way:
    """One way in which a wall under an end fails: what it bears, the factor asked, where the rule stands."""

    mode: Mode
    bears: Bears
    asked: float
    source: str


def check(outcome: Outcome) -> Iterator[Line]:
    """Yield a row a way of failing for every end on a wall, its worst load case and bound, and what no rule covers."""
    told = {joint.place for joint in outcome.case.joints if isinstance(joint, Bracket)}
    for foot in feet_of(outcome.case.frame):
        if AtMemberEnd(foot.member, foot.terminal) not in told:
            yield from lines_of(outcome, foot)


def lines_of(outcome: Outcome, foot: Foot) -> Iterator[Line]:
    """Yield the rows of one end, or why there are none."""
    why = face_limits.no_rule(foot)
    if why:
        yield left_open(Thing.MEMBER_END, foot.member, Question.FACE, why, foot.point, ENGINEER)
        return
    beyond = tuple(face_limits.outside(foot))
    loads = wall_loads(outcome, foot)
    for way in ways(foot):
        yield row(outcome, foot, (way, loads), beyond)
    if beyond:
        reason = f"outside what the rules are tested for: {'; '.join(beyond)} ({face_limits.SOURCE})"
        yield left_open(Thing.MEMBER_END, foot.member, Question.FACE, reason, foot.point, ENGINEER)


def ways(foot: Foot) -> tuple[Way, ...]:
    """Return the ways in which the wall under an end fails."""
    source = yield_lines.HINGED if foot.wall.kind is Kind.CHANNEL else f"{en.FACE}; {en.SIDES}"
    source = f"{source}; {yield_lines.OPEN_SIDED}" if foot.branch.kind is Kind.CHANNEL else source
    return (
        Way(Mode.FACE_FOLDS, face(foot), ASKED.yielding, source),
        Way(Mode.FACE_PUNCHED, punched(foot), PUNCHING_FACTOR, en.PUNCHING),
        Way(Mode.BRANCH_YIELDS, branch_yields(foot), BRANCH_FACTOR, en.UNEVEN),
    )


def is_through(foot: Foot) -> bool:
    """Return whether an end passes through both walls of its rail and is welded to both."""
    return foot.made.make is Make.THROUGH and foot.wall.kind in (Kind.BOX, Kind.ROUND)


def counted(foot: Foot, way: Way, loads: WallLoads) -> tuple[Array, Array, Array]:
    """Return the force square to the wall and both moments that one way of failing feels, (n_bound, n_case) each.

    Passed through both walls, these share a force and hold a moment in their own planes, as the weld's rows tell.
    """
    if way.mode is Mode.BRANCH_YIELDS or not is_through(foot):
        return loads.pull, loads.in_plane, loads.about_rail
    return loads.pull / 2, np.zeros_like(loads.pull), np.zeros_like(loads.pull)


def shares(foot: Foot, way: Way, loads: WallLoads) -> Array:
    """Return the share of strength that is used, (n_bound, n_case)."""
    total = used(way.bears, *counted(foot, way, loads))
    if way.mode is not Mode.FACE_FOLDS:
        return total
    return total / compressed(foot, way.asked * loads.rail / foot.wall.metal.yield_strength)


def row(outcome: Outcome, foot: Foot, of: tuple[Way, WallLoads], beyond: tuple[str, ...]) -> CheckResult:
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
        bound=outcome.solutions[bound].bound,
        note=words(foot, way, loads, (bound, case), beyond),
    )


def words(foot: Foot, way: Way, loads: WallLoads, at: tuple[int, int], beyond: tuple[str, ...]) -> Words:
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

