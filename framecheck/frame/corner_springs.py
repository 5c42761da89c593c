"""The springs of an open corner: a kink of two members that says it is mitred, with a third that ends there. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.frame.geometry import cross
from framecheck.frame.joint_faces import drawn_axes
from framecheck.frame.kinks import Kink, KinkSide
from framecheck.frame.number_cache import NumberStore, kept_numbers
from framecheck.frame.open_corner import OpenCorner, corner_turns, directions
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Kinks, Make, Member, MemberEnd, sections_at
from framecheck.model.shapes import RectTube

FLAT = 0.05
"""Three ways that span less than this share of a cube are no corner of three."""
KNOWN: dict[OpenCorner, Array] = {}
"""What this process has worked out or read, by corner."""


def corner_at(frame: Frame, kink: Kink) -> tuple[KinkSide, KinkSide, KinkSide] | None:
    """Return the three box tubes of an open corner, a kink's own first; None where a kink is no such corner: it is not one that two
    ends say, it is bent or has a plate within, or no third end is made at one with it.
    """
    ends = [_end_of(frame.members[side.member], side.end) for side in kink.sides]
    if kink.made is not Kinks.MITRED or any(end.corner is None for end in ends):
        return None
    own = {side.member for side in kink.sides}
    others = [(number, member) for number, member in enumerate(frame.members) if kink.point in member.points and number not in own]
    if len(others) != 1 or kink.point not in (others[0][1].points[0], others[0][1].points[-1]):
        return None
    legs = (*kink.sides, _side(frame, kink.point, *others[0]))
    if _end_of(others[0][1], legs[2].end).make is not Make.RIGID:
        return None
    shapes = all(isinstance(leg.section.shape, RectTube) for leg in legs)
    volume = abs(float(np.linalg.det(np.stack([leg.out for leg in legs]))))
    return legs if shapes and volume > FLAT else None


def _end_of(member: Member, end: int) -> MemberEnd:
    return member.end if end else member.start


def _side(frame: Frame, point: str, number: int, member: Member) -> KinkSide:
    """Return the leg of a member that ends at a point."""
    end = int(member.points[0] != point)
    points = member.points[::-1] if end else member.points
    way = np.array(frame.points[points[1]]) - np.array(frame.points[points[0]])
    out = way / np.linalg.norm(way)
    section = frame.sections[sections_at(member, float("inf") if end else 0.0)[-1]]
    up = drawn_axes(-out if end else out, member)[1]
    return KinkSide(number, len(points) - 2 if end else 0, end, section, out, up, float("inf"))


def _sizes(legs: Sequence[KinkSide]) -> tuple[float, float, float]:
    """Return the corner's sizes along the three ways, m: between the walls of the two tubes that bound it there, the mean of both."""
    found = []
    for way in range(3):
        one, other = (leg for number, leg in enumerate(legs) if number != way)
        normal = cross(one.out, other.out)
        normal /= np.linalg.norm(normal)
        told = [_wide(leg, normal) / abs(float(normal @ legs[way].out)) for leg in (one, other)]
        found.append(round(sum(told) / 2, 9))
    return found[0], found[1], found[2]


def _wide(leg: KinkSide, way: Array) -> float:
    """Return how wide a box tube is along a way across it, on its middle lines, m."""
    shape = leg.section.shape
    assert isinstance(shape, RectTube)
    across = cross(leg.up, leg.out)
    return float((shape.height - shape.wall) * abs(leg.up @ way) + (shape.width - shape.wall) * abs(across @ way))


def _turns_of(corner: OpenCorner, store: NumberStore | None) -> Array:
    """Return the turns (3, 3, 3) of a corner in its own axes, kept or from its shell model."""
    if corner not in KNOWN:
        found = kept_numbers(("open corner 1", corner), 27, store, lambda: corner_turns(corner).ravel().tolist())
        KNOWN[corner] = np.array(found).reshape(3, 3, 3)
    return KNOWN[corner]


def corner_leg_turns(legs: Sequence[KinkSide], store: NumberStore | None) -> Iterator[tuple[KinkSide, Array]]:
    """Yield each leg of an open corner with its turns (3, 3) per moment about the vehicle's axes, rad/Nm."""
    ways = np.stack([leg.out for leg in legs])
    a, b, c = (round(float(ways[one] @ ways[other]), 9) for one, other in ((1, 2), (2, 0), (0, 1)))
    walls = [leg.section.shape.wall for leg in legs if isinstance(leg.section.shape, RectTube)]
    metal = legs[0].section.material
    corner = OpenCorner(_sizes(legs), (walls[0], walls[1], walls[2]), (a, b, c), metal.youngs_modulus, metal.poissons_ratio)
    turned = ways.T @ np.linalg.inv(directions(corner).T)
    for leg, turns in zip(legs, _turns_of(corner, store), strict=True):
        yield leg, turned @ turns @ turned.T
