"""Welded joints and brackets on tube walls. SI; offsets from the joint's place in vehicle axes."""

from __future__ import annotations

from enum import Enum

from framecheck.model.arrays import Vector
from framecheck.model.joints import AtMemberEnd, BoltGroup, PatternPlane, PinnedSleeve, Place
from framecheck.model.shop_tables import Electrode, Material
from framecheck.value_class import value_class


@value_class
class WeldRun:
    """A straight fillet run from start to end (m, from the joint's place) with its leg, m."""

    start: Vector
    end: Vector
    leg: float


class WeldedOn(Enum):
    """What the welds join, which decides whether the directional increase may be used."""

    PLATES = "plates"
    TUBE_END = "the end of a tube"


class Direction(Enum):
    """Whether the strength of a fillet may grow with the angle of its load."""

    IGNORED = "ignored"
    COUNTED = "counted"


class WeldAt(Enum):
    """Where a fillet sits on a part."""

    FACE = "on its face"
    EDGE = "along its edge"


@value_class
class WeldedPart:
    """A part that a weld is made on. thickness in m.

    fillets: how many fillets load its wall at one place (2: one on each side of a plate).
    """

    name: str
    thickness: float
    material: Material
    weld_at: WeldAt = WeldAt.FACE
    fillets: int = 1

    @property
    def yield_beside_weld(self) -> float:
        """Return the yield strength in the heat-affected zone, Pa."""
        return self.material.welded_yield or self.material.yield_strength

    @property
    def ultimate_beside_weld(self) -> float:
        """Return the tensile strength in the heat-affected zone, Pa."""
        return self.material.welded_ultimate or self.material.ultimate_strength


@value_class
class WeldGroup:
    """Fillet runs that hold one part to another, anywhere in space. on: None: not said. shares_with: as of a BoltGroup."""

    name: str
    place: Place
    runs: tuple[WeldRun, ...]
    electrode: Electrode
    parts: tuple[WeldedPart, ...]
    on: WeldedOn | None = None
    direction: Direction = Direction.IGNORED
    shares_with: str | None = None

    @property
    def ends_a_tube(self) -> bool:
        """Return whether the welds are taken to hold the end of a tube: what holds a member's end does, unless it says otherwise."""
        return self.on is WeldedOn.TUBE_END or (self.on is None and isinstance(self.place, AtMemberEnd))


class ShearWay(Enum):
    """The section force that makes the shear flow at a seam."""

    VERTICAL = "vertical"
    SIDEWAYS = "sideways"


@value_class
class Stitch:
    """Intermittent fillets along a built-up member: length and pitch of the stitches, leg, m; seams: equal lines of
    them.

    first_moment: of the part that the seams hold on, about the section's axis, m3; second_moment: of the whole section
    about the same axis, m4; enclosed_area: inside the mid-line where the seams close a cell, m2.
    """

    name: str
    member: str
    length: float
    pitch: float
    leg: float
    seams: int
    way: ShearWay
    first_moment: float
    second_moment: float
    electrode: Electrode
    parts: tuple[WeldedPart, ...]
    enclosed_area: float | None = None
    shares_with: str | None = None


@value_class
class SeamForces:
    """Section forces that load a member's seams in one load case at one station (m): N and Nm."""

    load_case: str
    station: float
    shear_vertical: float
    shear_sideways: float
    torsion: float


class SpotKind(Enum):
    """How a spot is made."""

    PLUG = "plug weld"
    ARC_SPOT = "arc spot weld"
    RESISTANCE = "resistance spot weld"


@value_class
class SpotGroup:
    """Equal plug or spot welds. positions: (across, along), m; diameter: hole or visible spot, m; parts: outer one first.

    apart: between two such planes, on either side of `plane`, m; 0: the spots lie in `plane` alone.
    """

    name: str
    place: Place
    plane: PatternPlane
    positions: tuple[tuple[float, float], ...]
    kind: SpotKind
    diameter: float
    electrode: Electrode
    parts: tuple[WeldedPart, ...]
    apart: float = 0.0


class Hollow(Enum):
    """What kind of member a bracket presses on."""

    TUBE = "rectangular tube"
    CHANNEL = "channel"


@value_class
class PressedMember:
    """The member under a bracket: width of the pressed face, depth of the walls beside it, wall, outside radius, m.

    utilisation: its own stress over yield at the place, compression in the pressed face; None: unknown.
    """

    kind: Hollow
    width: float
    depth: float
    wall: float
    outside_radius: float
    material: Material
    utilisation: float | None = None


@value_class
class Bracket:
    """A bracket or mount pad on a member's face. width across the face, length along the member, m.

    plane.along: along the member; end_distance: to the nearest end of the member, m, None: unknown; doubler: thickness
    of a
    plate on the face, welded all round, as wide and long as the pad is then taken to be, 0: none.
    """

    name: str
    place: Place
    plane: PatternPlane
    width: float
    length: float
    member: PressedMember
    end_distance: float | None = None
    doubler: float = 0.0
    doubler_material: Material | None = None


Joint = BoltGroup | PinnedSleeve | WeldGroup | Stitch | SpotGroup | Bracket
