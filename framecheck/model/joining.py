"""How parts are held to each other: seams of built-up sections, splices of two tubes, and what a member's end is made with. SI.

What a fastener holds does not tell on the section's own numbers: it is kept out of a joining's repr, under which those are stored.
"""

from __future__ import annotations

from dataclasses import field
from enum import Enum
from typing import TYPE_CHECKING

from framecheck.model.arrays import Vector
from framecheck.value_class import value_class

if TYPE_CHECKING:
    from framecheck.model.joints import Bolt
    from framecheck.model.shop_tables import Electrode, Material


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


class LapHold(Enum):
    """What holds two lapped tubes together along whole lines."""

    EDGES = "along the edges"
    ENDS = "across the ends"
    MOUTH = "round the mouth"
    BEARING = "by their fit"
    BUTT = "all round"


@value_class
class LapSpot:
    """A plug weld or bolt through walls that lie on one another: along and aside from the lap's middle, diameter, m.

    wall: on which wall of the tubes: (axis of the lap, side), axis 1 (y) or 2 (z), side +1 or -1.
    """

    along: float
    aside: float
    diameter: float
    wall: tuple[int, int]


@value_class
class FishPlate:
    """A plate over the butt of two tubes, on one of their walls (see Spot): whole length, height across the tubes, thickness, m.

    taper: length of each of its pointed ends, m, 0: straight.
    """

    wall: tuple[int, int]
    length: float
    height: float
    thickness: float
    material: Material
    taper: float = 0.0

    @property
    def counted(self) -> float:
        """Return the length of a straight plate of as much metal, m."""
        return self.length - self.taper


@value_class
class Splice:
    """Two members that lap, or butt (length 0), with plates over the butt or without.

    axes: x along the first's way out of its own length, y toward the second where they lie side by side, z square to both; rows, in
    vehicle axes. middle: of the lap, midway between both middle lines, m, vehicle axes.

    ties: the frame points (of the first, of the second) where they are tied, in the order of `at`, m from the middle along x.
    sections: of both at the lap. turned: whether a section's width lies along the lap's z. aside: between the middle lines, m; 0: one
    lies in the other, the first outside where `first_outside`. leg: of the welds, bolt: at each spot, None: not given; spots without a
    bolt are plug welds. edge: of the bolts, least distance from a hole's middle to an edge, m. outside: sizes of
    the first tube along y and z, m. is_electrode_stated: whether the file gives the weld metal; else it is the usual one.
    softness: so many times as soft as its model says, by measurement.
    """

    name: str
    members: tuple[str, str]
    sections: tuple[str, str]
    ties: tuple[tuple[str, str], ...]
    length: float
    aside: float
    middle: Vector
    axes: tuple[Vector, Vector, Vector]
    turned: tuple[bool, bool]
    first_outside: bool
    holds: tuple[LapHold, ...]
    spots: tuple[LapSpot, ...]
    leg: float | None = None
    electrode: Electrode | None = None
    bolt: Bolt | None = None
    edge: float | None = None
    plates: tuple[FishPlate, ...] = ()
    outside: tuple[float, float] = (0.0, 0.0)
    is_electrode_stated: bool = True
    softness: float = 1.0

    @property
    def butts(self) -> bool:
        """Return whether the tubes meet end to end."""
        return self.length == 0.0


def tied_at(length: float, holds: tuple[LapHold, ...], spots: tuple[LapSpot, ...], first_outside: bool) -> tuple[float, ...]:
    """Return where two lapped tubes are taken to be tied: at the ends of what holds them, one place or two, m from the middle."""
    if length == 0.0:
        return (0.0,)
    half = length / 2
    found = [each.along for each in spots]
    if set(holds) & {LapHold.EDGES, LapHold.ENDS, LapHold.BEARING}:
        found += [-half, half]
    if LapHold.MOUTH in holds:
        found.append(half if first_outside else -half)
    return tuple(sorted({min(found), max(found)}))


class GussetPlace(Enum):
    """At which height of the member a pair of gussets stands."""

    MIDDLE = "middle"
    TOP = "top"
    BOTTOM = "bottom"
    BOTH = "top and bottom"


@value_class
class GussetPair:
    """Two equal triangular plates, one each side of a member's end, in one plane with it and what it stands on.

    along_rail, along_member: their legs; thickness: m. height: above the member's middle, m; None: where `place` says.
    """

    along_rail: float
    along_member: float
    thickness: float
    place: GussetPlace = GussetPlace.MIDDLE
    height: float | None = None


LEAST_PLATE = 1e-3
"""m: thinner sheet burns away under the weld, and closes and stiffens nothing. Common practice, no source."""


class EndFinish(Enum):
    """What a member is at its own end, where others stand near it."""

    UNSAID = "unsaid"
    OPEN = "open"
    RUNS_ON = "runs on"
    PLATE = "closed by a plate"


@value_class
class Cap:
    """How a member's own end is finished; thickness: of the plate that closes it, m."""

    finish: EndFinish = EndFinish.UNSAID
    thickness: float = 0.0


UNCAPPED = Cap()
