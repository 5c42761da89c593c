"""What forces do on the moved frame: the first answer grown by 1 / (1 - n / a), a the factor at which the frame buckles. SI.

n: the factor asked of the loads, so that a safety factor that meets it holds at the loads grown by it (ANSI/AISC 360-22, C2.1(d): at
1.6 times allowable loads). EN 1993-1-1:2005, 5.2.1(3): nothing need be grown from a / n = 10 on; 5.2.2(5): so grown down to 3; from
memory. Between 10 and 20 the growth fades out, so that no answer jumps.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

import numpy as np

from framecheck.frame.member_lines import MemberLines
from framecheck.frame.results import FrameSolution
from framecheck.model.arrays import Array, frozen

FULL, NONE = 10.0, 20.0
LEAST = 3.0
"""Below this ratio of buckling factor to target a growth alone no longer stands for the solution on the moved frame."""
STEEPEST = 1.05  # ratio below which the growth is told as at it: such a frame misses its target anyhow
Key = TypeVar("Key")


def growth_of(factors: Array, targets: Array) -> Array:
    """Return by how much first-order forces are made larger, (k,), from buckling factors and targets (k,)."""
    ratio = np.maximum(factors / targets, STEEPEST)
    faded = np.clip((NONE - ratio) / (NONE - FULL), 0.0, 1.0)
    growth: Array = 1.0 + faded / (ratio - 1.0)
    return growth


def grown(solution: FrameSolution, growth: Array) -> FrameSolution:
    """Return a solution with forces and movements of each case times its growth (k,); reactions stay in balance with the loads."""
    if not (growth > 1.0).any() or not isinstance(solution.members, MemberLines):
        return solution
    return replace(
        solution,
        displacements=frozen(solution.displacements * growth[:, None]),
        members=solution.members.grown(growth),
        member_ends=_each(solution.member_ends, growth[:, None, None]),
        mounts=_each(solution.mounts, growth[:, None]),
    )


def _each(values: Mapping[Key, Array], growth: Array) -> Mapping[Key, Array]:
    """Return the arrays times their growth."""
    return {name: frozen(value * growth) for name, value in values.items()}
