"""Where lines in space touch or cross."""

from __future__ import annotations

from collections.abc import Sequence
from math import dist

Place = tuple[float, float, float]
PARALLEL = 1e-9


def apart(ends: Sequence[Place], tolerance: float) -> bool:
    """Return whether the boxes round two lines (a to b, c to d) lie apart."""
    a, b, c, d = ends
    return any(
        max(a[i], b[i]) + tolerance < min(c[i], d[i]) or max(c[i], d[i]) + tolerance < min(a[i], b[i]) for i in range(3)
    )  # fmt: skip


def touching(ends: Sequence[Place], tolerance: float) -> list[Place]:
    """Return where two lines touch: ends of one on the other, else the point where both cross."""
    a, b, c, d = ends
    found = [end for end, (p, q) in ((a, (c, d)), (b, (c, d)), (c, (a, b)), (d, (a, b))) if off_line(end, p, q) <= tolerance]
    return found or crossing(ends, tolerance)


def off_line(place: Place, start: Place, end: Place) -> float:
    """Return the distance of a place from a line between two others."""
    along = minus(end, start)
    share = dot(minus(place, start), along) / dot(along, along)
    return dist(place, between(start, end, min(max(share, 0.0), 1.0)))


def crossing(ends: Sequence[Place], tolerance: float) -> list[Place]:
    """Return the place where two lines come nearest, if that is within the tolerance and inside both."""
    a, b, c, d = ends
    u, v, w = minus(b, a), minus(d, c), minus(a, c)
    uu, uv, vv, uw, vw = dot(u, u), dot(u, v), dot(v, v), dot(u, w), dot(v, w)
    det = uu * vv - uv * uv
    if det <= PARALLEL * uu * vv:
        return []
    s, t = (uv * vw - vv * uw) / det, (uu * vw - uv * uw) / det
    if not (0.0 <= s <= 1.0 and 0.0 <= t <= 1.0):
        return []
    first, second = between(a, b, s), between(c, d, t)
    return [first] if dist(first, second) <= tolerance else []


def minus(a: Place, b: Place) -> Place:
    """Return a - b."""
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def dot(a: Place, b: Place) -> float:
    """Return the scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def between(a: Place, b: Place, share: float) -> Place:
    """Return the place a share of the way from a to b."""
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2])
