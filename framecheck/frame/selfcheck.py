"""Checks that every solution makes of itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from framecheck.frame.results import SelfCheck
from framecheck.frame.work import Account
from framecheck.model.loads import CaseLoads

BALANCE, ENERGY, RESIDUAL, SYMMETRY = 1e-9, 1e-6, 1e-9, 1e-7
DIGITS = 9.0
"""Decimal digits that may be lost before a plain warning: of sixteen, seven are left."""


def self_checks(
    cases: Sequence[CaseLoads], account: Account, uneven: Iterable[tuple[str, float]], least: float
) -> tuple[SelfCheck, ...]:
    """Return the checks of all cases, then that of the whole.

    uneven: see symmetry.asymmetry; least: least eigenvalue of the scaled stiffness.
    """
    says = "a frame loaded alike left and right moves alike"
    symmetry = (SelfCheck("symmetry", name, value, SYMMETRY, says) for name, value in uneven)
    return (*_of_cases(cases, account), *symmetry, _digits(least))


def _of_cases(cases: Sequence[CaseLoads], account: Account) -> Iterator[SelfCheck]:
    scale = np.maximum(np.maximum(np.abs(account.energy), np.abs(account.work)), np.finfo(float).tiny)
    gap = np.abs(account.energy - account.work) / scale
    for number, case in enumerate(cases):
        yield SelfCheck("balance", case.name, float(account.balance[number]), BALANCE, "loads and reactions balance")
        yield SelfCheck("energy", case.name, float(gap[number]), ENERGY, "strain energy is half the work of the loads")
        yield SelfCheck("residual", case.name, float(account.residual[number]), RESIDUAL, "no force is left over on a point")


def _digits(least: float) -> SelfCheck:
    """Return how many decimal digits the solution may lose."""
    lost = float(np.log10(1 / max(least, 1e-300)))
    return SelfCheck("digits lost", "", max(lost, 0.0), DIGITS, "something is far softer than the rest: answers keep fewer digits")
