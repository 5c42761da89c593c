"""What a splice is made of, as its shell model sees it: tubes by their middle lines, laps, butts, fish plates. SI."""

from __future__ import annotations

from framecheck.model.frame import Frame, Section
from framecheck.model.joining import LapHold, LapSpot, Splice
from framecheck.model.shapes import RectTube
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
    holds: tuple[LapHold, ...] = ()
    spots: tuple[LapSpot, ...] = ()

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


def butt_of(frame: Frame, splice: Splice) -> Butt:
    """Return butted tubes as their shell model sees them."""
    tubes = tubes_of(frame, splice)
    plates = tuple(
        PlateOn(p.wall, p.counted, p.height, p.thickness, p.material.youngs_modulus, p.material.poissons_ratio)
        for p in splice.plates
    )
    return Butt(tubes[0], tubes[1], plates, LapHold.BUTT in splice.holds)


def lap_of(frame: Frame, splice: Splice) -> Lap:
    """Return a splice as its shell model sees it."""
    tubes = tubes_of(frame, splice)
    return Lap(tubes[0], tubes[1], splice.length, splice.aside, splice.holds, splice.spots)


def tubes_of(frame: Frame, splice: Splice) -> list[Tube]:
    """Return both tubes of a splice by their middle lines."""
    pairs = zip(splice.sections, splice.turned, strict=True)
    return [tube_of(frame.sections[name], turned) for name, turned in pairs]


def tube_of(section: Section, turned: bool) -> Tube:
    """Return a rectangular tube by its middle lines; turned: its width lies along the lap's z."""
    shape = section.shape
    if not isinstance(shape, RectTube):
        raise TypeError(f"section {section.name} is no rectangular tube")
    height, width = shape.height - shape.wall, shape.width - shape.wall
    high, wide = (width, height) if turned else (height, width)
    return Tube(high, wide, shape.wall, section.material.youngs_modulus, section.material.poissons_ratio)
