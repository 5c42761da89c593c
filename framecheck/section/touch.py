"""Faults that only show in the outline: crossings, holes outside, parts that overlap or do not touch, cuts right through."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

from framecheck.errors import Fault
from framecheck.model.frame import Cut, Section
from framecheck.model.shape_parts import part_count
from framecheck.model.shapes import Drilled, OutlinePolygon, Plated, Shape, Side
from framecheck.section.faults_pieces import Found, mm
from framecheck.section.outline import MM
from framecheck.section.outline_built_up import HoleIn, box_sides, holes_in, parts_of
from framecheck.section.parts import Bond, Parts

if TYPE_CHECKING:
    from shapely import Polygon

OVERLAP = 1e-3
"""mm2 of two parts in one place that is still rounding."""
CONTACT = 1e-3
"""mm of shared outline below which parts do not touch."""


def part_faults(section: Section, parts: Parts) -> tuple[Fault, ...]:
    """Return faults of the outlines of a section whose sizes are sound."""
    found = (*_loop_faults(section.shape), *_hole_faults(section.shape), *_fit_faults(section.shape, parts))
    return tuple(Fault("", section.name, fault, remedy, ("sections", section.name)) for fault, remedy in found)


def _loop_faults(shape: Shape) -> Found:
    """Yield what is wrong with a drawn outline."""
    if not isinstance(shape, OutlinePolygon):
        return
    from shapely import Polygon
    from shapely.validation import explain_validity

    outside = Polygon(shape.exterior)
    if not outside.is_valid:
        yield (
            f"the outline crosses itself ({_where(explain_validity(outside))})",
            "draw a loop that does not cross or touch itself",
        )
        return
    for i, loop in enumerate(shape.holes, 1):
        hole = Polygon(loop)
        if not hole.is_valid:
            yield (
                f"hole {i} crosses itself ({_where(explain_validity(hole))})",
                "draw a loop that does not cross or touch itself",
            )
        elif not outside.contains_properly(hole):
            yield f"hole {i} is not inside the outline", "move it inside, clear of the edge"
    for (i, one), (j, other) in combinations(enumerate(shape.holes, 1), 2):
        if Polygon(one).is_valid and Polygon(other).is_valid and Polygon(one).intersects(Polygon(other)):
            yield f"holes {i} and {j} overlap", "draw them as one hole"


def _where(explained: str) -> str:
    """Return the place in shapely's explanation, in mm."""
    inside = explained[explained.find("[") + 1 : explained.find("]")].split()
    return "at " + ", ".join(mm(float(each)) for each in inside) if len(inside) == 2 else "it has no area"


def _hole_faults(shape: Shape) -> Found:
    """Yield holes that miss their wall or run into the next one."""
    if not isinstance(shape, Drilled):
        return

    for each in holes_in(shape.base, parts_of(shape.base), shape.holes):
        yield from _one_hole(each)


def _one_hole(drilled: HoleIn) -> Found:
    """Yield the fault of one hole."""
    hole, walls = drilled.hole, drilled.walls()
    what = f"the hole of {mm(hole.size)} at {mm(hole.position)} on the {hole.side.value}"
    across = 0 if hole.side in (Side.TOP, Side.BOTTOM) else 1
    size, through = hole.size * MM, drilled.band
    reach = walls[0][0].bounds[2 + across] - walls[0][0].bounds[across] if walls else 0.0
    if reach < size - 1e-3 or walls[0][1].intersection(through).equals(walls[0][1]):
        yield f"{what} lies outside the wall", "move it, or make it smaller"
    elif any(wall.area > 1.5 * size * _least_depth(wall, across, size) for wall, _ in walls):
        yield f"{what} runs into a bend or the next wall", "move it away from the edge, or make it smaller"


def _least_depth(wall: Polygon, across: int, size: float) -> float:
    """Return the thickness of the drilled wall in the middle of the hole, mm."""
    from shapely import LineString

    y_low, z_low, y_high, z_high = wall.bounds
    y, z = (y_low + y_high) / 2, (z_low + z_high) / 2
    line = LineString([(y, z_low - 1), (y, z_high + 1)] if across == 0 else [(y_low - 1, z), (y_high + 1, z)])
    return float(wall.intersection(line).length)


def _fit_faults(shape: Shape, parts: Parts) -> Found:
    """Yield parts that lie in one another, and parts that should touch and do not."""
    for (i, one), (j, other) in combinations(enumerate(parts.polygons, 1), 2):
        overlap = one.intersection(other)
        if overlap.area > OVERLAP:
            yield (
                f"parts {i} and {j} interfere by up to {_depth(overlap)} (a corner or bend fouls)",
                "change a size or a bend radius",
            )
    if len(parts.polygons) > 1 and parts.bond in (Bond.WHOLE, Bond.SEAMED):
        yield from _contact_faults(shape, parts)


def _depth(overlap: object) -> str:
    """Return how deep an overlap is, as text: its area over half its outline."""
    area, length = float(getattr(overlap, "area")), float(getattr(overlap, "length"))  # noqa: B009
    return f"{2 * area / length:.2g} mm"


def _contact_faults(shape: Shape, parts: Parts) -> Found:
    """Yield parts that no outline shares with the ones before them."""
    from shapely import union_all

    for i, part in enumerate(parts.polygons[1:], 1):
        before = union_all([each.boundary for each in parts.polygons[:i]])
        if before.intersection(part.boundary).length < CONTACT:
            yield _not_touching(shape, i)


def _not_touching(shape: Shape, i: int) -> tuple[str, str]:
    """Return the words for part i, counted from 0, that touches nothing."""
    if isinstance(shape, Plated) and i >= part_count(shape.base):
        plate = shape.plates[i - part_count(shape.base)]
        return (
            f"the plate on the {plate.side.value}, {mm(plate.width)} wide, is narrower than the opening",
            "give a wider plate",
        )
    return f"part {i + 1} does not touch the part it is joined to", "check its sizes"


def cut_depth_faults(section: Section, cut: Cut, whole: Parts) -> tuple[Fault, ...]:
    """Return the fault of a notch as deep as the section or deeper."""
    left, right, up, down = box_sides(whole)
    size = up + down if cut.side in (Side.TOP, Side.BOTTOM) else left + right
    if cut.depth < size:
        return ()
    fault = f"the cut {cut.name} is {mm(cut.depth)} deep, the section only {mm(size)}"
    return (Fault("", section.name, fault, "make the cut shallower"),)
