"""The welds, plugs and bolts of splices as joints, so that they are judged like all others, and without being asked for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.joining import LapHold, LapSpot, Splice
from framecheck.model.joints import BoltGroup, InSplice, PatternPlane, Ply, PlyKind
from framecheck.model.shapes import RectTube
from framecheck.model.weld_joints import Joint, SpotGroup, SpotKind, WeldAt, WeldedPart, WeldGroup, WeldRun
from framecheck.reading.build.frame_builder import FrameBuilder
from framecheck.reading.build.joint_context import as_vector
from framecheck.value_class import value_class


@value_class
class Lapped:
    """A splice with both of its tubes: size (2, 2) of each along the lap's y and z, outside, m."""

    splice: Splice
    tubes: tuple[RectTube, RectTube]
    size: tuple[tuple[float, float], tuple[float, float]]
    parts: tuple[WeldedPart, WeldedPart]


def splice_joints(builder: FrameBuilder) -> tuple[Joint, ...]:
    """Return what holds the tubes of every splice together."""
    return tuple(joint for splice in builder.splices for joint in joints_in(lapped(builder, splice)))


def lapped(builder: FrameBuilder, splice: Splice) -> Lapped:
    """Return a splice with both of its tubes."""
    found = [builder.catalogue.section(name) for name in splice.sections]
    tubes = [each.shape for each in found if isinstance(each.shape, RectTube)]
    sizes = [
        (t.height, t.width) if turned else (t.width, t.height) for t, turned in zip(tubes, splice.turned, strict=True)
    ]
    parts = [
        WeldedPart(name, tube.wall, section.material)
        for name, tube, section in zip(splice.members, tubes, found, strict=True)
    ]
    return Lapped(splice, (tubes[0], tubes[1]), (sizes[0], sizes[1]), (parts[0], parts[1]))


def joints_in(of: Lapped) -> Iterator[Joint]:
    """Yield the joints of one splice."""
    splice = of.splice
    if runs := tuple(WeldRun(as_vector(a), as_vector(b), leg_of(of)) for a, b in weld_lines(of)):
        assert splice.electrode is not None
        yield WeldGroup(f"{splice.name}: welds", place_of(splice), runs, splice.electrode, (*of.parts, *plate_parts(splice)))
    for axis in sorted({spot.wall[0] for spot in splice.spots}):
        spots = [spot for spot in splice.spots if spot.wall[0] == axis]
        walls = (
            ""
            if len({spot.wall[0] for spot in splice.spots}) == 1
            else (" in its sides" if axis == 1 else " in top and bottom")
        )
        yield plugs(of, axis, spots, walls) if splice.bolt is None else bolts(of, axis, spots, walls)


def plate_parts(splice: Splice) -> tuple[WeldedPart, ...]:
    """Return the fish plates as what is welded, each thickness and metal once."""
    parts = [WeldedPart("fish plate", each.thickness, each.material, WeldAt.EDGE) for each in splice.plates]
    return tuple(part for number, part in enumerate(parts) if part not in parts[:number])


def leg_of(of: Lapped) -> float:
    """Return the leg of the welds, m: where it is not given that of a weld as thick as the thinnest part."""
    return of.splice.leg or min(part.thickness for part in (*of.parts, *plate_parts(of.splice)))


def place_of(splice: Splice) -> InSplice:
    """Return the place of a splice's joints."""
    points = tuple(zip(splice.members, splice.ties[0], strict=True))
    return InSplice(splice.name, splice.middle, splice.axes[0], (points[0], points[1]))


def weld_lines(of: Lapped) -> Iterator[tuple[Array, Array]]:
    """Yield the ends (3,) of every straight weld, m, vehicle axes, from the lap's middle."""
    splice, axes = of.splice, np.array(of.splice.axes)
    half = splice.length / 2

    def line(*ends: tuple[float, float, float]) -> tuple[Array, Array]:
        return np.array(ends[0]) @ axes, np.array(ends[1]) @ axes

    if splice.butts:
        yield from butt_lines(of)
        return
    face = -splice.aside / 2 + of.size[0][0] / 2
    low = min(size[1] for size in of.size) / 2
    if LapHold.EDGES in splice.holds:
        yield from (line((-half, face, z), (half, face, z)) for z in (-low, low))
    if LapHold.ENDS in splice.holds:
        yield from (line((x, face, -low), (x, face, low)) for x in (-half, half))
    if LapHold.MOUTH in splice.holds:
        x = half if splice.first_outside else -half
        y, z = (each / 2 for each in of.size[1 if splice.first_outside else 0])
        ring = [(x, y, -z), (x, y, z), (x, -y, z), (x, -y, -z), (x, y, -z)]
        yield from (line(a, b) for a, b in pairwise(ring))


