"""Points, members and what holds them. SI; vehicle axes x forward, y left, z up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from enum import Enum
from math import isinf

from framecheck.model.arrays import Vector
from framecheck.model.body import StatedBody
from framecheck.model.joining import UNCAPPED, Action, Cap, GussetPair, Splice
from framecheck.model.loads import PointSpring, Support
from framecheck.model.openings import Opening
from framecheck.model.panels import Panel, SheetKnown
from framecheck.model.shapes import RectTube, Shape
from framecheck.model.shapes import Side as Side
from framecheck.model.shop_tables import Material
from framecheck.value_class import value_class


@value_class
class Section:
    """A shape in a material, under the name the user gave it. notes: what is to be said of where its shape comes from.

    family: what it is called in tables that have room for one name, where it is one step of a taper; "": its own name.
    metals: of each part, the piece that was there first leading, where they differ; (): all are of `material`. `material` is that
    of the first piece: moduli of the whole are referred to it.
    action: whether the parts of a built-up shape act as one piece or as separate beams that share curvature.
    sold: the shape by the wall that it is sold by, where a thinner design wall is counted on; its weight is that of `sold`.
    sharp: whether corners were taken sharp because the file does not say their radius.
    """

    name: str
    shape: Shape
    material: Material
    notes: tuple[str, ...] = ()
    family: str = ""
    metals: tuple[Material, ...] = ()
    action: Action = Action.FULL
    sold: RectTube | None = None
    sharp: bool = False


AROUND = (Side.LEFT, Side.TOP, Side.RIGHT, Side.BOTTOM)
"""Sides in the order of a right-handed turn about member x."""


@value_class
class Orientation:
    """How a section lies in its member: first mirrored (y becomes -y), then turned right-handed about member x.

    quarter_turns 1 turns +y (left) to +z (up): the letter C then opens downward.
    """

    quarter_turns: int = 0
    mirrored: bool = False

    def own_side(self, side: Side) -> Side:
        """Return the side of the section, in its own axes, that lies on a side of the member."""
        own = AROUND[(AROUND.index(side) - self.quarter_turns) % 4]
        swapped = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}
        return swapped.get(own, own) if self.mirrored else own


class Make(Enum):
    """How a member's end is made where it meets another member."""

    UNSAID = "unsaid"
    RIGID = "rigid"
    BUTT = "butt on one face"
    THROUGH = "through both faces"
    THROUGH_ONE = "through one face"
    WEB_AND_FLANGES = "on the web and both flanges"
    ON_TOP = "laid on top"
    UNDERNEATH = "slung underneath"
    ON_PLATE = "on a plate between"
    BOLTED = "bolted flange"
    GUSSETED = "gusseted"
    FLANGES = "flange to flange"
    PINNED = "pinned"
    GIVEN = "given"


LAID = (Make.ON_TOP, Make.UNDERNEATH)
"""Makes of an end that lies across the rail's top or bottom wall."""
PLATED = (Make.ON_PLATE, Make.BOLTED)
"""Makes of an end with a plate between it and the wall."""
STANDING = (Make.BUTT, Make.THROUGH, Make.THROUGH_ONE, Make.WEB_AND_FLANGES, Make.GUSSETED, *PLATED)
"""Makes of an end that stands on another member's face."""


class EndWarping(Enum):
    """What an open member's end does to its warping."""

    UNSAID = "unsaid"
    FREE = "free"
    FIXED = "fixed"
    CONTINUOUS = "continuous"
    SPRING = "spring"


class Kinks(Enum):
    """How a member turns at its inner points."""

    UNSAID = "unsaid"
    BENT = "bent"
    MITRED = "mitred"
    PLATED = "mitred with an inner plate"


@value_class
class EndCorner:
    """How a member's end turns into that of another, where both say so: a kink like one within a member; m, None: not said."""

    kinks: Kinks
    bend_radius: float | None = None
    kink_plate: float | None = None


@value_class
class MemberEnd:
    """One end of a member.

    stiffness: for Make.GIVEN, (Fx, Fy, Fz, Mx, My, Mz) spring stiffness in the member's own axes, N/m and Nm/rad;
    inf is rigid, 0 released. warping_stiffness: N m3 (bimoment per unit rate of twist) for EndWarping.SPRING.
    arm: rigid arm from the frame point to the member's end, m, vehicle axes.
    leg: of the fillet all round it, m; None: not said.
    welded: the sides that are welded, as seen looking along the member; (): all round. cap: how the member's own end is finished,
    for what stands near it. softness: so many times as soft as its model says, by measurement.
    corner: how it turns into another end.
    """

    make: Make = Make.UNSAID
    warping: EndWarping = EndWarping.UNSAID
    stiffness: tuple[float, float, float, float, float, float] | None = None
    warping_stiffness: float = 0.0
    arm: Vector = (0.0, 0.0, 0.0)
    leg: float | None = None
    welded: tuple[Side, ...] = ()
    gussets: GussetPair | None = None
    cap: Cap = UNCAPPED
    softness: float = 1.0
    corner: EndCorner | None = None

    @property
    def has_arm(self) -> bool:
        """Return whether the end lies away from its point: farther than two ways to write one place differ."""
        return max(map(abs, self.arm)) > SAME_STATION


