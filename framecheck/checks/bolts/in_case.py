"""The bolted joints of a case under the solved frame's forces."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.checks.bolts import check as group_check
from framecheck.checks.bolts.pinned_sleeve import check as sleeve_check
from framecheck.checks.bolts.tightening import shop_lines
from framecheck.checks.joint_forces import axis_at, joint_loads
from framecheck.checks.joint_rows import Line, claims
from framecheck.model.joint_tables import JointTables
from framecheck.model.joints import BoltGroup, PinnedSleeve
from framecheck.results.subjects import Question, Thing, left_open
from framecheck.stress import Outcome


def check(outcome: Outcome) -> tuple[Line, ...]:
    """Return the rows of every bolt group and pinned sleeve of the case."""
    tables, lines = outcome.case.joint_tables or JointTables(), list[Line]()
    for joint in outcome.case.joints:
        if isinstance(joint, BoltGroup):
            lines += group_check(joint, joint_loads(outcome, joint.place), tables.edges)
            lines += [*shop_lines(joint), *claims(outcome.case.frame, joint)]
        elif isinstance(joint, PinnedSleeve):
            lines += sleeve_check(joint, axis_at(outcome.case.frame, joint.place), joint_loads(outcome, joint.place))
            lines += holes_unjudged(outcome, joint)
            lines += claims(outcome.case.frame, joint)
    return tuple(lines)


def holes_unjudged(outcome: Outcome, sleeve: PinnedSleeve) -> Iterator[Line]:
    """Yield that the tubes' net section at the pins was not judged, unless the same bolts are written as a group too."""
    if not any(isinstance(each, BoltGroup) and each.place == sleeve.place for each in outcome.case.joints):
        reason = "the places of its bolts along the tubes are not given, so their holes are not taken out of the tubes"
        remedy = "write the same bolts as a joint of kind `bolts` too"
        yield left_open(Thing.JOINT, sleeve.name, Question.JOINT, reason, "net section of the tubes", remedy)
