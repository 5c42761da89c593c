"""What is drawn in a DXF drawing, as rows of points in section coordinates: y to the left of the drawing, z up, m."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import acos, atan, atan2, ceil, cos, hypot, isfinite, pi, radians, sin
from typing import Any

from framecheck.errors import Fault, InputError

Point = tuple[float, float]
Piece = list[Point]
"""A row of points; closed where the last is the first."""

SILENT = (
    "TEXT",
    "MTEXT",
    "DIMENSION",
    "ARC_DIMENSION",
    "LEADER",
    "MULTILEADER",
    "POINT",
    "HATCH",
    "VIEWPORT",
    "ATTDEF",
)
REMEDIES = {
    "SPLINE": "convert it to arcs or a polyline",
    "ELLIPSE": "convert it to arcs or a polyline",
    "INSERT": "explode the block",
    "POLYLINE": "flatten it to a plane polyline",
}
MOST_POINTS = 20_000
FARTHEST = 100.0
"""m: no section reaches that far."""
ARC_PIECES = 16
"""Least number of straight lines to a quarter turn: what twist stress at a bend needs."""


def pieces_of(
    entities: Iterable[Any], scale: float, sagitta: float, where: str
) -> tuple[list[Piece], tuple[tuple[str, int], ...]]:
    """Return the drawn rows of points, and the kinds of entity that draw nothing, with their counts."""
    pieces: list[Piece] = []
    skipped: Counter[str] = Counter()
    count = 0
    for entity in entities:
        kind = entity.dxftype()
        if kind in SILENT:
            skipped[kind] += 1
            continue
        piece = [(-x * scale, y * scale) for x, y in _points(entity, kind, sagitta / scale, where)]
        _check(piece, kind, where)
        pieces.append(piece)
        count += len(piece)
        if count > MOST_POINTS:
            raise _refusal(
                where, f"the outline takes over {MOST_POINTS} points", "allow a larger sagitta, or simplify it"
            )
    return pieces, tuple(sorted(skipped.items()))


def _points(entity: Any, kind: str, sagitta: float, where: str) -> Piece:
    """Return one entity's points in the drawing's own unit and axes."""
    _in_plane(entity, kind, where)
    match kind:
        case "LINE":
            return [_xy(entity.dxf.start, where), _xy(entity.dxf.end, where)]
        case "ARC":
            start, end = radians(entity.dxf.start_angle), radians(entity.dxf.end_angle)
            return arc(
                _xy(entity.dxf.center, where), entity.dxf.radius, start, (end - start) % (2 * pi) or 2 * pi, sagitta
            )
        case "CIRCLE":
            points = arc(_xy(entity.dxf.center, where), entity.dxf.radius, 0.0, 2 * pi, sagitta)
            return [*points[:-1], points[0]]
        case "LWPOLYLINE":
            rows = [(x, y, bulge) for x, y, bulge in entity.get_points("xyb")]
            return bulged(rows, bool(entity.closed), sagitta)
        case "POLYLINE" if entity.is_2d_polyline:
            rows = [(*_xy(v.dxf.location, where), v.dxf.get("bulge", 0.0)) for v in entity.vertices]
            return bulged(rows, bool(entity.is_closed), sagitta)
        case _:
            remedy = REMEDIES.get(kind, "draw the outline with lines, arcs, circles or polylines")
            raise _refusal(where, f"{kind} can't be read as part of an outline", remedy)


def _in_plane(entity: Any, kind: str, where: str) -> None:
    """Refuse entities drawn on another plane than the drawing's own."""
    facing = entity.dxf.get("extrusion", (0.0, 0.0, 1.0)) if entity.dxf.is_supported("extrusion") else (0.0, 0.0, 1.0)
    level = entity.dxf.get("elevation", 0.0) if entity.dxf.is_supported("elevation") else 0.0
    height = level if isinstance(level, int | float) else tuple(level)[2]
    if abs(facing[0]) > 1e-9 or abs(facing[1]) > 1e-9 or facing[2] < 0 or abs(height) > 1e-9:
        raise _refusal(
            where, f"a {kind} does not lie in the plane of the drawing", "flatten the drawing to z = 0, facing up"
        )


def _xy(point: Any, where: str) -> Point:
    """Return x and y of a point at z = 0."""
    x, y, z = (*tuple(point), 0.0)[:3]
    if abs(z) > 1e-9:
        raise _refusal(
            where, f"the point ({x:g}, {y:g}, {z:g}) does not lie in the plane of the drawing", "flatten it to z = 0"
        )
    return float(x), float(y)


def _check(piece: Piece, kind: str, where: str) -> None:
    """Refuse points that are no numbers or absurdly far off, and rows with nothing in them."""
    if len(piece) < 2:
        raise _refusal(where, f"a {kind} has fewer than two points", "delete it")
    for y, z in piece:
        if not (isfinite(y) and isfinite(z)):
            raise _refusal(where, f"a {kind} has a coordinate that is not a number", "redraw it")
        if abs(y) > FARTHEST or abs(z) > FARTHEST:
            raise _refusal(
                where, f"a {kind} reaches {max(abs(y), abs(z)):.3g} m from the origin", "check the unit, or move it"
            )


def arc(centre: Point, radius: float, start: float, sweep: float, sagitta: float) -> Piece:
    """Return points along an arc, both ends included; no chord is farther than `sagitta` from it. Angles in rad."""
    if not (isfinite(radius) and radius > 0.0 and isfinite(start) and isfinite(sweep)):
        return [(float("nan"), float("nan"))] * 2
    widest = 2 * acos(max(1.0 - sagitta / radius, 0.0)) or pi
    pieces = max(1, ceil(abs(sweep) / widest - 1e-9), ceil(ARC_PIECES * abs(sweep) / (pi / 2) - 1e-9))
    pieces = min(pieces, MOST_POINTS)
    angles = (start + sweep * i / pieces for i in range(pieces + 1))
    return [(centre[0] + radius * cos(angle), centre[1] + radius * sin(angle)) for angle in angles]


def bulged(rows: list[tuple[float, float, float]], closed: bool, sagitta: float) -> Piece:
    """Return the points of a polyline whose sides may be arcs; bulge: tangent of a quarter of the arc's angle, + to the left."""
    if not rows:
        return []
    ends = [*rows, rows[0]] if closed else rows
    points: Piece = [ends[0][:2]]
    for (x0, y0, bulge), (x1, y1, _) in pairwise(ends):
        points += _side((x0, y0), (x1, y1), bulge, sagitta)
        if len(points) > MOST_POINTS:
            break  # refused by whoever counts them; a million arcs must not be drawn first
    return points


def _side(start: Point, end: Point, bulge: float, sagitta: float) -> Iterator[Point]:
    """Yield the points of one side but its first."""
    chord = hypot(end[0] - start[0], end[1] - start[1])
    if not bulge or not isfinite(bulge) or not chord > 0.0:
        yield end if isfinite(bulge) else (float("nan"), 0.0)
        return
    sweep = 4 * atan(bulge)
    radius = chord / 2 / abs(sin(sweep / 2))
    off = (1 - bulge**2) / (4 * bulge)
    centre = (start[0] + end[0]) / 2 - off * (end[1] - start[1]), (start[1] + end[1]) / 2 + off * (end[0] - start[0])
    points = arc(centre, radius, atan2(start[1] - centre[1], start[0] - centre[0]), sweep, sagitta)
    yield from points[1:-1]
    yield end


def _refusal(where: str, fault: str, remedy: str) -> InputError:
    """Return an error about a drawing."""
    return InputError([Fault(where, "drawing", fault, remedy)])
