"""A rig as it is asked for and as it stands: what holds the frame, what loads it, where dials read it. SI, vehicle axes."""

from __future__ import annotations

from enum import Enum

from framecheck.model.arrays import Vector
from framecheck.model.frame import Frame
from framecheck.value_class import value_class

UP: Vector = (0.0, 0.0, 1.0)
Pair = tuple[str, str]


class RigKind(Enum):
    """What is done to the frame."""

    TORSION = "torsion"
    CORNER = "corner"
    BEAMING = "beaming"
    BRACKET = "bracket"
    CROSSMEMBER = "crossmember"


class HeldFront(Enum):
    """How the front of a torsion rig stands: on one pivot under a beam, or on a jack under each side."""

    THREE = "three points"
    FOUR = "four points"


class Suspension(Enum):
    """Whether springs carry the vehicle during the test."""

    BLOCKED = "blocked"
    WORKING = "working"


class ForceBy(Enum):
    """What tells the force."""

    WEIGHTS = "weights"
    SCALE = "scale"
    GAUGE = "jack gauge"


FORCE_ERRORS = {ForceBy.WEIGHTS: 0.005, ForceBy.SCALE: 0.01, ForceBy.GAUGE: 0.05}
"""How far a force may be off, as a share: weighed weights, a platform scale, the gauge of a jack (common practice, no source)."""


@value_class
class AskedTest:
    """A test as it is asked for; None: the program chooses. at: the corner, the frame point or the crossmember that is loaded.

    front, rear: frame points, left and right, in place of the rails at the axles. top: the largest load, N. arm: of a torsion rig on
    three points, from the pivot to where the weight hangs, m. jack: the most that the jack or the scale bears, N. planes: how many
    pairs of dials between the axles' own. resolution: of the dials, m. bodies: whether what stands on mounts stays on.
    """

    kind: RigKind = RigKind.TORSION
    held: HeldFront = HeldFront.THREE
    suspension: Suspension = Suspension.BLOCKED
    force_by: ForceBy = ForceBy.WEIGHTS
    at: str = ""
    direction: Vector = UP
    front: Pair | None = None
    rear: Pair | None = None
    steps: int = 5
    top: float | None = None
    arm: float | None = None
    jack: float | None = None
    planes: int = 3
    resolution: float = 1e-5
    bodies: bool = False


@value_class
class Spot:
    """A place on the frame: a frame point, or a member's station (m). at: where it is, m."""

    name: str
    at: Vector
    point: str = ""
    member: str = ""
    station: float = 0.0


@value_class
class Part:
    """Force and moment on a spot, per newton of what they are part of. A moment needs a frame point."""

    spot: Spot
    force: Vector
    moment: Vector = (0.0, 0.0, 0.0)


@value_class
class Stand:
    """What holds the frame up at a place. parts: what it does to the frame per newton upwards, which add up to that at the place; by
    virtual work the stand moves up by their work.

    words: what to put there. lifts: whether nothing ties the frame down to it.
    """

    name: str
    at: Vector
    parts: tuple[Part, ...]
    words: str
    lifts: bool = False


@value_class
class Dial:
    """A dial: where it stands, the direction that it reads as + when the frame moves that way. at_stand: it reads the give there.

    bar: where it stands on a measuring bar across the frame, the places that carry the bar, by their shares in the movement.
    """

    name: str
    spot: Spot
    direction: Vector = UP
    at_stand: bool = False
    bar: tuple[tuple[Spot, float], ...] = ()

    @property
    def parts(self) -> tuple[tuple[Spot, float], ...]:
        """Return the places on the frame whose movements it reads, by their shares."""
        return self.bar or ((self.spot, 1.0),)


@value_class
class Plane:
    """A pair of dials, left and right, across the vehicle at a place x (m): their difference over the span (m) is the turn there."""

    name: str
    x: float
    left: int
    right: int
    span: float


@value_class
class Rig:
    """A test rig. loads: forces per newton of the load that is read, each on a spot; stands hold against them.

    torque: about x per newton, Nm; 0: the rig twists nothing. planes: front first, of a rig that twists. sag: the dials whose mean
    tells how the frame bends (their numbers). frame: as tested. unequal: m of movement per newton, of each stand, that is no fault of
    the frame's: springs that carry it. shown: what a drawing shows in place of `loads`; (): those.
    """

    asked: AskedTest
    frame: Frame
    load_words: str
    loads: tuple[Part, ...]
    stands: tuple[Stand, ...]
    dials: tuple[Dial, ...]
    torque: float = 0.0
    planes: tuple[Plane, ...] = ()
    sag: tuple[int, ...] = ()
    notes: tuple[str, ...] = ()
    give: tuple[float, ...] = ()
    shown: tuple[Part, ...] = ()

    @property
    def arrows(self) -> tuple[Part, ...]:
        """Return the loads as a drawing shows them."""
        return self.shown or self.loads
