"""Splices of two tubes that lap: side by side, or one in the other. SI."""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING

from framecheck.model.arrays import Vector
from framecheck.value_class import value_class

if TYPE_CHECKING:  # a frame without splices loads no joints
    from framecheck.model.joint_tables import Electrode
    from framecheck.model.joints import Bolt
    from framecheck.model.materials import Material


class Hold(Enum):
    """What holds two lapped tubes together along whole lines."""

    EDGES = "along the edges"
    ENDS = "across the ends"
    MOUTH = "round the mouth"
    BEARING = "by their fit"
    BUTT = "all round"


@value_class
class Spot:
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
    the first tube along y and z, m.
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
    holds: tuple[Hold, ...]
    spots: tuple[Spot, ...]
    leg: float | None = None
    electrode: Electrode | None = None
    bolt: Bolt | None = None
    edge: float | None = None
    plates: tuple[FishPlate, ...] = ()
    outside: tuple[float, float] = (0.0, 0.0)

    @property
    def butts(self) -> bool:
        """Return whether the tubes meet end to end."""
        return self.length == 0.0


def tied_at(length: float, holds: tuple[Hold, ...], spots: tuple[Spot, ...], first_outside: bool) -> tuple[float, ...]:
    """Return where two lapped tubes are taken to be tied: at the ends of what holds them, one place or two, m from the middle."""
    if length == 0.0:
        return (0.0,)
    half = length / 2
    found = [each.along for each in spots]
    if set(holds) & {Hold.EDGES, Hold.ENDS, Hold.BEARING}:
        found += [-half, half]
    if Hold.MOUTH in holds:
        found.append(half if first_outside else -half)
    return tuple(sorted({min(found), max(found)}))
