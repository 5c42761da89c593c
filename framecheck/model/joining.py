"""How the parts of a built-up section are held together along the member. Lengths in m.

What a fastener holds does not tell on the section's own numbers: it is kept out of a joining's repr, under which those are stored.
"""

from __future__ import annotations

from dataclasses import field
from enum import Enum

from framecheck.value_class import value_class


class Action(Enum):
    """How the parts of a built-up section act together: both ends of the range where their seams are in doubt."""

    FULL = "seams hold"
    LOOSE = "seams loose"


E70_SHEAR = 0.60 * 482.6e6
"""Nominal shear strength of E70 weld metal, Pa: 0.60 x 70 ksi. ANSI/AISC 360-22, table J2.5."""


@value_class
class ContinuousWeld:
    """Welded all along each seam. leg: of the fillet, m; None: not known. shear_strength: of the weld metal, Pa."""

    leg: float | None = field(default=None, repr=False)
    shear_strength: float = field(default=E70_SHEAR, repr=False)


@value_class
class StitchWeld:
    """Welds of `length` at every `pitch` (middle to middle) along each seam.

    leg: of the fillet, m; None: not known. shear_strength: of the weld metal, Pa.
    """

    length: float
    pitch: float
    leg: float | None = field(default=None, repr=False)
    shear_strength: float = field(default=E70_SHEAR, repr=False)

    @property
    def gap(self) -> float:
        """Return the clear length between two welds, m."""
        return self.pitch - self.length


@value_class
class BoltRow:
    """Bolts, rivets or spot welds at every `pitch` along each seam. holds: the shear strength of one, N; None: not known."""

    pitch: float
    holds: float | None = field(default=None, repr=False)

    @property
    def gap(self) -> float:
        """Return the length between two bolts, m: a bolt is taken as a point (unfavourable)."""
        return self.pitch


Spaced = StitchWeld | BoltRow
Joining = ContinuousWeld | Spaced
CONTINUOUS = ContinuousWeld()
