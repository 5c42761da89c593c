"""What the walls beside a fillet can carry per length of weld."""

from __future__ import annotations

from framecheck.checks.joint_rows import Capacity
from framecheck.checks.welds.fillet import (
    RUPTURE_SOURCE,
    SHEET,
    SHEET_SOURCE,
    YIELD_SOURCE,
    sheet_longitudinal,
    sheet_target,
    wall_rupture,
    wall_yield,
)
from framecheck.model.joints import JointTargets
from framecheck.model.weld_joints import WeldedPart
from framecheck.results.row import Mode


def wall_capacities(part: WeldedPart, length: float, targets: JointTargets) -> list[Capacity]:
    """Return yield and rupture of the wall beside the weld and, for sheet, the tearing of the sheet, N/m of one fillet.

    length: of the run, m. The strengths are those of the heat-affected zone where the material has its own.
    """
    share = 1.0 / part.fillets
    yielding = wall_yield(part.yield_beside_weld, part.thickness) * share
    rupture = wall_rupture(part.ultimate_beside_weld, part.thickness) * share
    rows = [
        Capacity(Mode.WALL_YIELDS_AT_WELD, yielding, targets.yielding, YIELD_SOURCE, "N/m", part.name),
        Capacity(Mode.WALL_RUPTURES_AT_WELD, rupture, targets.strength, RUPTURE_SOURCE, "N/m", part.name),
    ]
    if part.thickness <= SHEET:
        tear = sheet_longitudinal(part.ultimate_beside_weld, part.thickness, length)
        asked = max(targets.strength, sheet_target(part.thickness, length))
        rows.append(Capacity(Mode.SHEET_TEARS_AT_WELD, tear, asked, SHEET_SOURCE, "N/m", part.name))
    return rows