def butt_lines(of: Lapped) -> Iterator[tuple[Array, Array]]:
    """Yield the ends of the welds at a butt: round the tubes, and along the edges of every plate on the second of them."""
    axes = np.array(of.splice.axes)
    if LapHold.BUTT in of.splice.holds:
        y, z = (min(size[n] for size in of.size) / 2 for n in (0, 1))
        ring = [(0.0, y, -z), (0.0, y, z), (0.0, -y, z), (0.0, -y, -z), (0.0, y, -z)]
        yield from ((np.array(a) @ axes, np.array(b) @ axes) for a, b in pairwise(ring))
    for plate in of.splice.plates:
        axis, side = plate.wall
        away = side * of.size[0][axis - 1] / 2
        for edge in (-plate.height / 2, plate.height / 2):
            ends = [np.zeros(3), np.array([plate.counted / 2, 0.0, 0.0])]
            for end in ends:
                end[axis], end[3 - axis] = away, edge
            yield ends[0] @ axes, ends[1] @ axes


def plane_of(of: Lapped, axis: int, side: int) -> PatternPlane:
    """Return the plane of spots in walls across an axis of the lap; side: of a single wall, 0: the plane midway between two."""
    splice, axes = of.splice, np.array(of.splice.axes)
    facing, along = axes[axis], axes[0]
    away = -splice.aside / 2 + of.size[0][0] / 2 if splice.aside else side * min(size[axis - 1] for size in of.size) / 2
    return PatternPlane(as_vector(np.cross(facing, along)), as_vector(along), as_vector(facing), as_vector(away * facing))


def pattern_of(axis: int, spots: list[LapSpot]) -> tuple[tuple[tuple[float, float], ...], bool]:
    """Return (across, along) of spots, each once, and whether they lie on both sides of the tubes.

    across = facing x along: down for what faces y, to +y for what faces z.
    """
    both = len({spot.wall[1] for spot in spots}) == 2
    sign = -1.0 if axis == 1 else 1.0
    return tuple(dict.fromkeys((sign * spot.aside, spot.along) for spot in spots)), both


def plugs(of: Lapped, axis: int, spots: list[LapSpot], walls: str) -> SpotGroup:
    """Return the plug welds in the walls across one axis."""
    positions, both = pattern_of(axis, spots)
    splice = of.splice
    assert splice.electrode is not None
    outer = of.parts if splice.first_outside or splice.aside else of.parts[::-1]
    apart = min(size[axis - 1] for size in of.size) if both else 0.0
    plane = plane_of(of, axis, 0 if both else spots[0].wall[1])
    diameter = spots[0].diameter
    name = f"{splice.name}: plugs{walls}"
    return SpotGroup(name, place_of(splice), plane, positions, SpotKind.PLUG, diameter, splice.electrode, outer, apart)


def bolts(of: Lapped, axis: int, spots: list[LapSpot], walls: str) -> BoltGroup:
    """Return the bolts in the walls across one axis; on both sides they go right through."""
    positions, both = pattern_of(axis, spots)
    splice = of.splice
    assert splice.bolt is not None
    bolt = replace(splice.bolt, shear_planes=2 if both else 1)
    order = (0, 1) if splice.first_outside or splice.aside else (1, 0)
    plies = tuple(
        Ply(
            of.parts[n].name,
            of.parts[n].thickness,
            of.parts[n].material,
            splice.edge,
            PlyKind.TUBE_WALL,
            0.5 if both else 1.0,
        )
        for n in order
    )
    lever = max(size[axis - 1] for size in of.size) - 2 * plies[0].thickness if both else None
    plane = plane_of(of, axis, 0 if both else spots[0].wall[1])
    return BoltGroup(
        f"{splice.name}: bolts{walls}", place_of(splice), plane, positions, bolt, plies, contact_of(of), lever=lever
    )


def contact_of(of: Lapped) -> tuple[float, float, float, float]:
    """Return the face on which the tubes lie in each other: (across least, most, along least, most), m."""
    half = of.splice.length / 2
    across = min(min(size) for size in of.size) / 2
    return (-across, across, -half, half)
