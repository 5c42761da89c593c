"""What may crack in the life of a frame."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.frame.joints import seats_of
from framecheck.model.case import Case
from framecheck.model.weld_joints import Bracket, WeldGroup
from framecheck.results.subjects import Entry, Question, Thing, asked

SEEN_AS_DETAILS = (WeldGroup, Bracket)
"""Joints whose fatigue is asked of a detail: a weld group's throats, the member's wall under a bracket."""


def of_life(case: Case) -> Iterator[Entry]:
    """Yield details, walls under member ends, joints and seams that may crack; the life of the frame where no duty is given."""
    if case.fatigue is None:
        yield asked(Thing.FRAME, "life of the frame", Question.FATIGUE)
        return
    yield from (asked(Thing.DETAIL, each.member, Question.FATIGUE, each.name) for each in case.fatigue.details)
    yield from (asked(Thing.DETAIL, each.weld, Question.FATIGUE, each.name) for each in case.fatigue.welds)
    members = case.frame.members
    for number, end in seats_of(case.frame):
        yield asked(Thing.MEMBER_END, members[number].name, Question.FATIGUE, members[number].points[-end])
    yield from (asked(Thing.SEAM, each.member, Question.FATIGUE, each.section) for each in case.fatigue.seams)
    yield from (asked(Thing.JOINT, joint.name, Question.FATIGUE) for joint in case.joints if not isinstance(joint, SEEN_AS_DETAILS))
