"""Mass of members as matrices on the frame's points, and natural frequencies from a flexibility. SI.

Freedoms: six per point (x, y, z, turns about them) in vehicle axes, in the order of the frame's points.

A small space of shapes is grown by letting inertia push (block Krylov: each block is the static answer to the last one's
inertia forces), and the equation of motion is solved within it (Rayleigh-Ritz). A structure that hangs on nothing is pushed
by forces in balance with its own inertia (inertia relief), and its six free movements stand beside the shapes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from math import ceil, dist, pi
from typing import Any

import numpy as np

from framecheck.frame.geometry import member_axes, section_turns
from framecheck.model.arrays import Array, Vector, frozen
from framecheck.model.frame import Frame, Member
from framecheck.section.properties import SectionProperties
from framecheck.value_class import array_class, value_class

BENDING = np.array([[156, 22, 54, -13], [22, 4, 13, -3], [54, 13, 156, -22], [-13, -3, -22, 4]]) / 420.0
TURNING = np.array([[36, 3, -36, 3], [3, 4, -3, -1], [-36, -3, 36, -3], [3, -1, -3, 4]]) / 30.0
STRAIGHT = (
    np.array([[5, 1], [1, 5]]) / 12.0
)  # mean of lumped and consistent: errors fall with the fourth power of the length


@value_class
class MassPiece:
    """A straight piece of a member between two of its points. ends: its reference line's (m), moved by rigid arms."""

    member: Member
    points: tuple[str, str]
    ends: tuple[Vector, Vector]
    section: str


def reference_line(frame: Frame, member: Member) -> list[Array]:
    """Return the places (3,) that a member's reference line runs through: its points, the ends moved by their rigid arms."""
    line = [np.array(frame.points[name]) for name in member.points]
    line[0] = line[0] + np.array(member.start.arm)
    line[-1] = line[-1] + np.array(member.end.arm)
    return line


def refined(frame: Frame, longest: float) -> Frame:
    """Return the same frame with more points along its members, none farther apart than `longest` (m)."""
    points, members = dict(frame.points), []
    for member in frame.members:
        names = [member.points[0]]
        for (first, second), (a, b) in zip(
            pairwise(member.points), pairwise(reference_line(frame, member)), strict=True
        ):
            parts = max(1, ceil(dist(a, b) / longest - 1e-9))
            for number in range(1, parts):
                names.append(f"{member.name}, {first} to {second}, {number} of {parts}")
                x, y, z = (a + (b - a) * number / parts).tolist()
                points[names[-1]] = (x, y, z)
            names.append(second)
        members.append(replace(member, points=tuple(names)))
    return replace(frame, points=points, members=tuple(members))


def pieces(frame: Frame) -> Iterator[MassPiece]:
    """Yield the straight pieces of all members, each with the section at its middle; a notch's lost mass is left out."""
    for member in frame.members:
        path = reference_line(frame, member)
        passed = 0.0
        for names, (a, b) in zip(pairwise(member.points), pairwise(path), strict=True):
            middle, passed = passed + dist(a, b) / 2, passed + dist(a, b)
            section = next((s.section for s in member.stretches if middle <= s.until), member.stretches[-1].section)
            ends = tuple((float(p[0]), float(p[1]), float(p[2])) for p in (a, b))
            yield MassPiece(member, names, (ends[0], ends[1]), section)


def section_axes(piece: MassPiece) -> Array:
    """Return the section's own axes (3, 3) as rows x, y, z in vehicle axes."""
    along = np.array(piece.ends[1]) - np.array(piece.ends[0])
    axes = member_axes(along[None] / np.linalg.norm(along))[0]
    orientation = piece.member.orientation
    angle = np.array([piece.member.roll + orientation.quarter_turns * pi / 2])
    turn = section_turns(angle, np.array([orientation.mirrored]))[0]
    return np.vstack((axes[:1], turn.T @ axes[1:]))


def _local(section: SectionProperties, length: float) -> Array:
    """Return the consistent mass (12, 12) at the centroid line, in the section's axes; freedoms per end: 3 and 3 turns.

    Cubic bending with rotary inertia (handbook matrices of a uniform beam); stretch and twist run straight between the
    ends. Products of inertia are left out of the rotary part: it is small.
    """
    per_area = section.mass_per_length / section.area
    polar = section.i_vertical + section.i_sideways
    mass, scale = np.zeros((12, 12)), np.array([1.0, length, 1.0, length])
    mass[np.ix_([0, 6], [0, 6])] = section.mass_per_length * length * STRAIGHT
    mass[np.ix_([3, 9], [3, 9])] = per_area * polar * length * STRAIGHT
    # moves along y turn with +z, moves along z turn with -y
    for freedoms, sign, second in (([1, 5, 7, 11], 1.0, section.i_sideways), ([2, 4, 8, 10], -1.0, section.i_vertical)):
        scales = scale * np.array([1.0, sign, 1.0, sign])
        bent = section.mass_per_length * length * BENDING + per_area * second / length * TURNING
        mass[np.ix_(freedoms, freedoms)] = bent * np.outer(scales, scales)
    return mass


def _carried(axes: Array, arm: Array) -> Array:
    """Return (6, 6): the movement in the section's axes of a place `arm` (3,) away from a point, from the point's own."""
    x, y, z = arm
    rigid = np.eye(6)
    rigid[:3, 3:] = [[0.0, z, -y], [-z, 0.0, x], [y, -x, 0.0]]
    turned = np.kron(np.eye(2), axes)
    return np.asarray(turned @ rigid, dtype=np.float64)


