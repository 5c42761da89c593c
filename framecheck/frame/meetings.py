"""Ends that meet others at a point where none passes and none offers a wall: from standing on each other's open ends to rigid. SI.

Which of them runs past the point and which are cut to it is not known, nor whether they are mitred. At the soft end of the range each
stands, welded round, on the wall of every other one, flush with that one's open end, and gives about every axis no less than on any.
One that stands on the plate that closes another, bends that plate when it is pushed or pulled.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import replace
from itertools import product

import numpy as np

from framecheck.frame.geometry import End, RunLeg, cross, running_on
from framecheck.frame.joint.data import (
    RUNNING_ON,
    Branch,
    BranchMake,
    Chord,
    RailEnd,
    RailFinish,
    channel_outline,
    tube_branch,
    tube_outline,
)
from framecheck.frame.joint_faces import drawn_axes, section_beside, way_between
from framecheck.frame.number_cache import NumberStore, joint_springs
from framecheck.frame.stand_in import MODEL_ERROR, OPEN_FOOTPRINT, OPEN_RAIL, TubeOutline, as_branch, as_rail, box
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Make, Member, MemberEnd, Section
from framecheck.model.joining import EndFinish
from framecheck.value_class import array_class

SETTLED = (Make.RIGID, Make.PINNED, Make.GIVEN)
"""Makes that say themselves how an end gives."""
LEAST = 1e-7
"""The least give about any axis, as a share of the most: below it the squares' digits end."""
ASIDE = 1e-12
"""Share of a way of standing under which it is left out."""


Leg = tuple[Member, int, int]
"""A leg of a member at a point, and which end of the leg lies there: 0 first, 1 second."""


@array_class
class EndHere:
    """An end of a leg at a point: its section beside it. out, left, up (3,): the way into the leg, and its section's own y and z; arm
    (3,): from the point; plate: thickness of one that closes it, m, 0 where it is not said."""

    section: Section
    out: Array
    left: Array
    up: Array
    arm: Array
    plate: float


@array_class
class MetEnd:
    """A member's end (its place in the frame, 0 start or 1 end) that meets others."""

    number: int
    end: int
    point: str
    here: EndHere
    others: tuple[EndHere, ...]


def met_ends(frame: Frame, seated: Container[End]) -> Iterator[MetEnd]:
    """Yield the ends that meet others where none runs on or offers a wall, but for one on which all others say how they are made.

    seated: ends that stand on a wall, or hold its flanges.
    """
    legs: dict[str, list[Leg]] = {}
    for member in frame.members:
        for leg, end in product(range(len(member.points) - 1), (0, 1)):
            legs.setdefault(member.points[leg + end], []).append((member, leg, end))
    paired = running_on(frame)
    for number, member in enumerate(frame.members):
        for end, made in ((0, member.start), (1, member.end)):
            point, last = member.points[-end], len(member.points) - 2
            others = [each for each in legs[point] if each[0] is not member or each[1:] != (end * last, end)]
            bears = made.make is Make.UNSAID and all(_is_made_on_it(each) for each in others)
            free = made.make not in SETTLED and (number, end) not in paired and (number, end) not in seated
            if others and free and not bears:
                here, there = _here(frame, (member, end * last, end)), tuple(_here(frame, each) for each in others)
                yield MetEnd(number, end, point, here, there)


def _is_made_on_it(leg: Leg) -> bool:
    """Return whether a leg's end says how it is made, so that another there bears it: a plate that closes it is its own wall."""
    made = _end_of(leg)
    return made is not None and made.make is not Make.UNSAID and made.cap.finish is not EndFinish.PLATE


def _end_of(leg: Leg) -> MemberEnd | None:
    """Return a leg's end, None where its member runs on."""
    member, number, end = leg
    if number + end == 0:
        return member.start
    return member.end if number + end == len(member.points) - 1 else None


def _here(frame: Frame, leg: Leg) -> EndHere:
    member, number, end = leg
    along = way_between(frame, *member.points[number : number + 2])
    left, up = drawn_axes(along, member)
    section = section_beside(frame, RunLeg(member, number, reversed=False), at_first=end == 0)
    made = _end_of(leg)
    plate = made.cap.thickness if made is not None and made.cap.finish is EndFinish.PLATE else 0.0
    arm = np.zeros(3) if made is None else np.array(made.arm)
    return EndHere(section, along if end == 0 else -along, left, up, arm, plate)


def springs_at(met: MetEnd, store: NumberStore | None) -> tuple[Array, tuple[float, ...]]:
    """Return the springs of an end at the soft end of its range: axes (6, 3), along and about which they act, N/m and Nm/rad."""
    found = [gives_on(met.here, other, store) for other in met.others]
    axes, stiffness = np.zeros((6, 3)), np.zeros(6)
    for first, gives in ((0, [each[0] for each in found]), (3, [each[1] for each in found])):
        values, ways = np.linalg.eigh(no_less(gives))
        axes[first : first + 3], stiffness[first : first + 3] = ways.T, 1 / values
    return axes, tuple(stiffness.tolist())


def no_less(gives: list[Array]) -> Array:
    """Return a flexibility (3, 3) that about every axis is no less than any of some, whatever their order.

    The root of the sum of squares; it is no less than the root of one square, for roots keep the order of symmetric matrices
    (K. Loewner 1934, from memory).
    """
    values, ways = np.linalg.eigh(np.sum([each @ each for each in gives], axis=0))
    return np.asarray((ways * np.sqrt(np.maximum(values, LEAST**2 * values[-1]))) @ ways.T, dtype=np.float64)


