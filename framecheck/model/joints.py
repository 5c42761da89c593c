"""Joints: bolts, welds, brackets and where they sit. SI; directions in vehicle axes (x forward, y left, z up).

A joint holds one part (the attached part) to another (the holding part). Its loads are what the attached part
puts on the joint: force and moment at the joint's place.
"""

from __future__ import annotations

from enum import Enum

from framecheck.model.arrays import Vector
from framecheck.model.loads import ZERO
from framecheck.model.shop_tables import BoltGrade, Material, Surface, Thread, TorqueFactor
from framecheck.value_class import value_class


class Terminal(Enum):
    """Which end of a member."""

    START = "start"
    END = "end"


@value_class
class JointLoad:
    """What the attached part puts on the joint in one load case: N and Nm at the joint's place, vehicle axes."""

    load_case: str
    force: Vector
    moment: Vector = ZERO


@value_class
class AtMemberEnd:
    """The joint holds the end of a member; the member is the attached part and its end forces load the joint."""

    member: str
    end: Terminal


@value_class
class AtPoint:
    """The joint holds a bracket on a frame point; what arrives at the point from outside the frame loads the joint."""

    point: str


@value_class
class GivenLoads:
    """The loads are written in the case file."""

    loads: tuple[JointLoad, ...]


@value_class
class InSplice:
    """The joint holds the second member of a splice to its first; what passes through the splice loads it, at the lap's middle.

    middle: of the lap, m, vehicle axes; along: the tubes' unit direction; points: a frame point in the lap of each member.
    """

    splice: str
    middle: Vector
    along: Vector
    points: tuple[tuple[str, str], tuple[str, str]]


Place = AtMemberEnd | AtPoint | GivenLoads | InSplice


@value_class
class PatternPlane:
    """Where a pattern lies: its origin from the joint's place (m), two unit directions in it, and the way it faces.

    facing: unit normal from the holding part to the attached part, so that a load along it pulls the joint open.
    """

    across: Vector
    along: Vector
    facing: Vector
    origin: Vector = ZERO


class Threads(Enum):
    """Whether the shear plane cuts the threads."""

    IN = "in the shear plane"
    OUT = "out of the shear plane"


class Tightened(Enum):
    """How a bolt is brought to its clamp."""

    TORQUE = "by torque"
    CONTROLLED = "to a controlled minimum"


HAND_TIGHT, HAND_TIGHT_MOST = 0.70, 1.30
"""Least and most clamp over the clamp aimed at where nothing is known of threads and torque (common practice, no source: one torque
scatters by 25 to 30 %)."""

MEAN_OVER_LEAST = 1.13
"""Mean installed over specified least pretension of bolts tightened to a controlled minimum. ANSI/AISC 360-22, J3.9 (Du)."""


@value_class
class Bolt:
    """A bolt in its hole. hole: diameter, m. clamp_share: share of the proof load it is tightened to, None: not
    tightened.

    surface: the faces that the clamp presses together; None: not known, slip is not checked.
    tightened: to a controlled minimum (turn of the nut, tension washers), the clamp is the least one; by torque, it scatters.
    closing: what of the clamp first pulls parts together that lie apart, before their faces press on each other, N.
    """

    thread: Thread
    grade: BoltGrade
    hole: float
    threads: Threads = Threads.IN
    shear_planes: int = 1
    clamp_share: float | None = None
    torque_factor: TorqueFactor | None = None
    surface: Surface | None = None
    tightened: Tightened = Tightened.TORQUE
    closing: float = 0.0

    @property
    def clamp(self) -> float | None:
        """Return the clamp force share x proof x stress area, N; None where the bolt is not tightened to a known
        share.
        """
        if self.clamp_share is None:
            return None
        return self.clamp_share * self.grade.proof * self.thread.stress_area

    @property
    def least_clamp(self) -> float | None:
        """Return the least clamp that the tightening makes, N: the torque is meant for the middle K, the threads may have the most."""
        if self.clamp is None or self.tightened is Tightened.CONTROLLED:
            return self.clamp
        if self.torque_factor is None:
            return HAND_TIGHT * self.clamp
        return self.clamp * self.torque_factor.middle / self.torque_factor.most

    @property
    def most_clamp(self) -> float | None:
        """Return the most clamp that the tightening may make, N: what presses on walls and sleeves."""
        if self.clamp is None:
            return None
        if self.tightened is Tightened.CONTROLLED:
            return MEAN_OVER_LEAST * self.clamp
        if self.torque_factor is None:
            return HAND_TIGHT_MOST * self.clamp
        return self.clamp * self.torque_factor.middle / self.torque_factor.least


class PlyKind(Enum):
    """What a bolt bears on."""

    PLATE = "plate"
    TUBE_WALL = "wall of a hollow tube"


@value_class
class Ply:
    """A part the bolts bear on. thickness, edge (least distance from a hole's centre to an edge; None: unknown): m.

    share: its share of the bolt's force (1/2 for the outer plies in double shear).
    """

    name: str
    thickness: float
    material: Material
    edge: float | None = None
    kind: PlyKind = PlyKind.PLATE
    share: float = 1.0


@value_class
class Prying:
    """The flange or plate that bends between its bolts and what pulls it, m.

    offset: bolt centre to the face of what pulls; edge: bolt centre to the plate's edge; pitch: plate length per bolt.
    """

    offset: float
    edge: float
    pitch: float
    thickness: float
    material: Material


@value_class
class CrushSleeve:
    """A sleeve round a bolt through a tube, m."""

    outside_diameter: float
    inside_diameter: float
    yield_strength: float


@value_class
class ClampedTube:
    """The tube that the bolts pass through: width of the pressed face, wall, depth along the bolt, washer, m."""

    width: float
    wall: float
    depth: float
    washer: float
    material: Material
    sleeve: CrushSleeve | None = None


@value_class
class BoltGroup:
    """Equal bolts in one plane. positions: (across, along) of each, m.

    contact: (across least, across most, along least, along most) of the face the attached part presses on, m; None:
    unknown. shares_with: the name of a joint that holds the same parts together; one at the same place does so if it
    names the same parts. lever: of bolts right through one tube in another, between the two planes in which the tubes meet, m, as they
    are drawn; None: not known from the drawing.
    """

    name: str
    place: Place
    plane: PatternPlane
    positions: tuple[tuple[float, float], ...]
    bolt: Bolt
    plies: tuple[Ply, ...]
    contact: tuple[float, float, float, float] | None = None
    prying: Prying | None = None
    tube: ClampedTube | None = None
    shares_with: str | None = None
    lever: float | None = None


@value_class
class PinnedSleeve:
    """One tube in another, held by bolts through both, carrying torsion. depth: outer depth or diameter along the
    bolts, m.

    bolts: number of bolts through both (each crosses the joint twice); clearance: gap per side of the fit, m; walls:
    outer
    tube and inner tube.
    """

    name: str
    place: Place
    bolt: Bolt
    bolts: int
    depth: float
    walls: tuple[Ply, Ply]
    clearance: float | None = None


@value_class
class JointTargets:
    """Least safety factors asked of a joint, against nominal strength.

    strength 2.00, slip 1.50, yielding 1.50: the ASD factors of ANSI/AISC 360-22, J2.4, J3.7, J3.9, J4.2, J10.2.
    """

    strength: float = 2.0
    slip: float = 1.5
    yielding: float = 1.5


ASKED = JointTargets()
