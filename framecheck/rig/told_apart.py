"""What readings can't tell apart: unknowns that they hear, and tell only together with another."""

from __future__ import annotations

import numpy as np

from framecheck.rig.fit import TOLD, FitOfReadings
from framecheck.rig.unknowns import Unknown, of_frame
from framecheck.value_class import value_class

HEARD, TOGETHER = 0.25, 0.3
"""An unknown that is at least so much in what the readings tell is heard by them; errors that go together by more than the second hide
one another in part."""
ALIKE = 0.9
"""Two unknowns whose errors go together by more than this can't be told apart."""


@value_class
class Apart:
    """An unknown that the readings tell together with another alone, and how their errors go together, -1 to 1."""

    unknown: Unknown
    partner: Unknown
    correlation: float


def apart(fit: FitOfReadings) -> tuple[Apart, ...]:
    """Return the frame's unknowns that are not told by themselves though the readings move with them, each with the one that hides it.

    A combination of unknowns is told where its singular value is above TOLD; an unknown is in those by the sum of its squared parts.
    """
    rows = of_frame(fit.unknowns)
    heard = dict(zip(rows, np.sum(fit.combos[fit.singular > TOLD] ** 2, axis=0).tolist(), strict=True))
    errors = fit.spread / np.outer(fit.sigma, fit.sigma)
    np.fill_diagonal(errors, 0.0)
    found = []
    for row in rows:
        partner = int(np.argmax(np.abs(errors[row])))
        is_told = fit.sigma[row] < fit.unknowns[row].prior / 2
        if abs(errors[row, partner]) > ALIKE or (not is_told and heard[row] > HEARD and abs(errors[row, partner]) > TOGETHER):
            found.append(Apart(fit.unknowns[row], fit.unknowns[partner], float(errors[row, partner])))
    return tuple(each for n, each in enumerate(found) if not any(is_pair(each, other) for other in found[:n]))


def is_pair(first: Apart, second: Apart) -> bool:
    """Return whether two speak of the same two unknowns."""
    return {first.unknown, first.partner} == {second.unknown, second.partner}
