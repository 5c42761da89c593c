"""How far a member's face is compressed under a bracket, by the solved frame."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from framecheck.frame.geometry import point_stations
from framecheck.model.frame import Member
from framecheck.model.joints import ASKED, AtMemberEnd, AtPoint, Terminal
from framecheck.model.weld_joints import Bracket
from framecheck.stress import SolvedCase
from framecheck.surface_stress import components


def compression_of(outcome: SolvedCase, bracket: Bracket) -> Mapping[str, float]:
    """Return by load case the largest compressive stress over yield, times the factor asked, in the members at a bracket's place; of
    several members and bounds the most. Nothing where its loads are written, or no stress is known.
    """
    cases = [loads.name for loads in outcome.loads]
    found = np.zeros(len(cases))
    members, point = members_under(outcome, bracket)
    known = False
    for number, member in members:
        drawn, place = point_stations(outcome.case.frame, member), member.points.index(point)
        for solution in outcome.solutions:
            line = solution.members[number]
            for row in line.rows_at_point(drawn, place).tolist():
                fields = line.sections[row].fields
                if fields is not None:
                    known = True
                    found = np.maximum(found, -components(fields, line.forces[row]).normal.min(axis=-1))
    share = np.minimum(ASKED.yielding * found / bracket.member.material.yield_strength, 1.0)
    return dict(zip(cases, share.tolist(), strict=True)) if known else {}


def members_under(outcome: SolvedCase, bracket: Bracket) -> tuple[list[tuple[int, Member]], str]:
    """Return the members, with their numbers, that a bracket may stand on, and the frame point there."""
    numbered = list(enumerate(outcome.case.frame.members))
    match bracket.place:
        case AtPoint(point):
            return [each for each in numbered if point in each[1].points], point
        case AtMemberEnd(name, end):
            held = next(member for _, member in numbered if member.name == name)
            point = held.points[0 if end is Terminal.START else -1]
            return [each for each in numbered if point in each[1].points and each[1].name != name], point
        case _:
            return [], ""


def pressed(bracket: Bracket, compression: float | None) -> Bracket:
    """Return a bracket whose member is compressed as far as the file or the frame says: the more of both."""
    written = bracket.member.utilisation
    if compression is None:
        return bracket
    return replace(bracket, member=replace(bracket.member, utilisation=max(compression, written or 0.0)))
