"""A section's outline from a DXF drawing. The unit is the user's to state: what a drawing's header says is often wrong."""

from __future__ import annotations

from io import StringIO
from math import isfinite
from typing import Any

from framecheck.errors import Fault, InputError
from framecheck.model.shapes import OutlinePolygon
from framecheck.reading.drawing_entities import Piece, pieces_of
from framecheck.reading.drawing_loops import Point, area_of, contains, loops_of
from framecheck.units import LENGTHS
from framecheck.value_class import value_class

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
    scale = _scale(unit, where)
    for name, value in (("tolerance", tolerance), ("sagitta", sagitta)):
        if not FINEST <= value <= COARSEST:
            raise refusal(where, f"{name} {value * 1e3:g} mm makes no sense", "give one between 0.0001 and 5 mm")
    entities = _parsed(text, where)
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


def _scale(unit: str, where: str) -> float:
    """Return the drawing's unit in m."""
    if unit not in UNITS:
        raise refusal(where, f"'{unit}' is not a drawing's unit", f"state one of {', '.join(UNITS)}")
    return LENGTHS[unit]


def _parsed(text: str, where: str) -> list[Any]:
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
