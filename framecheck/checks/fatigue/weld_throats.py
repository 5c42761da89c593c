"""Root cracks of fillet welds, from the stress on the throat across and along the weld."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.checks.fatigue.counting import Block
from framecheck.checks.fatigue.rows import Finding, detail_subject, row
from framecheck.checks.fatigue.sn import damage_together
from framecheck.checks.fatigue.swings import ranges, vector_ranges
from framecheck.checks.joint_rows import Line
from framecheck.checks.throats import ThroatStress
from framecheck.model.duty import Duty, WeldDetail
from framecheck.results.subjects import Entry, Open, Question


def weld_line(detail: WeldDetail, stress: ThroatStress | None, blocks: Sequence[Block], duty: Duty) -> Line:
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
