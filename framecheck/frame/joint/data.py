"""What a joint and a kink are made of, and how stiff they are. SI; places in the joint's own axes.

x along the rail, z square to it in the face, y = 0 the middle plane of the rail's wall that the branch meets; the branch comes
from y < 0.
"""

from __future__ import annotations

from enum import Enum
from math import inf, sqrt

from framecheck.value_class import value_class

Point = tuple[float, float]
TUBE_REACH = 5.0  # rail kept beyond the branch, in rail sizes: a tube's outline has then regained its shape
CHANNEL_REACH = 2.5  # the same for an open section, which has no shape to regain; further on it only twists as a beam


class BranchMake(Enum):
    """How the crossmember's end is made on the rail."""

    BUTT = "butt on one face"
    THROUGH = "through both faces"
    THROUGH_ONE = "through one face"
    FLANGES = "on the web and both flanges"
    LAID = "laid across the wall"


@value_class
class WallStrip:
    """A straight wall between two corners by number. welded: as part of a branch, its end is welded to the rail."""

    first: int
    second: int
    wall: float
    welded: bool = True


@value_class
class Outline:
    """A thin-walled section by its middle lines, corners sharp. corners in m: of a rail (y, z), of a branch (x, z)."""

    corners: tuple[Point, ...]
    strips: tuple[WallStrip, ...]

    @property
    def closed(self) -> bool:
        """Return whether its walls close a cell."""
        return len(self.strips) >= len(self.corners)

    def span(self, axis: int) -> tuple[float, float]:
        """Return the least and the greatest place along an axis of its corners, m."""
        places = [each[axis] for each in self.corners]
        return min(places), max(places)

    @property
    def sizes(self) -> Point:
        """Return how far it reaches along its two axes, middle lines, m."""
        first, second = self.span(0), self.span(1)
        return first[1] - first[0], second[1] - second[0]


class RailFinish(Enum):
    """What a rail is at its end."""

    HELD = "held in shape: a clamp, or a rail that runs on"
    OPEN = "open"
    PLATE = "closed by a plate"


@value_class
class RailEnd:
    """A rail's end. away: from the branch's middle, m; plate: its thickness, m."""

    finish: RailFinish = RailFinish.HELD
    away: float = inf
    plate: float = 0.0


RUNNING_ON = RailEnd()


@value_class
class Chord:
    """The rail at a joint; e in Pa. ends: towards -x and +x."""

    outline: Outline
    e: float = 200e9
    nu: float = 0.3
    ends: tuple[RailEnd, RailEnd] = (RUNNING_ON, RUNNING_ON)

    @property
    def face(self) -> tuple[float, float]:
        """Return the least and the greatest z of the wall that the branch meets, m."""
        places = [self.outline.corners[number][1] for strip in self.face_strips for number in (strip.first, strip.second)]
        return min(places), max(places)

    @property
    def face_strips(self) -> tuple[WallStrip, ...]:
        """Return the walls that lie in the face."""
        flat = {number for number, (y, _) in enumerate(self.outline.corners) if y == 0.0}
        return tuple(each for each in self.outline.strips if each.first in flat and each.second in flat)

    @property
    def depth(self) -> float:
        """Return the outside size along the face, m."""
        return self.outline.sizes[1] + self.wall

    @property
    def width(self) -> float:
        """Return the outside size square to the face, m; an open section ends at its flanges' tips."""
        return self.outline.sizes[0] + self.wall / (1 if self.outline.closed else 2)

    @property
    def wall(self) -> float:
        """Return the thickness of the wall that the branch meets, m."""
        return min(each.wall for each in self.face_strips)


def full_reach(chord: Chord) -> float:
    """Return how much of a rail beyond the branch tells, m."""
    return (TUBE_REACH if chord.outline.closed else CHANNEL_REACH) * max(chord.outline.sizes)


@value_class
class Gussets:
    """Equal triangles in the plane at z, one at each given side (-1, +1) of the branch, m.

    along_rail, along_branch: their legs; thickness.
    """

    along_rail: float
    along_branch: float
    thickness: float
    z: float
    sides: tuple[int, ...] = (-1, 1)


@value_class
class Branch:
    """The crossmember's end; e in Pa. round: middle-line diameter of a round tube, 0: its outline is straight walls."""

    outline: Outline
    e: float = 200e9
    nu: float = 0.3
    round: float = 0.0
    gussets: tuple[Gussets, ...] = ()


def lies_flat(branch: Branch) -> bool:
    """Return whether a wall of a branch lies flat next to the face it is laid on."""
    corners, low = branch.outline.corners, branch.outline.span(1)[0]
    return any(corners[each.first][1] == corners[each.second][1] == low for each in branch.outline.strips)


