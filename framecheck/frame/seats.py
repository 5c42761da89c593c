"""Where a member's end sits on another member: on which face of the rail, how far from its axis. SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise
from math import inf, isinf

import numpy as np

from framecheck.frame.geometry import member_axes, section_turns
from framecheck.frame.joint.data import Branch, Chord
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Member, Section
from framecheck.model.shapes import BoxedChannel, Channel, Drilled, RectTube, Shape, Worn
from framecheck.value_class import array_class, value_class

FACING = 0.75  # least cosine between a branch and the way the rail's face looks; beyond that it is no T joint


@value_class
class Outline:
    """A tube's or channel's outline. wall_left, wall_right: of the upright walls; 0: there is none (a channel's open side)."""

    height: float
    width: float
    wall: float
    wall_left: float
    wall_right: float
    radius: float

    @property
    def closed(self) -> bool:
        """Return whether the outline runs all round."""
        return self.wall_right > 0.0


@array_class
class Seat:
    """A member's end on a rail's face. arm: (3,) from the frame point to the middle plane of the face.

    axes: (3, 3) rows: along the rail, out of the face, square to both; the joint's springs act along and about them.
    """

    arm: Array
    axes: Array
    chord: Chord
    branch: Branch


def outline(shape: Shape) -> Outline | None:
    """Return the outline of a tube or channel; None for shapes whose joints are not known."""
    match shape:
        case RectTube(height, width, wall, radius):
            return Outline(height, width, wall, wall, wall, radius)
        case Channel(height, flange, wall, radius):
            return Outline(height, flange, wall, wall, 0.0, radius + wall)
        case BoxedChannel(channel, plate, inset):
            c = channel
            width = c.flange + (plate if inset is None else 0.0)
            return Outline(c.height, width, c.wall, c.wall, plate, c.inside_radius + c.wall)
        case Worn(base) | Drilled(base):
            return outline(base)
        case _:
            return None


def rails_at(frame: Frame) -> Mapping[str, tuple[Member, int]]:
    """Return, per point, the member that passes through it and the point's place in it; a rail's end counts as passing."""
    passing: dict[str, tuple[Member, int]] = {}
    for member in frame.members:
        if len(member.points) > 2:
            for number, point in enumerate(member.points[1:-1], 1):
                passing.setdefault(point, (member, number))
    for member in frame.members:
        if member.role == "rail":
            passing.setdefault(member.points[0], (member, 0))
            passing.setdefault(member.points[-1], (member, len(member.points) - 1))
    return passing


def section_at(frame: Frame, member: Member, station: float) -> Section:
    """Return the section that a member has at a station, m."""
    name = next((each.section for each in member.stretches if station <= each.until), member.stretches[-1].section)
    return frame.sections[name]


def drawn_axes(along: Array, member: Member) -> tuple[Array, Array]:
    """Return a member's section's own y and z (3,) in space, for a unit direction (3,)."""
    axes = member_axes(along[None])[0]
    angle = np.pi / 2 * member.orientation.quarter_turns + member.roll
    turn = section_turns(np.array([angle]), np.array([member.orientation.mirrored]))[0]
    own = turn.T @ axes[1:]
    return own[0], own[1]


def _direction(frame: Frame, member: Member, number: int) -> Array:
    """Return the unit direction (3,) of a member at one of its points."""
    first = min(number, len(member.points) - 2)
    start, end = (np.array(frame.points[name]) for name in member.points[first : first + 2])
    leg: Array = (end - start) / np.linalg.norm(end - start)
    return leg


def _chord(section: Section, shape: Outline, upright: bool, wall: float) -> Chord:
    """Return the rail as the joint sees it; upright: its own upright wall is the face."""
    depth, width = (shape.height, shape.width) if upright else (shape.width, shape.height)
    material = section.material
    return Chord(depth, width, wall, shape.closed, shape.radius, material.youngs_modulus, material.poissons_ratio)


def _branch(section: Section, shape: Outline, upright: bool) -> Branch:
    """Return the crossmember's end as the joint sees it; upright: its own z is square to the rail's axis and its face."""
    depth, width = (shape.height, shape.width) if upright else (shape.width, shape.height)
    material = section.material
    wall = shape.wall
    return Branch(depth, width, wall, shape.closed, shape.radius, material.youngs_modulus, material.poissons_ratio)


def _face(shape: Outline, own: tuple[Array, Array], toward: Array) -> tuple[Array, float, float, bool] | None:
    """Return the way a face looks, its middle plane's distance along that from the axis, its wall, whether it is upright.

    A channel has one face, its web, met from outside or, between the flanges, from inside.
    """
    left, up = own
    leans = float(left @ toward), float(up @ toward)
    if abs(leans[0]) >= FACING and not shape.closed:
        way = np.sign(leans[0]) * left
        return way, float(np.sign(leans[0])) * (shape.width - shape.wall_left) / 2, shape.wall_left, True
    if abs(leans[0]) >= FACING:
        wall = shape.wall_left if leans[0] > 0 else shape.wall_right
        return np.sign(leans[0]) * left, (shape.width - wall) / 2, wall, True
    if abs(leans[1]) >= FACING and shape.closed:
        return np.sign(leans[1]) * up, (shape.height - shape.wall) / 2, shape.wall, False
    return None


def seat(frame: Frame, rail: tuple[Member, int], station: float, branch: Member, at_start: bool) -> Seat | None:
    """Return where a branch's end sits on a rail; None where that is no T joint of tubes or channels.

    rail: the rail and the joint's point in it; station: of that point along the rail, m.
    """
    chord, number = rail
    last = len(branch.points) - 1
    toward = _direction(frame, branch, 0) if at_start else -_direction(frame, branch, last)
    on = section_at(frame, chord, station)
    of = frame.sections[branch.stretches[0 if at_start else -1].section]
    shapes = outline(on.shape), outline(of.shape)
    if shapes[0] is None or shapes[1] is None:
        return None
    along = _direction(frame, chord, number)
    face = _face(shapes[0], drawn_axes(along, chord), toward)
    if face is None:
        return None
    way, distance, wall, upright = face
    third = np.cross(along, way)
    own_up = drawn_axes(toward if at_start else -toward, branch)[1]
    arm = toward * distance / float(toward @ way)
    stands = abs(float(own_up @ third)) >= abs(float(own_up @ along))
    held = replace(_chord(on, shapes[0], upright, wall), reach=held_reach(frame, chord, station))
    return Seat(arm, np.stack([along, way, third]), held, _branch(of, shapes[1], stands))


def held_reach(frame: Frame, rail: Member, station: float) -> float:
    """Return how far the nearest end of a rail is at which a clamp, held in all six ways, keeps its outline in shape, m.

    inf where no end is clamped: an open end, or one whose cap nobody told of, holds nothing (unfavourable).
    """
    clamped = {each.point for each in frame.supports if all(isinf(way) for way in each.stiffness)}
    places = [np.array(frame.points[name]) for name in rail.points]
    length = sum(float(np.linalg.norm(b - a)) for a, b in pairwise(places))
    ends = ((rail.points[0], station), (rail.points[-1], length - station))
    return min((away for point, away in ends if point in clamped), default=inf)
