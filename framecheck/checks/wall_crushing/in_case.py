"""Walls under brackets, and tubes under the clamp of their bolts, in a solved case."""

from __future__ import annotations

from framecheck.checks.joint_forces import joint_loads
from framecheck.checks.joint_rows import Line, claims
from framecheck.checks.wall_crushing import check as bracket_check
from framecheck.checks.wall_crushing.compression import compression_of, pressed
from framecheck.checks.wall_crushing.doubler import shop_lines
from framecheck.checks.wall_crushing.sleeve import check as clamp_check
from framecheck.checks.wall_crushing.sleeve import shop_lines as sleeve_lines
from framecheck.model.joint_tables import JointTables
from framecheck.model.joints import BoltGroup
from framecheck.model.weld_joints import Bracket
from framecheck.stress import Outcome


def check(outcome: Outcome) -> tuple[Line, ...]:
    """Return the rows of every bracket, and of every tube that a bolt group clamps."""
    tables, lines = outcome.case.joint_tables or JointTables(), list[Line]()
    for joint in outcome.case.joints:
        if isinstance(joint, Bracket):
            loads = joint_loads(outcome, joint.place)
            found = compression_of(outcome, joint)
            most = pressed(joint, max(found.values(), default=None))
            lines += bracket_check(joint, loads, tables.crippling, compression=found)
            lines += [*shop_lines(most, loads), *claims(outcome.case.frame, joint)]
        elif isinstance(joint, BoltGroup):
            lines += [*clamp_check(joint), *sleeve_lines(joint)]
    return tuple(lines)