@value_class
class Stretch:
    """A length of a member with one section, up to `until` (m along the member from its first point; inf: to the end)."""

    section: str
    until: float = float("inf")


class Splices(Enum):
    """How a member's sections are joined where one follows another."""

    UNSAID = "unsaid"
    WELDED = "welded"
    BOLTED = "bolted"
    FORMED = "formed from one piece"


@value_class
class Cut:
    """A notch: depth and length of what is taken out of one side, centred at `at` along the member, m.

    side: of the section in its own axes (`Orientation.own_side` of the member's side).
    """

    name: str
    side: Side
    at: float
    depth: float
    length: float
    corner_radius: float = 0.0


@value_class
class Member:
    """A member through two or more points, straight between them. A station is the length along it from its first point, m.

    roll: turn of the section about member x beyond its default position, rad.
    role: "rail", "crossmember" or "member", for words only. kinks, splices: unsaid is taken as welded.
    bend_radius: of the middle line of its bent kinks; kink_plate: thickness of the plate in its mitred ones; m, None: not said.
    """

    name: str
    points: tuple[str, ...]
    stretches: tuple[Stretch, ...]
    orientation: Orientation = Orientation()
    start: MemberEnd = MemberEnd()
    end: MemberEnd = MemberEnd()
    cuts: tuple[Cut, ...] = ()
    roll: float = 0.0
    role: str = "member"
    kinks: Kinks = Kinks.UNSAID
    splices: Splices = Splices.UNSAID
    bend_radius: float | None = None
    kink_plate: float | None = None


SAME_STATION = 1e-6
"""m; nearer than this, two stations along a member are one: files tell a place in inches or millimetres, or as a sum of lengths."""


def sections_at(member: Member, station: float) -> tuple[str, ...]:
    """Return the name of the section a member has at a station, m; where one follows another there, both: before and beyond."""
    found: list[str] = []
    start = float("-inf")
    for stretch in member.stretches:
        if start - SAME_STATION <= station <= stretch.until + SAME_STATION and stretch.section not in found:
            found.append(stretch.section)
        start = stretch.until
    return tuple(found) or (member.stretches[-1].section,)


@value_class
class Frame:
    """The whole structure. points: name to (x, y, z) in m; sections by name.

    kink_softness: so many times as soft as its model says is a kind of kink, by measurement.
    """

    points: Mapping[str, Vector]
    members: tuple[Member, ...]
    sections: Mapping[str, Section]
    supports: tuple[Support, ...] = ()
    springs: tuple[PointSpring, ...] = ()
    origin: str = "the user's origin"
    splices: tuple[Splice, ...] = ()
    stiff_bodies: tuple[StiffBody, ...] = field(default=())
    panels: tuple[Panel, ...] = ()
    body: StatedBody | None = None
    openings: tuple[Opening, ...] = ()
    sheet: SheetKnown = SheetKnown.AS_DRAWN
    kink_softness: tuple[tuple[Kinks, float], ...] = ()

    @property
    def clamped(self) -> frozenset[str]:
        """The points that a support holds in all six ways: what ends or passes there keeps its outline."""
        return frozenset(each.point for each in self.supports if all(map(isinf, each.stiffness)))

    @property
    def has_open_shell(self) -> bool:
        """Return whether what its sheet or stated body carries is a range."""
        unknown = bool(self.panels) and self.sheet is SheetKnown.UNKNOWN
        return unknown or (self.body is not None and self.body.is_range)


@value_class
class Mount:
    """A soft mount between a stiff body and a frame point: stiffness along vehicle x, y, z in N/m."""

    point: str
    stiffness: Vector


@value_class
class StiffBody:
    """A body that does not bend (engine and gearbox, cab, load bed) on mounts. mass in kg, at: its centre of mass, m.

    radii: radii of gyration about x, y, z through its centre of mass, m.
    """

    name: str
    mass: float
    at: Vector
    mounts: tuple[Mount, ...]
    radii: Vector = (0.0, 0.0, 0.0)
