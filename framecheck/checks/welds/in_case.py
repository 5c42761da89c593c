"""The welded joints of a case under the solved frame's forces."""

from __future__ import annotations

from framecheck.checks.joint_forces import joint_loads, seam_forces
from framecheck.checks.joint_rows import Line, claims
from framecheck.checks.welds import check as group_check
from framecheck.checks.welds.sizing import shop_lines
from framecheck.checks.welds.spots import check as spot_check
from framecheck.checks.welds.stitch import check as stitch_check
from framecheck.model.joint_tables import JointTables
from framecheck.model.weld_joints import SpotGroup, Stitch, WeldGroup
from framecheck.stress import Outcome


def check(outcome: Outcome) -> tuple[Line, ...]:
    """Return the rows of every fillet group, stitched seam and spot group of the case."""
    tables, lines = outcome.case.joint_tables or JointTables(), list[Line]()
    for joint in outcome.case.joints:
        if isinstance(joint, WeldGroup):
            loads = joint_loads(outcome, joint.place)
            lines += [*group_check(joint, loads, tables.least_legs), *shop_lines(joint, loads), *claims(joint)]
        elif isinstance(joint, Stitch):
            lines += stitch_check(joint, seam_forces(outcome, joint.member))
        elif isinstance(joint, SpotGroup):
            lines += [*spot_check(joint, joint_loads(outcome, joint.place)), *claims(joint)]
    return tuple(lines)
