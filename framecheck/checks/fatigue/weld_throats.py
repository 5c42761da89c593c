"""Root cracks of fillet welds: stress on the throat, across and along the weld."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from framecheck.checks.fatigue.counting import Block
from framecheck.checks.fatigue.rows import Finding, row
from framecheck.checks.fatigue.sn import damage
from framecheck.checks.fatigue.swings import ranges, vector_ranges
from framecheck.checks.joint_rows import Line
from framecheck.checks.result import NotChecked
from framecheck.model.arrays import Array, frozen
from framecheck.model.duty import Duty, WeldDetail
from framecheck.model.weld_joints import WeldRun

THROAT = 0.5**0.5


@dataclass(frozen=True, eq=False, slots=True)
class ThroatStress:
    """Stress on the throats of a weld group in every load case, Pa: across (n_case, n_point, 2), along (n_case, n_point)."""

    across: Array
    along: Array


def throat_stress(runs: tuple[WeldRun, ...], per_length: Array) -> ThroatStress:
    """Return the stress on the throats, 0.707 leg; per_length: force per length at the ends of each run, (n_case, n_run, 2, 3), N/m.

    EN 1993-1-9:2005, 5(6): across the weld sqrt(sigma2 + tau2), along it tau, on the throat.
    """
    spans = np.array([np.subtract(run.end, run.start) for run in runs], dtype=np.float64)
    along_run = spans / np.linalg.norm(spans, axis=1, keepdims=True)
    square = np.stack([_square_to(direction) for direction in along_run])  # (n_run, 2, 3)
    throat = THROAT * np.array([run.leg for run in runs])[:, None]
    count = per_length.shape[0]
    along = np.einsum("cnki,ni->cnk", per_length, along_run) / throat
    across = np.einsum("cnki,nji->cnkj", per_length, square) / throat[..., None]
    return ThroatStress(frozen(across.reshape(count, -1, 2)), frozen(along.reshape(count, -1)))


def _square_to(direction: Array) -> Array:
    """Return two unit vectors square to a direction and to one another, (2, 3)."""
    first = np.cross(direction, np.eye(3)[int(np.argmin(np.abs(direction)))])
    first = first / np.linalg.norm(first)
    return np.stack((first, np.cross(direction, first)))


def weld_line(detail: WeldDetail, stress: ThroatStress | None, blocks: Sequence[Block], duty: Duty) -> Line:
    """Return the row of a weld group's throats: damage across and along added point by point.

    EN 1993-1-9:2005, 8(3): the damages of both add up to 1 at most.
    """
    if stress is None:
        return NotChecked(f"fatigue of {detail.name}", f"the loads of weld '{detail.weld}' are not known in the duty's load cases")
    cycles = np.array([block.cycles for block in blocks])
    factor = duty.factors.load * duty.factors.strength
    across = factor * vector_ranges(stress.across[None], blocks)[:, 0]
    total = damage(across, cycles, detail.across)
    words = f"throat, class {detail.across.name} across"
    source = detail.across.source
    if detail.along is not None:
        total = total + damage(factor * ranges(stress.along[None], blocks)[:, 0], cycles, detail.along)
        words, source = f"{words}, {detail.along.name} along", f"{source}; {detail.along.source}"
    else:
        words = f"{words}; stress along the weld not counted, no class given"
    return row(Finding(detail.name, detail.weld, None, float(total.max()), words, source), duty)