def piece_mass(frame: Frame, piece: MassPiece, section: SectionProperties) -> Array:
    """Return the mass (12, 12) of a piece on the freedoms of its two points."""
    axes = section_axes(piece)
    offset = section.centroid[0] * axes[1] + section.centroid[1] * axes[2]
    arms = [
        np.array(end) + offset - np.array(frame.points[name])
        for end, name in zip(piece.ends, piece.points, strict=True)
    ]
    moves = np.zeros((12, 12))
    moves[:6, :6], moves[6:, 6:] = (_carried(axes, arm) for arm in arms)
    local = _local(section, dist(*piece.ends))
    return np.asarray(moves.T @ local @ moves, dtype=np.float64)


def member_mass(frame: Frame, sections: Mapping[str, SectionProperties], size: int) -> Any:
    """Return the sparse mass (size, size) of all members; freedoms beyond the points' stay empty."""
    from scipy.sparse import coo_array

    number = {name: i for i, name in enumerate(frame.points)}
    rows, columns, values = [], [], []
    for piece in pieces(frame):
        freedoms = np.concatenate([6 * number[name] + np.arange(6) for name in piece.points])
        rows.append(np.repeat(freedoms, 12))
        columns.append(np.tile(freedoms, 12))
        values.append(piece_mass(frame, piece, sections[piece.section]).ravel())
    where = np.concatenate(rows), np.concatenate(columns)
    return coo_array((np.concatenate(values), where), shape=(size, size)).tocsr()


Flexibility = Callable[[Array], Array]
"""Forces (n, k) in balance with the supports, or among themselves, to movements (n, k)."""

SPARE = 4  # shapes in a block beyond those asked for
MOST_BLOCKS = 12
CONVERGED = 1e-7  # relative change of a frequency from one block to the next
STILL = 1e-6  # of the highest frequency found: below this a mode is a free movement


@array_class
class GroundSprings:
    """Springs to the ground: directions (n, s), each a unit force on the freedoms; rates (s,) N/m or Nm/rad."""

    directions: Array
    rates: Array


@array_class
class Vibration:
    """Frequencies (k,) in Hz, rising; shapes (n, k), of unit modal mass. change: the last relative change of a frequency."""

    frequencies: Array
    shapes: Array
    change: float


@array_class
class _Space:
    """Shapes (n, m) and the forces (n, m) that hold the structure in them."""

    shapes: Array
    forces: Array


def no_springs(n: int) -> GroundSprings:
    """Return nothing between the structure and the ground."""
    return GroundSprings(np.zeros((n, 0)), np.zeros(0))


def _relief(mass: Array, free: Array) -> Array:
    """Return (n, 6): what takes the free movements (n, 6) off: forces less relief @ (free.T @ forces) are in balance."""
    if not free.shape[1]:
        return np.zeros_like(free)
    return np.asarray(mass @ free @ np.linalg.inv(free.T @ mass @ free), dtype=np.float64)


def _grown(flexibility: Flexibility, forces: Array, free: Array, relief: Array) -> _Space:
    """Return the shapes under forces made to balance, free of free movement, scaled to unit length."""
    balanced = forces - relief @ (free.T @ forces)
    moved = flexibility(balanced)
    moved = moved - free @ (relief.T @ moved)
    sizes = np.maximum(np.linalg.norm(moved, axis=0), 1e-300)
    return _Space(moved / sizes, balanced / sizes)


def _joined(first: _Space, second: _Space) -> _Space:
    return _Space(np.hstack((first.shapes, second.shapes)), np.hstack((first.forces, second.forces)))


def _solved(space: _Space, mass: Array, free: Array, springs: GroundSprings) -> tuple[Array, Array]:
    """Return eigenvalues (m,), rising, and shapes (n, m) of unit modal mass within the space and the free movements."""
    shapes = np.hstack((free, space.shapes))
    forces = np.hstack((np.zeros_like(free), space.forces))
    stretched = springs.directions.T @ shapes
    stiff = shapes.T @ forces + stretched.T * springs.rates @ stretched
    sizes, axes = np.linalg.eigh(shapes.T @ mass @ shapes)
    kept = sizes > 1e-12 * sizes[-1]
    basis = axes[:, kept] / np.sqrt(sizes[kept])
    reduced = basis.T @ (stiff + stiff.T) / 2 @ basis
    values, turned = np.linalg.eigh(reduced)
    return values, shapes @ (basis @ turned)


def _frequencies(values: Array) -> Array:
    """Return frequencies in Hz."""
    return np.asarray(np.sqrt(np.maximum(values, 0.0)) / (2 * pi), dtype=np.float64)


def vibration(flexibility: Flexibility, mass: Array, free: Array, springs: GroundSprings, count: int = 8) -> Vibration:
    """Return the first modes that are not free movement.

    mass: (n, n); free: (n, 6) the free movements of a structure that hangs on nothing, (n, 0) of a held one. The springs
    come on top of the flexibility.
    """
    relief, size = _relief(mass, free), count + SPARE
    start = mass @ np.random.default_rng(1).standard_normal((mass.shape[0], size))
    space = _grown(flexibility, np.hstack((springs.directions, start)), free, relief)
    found, change = np.zeros(count), np.inf
    for _ in range(MOST_BLOCKS):
        values, shapes = _solved(space, mass, free, springs)
        moving = np.flatnonzero(values > (STILL**2) * values[-1])[:size]
        now = _frequencies(values[moving[:count]])
        if len(now) == len(found):
            change = float(np.max(np.abs(now - found) / now))
        if change < CONVERGED or len(values) == mass.shape[0]:
            break
        found = now
        space = _joined(space, _grown(flexibility, mass @ shapes[:, moving], free, relief))
    return Vibration(frozen(now), frozen(shapes[:, moving[:count]]), change)
