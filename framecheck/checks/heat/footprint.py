"""How far along a member a weld reaches: runs, pads, spots, the ends of other members. SI; from the frame point it sits at."""

from __future__ import annotations

from itertools import pairwise
from math import acos, tan

import numpy as np

from framecheck.frame.geometry import member_axes, section_turns
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Member, Orientation
from framecheck.model.joints import PatternPlane
from framecheck.model.weld_joints import Bracket, SpotGroup, WeldGroup
from framecheck.section.properties import SectionProperties

LEAST_SINE_SQUARED = 0.25
"""Of the angle at which members meet: the foot of one that leans more is not taken longer still."""

IN_LINE = 0.7
"""The least cosine of the turn between two members' ends that are joined end to end."""

Reach = tuple[float, float]


def legs_at(frame: Frame, member: Member, point: str) -> Array:
    """Return the unit directions (1 or 2, 3) of the straight lengths of a member that meet at one of its points."""
    number = member.points.index(point)
    names = member.points[max(number - 1, 0) : number + 2]
    steps = np.diff(np.array([frame.points[name] for name in names]), axis=0)
    return np.asarray(steps / np.linalg.norm(steps, axis=1)[:, None])


def along(legs: Array, offsets: Array) -> Reach:
    """Return how far offsets (n, 3) from a point of a member reach along its legs (m, 3), least and most."""
    reached = offsets @ legs.T
    return float(reached.min()), float(reached.max())


def weld_offsets(joint: WeldGroup | SpotGroup | Bracket) -> Array:
    """Return the outermost places of welds from the frame point they sit at, (n, 3), m."""
    if isinstance(joint, WeldGroup):
        return np.array([end for run in joint.runs for end in (run.start, run.end)], dtype=np.float64)
    if isinstance(joint, SpotGroup):
        half = joint.diameter / 2
        flat = [(u + du, v + dv) for u, v in joint.positions for du in (-half, half) for dv in (-half, half)]
        return on_plane(joint.plane, np.array(flat))
    u, v = joint.width / 2, joint.length / 2
    return on_plane(joint.plane, np.array([(-u, -v), (-u, v), (u, -v), (u, v)]))


def on_plane(plane: PatternPlane, flat: Array) -> Array:
    """Return places (n, 2) across and along in a plane as offsets (n, 3) from the joint's place."""
    return np.asarray(np.array(plane.origin) + flat @ np.array([plane.across, plane.along]))


def foot(frame: Frame, legs: Array, other: Member, at_start: bool, section: SectionProperties) -> Reach:
    """Return how far the end of another member, welded on, reaches along a member's legs: half its outline, longer where it leans."""
    near, far = other.points[:2] if at_start else other.points[:-3:-1]
    line = np.subtract(frame.points[far], frame.points[near])
    line = line / np.linalg.norm(line)
    corners = outline_corners(line if at_start else -line, other, section)
    least, most = along(legs, corners)
    sine = 1 - float(np.max((legs @ line) ** 2))
    half = max(most, -least) / max(sine, LEAST_SINE_SQUARED) if sine > 0 else 0.0
    return -half, half


def spliced(frame: Frame, legs: Array, other: Member, at_start: bool, section: SectionProperties) -> Reach | None:
    """Return how far the mitre between two members joined end to end reaches; None where they meet too steeply to be one line."""
    near, far = other.points[:2] if at_start else other.points[:-3:-1]
    line = np.subtract(frame.points[far], frame.points[near])
    cosine = float(np.abs(legs @ (line / np.linalg.norm(line))).max())
    if cosine < IN_LINE:
        return None
    half = mitre_half(acos(min(cosine, 1.0)), section)
    return -half, half


def outline_corners(line: Array, member: Member, section: SectionProperties) -> Array:
    """Return the corners (4, 3) of the box round a section from its middle; line: unit direction of the member."""
    half = (section.box[1] - section.box[0]) / 2, (section.box[3] - section.box[2]) / 2
    own = np.array([(u * half[0], v * half[1]) for u in (-1, 1) for v in (-1, 1)])
    lie: Orientation = member.orientation
    turn = section_turns(np.array([lie.quarter_turns * np.pi / 2 + member.roll]), np.array([lie.mirrored]))[0]
    return np.asarray((own @ turn.T) @ member_axes(line[None])[0, 1:])


def turn_between(legs: Array) -> float:
    """Return the angle between the two legs that meet at a point, rad; 0 at a member's end."""
    if len(legs) < 2:
        return 0.0
    return acos(float(np.clip(legs[0] @ legs[1], -1.0, 1.0)))


def mitre_half(angle: float, section: SectionProperties) -> float:
    """Return how far a mitre's weld reaches along the member to each side: half the outline times tan of half the angle."""
    half = max(section.box[1] - section.box[0], section.box[3] - section.box[2]) / 2
    return half * tan(min(angle, 2.8) / 2)


def stations_at(frame: Frame, member: Member) -> dict[str, float]:
    """Return the station of each of a member's points, m."""
    found, reached = {member.points[0]: 0.0}, 0.0
    for first, second in pairwise(member.points):
        reached += float(np.linalg.norm(np.subtract(frame.points[second], frame.points[first])))
        found[second] = reached
    return found
