"""Seams of built-up sections that loads shear again and again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from framecheck.checks.fatigue.counting import Block
from framecheck.checks.fatigue.rows import Finding, row
from framecheck.checks.fatigue.sn import damage
from framecheck.checks.fatigue.swings import ranges
from framecheck.checks.joint_rows import Line
from framecheck.checks.throats import ThroatStress
from framecheck.model.duty import Duty, SeamDetail
from framecheck.results.subjects import Question, Subject, Thing, left_open
from framecheck.stress import Outcome

SeamStresses = Mapping[tuple[str, str], ThroatStress]
REMEDY = "write its weld with its leg, or ask an engineer"


def seam_lines(
    detail: SeamDetail, outcome: Outcome, stresses: SeamStresses, blocks: Sequence[Block], duty: Duty
) -> Iterator[Line]:
    """Yield the row of the seams of a section in a member, or why there is none; nothing where they are taken as loose."""
    stress = stresses.get((detail.member, detail.section))
    if stress is None:
        if not is_loose(outcome, detail.section):
            reason = "there is no class for its bolts or spots, or the size of its weld or the flow in it is not known"
            yield left_open(Thing.SEAM, detail.member, Question.FATIGUE, reason, detail.section, REMEDY)
        return
    cycles = np.array([block.cycles for block in blocks])
    factor = duty.factors.load * duty.factors.strength
    total = damage(factor * ranges(stress.along[None], blocks)[:, 0], cycles, detail.along)
    subject = Subject(Thing.SEAM, detail.member, detail.section)
    words = f"throat of the seam's weld, class '{detail.along.name}'"
    yield row(Finding("", detail.member, None, float(total.max()), words, detail.along.source, subject=subject), duty)


def is_loose(outcome: Outcome, section: str) -> bool:
    """Return whether the parts of a section carry nothing across their seams in this outcome."""
    return bool(outcome.sections[section].shares)
