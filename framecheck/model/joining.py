"""How the parts of a built-up section are held together along the member. Lengths in m."""

from __future__ import annotations

from dataclasses import field

from framecheck.value_class import value_class


@value_class
class ContinuousWeld:
    """Welded all along each seam."""


E70_SHEAR = 0.60 * 482.6e6
"""Nominal shear strength of E70 weld metal, Pa: 0.60 x 70 ksi. ANSI/AISC 360-22, table J2.5."""


@value_class
class StitchWeld:
    """Welds of `length` at every `pitch` (middle to middle) along each seam.

    leg: of the fillet, m; None: not known. shear_strength: of the weld metal, Pa. Neither tells on the section's own numbers: they are
    kept out of its repr, under which those are stored.
    """

    length: float
    pitch: float
    leg: float | None = field(default=None, repr=False)
    shear_strength: float = field(default=E70_SHEAR, repr=False)


@value_class
class BoltRow:
    """Bolts, rivets or spot welds at every `pitch` along each seam."""

    pitch: float


Joining = ContinuousWeld | StitchWeld | BoltRow
CONTINUOUS = ContinuousWeld()
