"""What a lap of two tubes is made of, as its shell model sees it. SI; x along both, y across, z up, from the lap's middle."""

from __future__ import annotations

from framecheck.model.splices import Hold, Spot
from framecheck.value_class import value_class


@value_class
class Tube:
    """A rectangular tube by its middle lines, m; e in Pa."""

    height: float
    width: float
    wall: float
    e: float
    nu: float


@value_class
class Lap:
    """Two tubes that lap over a length. The first comes from -x and ends at +length/2, the second from +x and ends at -length/2.

    aside: from the first's middle line to the second's: 0 where one lies in the other, else across (y).
    """

    first: Tube
    second: Tube
    length: float
    aside: float
    holds: tuple[Hold, ...] = ()
    spots: tuple[Spot, ...] = ()

    @property
    def in_each_other(self) -> bool:
        """Return whether one tube lies in the other."""
        return self.aside == 0.0


@value_class
class PlateOn:
    """A fish plate on a wall of butted tubes (see Spot): length of a straight one, height across the tubes, thickness, m; e in Pa."""

    wall: tuple[int, int]
    length: float
    height: float
    thickness: float
    e: float
    nu: float


@value_class
class Butt:
    """Two tubes of one outline that meet end to end, with plates of one length over the butt, or welded all round, or both."""

    first: Tube
    second: Tube
    plates: tuple[PlateOn, ...]
    welded: bool
