"""Stress on the throats of built-up sections' seams in every load case, for the fatigue check."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.seams import FORCES, Run, lines_of_bond, runs_of
from framecheck.checks.throats import THROAT, ThroatStress
from framecheck.model.arrays import Array, frozen
from framecheck.model.joining import BoltRow, StitchWeld
from framecheck.model.shapes import Sleeve
from framecheck.stress import Outcome


def seam_stresses(outcome: Outcome) -> dict[tuple[str, str], ThroatStress]:
    """Return the stress on the throats of every seam whose weld is known, by member and section; loose seams carry nothing."""
    found: dict[tuple[str, str], list[Array]] = {}
    for run in runs_of(outcome):
        found.setdefault((run.member, run.section.name), []).extend(along(run))
    return {key: sheared(np.concatenate(parts, axis=1)) for key, parts in found.items() if parts}


def sheared(stress: Array) -> ThroatStress:
    """Return throats that are sheared along (n_case, n_point), Pa, and loaded across by nothing."""
    return ThroatStress(frozen(np.zeros((*stress.shape, 2))), frozen(stress))


def along(run: Run) -> Iterator[Array]:
    """Yield the stress along the throats of each line of welds, (n_case, n_point), Pa, with its sign: flow over throat.

    What lies between two stitches goes through one of them: flow x pitch / length (statics).
    """
    joining = run.joining
    if isinstance(joining, BoltRow) or isinstance(run.shape, Sleeve) or joining.leg is None:
        return
    share = joining.pitch / joining.length if isinstance(joining, StitchWeld) else 1.0
    for _, seams in lines_of_bond(run.seams, joining):
        unit = np.sum([(seam.per_vertical, seam.per_sideways, seam.per_torsion) for seam in seams], axis=0)
        flow = run.forces[..., FORCES] @ unit  # (n_bound, k, n_case)
        yield np.moveaxis(flow, -1, 0).reshape(flow.shape[-1], -1) * share / (THROAT * joining.leg)
