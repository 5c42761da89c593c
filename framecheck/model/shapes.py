"""Section shapes, outside sizes in m, drawn as seen looking along the member: z up, y to the left.

So the left of a drawing is +y: the upright of the letter C, of the letter L, stands on +y.
"""

from __future__ import annotations

from enum import Enum

from framecheck.model.joining import CONTINUOUS, Joining
from framecheck.value_class import value_class

Point = tuple[float, float]


class Side(Enum):
    """A side of a section as seen looking along the member."""

    TOP = "top"
    BOTTOM = "bottom"
    LEFT = "left"
    RIGHT = "right"


# one piece -----------------------------------------------------------------------------------------------------------


@value_class
class RectTube:
    """A rectangular tube: height along z, width along y; outside_radius 0 means sharp corners."""

    height: float
    width: float
    wall: float
    outside_radius: float = 0.0


@value_class
class Channel:
    """A stamped channel drawn as the letter C: web on the left (+y), open to the right (-y).

    height along z; flange: outside width along y; lip: outside length of the flange lips turned inward, 0 for none.
    """

    height: float
    flange: float
    wall: float
    inside_radius: float
    lip: float = 0.0


@value_class
class Angle:
    """An angle drawn as the letter L: upright of `height` on the left (+y), foot of `width` along the bottom."""

    height: float
    width: float
    wall: float
    inside_radius: float = 0.0


@value_class
class Hat:
    """A hat with its crown up: crown is the outside width of the top, brim what each foot reaches beyond the web's outside."""

    height: float
    crown: float
    brim: float
    wall: float
    inside_radius: float = 0.0


@value_class
class ZShape:
    """A Z drawn as the letter: upper flange to the left (+y), lower one to the right (-y).

    flange: outside width of each, the web's thickness included.
    """

    height: float
    flange: float
    wall: float
    inside_radius: float = 0.0


@value_class
class IShape:
    """An I: height along z, width of both flanges along y, thickness of web and flange, fillet radius at the root."""

    height: float
    width: float
    web: float
    flange: float
    root_radius: float = 0.0


@value_class
class RoundTube:
    """A round tube by outside diameter."""

    diameter: float
    wall: float


@value_class
class Flat:
    """A solid rectangle, a flat bar or a plate on edge: height along z, width along y."""

    height: float
    width: float


@value_class
class RoundBar:
    """A solid round bar."""

    diameter: float


@value_class
class OutlinePolygon:
    """An outline taken from a drawing: closed loops of (y, z) points, the last joined to the first; holes inside it."""

    exterior: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...] = ()


@value_class
class GivenProperties:
    """Numbers from a catalogue; m, m2, m4, m6; shear centre (y, z) from the centroid.

    Fibre distances (top, bottom, left, right) from the centroid; None: no stress can be given for bending.
    Shear areas of None: no shear deformation, shear stress not checked.
    torsion_modulus: twisting moment per unit of the largest twist stress, m3; None: twist stress not checked.
    """

    area: float
    i_vertical: float
    i_sideways: float
    torsion_constant: float
    i_product: float = 0.0
    warping_constant: float = 0.0
    shear_area_vertical: float | None = None
    shear_area_sideways: float | None = None
    shear_centre: Point = (0.0, 0.0)
    fibres: tuple[float, float, float, float] | None = None
    torsion_modulus: float | None = None


# several pieces ------------------------------------------------------------------------------------------------------


@value_class
class BoxedChannel:
    """A channel closed by a plate of thickness `plate` welded along both flanges.

    inset None: the plate lies over the flange tips and is as high as the channel. Else it stands between the flanges with its
    outside face `inset` inside the tips: 0 is flush.
    """

    channel: Channel | Worn
    plate: float
    inset: float | None = None
    joined: Joining = CONTINUOUS


@value_class
class Sleeve:
    """A tube slid over another tube or over a channel and joined to it, both centred on one another."""

    outer: RectTube | RoundTube | Worn
    core: RectTube | RoundTube | Channel | Worn
    joined: Joining = CONTINUOUS


@value_class
class FloorClosed:
    """A channel or hat whose open side is closed by a sheet that reaches `overhang` beyond the piece on either side."""

    base: Channel | Hat | Worn
    sheet: float
    overhang: float = 0.0
    joined: Joining = CONTINUOUS


@value_class
class Plate:
    """A doubler or fish plate flat on the outside of one side, `width` along that side.

    offset: of the plate's middle from the middle of that side, + up or left.
    """

    side: Side
    width: float
    thickness: float
    offset: float = 0.0


@value_class
class Plated:
    """A piece, or a built-up rail, with plates on its sides, welded or bolted along both edges of each."""

    base: RectTube | Channel | Hat | IShape | ZShape | Angle | Flat | Worn | BoxedChannel | FloorClosed | ChannelPair
    plates: tuple[Plate, ...]
    joined: Joining = CONTINUOUS


class Pairing(Enum):
    """How two channels stand to one another."""

    BACK_TO_BACK = "back to back"
    TOE_TO_TOE = "toe to toe"
    NESTED = "nested"


@value_class
class ChannelPair:
    """Two channels: back to back (webs together), toe to toe (flange tips together), or `second` inside `first`, web on web.

    The first is drawn as the letter C except back to back, where it is the one on the right (-y).
    """

    first: Channel | Worn
    second: Channel | Worn
    pairing: Pairing = Pairing.BACK_TO_BACK
    joined: Joining = CONTINUOUS


# changed pieces ------------------------------------------------------------------------------------------------------

Piece = RectTube | Channel | Angle | Hat | ZShape | IShape | RoundTube | Flat | RoundBar | OutlinePolygon
BuiltUp = BoxedChannel | Sleeve | FloorClosed | Plated | ChannelPair


@value_class
class Worn:
    """A piece with thickness lost from the outside of its walls (rust), m per side.

    bends: thickness lost at the middle of each bend (thinned in forming), m.
    """

    base: RectTube | Channel | Angle | Hat | ZShape | IShape | RoundTube | Flat
    top: float = 0.0
    bottom: float = 0.0
    left: float = 0.0
    right: float = 0.0
    bends: float = 0.0


@value_class
class Hole:
    """A hole through one wall: its size across (a diameter, or a slot's width), m.

    position: of its middle from the middle of that side, + up or left, m. of: the numbers of the parts that it may go through, of a
    piece that was drilled before it was built in; (): the first wall met, and what lies flat behind it.
    """

    side: Side
    size: float
    position: float = 0.0
    of: tuple[int, ...] = ()


DrilledBase = (
    RectTube | Channel | Angle | Hat | ZShape | IShape | RoundTube | Flat | Worn | BoxedChannel | FloorClosed | Plated | ChannelPair
)


@value_class
class Drilled:
    """A piece seen where holes go through its walls: the net section at the middle of the holes."""

    base: DrilledBase
    holes: tuple[Hole, ...]


Shape = Piece | GivenProperties | BuiltUp | Worn | Drilled