def gives_on(here: EndHere, other: EndHere, store: NumberStore | None) -> tuple[Array, Array]:
    """Return how an end moves (3, 3) per force and turns (3, 3) per moment on another's walls, in the vehicle's axes.

    On its side walls and on its top and bottom by the squares of the cosines between the end and the way that they look, and with its
    height across or along them in the same way: continuous however the members lie.
    """
    moves, turns = np.zeros((3, 3)), np.zeros((3, 3))
    along = other.out
    lean = 0.0 if other.plate else float(here.out @ along) ** 2 / 2
    for upright, way in ((True, other.left), (False, other.up)):
        third = cross(along, way)
        faces = float(here.out @ way) ** 2 + lean
        across = float(here.up @ third) ** 2 + float(here.left @ along) ** 2
        beside = float(here.up @ along) ** 2 + float(here.left @ third) ** 2
        for standing, share in ((True, across), (False, beside)):
            part = faces * share / (across + beside)
            if part > ASIDE:
                found = _springs((here.section, standing), (other.section, upright), store)
                axes = np.stack([along, way, third])
                moves += part * axes.T @ np.diag(1 / found[:3]) @ axes
                turns += part * axes.T @ np.diag(1 / found[3:]) @ axes
    if other.plate:
        out, left, up = plate_gives(here, other) * float(here.out @ along) ** 2
        moves += out * np.outer(along, along)
        turns += left * np.outer(other.left, other.left) + up * np.outer(other.up, other.up)
    return moves, turns


WAVES, PARTS = 24, 8
"""Half waves each way, and parts of each wall of a foot: twice as many change a plate's give by 2 % under a foot a third as wide."""


def plate_gives(here: EndHere, other: EndHere) -> Array:
    """Return how far the plate over another end moves, m/N, and turns about that one's y and z, rad/Nm, (3,) under an end on it.

    The end's stress is spread along its outline as in a beam; the plate is a rectangle simply held at its edges, by Navier's sum
    (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, art. 29; from memory). Both give more than the plate welded round:
    edges turn less, and a spread that is not the one of least work gives more. In its own plane the plate gives nothing.
    """
    rail, metal = as_rail(other.section.shape), other.section.material
    size = np.array([rail.width - rail.wall, rail.height - rail.wall])
    stiff = metal.youngs_modulus * other.plate**3 / (12 * (1 - metal.poissons_ratio**2))
    off, across = here.arm - other.arm, float(here.up @ other.up) ** 2
    middle = size / 2 + np.array([off @ other.left, off @ other.up])
    k, found = np.pi * np.arange(1, WAVES + 1)[:, None] / size, np.zeros(3)
    bent = stiff * float(np.prod(size)) / 4 * (k[:, :1] ** 2 + k[:, 1] ** 2) ** 2
    foot = _foot(here.section)
    sizes = np.maximum(np.array([foot.width, foot.height]) - foot.wall, foot.wall)
    for sides, share in ((sizes, across), (sizes[::-1], 1.0 - across)):
        places, pull = foot_spread(sides)
        y, z = np.sin(k.T[:, :, None] * np.clip(middle + places, 0.0, size).T[:, None])
        waves = np.einsum("mi,ni,ij->mnj", y, z, pull)
        found += share * np.sum(waves**2 / bent[..., None], axis=(0, 1))
    return found


def foot_spread(sides: Array) -> tuple[Array, Array]:
    """Return places (n, 2) along a box's outline of sides (2,), m, and what acts there (n, 3) under a unit pull and unit moments that
    pull at +z and at +y."""
    even = (np.arange(PARTS) + 0.5) / PARTS - 0.5
    ones = np.full(PARTS, 0.5)
    walls = [np.stack(pair, axis=1) for sign in (-1, 1) for pair in ((even, sign * ones), (sign * ones, even))]
    places = np.concatenate(walls) * sides
    weight = np.repeat([sides[0], sides[1]] * 2, PARTS) / PARTS
    lever = places[:, ::-1]
    pull = np.column_stack((weight / weight.sum(), weight[:, None] * lever / (weight @ lever**2)))
    return places, pull


def _springs(end: tuple[Section, bool], wall_of: tuple[Section, bool], store: NumberStore | None) -> Array:
    """Return springs (6,) along and about a tube's axis, the way its face looks and the third axis, flush with its open end.

    end: its section, and whether its height lies across the wall or along the tube; wall_of: the tube, and whether it is a side wall.
    """
    (of, standing), (on, upright) = end, wall_of
    rail, foot = as_rail(on.shape), _foot(of)
    depth, width = (rail.height, rail.width) if upright else (rail.width, rail.height)
    height, across = (foot.height, foot.width) if standing else (foot.width, foot.height)
    wall = min(each for each in (rail.wall, rail.wall_left, rail.wall_right) if each > 0.0)
    made = tube_outline if rail.closed else channel_outline
    outline = made(width - wall / (1 if rail.closed else 2), depth - wall, wall)
    ends = RUNNING_ON, RailEnd(RailFinish.OPEN, across / 2)
    metal = of.material
    branch: Branch = tube_branch(height, across, foot.wall, e=metal.youngs_modulus, nu=metal.poissons_ratio)
    if foot.round:
        branch = replace(branch, round=height - foot.wall)
    chord = Chord(outline, on.material.youngs_modulus, on.material.poissons_ratio, ends)
    found = joint_springs(chord, branch, BranchMake.BUTT, store)
    share = MODEL_ERROR * (1.0 if rail.closed else OPEN_RAIL)
    moves = found.shear_sideways, found.axial, found.shear_vertical
    return share * np.array([*moves, found.bending_vertical, found.twist, found.bending_sideways])


def _foot(of: Section) -> TubeOutline:
    """Return the box that an end is welded by, or one that lies within its foot."""
    found = as_branch(of.shape)
    return found if found.closed else box(OPEN_FOOTPRINT * found.height, OPEN_FOOTPRINT * found.width, found.wall)
