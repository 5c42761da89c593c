"""A flat plate that hangs on the frame (a skid plate), what stiffens it, holds it and strikes it. SI.

Plate axes: x along `length` from the rear edge, y along `width` from the right edge, z up, into the vehicle. A force on the
plate is positive upward.
"""

from __future__ import annotations

from enum import Enum
from math import inf

from framecheck.model.arrays import Vector
from framecheck.model.joints import Bolt
from framecheck.model.loads import ZERO
from framecheck.model.shop_tables import Material
from framecheck.value_class import value_class

Spot = tuple[float, float]


class Edge(Enum):
    """An edge of the plate."""

    REAR = "rear"
    FRONT = "front"
    RIGHT = "right"
    LEFT = "left"


class EdgeHold(Enum):
    """How an edge is held."""

    SIMPLE = "simply supported"
    CLAMPED = "clamped"
    ELASTIC = "elastic"


class StiffenerRun(Enum):
    """Which plate axis a stiffener runs along."""

    X = "along x"
    Y = "along y"


class PlateSide(Enum):
    """Which side of the plate something stands out from."""

    UP = "up"
    DOWN = "down"


class InPlane(Enum):
    """Whether what holds the plate also keeps it from drawing in, so that it stiffens as a membrane."""

    FREE = "free to draw in"
    HELD = "held from drawing in"


class Mounting(Enum):
    """Which side of the frame the plate lies against: under it, an upward blow presses the plate on."""

    UNDER = "under the frame"
    OVER = "on top of the frame"


class Lies(Enum):
    """What the plate lies against at its bolts."""

    AGAINST = "against the frame"
    SPACERS = "on spacers"
    UNSAID = "unsaid"


@value_class
class PlateBolt:
    """A bolt at (x, y), m. seat: diameter of the head or washer on the plate, m; stiffness: of what it hangs on, N/m.

    frame_point: where its force enters the frame, None: nowhere in the frame. bolt: its size and grade, None: not checked.
    """

    name: str
    at: Spot
    seat: float
    frame_point: str | None = None
    bolt: Bolt | None = None
    stiffness: float = inf


@value_class
class Rest:
    """A spot of the plate (m) that presses on what it lies against, and is free to lift off. member, station (m): of the frame, None:
    what bolt number `bolt` hangs on. arm: from the member's line to it, m, vehicle axes. rise: how far the plate has to move to touch
    it, m; None: it lies on it.
    """

    at: Spot
    member: str | None = None
    station: float = 0.0
    bolt: int | None = None
    arm: Vector = ZERO
    rise: float | None = None


@value_class
class HeldEdge:
    """An edge held along its whole length. stiffness (N/m2), turning (N, moment per length and radian): for Hold.ELASTIC.

    frame_points: the frame points at the edge's ends (least coordinate first), which share its force as a beam's ends do.
    """

    edge: Edge
    hold: EdgeHold
    stiffness: float = 0.0
    turning: float = 0.0
    frame_points: tuple[str, str] | None = None


@value_class
class Bead:
    """A bead pressed into the sheet, on the line `at` (m, across its run) from start to end: a trapezium with the sheet's
    thickness. width: at its foot; crest: of its flat top (0: a V); height: of its middle surface, m.
    """

    name: str
    run: StiffenerRun
    at: float
    start: float
    end: float
    width: float
    height: float
    crest: float = 0.0
    facing: PlateSide = PlateSide.DOWN


@value_class
class Rib:
    """A flat bar welded on edge along the line `at` from start to end, m."""

    name: str
    run: StiffenerRun
    at: float
    start: float
    end: float
    height: float
    thickness: float
    facing: PlateSide = PlateSide.UP


Stiffener = Bead | Rib


@value_class
class Patch:
    """Where something presses: a rectangle centred `at`, size along x and y, m.

    drag: force in the plane over the force pressing; drag_angle: its direction from plate x, rad. rock: diameter of the
    sharp end of what presses, m, None: blunt, not checked for punching.
    """

    at: Spot
    size: Spot
    drag: float = 0.0
    drag_angle: float = 0.0
    rock: float | None = None


@value_class
class Press:
    """A force (N, upward) on a patch."""

    name: str
    patch: Patch
    force: float


@value_class
class Uniform:
    """A pressure (Pa, upward) over the whole plate."""

    name: str
    pressure: float


@value_class
class Drop:
    """The vehicle's mass share (kg) falls from a height (m) on to what strikes."""

    mass: float
    height: float


@value_class
class Step:
    """A wheel rolls off a step (m) with `clearance` (m) under the plate: the mass share (kg) falls the rest."""

    mass: float
    step: float
    clearance: float


@value_class
class Closing:
    """The mass share (kg) meets what strikes at a speed square to the plate, m/s."""

    mass: float
    speed: float


Blow = Drop | Step | Closing


@value_class
class Strike:
    """A blow whose energy the plate must take."""

    name: str
    patch: Patch
    blow: Blow


PlateLoad = Press | Uniform | Strike


@value_class
class BoltedPlate:
    """A rectangular plate. gap: free height above it, to the pan, m; None: unknown.

    along, across: unit vehicle directions of plate x and y. welded ribs lower the yield where the material says so.
    rests, give: what it lies against, and how far (m/N) the frame moves square to it at bolts, then rests (rows), under one newton at
    each (columns); (): it does not move. stiff_give: the same with every made joint of the frame rigid, as a blow may find it; (): it
    makes no difference, or nothing strikes.
    """

    name: str
    length: float
    width: float
    thickness: float
    material: Material
    bolts: tuple[PlateBolt, ...] = ()
    edges: tuple[HeldEdge, ...] = ()
    stiffeners: tuple[Stiffener, ...] = ()
    loads: tuple[PlateLoad, ...] = ()
    gap: float | None = None
    in_plane: InPlane = InPlane.FREE
    mounting: Mounting = Mounting.UNDER
    along: Vector = (1.0, 0.0, 0.0)
    across: Vector = (0.0, 1.0, 0.0)
    lies: Lies = Lies.UNSAID
    rests: tuple[Rest, ...] = ()
    give: tuple[tuple[float, ...], ...] = ()
    stiff_give: tuple[tuple[float, ...], ...] = ()

    @property
    def rigidity(self) -> float:
        """Return D = E t3 / 12 (1 - nu2), Nm."""
        return self.material.plate_stiffness(self.thickness)


@value_class
class PlateTargets:
    """Least safety factors asked of a plate.

    yielding: common practice (1.5 on yield where the load holds its dynamic factor); collapse 1.67, bolts and punching 2.00: ASD
    factors of ANSI/AISC 360-22, F1, J3.7, J4; gap and energy 1.0: what is asked is stated in full.
    """

    yielding: float = 1.5
    collapse: float = 1.67
    strength: float = 2.0
    slip: float = 1.5
    gap: float = 1.0
    energy: float = 1.0


ASKED = PlateTargets()
