"""Fatigue of the wall under every member end, without being asked: its own bending beside the weld, as a hot spot."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.checks.face_limits import no_rule
from framecheck.checks.fatigue.counting import Block
from framecheck.checks.fatigue.rows import Finding, row
from framecheck.checks.fatigue.sn import damage
from framecheck.checks.fatigue.swings import ranges
from framecheck.checks.feet import Foot, Kind, WallLoads, feet_of, wall_loads
from framecheck.checks.formulas import face_bending
from framecheck.checks.joint_rows import Line
from framecheck.model.arrays import Array
from framecheck.model.duty import DetailClass, Duty, Fatigue
from framecheck.model.frame import Make
from framecheck.results.subjects import Question, Subject, Thing, left_open
from framecheck.stress import Outcome

SOURCE = "bending of the wall as a strip, fitted to shell models (docs/theory/fatigue.md)"
LEAST_GAP = 1.0
"""The strip beside a branch is taken as wide as so many walls at the least: a wide branch bends its face all the same."""
REMEDY = "write a fatigue detail at the end, or ask an engineer"


def face_lines(outcome: Outcome, asked: Fatigue, counted: Sequence[Block]) -> Iterator[Line]:
    """Yield the row of every wall under a member's end, or why there is none."""
    for foot in feet_of(outcome.case.frame):
        fatigue_class = next((each for each in asked.faces if each.metal == foot.wall.metal.kind), None)
        why = no_rule(foot) or reason_against(foot, fatigue_class)
        if why or fatigue_class is None:
            yield left_open(Thing.MEMBER_END, foot.member, Question.FATIGUE, why, foot.point, REMEDY)
        else:
            yield of_foot(outcome, foot, fatigue_class, (counted, asked.duty))


def reason_against(foot: Foot, fatigue_class: DetailClass | None) -> str:
    """Return why the bending of a wall is not known, "" where it is."""
    if fatigue_class is None:
        return f"no class is built in for welds on {foot.wall.metal.kind}"
    if foot.wall.kind is Kind.ROUND or foot.branch.kind in (Kind.PLATE, Kind.CHANNEL):
        return "how its wall bends beside the weld is not modelled"
    return ""


def of_foot(outcome: Outcome, foot: Foot, of: DetailClass, by: tuple[Sequence[Block], Duty]) -> Line:
    """Return the row of one wall: the worst corner of the branch under the worst bound."""
    blocks, duty = by
    stress = bending(foot, wall_loads(outcome, foot))
    factor = duty.factors.load * duty.factors.strength
    cycles = np.array([block.cycles for block in blocks])
    total = damage(factor * ranges(stress, blocks), cycles, of)
    bound = int(np.argmax(total.max(axis=1)))
    words = f"the wall that it stands on, class {of.name} ({of.detail}), the wall's own bending counted"
    where = Subject(Thing.MEMBER_END, foot.member, foot.point)
    bound_of, source = outcome.solutions[bound].bound, f"{of.source}; {SOURCE}"
    return row(Finding("", foot.member, None, float(total.max()), words, source, bound_of, where), duty)


def bending(foot: Foot, loads: WallLoads) -> Array:
    """Return the bending stress of the wall beside the branch's four corners, (n_bound, n_case, 4), Pa."""
    t, sizes = foot.wall.t0, sizes_of(foot)
    held = 0.0 if foot.made.make is Make.THROUGH and foot.wall.kind is Kind.BOX else 1.0
    force = face_bending.of_force(t, sizes) * loads.pull / (1.0 if held else 2.0)
    over = held * face_bending.of_moment_about_rail(t, sizes) * loads.about_rail
    turn = held * face_bending.of_moment_in_plane(t, sizes) * loads.in_plane
    return np.stack([force + one * over + other * turn for one in (-1, 1) for other in (-1, 1)], axis=-1)


def sizes_of(foot: Foot) -> tuple[float, float, float]:
    """Return the middle-line sizes of wall and branch: (b0, b1, h1), m."""
    wall, branch = foot.wall, foot.branch
    share = face_bending.ROUND_AS_SQUARE if branch.kind is Kind.ROUND else 1.0
    b0, b1, h1 = wall.b0 - wall.t0, share * (branch.b1 - branch.t1), share * (branch.h1 - branch.t1)
    return b0, min(b1, b0 - 2 * LEAST_GAP * wall.t0), h1
