"""Parts of a section that touch, joined into one graph: walls split where they meet, links where faces or tips touch."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import hypot

import numpy as np

from framecheck.section.midline_walls import WallGraph
from framecheck.value_class import value_class

Point = tuple[float, float]
NEAR = 1e-7
"""m: points closer than this are one."""


@value_class
class MidlineStrip:
    """One straight wall of a section; the fields as in WallGraph. hole: True for a piece that a hole takes. part: which it is of."""

    start: Point
    stop: Point
    thickness: float
    solid: float = 1.0
    curvature: float = 0.0
    bend: bool = False
    hole: bool = False
    part: int = 0

    @property
    def length(self) -> float:
        """Return its length, m."""
        return hypot(self.stop[0] - self.start[0], self.stop[1] - self.start[1])

    def at(self, distance: float) -> Point:
        """Return the point this far from its start."""
        share = distance / self.length
        return tuple_at(self.start, self.stop, share)

    def local(self, point: Point) -> Point:
        """Return how far along and how far to the left of the wall a point lies, m."""
        ey, ez = (self.stop[0] - self.start[0]) / self.length, (self.stop[1] - self.start[1]) / self.length
        dy, dz = point[0] - self.start[0], point[1] - self.start[1]
        return dy * ey + dz * ez, dz * ey - dy * ez


def tuple_at(start: Point, stop: Point, share: float) -> Point:
    """Return the point a share of the way from start to stop."""
    return start[0] + share * (stop[0] - start[0]), start[1] + share * (stop[1] - start[1])


def strips_of(graph: WallGraph) -> list[MidlineStrip]:
    """Return the walls of a graph without leading axes, but those of no length (between two bends that meet)."""
    points = [(float(y), float(z)) for y, z in graph.nodes]
    rows = zip(graph.ends, graph.thickness, graph.solid, graph.curvature, graph.bend, strict=True)
    strips = (MidlineStrip(points[a], points[b], float(t), float(s), float(c), bool(d)) for (a, b), t, s, c, d in rows)
    return [strip for strip in strips if strip.length > NEAR]


def moved(strips: Sequence[MidlineStrip], y: float) -> list[MidlineStrip]:
    """Return walls moved along y."""
    return [replace(s, start=(s.start[0] + y, s.start[1]), stop=(s.stop[0] + y, s.stop[1])) for s in strips]


def mirrored(strips: Sequence[MidlineStrip]) -> list[MidlineStrip]:
    """Return walls mirrored left to right."""
    return [
        replace(s, start=(-s.start[0], s.start[1]), stop=(-s.stop[0], s.stop[1]), curvature=-s.curvature)
        for s in strips
    ]


def joined(parts: Sequence[Sequence[MidlineStrip]], share: float) -> list[MidlineStrip]:
    """Return the walls of all parts with links where they touch; share: of the thinner wall's thickness that a link has."""
    strips = [replace(strip, part=number) for number, part in enumerate(parts) for strip in part]
    for i, first in enumerate(parts):
        for second in parts[i + 1 :]:
            strips += _links(first, second, share)
    return strips


def _links(first: Sequence[MidlineStrip], second: Sequence[MidlineStrip], share: float) -> Iterator[MidlineStrip]:
    """Yield links between the straight walls of two parts."""
    for a in first:
        for b in second:
            if a.bend or b.bend:
                continue
            thickness = share * min(a.thickness, b.thickness)
            for start, stop in (*_faces(a, b), *_tips(a, b), *_tips(b, a)):
                if hypot(stop[0] - start[0], stop[1] - start[1]) > NEAR:
                    yield MidlineStrip(start, stop, thickness, 0.0, 0.0, True)


def _faces(a: MidlineStrip, b: MidlineStrip) -> Iterator[tuple[Point, Point]]:
    """Yield links at both ends of the length over which two parallel walls lie face to face."""
    (s0, n0), (s1, n1) = a.local(b.start), a.local(b.stop)
    if abs(n0 - n1) > NEAR or abs(abs(n0) - (a.thickness + b.thickness) / 2) > NEAR:
        return
    low, high = max(0.0, min(s0, s1)), min(a.length, max(s0, s1))
    if high - low < -NEAR:
        return
    for at in {low, high}:
        share = (at - s0) / (s1 - s0)
        yield a.at(at), tuple_at(b.start, b.stop, min(max(share, 0.0), 1.0))


def _tips(a: MidlineStrip, b: MidlineStrip) -> Iterator[tuple[Point, Point]]:
    """Yield a link from each end of wall a that stands on the face of wall b."""
    for tip in (a.start, a.stop):
        along, off = b.local(tip)
        across = abs(b.local(a.start)[1] - b.local(a.stop)[1]) > 0.5 * a.length
        if across and abs(abs(off) - b.thickness / 2) < NEAR and -NEAR < along < b.length + NEAR:
            yield tip, b.at(along)


def assembled(strips: Sequence[MidlineStrip], extra_torsion: float = 0.0) -> WallGraph:
    """Return walls as a graph: split where an end of one lies on another, ends that meet made one node."""
    pieces = [piece for strip in strips for piece in _split(strip, strips)]
    nodes: list[Point] = []
    ends = tuple((_node(piece.start, nodes), _node(piece.stop, nodes)) for piece in pieces)
    columns = ([p.thickness for p in pieces], [p.solid for p in pieces], [p.curvature for p in pieces])
    thickness, solid, curvature = (np.array(column) for column in columns)
    bend = np.array([piece.bend for piece in pieces])
    part = np.array([piece.part for piece in pieces], dtype=np.int64)
    return WallGraph(np.array(nodes), ends, thickness, solid, curvature, bend, np.array(extra_torsion), part)


def _split(strip: MidlineStrip, others: Sequence[MidlineStrip]) -> Iterator[MidlineStrip]:
    """Yield a wall in pieces between the points where others end on it."""
    cuts = {0.0, strip.length}
    for point in (end for other in others for end in (other.start, other.stop)):
        along, off = strip.local(point)
        if abs(off) < NEAR and NEAR < along < strip.length - NEAR and all(abs(along - cut) > NEAR for cut in cuts):
            cuts.add(along)
    stops = sorted(cuts)
    for low, high in pairwise(stops):
        yield replace(strip, start=strip.at(low), stop=strip.at(high))


def _node(point: Point, nodes: list[Point]) -> int:
    """Return the number of the node at a point, made if it is new."""
    for i, (y, z) in enumerate(nodes):
        if abs(y - point[0]) < NEAR and abs(z - point[1]) < NEAR:
            return i
    nodes.append(point)
    return len(nodes) - 1
