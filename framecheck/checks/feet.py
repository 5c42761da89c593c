"""Member ends that stand on the wall of another member: their sizes as rules for such joints name them. SI.

Sizes as in EN 1993-1-8, chapter 7: b0 rail, across the wall that is met; h0 rail, depth of the walls beside it; b1, h1 branch, across
and along the rail. A foot's axes: along the rail, out of its wall, square to both.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from functools import lru_cache

import numpy as np

from framecheck.frame.end_arms import foot_on_face
from framecheck.frame.geometry import MemberRun, OneFrame, cross, lengths
from framecheck.frame.joint_faces import JointFace, drawn_axes, lean_share, rails_at
from framecheck.frame.joints import seats_of
from framecheck.frame.leaning import way_into
from framecheck.frame.member_ends import first_end, last_end
from framecheck.frame.stand_in import Unmodelled, outline, sizes
from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Frame, Member, MemberEnd, Section
from framecheck.model.joining import EndFinish
from framecheck.model.joints import Terminal
from framecheck.model.shapes import (
    BoxedChannel,
    Channel,
    Drilled,
    Flat,
    FloorClosed,
    Plated,
    RectTube,
    RoundTube,
    Shape,
    Sleeve,
    Worn,
)
from framecheck.model.shop_tables import Material
from framecheck.value_class import array_class, value_class

SAME = 1e-6
"""m; stations nearer than this are one."""


class WallKind(Enum):
    """What a wall or a branch's end is, as far as rules for such joints tell shapes apart."""

    BOX = "box"
    ROUND = "round tube"
    CHANNEL = "channel"
    PLATE = "plate"
    OTHER = "other shape"


def kind_of(shape: Shape) -> WallKind:
    """Return what a shape counts as; of a sleeve the outer tube, of a plated piece the piece."""
    match shape:
        case RectTube() | BoxedChannel():
            return WallKind.BOX
        case RoundTube():
            return WallKind.ROUND
        case Channel():
            return WallKind.CHANNEL
        case Flat():
            return WallKind.PLATE
        case Sleeve(outer=inner) | Plated(base=inner) | Worn(base=inner) | Drilled(base=inner) | FloorClosed(base=inner):
            return kind_of(inner)
        case _:
            return WallKind.OTHER


@value_class
class WallMetal:
    """What a wall is made of: least strengths of its section's metals, beside a weld, Pa; kind: "steel", "aluminium"."""

    yield_strength: float
    ultimate: float
    young: float
    kind: str


def metal_of(section: Section) -> WallMetal:
    """Return the strengths that a section's walls have beside a weld: of several metals the least."""
    metals: tuple[Material, ...] = section.metals or (section.material,)
    return WallMetal(
        min(each.welded_yield or each.yield_strength for each in metals),
        min(each.welded_ultimate or each.ultimate_strength for each in metals),
        section.material.youngs_modulus,
        section.material.kind,
    )


@value_class
class MetWall:
    """The rail's wall that is met, m. b0, h0, t0 as above; left: from the branch's nearer side to the rail's open end, m, inf where it
    has none near.
    """

    kind: WallKind
    b0: float
    h0: float
    t0: float
    metal: WallMetal
    left: float


@value_class
class BranchEnd:
    """The end that stands on it, m: b1, h1, t1 as above. offset: of its middle from the wall's, across the rail."""

    kind: WallKind
    b1: float
    h1: float
    t1: float
    metal: WallMetal
    offset: float


@array_class
class EndOnWall:
    """A member's end on a wall. arm (3,): from the frame point to where the branch's middle line meets the wall's outside, m; axes
    (3, 3) rows; web: which way an open branch's web lies, +1 or -1: along the rail, of one that is not upright across it; lean: cosine
    between branch and rail. upright: it is taken with its own height across the rail; counts: by what share that quarter turn counts.
    """

    member: str
    point: str
    terminal: Terminal
    made: MemberEnd
    wall: MetWall
    branch: BranchEnd
    arm: Array
    axes: Array
    web: float
    lean: float
    rails: tuple[str, ...]
    unmodelled: Unmodelled | None
    upright: bool
    counts: float

    @property
    def turn(self) -> str:
        """Return in which quarter turn it is taken, in words."""
        return "with its height across the rail" if self.upright else "with its height along the rail"


def feet_of(frame: Frame) -> tuple[tuple[EndOnWall, ...], ...]:
    """Return every member end that stands on another member: in its nearest quarter turn, and in the next one where that counts."""
    return _feet(OneFrame(frame))


@lru_cache(maxsize=4)
def _feet(of: OneFrame) -> tuple[tuple[EndOnWall, ...], ...]:
    return tuple(_feet_on(of.frame))


def _feet_on(frame: Frame) -> Iterator[tuple[EndOnWall, ...]]:
    seats = seats_of(frame)
    rails = rails_at(frame) if seats else {}
    for (number, end), seat in seats.items():
        member = frame.members[number]
        point = member.points[-end]
        run = rails.get(point)
        passing = run if run is not None and number not in run[0].numbers else None
        yield turns_of(frame, (member, Terminal.END if end else Terminal.START), seat, passing)


