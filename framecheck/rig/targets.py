"""What is asked of a test: limits of public codes by name, or one's own. SI."""

from __future__ import annotations

from framecheck.value_class import value_class

SET_SHARE, SET_DIALS = 0.05, 2.0
"""Set allowed after unloading: 5 % of the greatest reading, or twice the dials' error where that is more (common practice, no
source: no public limit was found)."""


@value_class
class TestTarget:
    """A limit: least torsional stiffness, Nm/rad, most sag under the code's load, m; None: it sets none. note: what it leaves out."""

    name: str
    stiffness: float | None = None
    sag: float | None = None
    source: str = "asked for on the command line"
    note: str = ""


def allowed_set(greatest: float, dial_error: float) -> float:
    """Return how far a dial may stay off zero after unloading, m."""
    return max(SET_SHARE * abs(greatest), SET_DIALS * dial_error)
