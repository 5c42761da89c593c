"""The welded joints of a case under the solved frame's forces."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.checks.joint_forces import joint_loads, seam_forces
from framecheck.checks.joint_rows import Capacity, Line, claims, judged, of_joint, unjudged_joint
from framecheck.checks.welds import check as group_check
from framecheck.checks.welds.sizing import shop_lines
from framecheck.checks.welds.spots import check as spot_check
from framecheck.checks.welds.stitch import check as stitch_check
from framecheck.model.joint_tables import JointTables
from framecheck.model.joints import ASKED
from framecheck.model.weld_joints import SpotGroup, SpotKind, Stitch, WeldGroup
from framecheck.results.row import Check, Mode
from framecheck.stress import Outcome

FILLER_SOURCE = (
    "AWS D1.1 and D1.2, fillers by base metal, from memory: steel filler does not fuse with aluminium, nor the reverse"
)
SPOTS_ON_STEEL = "not of steel, and the rule for resistance spots (AISI S100, J2.6) is for steel sheet alone"


def check(outcome: Outcome) -> tuple[Line, ...]:
    """Return the rows of every fillet group, stitched seam and spot group of the case."""
    tables, lines = outcome.case.joint_tables or JointTables(), list[Line]()
    for joint in outcome.case.joints:
        if isinstance(joint, WeldGroup):
            loads = joint_loads(outcome, joint.place)
            wrong = tuple(filler_rows(joint, Check.WELDS))
            lines += [*wrong, *group_check(joint, loads, tables.least_legs), *claims(outcome.case.frame, joint)]
            lines += () if wrong else shop_lines(joint, loads)
        elif isinstance(joint, Stitch):
            lines += [*filler_rows(joint, Check.STITCH_WELD), *stitch_check(joint, seam_forces(outcome, joint.member))]
        elif isinstance(joint, SpotGroup) and joint.kind is SpotKind.RESISTANCE and not_steel(joint):
            lines.append(unjudged_joint(joint.name, "", f"{', '.join(not_steel(joint))}: {SPOTS_ON_STEEL}"))
        elif isinstance(joint, SpotGroup):
            wrong = () if joint.kind is SpotKind.RESISTANCE else tuple(filler_rows(joint, Check.SPOTS))
            lines += [*wrong, *spot_check(joint, joint_loads(outcome, joint.place)), *claims(outcome.case.frame, joint)]
    return tuple(lines)


def not_steel(joint: SpotGroup) -> tuple[str, ...]:
    """Return the parts of a spot group that are not of steel."""
    return tuple(part.name for part in joint.parts if part.material.kind != "steel")


def filler_rows(joint: WeldGroup | Stitch | SpotGroup, check_of: Check) -> Iterator[Line]:
    """Yield a LOW row where the weld metal is for another metal than that of a part: such a weld holds nothing."""
    filler = joint.electrode
    for part in joint.parts:
        if part.material.kind != filler.metal:
            other = "ER4043 or ER5356" if part.material.kind == "aluminium" else "E60 to E110"
            note = f"it is for {filler.metal}, {part.name} is {part.material.kind}: choose {other}"
            holds = Capacity(Mode.WRONG_FILLER, 0.0, ASKED.strength, FILLER_SOURCE, "1", filler.name, note)
            yield judged(of_joint(check_of, joint.name), None, 1.0, holds)
            return