def level_of(chord: Chord, branch: Branch) -> float:
    """Return how far the branch's outline's zero lies from the face's middle plane, m: what lies flat next to the face touches it."""
    low = branch.outline.span(1)[0]
    corners = branch.outline.corners
    flat = [each.wall for each in branch.outline.strips if corners[each.first][1] == corners[each.second][1] == low]
    return (chord.wall + min(flat, default=0.0)) / 2 - low


@value_class
class JointStiffness:
    """Springs between the rail's face and the branch's end: Nm/rad and N/m. inf: rigid.

    vertical: about the rail's axis (x); sideways: about the vertical (z); twist: about the branch's own axis.
    centre: the height (z), m over the branch's middle, about which a moment about x turns it and at which a pull only moves it.
    """

    bending_vertical: float
    bending_sideways: float
    twist: float
    axial: float
    shear_vertical: float
    shear_sideways: float
    centre: float = 0.0


def tube_outline(across: float, upright: float, wall: float, left: float = 0.0) -> Outline:
    """Return a rectangle of middle-line sizes from (left, -upright/2), m: a rail's face is its first wall."""
    low, high = -upright / 2, upright / 2
    corners = (left, low), (left, high), (left + across, high), (left + across, low)
    return Outline(corners, tuple(WallStrip(i, (i + 1) % 4, wall) for i in range(4)))


def channel_outline(across: float, upright: float, wall: float, left: float = 0.0) -> Outline:
    """Return a channel with its web at `left`, its flanges' tips `across` beyond it (negative: before it), m."""
    tube = tube_outline(across, upright, wall, left)
    corners = (tube.corners[3], *tube.corners[:3])
    return Outline(corners, tuple(WallStrip(number, number + 1, wall) for number in range(3)))


def tube_chord(depth: float, width: float, wall: float, **more: object) -> Chord:
    """Return a rectangular tube as a rail by its outside depth (z) and width, m."""
    return Chord(tube_outline(width - wall, depth - wall, wall), **more)  # type: ignore[arg-type]


def tube_branch(depth: float, width: float, wall: float, **more: object) -> Branch:
    """Return a rectangular tube as a branch by its outside depth (z) and width (along the rail), m."""
    return Branch(tube_outline(width - wall, depth - wall, wall, (wall - width) / 2), **more)  # type: ignore[arg-type]


REACH = 1.5
"""Leg kept at a kink, in sizes times sqrt(size / wall): from there on out-of-plane give changes by under 2 %."""



@value_class
class KinkLeg:
    """One leg of a kink, from the plane midway between both legs on. Sizes outside, m; angles rad; e in Pa.

    turn: between both legs. tilt: from the section's height to the way in which the leg turns: 0, the height lies in the kink's
    plane. room: from the kink to where the outline is held in shape. plate: thickness of one welded in all round in the mitre,
    0 where there is none. radius: of a bent kink's middle line, 0 where it is mitred. round: a tube of diameter height and width.
    """

    height: float
    width: float
    wall: float
    turn: float
    tilt: float = 0.0
    room: float = inf
    plate: float = 0.0
    radius: float = 0.0
    round: bool = False
    e: float = 200e9
    nu: float = 0.3

    @property
    def size(self) -> float:
        """The larger middle-line size of the section, m."""
        return max(self.height, self.width) - self.wall

    @property
    def reach(self) -> float:
        """The length of leg after which its outline has regained its shape, m: room beyond it changes nothing."""
        return REACH * self.size * sqrt(self.size / self.wall)


Row = tuple[float, float, float, float]


@value_class
class CornerGive:
    """What one leg of a kink gives beyond a straight leg up to the point, and the stress it adds.

    Turns per moment, rad/Nm, of the middle plane against the leg: about the normal of the kink's plane (in_plane), about the line
    in that plane midway between the legs (out_of_plane), of the one under the other (mixed), about the mean direction (torsion).
    surface: by distance from the mitre (DISTANCES), the stress at the wall's surface that is added to the straight leg's largest,
    Pa per Nm in plane, out of plane, of torsion, and Pa per N along the leg; through_wall: the same 1.5 walls from the
    mitre, of the stress through the wall alone.
    """

    in_plane: float
    out_of_plane: float
    mixed: float
    torsion: float
    surface: tuple[Row, ...]
    through_wall: Row


WALLS = 1.5
"""How far from the mitre the stress is read, in walls: nearer, the weld's own notch is in it, which its class holds already."""
DISTANCES = (0.0, 0.25, 0.5, 1.0, 2.0, 4.0)
"""Where the stress is read beyond that, in sizes of the section; the first: WALLS from the mitre."""
