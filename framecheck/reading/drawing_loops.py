"""Rows of points joined end to end into closed loops."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from math import floor, hypot

from framecheck.errors import Fault, InputError

Point = tuple[float, float]
End = tuple[int, int]
"""A piece's number and which of its ends: 0 first, -1 last."""
MOST_LISTED = 20


def loops_of(pieces: Sequence[list[Point]], tolerance: float, scale: float, unit: str, where: str) -> list[list[Point]]:
    """Return closed loops, the last point joined to the first; ends nearer than `tolerance` (m) are one.

    InputError lists every loose end and every point where more than two lines meet, in the drawing's own numbers.
    """
    whole = [piece for piece in pieces if not _is_speck(piece, tolerance)]
    loops = [piece[:-1] for piece in whole if _is_closed(piece, tolerance)]
    open_ones = [piece for piece in whole if not _is_closed(piece, tolerance)]
    meetings = _meetings(open_ones, tolerance)
    _refuse_loose(open_ones, meetings, scale, unit, where)
    partner = {end: other for pair in meetings for end, other in (pair, pair[::-1])}
    loops += list(_walks(open_ones, partner))
    if any(len(loop) < 3 for loop in loops):
        fault = Fault(where, "drawing", "a loop has fewer than three sides", "delete lines drawn twice")
        raise InputError([fault])
    return loops


def _is_closed(piece: Sequence[Point], tolerance: float) -> bool:
    """Return whether a row of points ends where it began."""
    return len(piece) > 3 and _distance(piece[0], piece[-1]) <= tolerance


def _is_speck(piece: Sequence[Point], tolerance: float) -> bool:
    """Return whether a row of points never leaves its first one: a line of no length."""
    return all(_distance(point, piece[0]) <= tolerance for point in piece)


def _distance(a: Point, b: Point) -> float:
    """Return the distance between two points."""
    return hypot(a[0] - b[0], a[1] - b[1])


def _meetings(pieces: Sequence[list[Point]], tolerance: float) -> list[list[End]]:
    """Return the ends that meet, group by group; found through a grid as wide as the tolerance."""
    groups: list[list[End]] = []
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for end in ((i, side) for i in range(len(pieces)) for side in (0, -1)):
        point = pieces[end[0]][end[1]]
        column, row = floor(point[0] / tolerance), floor(point[1] / tolerance)
        near = [g for c in (-1, 0, 1) for r in (-1, 0, 1) for g in cells.get((column + c, row + r), ())]
        group = next((g for g in near if _distance(pieces[groups[g][0][0]][groups[g][0][1]], point) <= tolerance), None)
        if group is None:
            cells[column, row].append(len(groups))
            groups.append([end])
        else:
            groups[group].append(end)
    return groups


def _refuse_loose(
    pieces: Sequence[list[Point]], meetings: list[list[End]], scale: float, unit: str, where: str
) -> None:
    """Refuse an outline that is not closed, listing where."""
    faults = []
    for words, remedy, wrong in (
        ("loose ends", "close the outline, or allow a larger tolerance", [g for g in meetings if len(g) == 1]),
        (
            "more than two lines meet",
            "delete lines drawn twice or inside the wall",
            [g for g in meetings if len(g) > 2],
        ),
    ):
        if wrong:
            faults.append(Fault(where, "drawing", f"{words} at {_listed(pieces, wrong, scale, unit)}", remedy))
    if faults:
        raise InputError(faults)


def _listed(pieces: Sequence[list[Point]], groups: list[list[End]], scale: float, unit: str) -> str:
    """Return points in the drawing's own numbers."""
    points = [pieces[group[0][0]][group[0][1]] for group in groups]
    texts = [f"({-y / scale:.6g}, {z / scale:.6g})" for y, z in points[:MOST_LISTED]]
    more = f" and {len(points) - MOST_LISTED} more" if len(points) > MOST_LISTED else ""
    return ", ".join(texts) + f" {unit}" + more


def _walks(pieces: Sequence[list[Point]], partner: dict[End, End]) -> Iterator[list[Point]]:
    """Yield loops by walking from piece to piece; every end has one partner."""
    left = set(range(len(pieces)))
    while left:
        number, entered = min(left), 0
        loop: list[Point] = []
        while number in left:
            left.remove(number)
            piece = pieces[number] if entered == 0 else pieces[number][::-1]
            loop += piece[:-1]
            number, entered = partner[number, -1 if entered == 0 else 0]
        yield loop


def area_of(loop: Sequence[Point]) -> float:
    """Return the area inside a loop (Gauss's sum)."""
    pairs = zip(loop, [*loop[1:], loop[0]], strict=True)
    return abs(sum(y0 * z1 - y1 * z0 for (y0, z0), (y1, z1) in pairs)) / 2


def contains(loop: Sequence[Point], point: Point) -> bool:
    """Return whether a point is inside a loop: a ray from it crosses the loop an odd number of times."""
    y, z = point
    crossings = 0
    for (y0, z0), (y1, z1) in zip(loop, [*loop[1:], loop[0]], strict=True):
        if (z0 > z) != (z1 > z) and y < y0 + (z - z0) / (z1 - z0) * (y1 - y0):
            crossings += 1
    return crossings % 2 == 1
