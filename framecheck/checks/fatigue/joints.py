"""Fatigue of seams of built-up sections, roots of fillet welds and walls under member ends, and the rows of the fatigue check."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from framecheck.checks.face_of_tube import no_rule
from framecheck.checks.fatigue.sn import damage, damage_together
from framecheck.checks.fatigue.swings import SwingBlock, ranges, vector_ranges
from framecheck.checks.feet import EndOnWall, WallKind, feet_of
from framecheck.checks.formulas import wall_bending
from framecheck.checks.joint_forces import ThroatStress
from framecheck.checks.joint_rows import Line
from framecheck.checks.loads_on_wall import WallLoads, wall_loads
from framecheck.checks.quarter_turns import worse_of_turns
from framecheck.frame.results import Bound
from framecheck.model.arrays import Array
from framecheck.model.duty import DetailClass, Duty, Fatigue, Per, SeamDetail, WeldDetail
from framecheck.model.frame import Make
from framecheck.model.said import SaidAmount, Words, joined, said
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Entry, Open, Question, Subject, Thing, left_open
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class

MINER = "Miner's sum over the asked life; partial factors from EN 1993-1-9:2005, table 3.1, from memory"


@value_class
class Finding:
    """What is to be said of a detail: damage per km or year, and the words and place that go with it.

    subject: of the row; None: the detail on its member or weld.
    """

    detail: str
    where: str
    station: float | None
    damage: float
    words: str
    source: str
    bound: Bound | None = None
    subject: Subject | None = None


def detail_subject(name: str, where: str) -> Subject:
    """Return a detail as the subject of a row: the member or weld that it sits on, and its name."""
    return Subject(Thing.DETAIL, where, name)


def life(damage: float, duty: Duty) -> float:
    """Return the life until Miner's sum reaches its limit, km or years; inf where nothing is damaged."""
    return duty.damage_limit / damage if damage > 0 else float("inf")


def life_words(damage: float, duty: Duty) -> Words:
    """Return the life in words, in three digits."""
    if damage <= 0:
        return "below the endurance limit"
    found = life(damage, duty)
    if duty.life_in is Per.KM:
        return said("life ", SaidAmount(1000 * found, "life distance"))
    if found >= 1000:
        digits = max(len(str(int(found))) - 3, 0)
        return f"life {int(found) // 10**digits * 10**digits:,} years".replace(",", " ")
    return f"life {found:.3g} years"


def factor_words(duty: Duty) -> str:
    """Return the partial factors in words."""
    return f"partial factors {duty.factors.load:.2f} on load, {duty.factors.strength:.2f} on strength"


def row(finding: Finding, duty: Duty) -> CheckResult:
    """Return the row of a detail: Miner's sum over the asked life against its limit; the safety factor is one on life."""
    used = finding.damage * duty.life
    return CheckResult(
        check=Check.FATIGUE,
        mode=Mode.DAMAGE,
        subject=finding.subject or detail_subject(finding.detail, finding.where),
        load_case=None,
        demand=used,
        capacity=duty.damage_limit,
        unit="1",
        target=1.0,
        source=f"{finding.source}; {MINER}",
        station=finding.station,
        part=finding.detail,
        bound=finding.bound,
        note=joined(life_words(finding.damage, duty), finding.words, factor_words(duty)),
    )


SeamStresses = Mapping[tuple[str, str], ThroatStress]
SEAM_REMEDY = "write its weld with its leg, or ask an engineer"


def seam_lines(
    detail: SeamDetail, outcome: SolvedCase, stresses: SeamStresses, blocks: Sequence[SwingBlock], duty: Duty
) -> Iterator[Line]:
    """Yield the row of the seams of a section in a member, or why there is none; nothing where they are taken as loose."""
    stress = stresses.get((detail.member, detail.section))
    if stress is None:
        if not is_loose(outcome, detail.section):
            reason = "there is no class for its bolts or spots, or the size of its weld or the flow in it is not known"
            yield left_open(Thing.SEAM, detail.member, Question.FATIGUE, reason, detail.section, SEAM_REMEDY)
        return
    cycles = np.array([block.cycles for block in blocks])
    factor = duty.factors.load * duty.factors.strength
    total = damage(factor * ranges(stress.along[None], blocks)[:, 0], cycles, detail.along)
    subject = Subject(Thing.SEAM, detail.member, detail.section)
    words = f"throat of the seam's weld, class '{detail.along.name}'"
    yield row(Finding("", detail.member, None, float(total.max()), words, detail.along.source, subject=subject), duty)


def is_loose(outcome: SolvedCase, section: str) -> bool:
    """Return whether the parts of a section carry nothing across their seams in this outcome."""
    return bool(outcome.sections[section].shares)