def turns_of(
    frame: Frame, of: tuple[Member, Terminal], seat: JointFace, passing: tuple[MemberRun, int] | None
) -> tuple[EndOnWall, ...]:
    """Return a seated end as a foot in each quarter turn that counts; passing: the rail through its point, None: it stands on ends."""
    (member, terminal), axes = of, foot_axes(frame, of, seat)
    toward = way_into(frame, member, terminal is Terminal.START)
    _, up = drawn_axes(toward if terminal is Terminal.START else -toward, member)
    upright = abs(float(up @ axes[2])) >= abs(float(up @ axes[0]))
    nearest = foot_of(frame, of, seat, passing, (upright, 1.0))
    counts = 2 * lean_share((member, terminal is Terminal.START), toward, axes)
    if not counts:
        return (nearest,)
    other = foot_of(frame, of, seat, passing, (not upright, counts))
    alike = other.branch == nearest.branch and other.branch.kind is not WallKind.CHANNEL
    return (nearest,) if alike else (nearest, other)


def foot_of(
    frame: Frame,
    of: tuple[Member, Terminal],
    seat: JointFace,
    passing: tuple[MemberRun, int] | None,
    turn: tuple[bool, float],
) -> EndOnWall:
    """Return a seated end as a foot in a quarter turn; turn: whether its height lies across the rail, by what share that counts."""
    member, terminal = of
    made, first = (member.start, 0) if terminal is Terminal.START else (member.end, -1)
    on, own = frame.sections[seat.on], frame.sections[seat.of]
    toward, axes = way_into(frame, member, terminal is Terminal.START), foot_axes(frame, of, seat)
    left, _ = drawn_axes(toward if first == 0 else -toward, member)
    foot = foot_on_face((seat.arm, seat.axes[1]), np.array(made.arm))
    branch = branch_of(own, turn[0], float(foot @ axes[2]))
    arm = foot + axes[1] * seat.chord.wall / 2
    return EndOnWall(
        member.name, member.points[first], terminal, made,
        wall_of(frame, on, seat, passing, (branch.h1, frame.members.index(member), float(foot @ axes[0]))), branch,
        frozen(arm), frozen(axes),
        1.0 if float(left @ axes[0 if turn[0] else 2]) >= 0.0 else -1.0,
        float(toward @ axes[0]),
        () if passing is None else rails_beside(*passing),
        seat.unmodelled,
        *turn,
    )  # fmt: skip


def foot_axes(frame: Frame, of: tuple[Member, Terminal], seat: JointFace) -> Array:
    """Return the axes (3, 3) of a foot: of its seat, on a round rail out along its radius."""
    is_round = kind_of(frame.sections[seat.on].shape) is WallKind.ROUND
    return radial(seat.axes, way_into(frame, of[0], of[1] is Terminal.START)) if is_round else seat.axes


IN_LINE = 1e-6
"""Sine of the angle between two members below which they are one line."""


def radial(axes: Array, toward: Array) -> Array:
    """Return the axes of a foot on a round rail: out along its radius; as they are where it stands on the rail's end in line."""
    out = toward - axes[0] * float(toward @ axes[0])
    if np.linalg.norm(out) < IN_LINE:
        return axes
    out = out / np.linalg.norm(out)
    return np.stack([axes[0], out, cross(axes[0], out)])


def rails_beside(run: MemberRun, number: int) -> tuple[str, ...]:
    """Return the names of the members that a rail is on both sides of a point."""
    legs = (run.legs[leg] for leg in (number - 1, number) if 0 <= leg < len(run.legs))
    return tuple(dict.fromkeys(leg.member.name for leg in legs))


def branch_of(section: Section, upright: bool, offset: float) -> BranchEnd:
    """Return a branch's sizes; upright: its own height lies across the rail."""
    known, shape = outline(section.shape), section.shape
    if known is not None:
        walls = (known.wall, known.wall_left, known.wall_right or known.wall)
        height, width, wall = known.height, known.width, min(walls)
    else:
        height, width, wall = sizes(shape)
    across, along = (height, width) if upright else (width, height)
    return BranchEnd(kind_of(shape), across, along, wall, metal_of(section), offset)


def wall_of(
    frame: Frame, section: Section, seat: JointFace, passing: tuple[MemberRun, int] | None, branch: tuple[float, int, float]
) -> MetWall:
    """Return the wall that is met; branch: its h1, its place in the frame, and how far along the rail it stands from the point."""
    chord, (h1, number, beside) = seat.chord, branch
    left = 0.0 if passing is None else open_length(frame, passing, number, beside) - h1 / 2
    return MetWall(kind_of(section.shape), chord.depth, chord.width, chord.wall, metal_of(section), left)


def open_length(frame: Frame, place: tuple[MemberRun, int], branch: int, beside: float) -> float:
    """Return how far a rail's nearest open end is, m: one at which nothing else begins, ends or passes; inf where none is open.

    From so far beside a point of its run, towards its last one.
    The branch itself, by its place in the frame, leaves the end open: it stands half beyond it. A rail that runs on has no end there.
    """
    run, number = place
    if run.is_ring:
        return float("inf")
    legs, own = lengths(frame, run.points), run.numbers | {branch}
    ends = (run.points[0], first_end(run), sum(legs[:number]) + beside), (run.points[-1], last_end(run), sum(legs[number:]) - beside)
    closed = {point for n, each in enumerate(frame.members) if n not in own for point in each.points}
    found = [away for point, made, away in ends if made.cap.finish is not EndFinish.RUNS_ON and point not in closed]
    return min(found, default=float("inf"))
