"""A section's outline from a DXF drawing, whose rows of points are joined end to end into closed loops."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from io import StringIO
from math import floor, hypot, isfinite
from typing import Any

from framecheck.errors import Fault, InputError
from framecheck.model.shapes import OutlinePolygon
from framecheck.reading.drawing_entities import Piece, pieces_of
from framecheck.units import LENGTHS
from framecheck.value_class import value_class

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


UNITS = ("mm", "cm", "m", "in", "ft")
MOST_CHARACTERS = 5_000_000
MOST_ENTITIES = 5_000
FINEST, COARSEST = 1e-7, 5e-3
"""m: tolerance and sagitta outside these can't be meant."""


@value_class
class DrawnOutline:
    """An outline as read, to be shown to the user before it is trusted.

    shape: points in m, origin where the drawing has it. width (along y), height (along z), area (holes taken off): SI.
    skipped: entities that draw nothing (texts, dimensions), by kind and count.
    """

    shape: OutlinePolygon
    width: float
    height: float
    area: float
    unit: str
    skipped: tuple[tuple[str, int], ...]


def read_outline(text: str, unit: str, where: str, tolerance: float = 1e-4, sagitta: float = 1e-5) -> DrawnOutline:
    """Return the outline drawn in a text DXF; the drawing is taken as seen looking along the member, its right being -y.

    unit: of the drawing's numbers, one of UNITS. where: the file's name, for errors. tolerance: ends closer than this are joined;
    sagitta: how far an arc may bulge beyond the straight lines that stand for it; both m.
    """
    scale = drawing_scale(unit, where)
    for name, value in (("tolerance", tolerance), ("sagitta", sagitta)):
        if not FINEST <= value <= COARSEST:
            raise refusal(where, f"{name} {value * 1e3:g} mm makes no sense", "give one between 0.0001 and 5 mm")
    entities = modelspace(text, where)
    if len(entities) > MOST_ENTITIES:
        fault = f"{len(entities)} entities are more than a section has"
        raise refusal(where, fault, f"leave only the section's outline, at most {MOST_ENTITIES}")
    try:
        pieces, skipped = pieces_of(entities, scale, sagitta, where)
    except InputError:
        raise
    except Exception as error:  # an entity without what its kind needs: the library raises what it likes
        raise refusal(where, f"an entity is not whole ({error})", "draw it again, or save the drawing anew") from None
    return _outline(pieces, unit, where, tolerance, skipped)


def drawing_scale(unit: str, where: str) -> float:
    """Return the drawing's unit in m."""
    if unit not in UNITS:
        raise refusal(where, f"'{unit}' is not a drawing's unit", f"state one of {', '.join(UNITS)}")
    return LENGTHS[unit]


def modelspace(text: str, where: str) -> list[Any]:
    """Return what is drawn in model space."""
    try:
        import ezdxf
    except ImportError:
        fault = "reading a drawing needs the library ezdxf, which is not installed"
        raise refusal(where, fault, 'install it: pip install "framecheck[dxf]"') from None
    if len(text) > MOST_CHARACTERS:
        raise refusal(where, f"the drawing is larger than {MOST_CHARACTERS // 1_000_000} MB", "save the section's outline alone")
    if "\x00" in text or text.startswith("AutoCAD Binary DXF"):
        raise refusal(where, "this is a binary drawing", "save it as a text (ASCII) DXF")
    try:
        return list(ezdxf.read(StringIO(text)).modelspace())
    except Exception as error:  # a damaged file makes the library raise what it likes, overflow and recursion among it
        raise refusal(
            where, f"this can't be read as a DXF drawing ({error})", "save it as a text (ASCII) DXF"
        ) from None


def _outline(
    pieces: list[Piece], unit: str, where: str, tolerance: float, skipped: tuple[tuple[str, int], ...]
) -> DrawnOutline:
    """Return the largest loop with the others as its holes."""
    if not pieces:
        raise refusal(
            where, "nothing is drawn in model space", "draw the outline with lines, arcs, circles or polylines"
        )
    loops = sorted(loops_of(pieces, tolerance, LENGTHS[unit], unit, where), key=area_of, reverse=True)
    if not loops:
        raise refusal(where, "all that is drawn is smaller than the tolerance", "check the unit, or allow a smaller tolerance")
    exterior, holes = loops[0], loops[1:]
    _nested(exterior, holes, where, unit)
    ys, zs = zip(*exterior, strict=True)
    area = area_of(exterior) - sum(area_of(hole) for hole in holes)
    if area <= 0.0 or not isfinite(area):
        raise refusal(where, "the outline encloses no area", "draw it as a closed loop")
    shape = OutlinePolygon(tuple(exterior), tuple(tuple(hole) for hole in holes))
    return DrawnOutline(shape, max(ys) - min(ys), max(zs) - min(zs), area, unit, skipped)


def _nested(exterior: list[Point], holes: list[list[Point]], where: str, unit: str) -> None:
    """Refuse loops that are not holes of the largest one."""
    for hole in holes:
        at = f"the loop at {_at(hole[0], unit)}"
        if not all(contains(exterior, point) for point in hole):
            raise refusal(where, f"{at} is not inside the largest one", "draw one section alone, its holes inside it")
        if any(contains(other, hole[0]) for other in holes if other is not hole):
            raise refusal(where, f"{at} lies inside another hole", "draw one section alone")


def _at(point: Point, unit: str) -> str:
    """Return a point as it stands in the drawing."""
    return f"({-point[0] / LENGTHS[unit]:.6g}, {point[1] / LENGTHS[unit]:.6g}) {unit}"


def refusal(where: str, fault: str, remedy: str) -> InputError:
    """Return an error about a drawing."""
    return InputError([Fault(where, "drawing", fault, remedy)])