def weld_line(detail: WeldDetail, stress: ThroatStress | None, blocks: Sequence[SwingBlock], duty: Duty) -> Line:
    """Return the row of a weld group's throats: damage across and along added point by point.

    EN 1993-1-9:2005, 8(3): the damages of both add up to 1 at most.
    """
    if stress is None:
        entry = Entry(detail_subject(detail.name, detail.weld), Question.FATIGUE)
        return Open(entry, "the weld's loads are not known in the duty's load cases")
    cycles = np.array([block.cycles for block in blocks])
    factor = duty.factors.load * duty.factors.strength
    across = factor * vector_ranges(stress.across[None], blocks)[:, 0]
    along = factor * ranges(stress.along[None], blocks)[:, 0]
    total = damage_together(((across, detail.across), (along, detail.along)), cycles)
    words = f"throat, read with '{detail.across.name}' across the weld and '{detail.along.name}' along it"
    source = f"{detail.across.source}; {detail.along.source}"
    return row(Finding(detail.name, detail.weld, None, float(total.max()), words, source), duty)


SOURCE = "bending of the wall as a strip, fitted to shell models (docs/theory/fatigue.md)"
LEAST_GAP = 1.0
"""The strip beside a branch is taken as wide as so many walls at the least: a wide branch bends its face all the same."""
FACE_REMEDY = "write a fatigue detail at the end, or ask an engineer"


def face_lines(outcome: SolvedCase, asked: Fatigue, counted: Sequence[SwingBlock]) -> Iterator[Line]:
    """Yield the row of every wall under a member's end, or why there is none."""
    for turns in feet_of(outcome.case.frame):
        yield from worse_of_turns(turns, lambda foot: [face_line(outcome, asked, counted, foot)])


def face_line(outcome: SolvedCase, asked: Fatigue, counted: Sequence[SwingBlock], foot: EndOnWall) -> Line:
    """Return the row of the wall under one end, or why there is none."""
    fatigue_class = next((each for each in asked.faces if each.metal == foot.wall.metal.kind), None)
    why = no_rule(foot) or reason_against(foot, fatigue_class)
    if why or fatigue_class is None:
        return left_open(Thing.MEMBER_END, foot.member, Question.FATIGUE, why, foot.point, FACE_REMEDY)
    return of_foot(outcome, foot, fatigue_class, (counted, asked.duty))


def reason_against(foot: EndOnWall, fatigue_class: DetailClass | None) -> str:
    """Return why the bending of a wall is not known, "" where it is."""
    if fatigue_class is None:
        return f"no class is built in for welds on {foot.wall.metal.kind}"
    if foot.wall.kind is WallKind.ROUND or foot.branch.kind in (WallKind.PLATE, WallKind.CHANNEL):
        return "how its wall bends beside the weld is not modelled"
    return ""


def of_foot(outcome: SolvedCase, foot: EndOnWall, of: DetailClass, by: tuple[Sequence[SwingBlock], Duty]) -> Line:
    """Return the row of one wall: the worst corner of the branch under the worst bound."""
    blocks, duty = by
    stress = bending(foot, wall_loads(outcome, foot))
    factor = duty.factors.load * duty.factors.strength
    cycles = np.array([block.cycles for block in blocks])
    total = damage(factor * ranges(stress, blocks), cycles, of)
    bound = int(np.argmax(total.max(axis=1)))
    words = f"the wall that it stands on, class {of.name} ({of.detail}), the wall's own bending counted"
    where = Subject(Thing.MEMBER_END, foot.member, foot.point)
    bound_of, source = outcome.bound(foot.member, bound), f"{of.source}; {SOURCE}"
    return row(Finding("", foot.member, None, float(total.max()), words, source, bound_of, where), duty)


def bending(foot: EndOnWall, loads: WallLoads) -> Array:
    """Return the bending stress of the wall beside the branch's four corners, (n_bound, n_case, 4), Pa."""
    t, sizes = foot.wall.t0, sizes_of(foot)
    held = 0.0 if foot.made.make is Make.THROUGH and foot.wall.kind is WallKind.BOX else 1.0
    force = wall_bending.of_force(t, sizes) * loads.pull / (1.0 if held else 2.0)
    over = held * wall_bending.of_moment_about_rail(t, sizes) * loads.about_rail
    turn = held * wall_bending.of_moment_in_plane(t, sizes) * loads.in_plane
    return np.stack([force + one * over + other * turn for one in (-1, 1) for other in (-1, 1)], axis=-1)


def sizes_of(foot: EndOnWall) -> tuple[float, float, float]:
    """Return the middle-line sizes of wall and branch: (b0, b1, h1), m."""
    wall, branch = foot.wall, foot.branch
    share = wall_bending.ROUND_AS_SQUARE if branch.kind is WallKind.ROUND else 1.0
    b0, b1, h1 = wall.b0 - wall.t0, share * (branch.b1 - branch.t1), share * (branch.h1 - branch.t1)
    return b0, min(b1, b0 - 2 * LEAST_GAP * wall.t0), h1
