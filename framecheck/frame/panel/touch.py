"""How members meet a panel: along an edge, along a line on it, or through it. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from framecheck.frame.panel.legs import ALONG, NEAR, Leg
from framecheck.frame.panel.site import Site
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame
from framecheck.model.panels import Panel
from framecheck.value_class import array_class


@array_class
class OnEdge:
    """A leg along an edge of a panel. edge: its number."""

    leg: Leg
    edge: int


@array_class
class OnLine:
    """A leg along a line on a panel, not at its edge. ends (2, 3): of the line, on the panel's plane."""

    leg: Leg
    ends: Array


@array_class
class PassingLeg:
    """A leg that passes through a panel's plane or ends on it. corners (4, 3): where its box's edges pass; middle (3,).

    closed: the member ends there, so that the panel closes its end. Where a member turns within NEAR of the plane its corners are a
    mean of both legs', by how far each reaches, so that one outline goes over into the other.
    """

    leg: Leg
    middle: Array
    corners: Array
    closed: bool


Touch = OnEdge | OnLine | PassingLeg


def touches_of(site: Site, legs: Sequence[Leg]) -> Iterator[Touch]:
    """Yield every way in which legs meet a panel, whether they are joined to it or not."""
    low, high = site.corners.min(axis=0), site.corners.max(axis=0)
    passing = list[tuple[PassingLeg, float]]()
    for leg in legs:
        room = float(np.abs(leg.half).sum()) + 2 * NEAR
        if (np.maximum(leg.start, leg.end) < low - room).any() or (np.minimum(leg.start, leg.end) > high + room).any():
            continue
        on_edges = list(_on_edges(site, leg))
        yield from on_edges
        if abs(float(leg.way @ site.axes[2])) > ALONG:
            passing += _through(site, leg)
        elif not on_edges:
            line = _on_line(site, leg)
            if line is not None:
                yield line
    yield from _turned(passing)


def joined_touches(frame: Frame, panel: Panel, touches: Sequence[Touch]) -> tuple[Touch, ...]:
    """Return the touches that join: edges unless the panel says that they are loose, others where it says that they are joined."""
    kept = []
    for touch in touches:
        name = frame.members[touch.leg.member].name
        if name not in panel.loose and (name in panel.joined or isinstance(touch, OnEdge)):
            kept.append(touch)
    return tuple(kept)


def beside(site: Site, leg: Leg) -> Iterator[tuple[int, Array]]:
    """Yield the edges that run along a leg, and the ends (2, 3) of the length of each that lies beside it."""
    for edge in range(len(site.corners)):
        first, second = site.corners[edge], site.corners[(edge + 1) % len(site.corners)]
        span = second - first
        length = float(np.linalg.norm(span))
        if length <= NEAR or float(np.linalg.norm(np.cross(span / length, leg.way))) > ALONG:
            continue
        shares = np.clip((np.array([leg.start, leg.end]) - first) @ leg.way / float(span @ leg.way), 0, 1)
        if abs(shares[1] - shares[0]) * length > NEAR:
            yield edge, first + shares[:, None] * span


def _on_edges(site: Site, leg: Leg) -> Iterator[OnEdge]:
    """Yield the edges that run along a leg and lie in its box somewhere."""
    for edge, ends in beside(site, leg):
        if leg.holds(ends.mean(axis=0)[None]).all():
            yield OnEdge(leg, edge)


def _on_line(site: Site, leg: Leg) -> OnLine | None:
    """Return the line of a leg that lies on a panel, None where it lies beside it or off its plane."""
    normal = site.axes[2]
    depth = float(np.abs(leg.across @ normal) @ leg.half)
    middle = (leg.start + leg.end) / 2
    if abs(float((middle - site.middle) @ normal)) > depth + NEAR:
        return None
    shares = clipped(site.flat(site.corners), site.flat(np.array([leg.start, leg.end])))
    if shares is None or (shares[1] - shares[0]) * leg.length <= 2 * NEAR:
        return None
    ends = leg.start + np.array(shares)[:, None] * (leg.end - leg.start)
    return OnLine(leg, ends - ((ends - site.middle) @ normal)[:, None] * normal)


def clipped(polygon: Array, line: Array) -> tuple[float, float] | None:
    """Return the shares of a line (2, 2) between which it lies in a convex polygon (c, 2) run round leftward; None: nowhere."""
    low, high = 0.0, 1.0
    edges = np.roll(polygon, -1, axis=0) - polygon
    area = float(np.sum(polygon[:, 0] * np.roll(polygon[:, 1], -1) - polygon[:, 1] * np.roll(polygon[:, 0], -1)))
    inward = np.sign(area) * np.stack([-edges[:, 1], edges[:, 0]], axis=1)
    step = line[1] - line[0]
    for corner, way in zip(polygon, inward, strict=True):
        reach, pace = float((line[0] - corner) @ way), float(step @ way)
        if abs(pace) < 1e-12 * max(float(np.linalg.norm(way)) * float(np.linalg.norm(step)), 1e-300):
            if reach < 0:
                return None
        elif pace > 0:
            low = max(low, -reach / pace)
        else:
            high = min(high, -reach / pace)
    return (low, high) if low < high else None


def _through(site: Site, leg: Leg) -> Iterator[tuple[PassingLeg, float]]:
    """Yield where a leg passes through a panel or ends on it, and how much of it does: less than all where its member turns nearby."""
    normal = site.axes[2]
    at = float((site.middle - leg.start) @ normal) / float(leg.way @ normal)
    if not -NEAR <= at <= leg.length + NEAR:
        return
    signs = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    lines = leg.start + (signs * leg.half) @ leg.across
    reach = ((site.middle - lines) @ normal) / float(leg.way @ normal)
    middle = leg.start + at * leg.way
    if not _in_polygon(site.flat(site.corners), site.flat(middle[None])[0]):
        return
    closed = (leg.first and at <= NEAR) or (leg.last and at >= leg.length - NEAR)
    inside = [NEAR if whole else min(away, NEAR) for whole, away in ((leg.first, at), (leg.last, leg.length - at))]
    yield PassingLeg(leg, middle, lines + reach[:, None] * leg.way, closed), (min(inside) + NEAR) / (2 * NEAR)


def _turned(passing: Sequence[tuple[PassingLeg, float]]) -> Iterator[PassingLeg]:
    """Yield what passes a panel, two neighbouring legs of a member that turns there as one."""
    left = list(passing)
    while left:
        first, share = left.pop(0)
        after = left[0] if left else None
        if after is None or after[0].leg.member != first.leg.member or min(share, after[1]) >= 1.0:
            yield first
            continue
        left.pop(0)
        more = after[1] / (share + after[1])
        on = first if share >= after[1] else after[0]
        yield replace(on, corners=first.corners + more * (after[0].corners - first.corners))


def _in_polygon(polygon: Array, place: Array) -> bool:
    """Return whether a place (2,) lies in a convex polygon (c, 2), or nearly."""
    edges = np.roll(polygon, -1, axis=0) - polygon
    away = place - polygon
    turns = (edges[:, 0] * away[:, 1] - edges[:, 1] * away[:, 0]) / np.maximum(np.linalg.norm(edges, axis=1), 1e-300)
    return bool((turns >= -NEAR).all() or (turns <= NEAR).all())
