"""Triangles over the parts of a section, by the Triangle mesher (the one inside sectionproperties), fed in mm."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from framecheck.errors import MeshError
from framecheck.section.mirrored import Mesh, mirrored_mesh
from framecheck.section.parts import GRID, Bond, Parts
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from shapely import LineString, Polygon

MIN_ANGLE = 20.0
"""Smallest angle of a triangle, degrees; the mesher is proven to end below 20.7."""
AREA_SHARE = 0.5
"""Largest triangle, as a share of the square of the mean wall thickness: one triangle through the wall."""
FEWEST = 150
"""Triangles in a stocky section, where one through the wall is too few."""
SHORTEST = 1e-3
"""mm between neighbouring points of an outline; nearer ones are taken as one."""
SHARPEST = 1e-3
"""Smallest angle between two sides of an outline, rad: below it the mesher may end the whole process."""
MOST = 6_000
"""Triangles beyond which a section is not meshed: a wall 3000 times as long as thick. Twice as many took 0.6 GB."""
MESH_SETTING = f"triangle q{MIN_ANGLE} a{AREA_SHARE} n{FEWEST} tri6 askew mirrored"
ASKEW = np.array([[1.0, 0.0413], [-0.0287, 1.0169]])
"""The mesher is shown sections a little askew: rectangles and arcs leave it many ties, and a hair more of any size would turn them."""
MEND = "the section mesher (package cytriangle) can't be loaded: reinstall it with 'pip install --force-reinstall cytriangle'"


class MesherMissingError(MeshError):
    """The mesher's package, or the compiled part of it, is not there."""


@array_class
class Lines:
    """What the mesher takes: points, pairs of their numbers, a point inside each void, and for each part a point inside it and the
    largest area of its triangles; mm, mm2.
    """

    points: list[tuple[float, float]]
    segments: list[tuple[int, int]]
    voids: list[tuple[float, float]]
    regions: list[tuple[float, float, float]]


def require_mesher() -> None:
    """Raise MesherMissingError, saying how to mend it, where the mesher or the outline library can't be loaded."""
    try:
        import cytriangle
        import shapely

        del cytriangle, shapely
    except ImportError as error:
        raise MesherMissingError(f"{MEND} ({error})") from error


def mesh_parts(parts: Parts) -> Mesh:
    """Return the mesh of all parts: those that touch share their points, those that don't are meshed one by one."""
    if len(parts.polygons) > 1 and parts.bond in (Bond.WHOLE, Bond.SEAMED):
        return _touching(parts.polygons)
    return _stacked([_single(polygon) for polygon in parts.polygons])


def _single(polygon: Polygon) -> Mesh:
    """Return the mesh of one polygon, alike on both sides where the polygon is."""
    from shapely import remove_repeated_points

    polygon = remove_repeated_points(polygon, SHORTEST)
    ((_, _, largest),) = regions([polygon])
    return mirrored_mesh(polygon, lambda half: _of_polygon(half, largest))


def _of_polygon(polygon: Polygon, largest: float) -> Mesh:
    """Return the mesh of one polygon, its largest triangle given, mm2."""
    from shapely import Polygon

    rings = [polygon.exterior, *polygon.interiors]
    voids = [_inside(Polygon(ring)) for ring in polygon.interiors]
    return triangulate(_lines([ring.coords for ring in rings], voids, [(*_inside(polygon), largest)]))


def _inside(polygon: Polygon) -> tuple[float, float]:
    """Return a point well inside a polygon."""
    point = polygon.representative_point()
    return float(point.x), float(point.y)


def _touching(polygons: Sequence[Polygon]) -> Mesh:
    """Return the mesh of polygons that share parts of their outlines, each triangle labelled with its polygon."""
    from shapely import contains_xy, get_parts, polygonize, union_all

    noded = union_all([polygon.boundary for polygon in polygons], grid_size=GRID)
    pieces: list[LineString] = list(get_parts(noded))
    faces = [_inside(face) for face in get_parts(polygonize(pieces))]
    voids = [face for face in faces if not any(contains_xy(polygon, *face) for polygon in polygons)]
    mesh = triangulate(_lines([piece.coords for piece in pieces], voids, regions(polygons)))
    middles = mesh.points[mesh.triangles].mean(axis=1)
    inside = np.array([contains_xy(polygon, middles) for polygon in polygons])
    return Mesh(mesh.points, mesh.triangles, inside.argmax(axis=0).astype(np.int64))


def _stacked(meshes: Sequence[Mesh]) -> Mesh:
    """Return meshes side by side, no point shared, numbered as parts 0, 1, 2 ..."""
    starts = np.cumsum([0, *(len(mesh.points) for mesh in meshes)])
    return Mesh(
        np.concatenate([mesh.points for mesh in meshes]),
        np.concatenate([mesh.triangles + start for mesh, start in zip(meshes, starts[:-1], strict=True)]),
        np.repeat(np.arange(len(meshes)), [len(mesh.triangles) for mesh in meshes]),
    )


def _lines(
    chains: Sequence[Sequence[tuple[float, ...]]],
    voids: list[tuple[float, float]],
    areas: list[tuple[float, float, float]],
) -> Lines:
    """Return chains of points as numbered points and segments, each point once."""
    number: dict[tuple[float, float], int] = {}
    segments: list[tuple[int, int]] = []
    for chain in chains:
        ids = [number.setdefault((point[0], point[1]), len(number)) for point in chain]
        segments += [pair for pair in pairwise(ids) if pair[0] != pair[1]]
    return Lines(list(number), segments, voids, areas)


def regions(polygons: Sequence[Polygon]) -> list[tuple[float, float, float]]:
    """Return a point in each polygon and the largest area of a triangle there, by the wall's thickness, mm2."""
    area = sum(polygon.area for polygon in polygons)
    thinnest = min(map(mean_thickness, polygons))
    if sum(polygon.area / mean_thickness(polygon) ** 2 for polygon in polygons) > MOST * AREA_SHARE:
        raise MeshError(f"a wall {thinnest:.2g} mm thick is too thin for the size of the section; check its unit")
    most = area / FEWEST
    return [(*_inside(polygon), min(AREA_SHARE * mean_thickness(polygon) ** 2, most)) for polygon in polygons]


def mean_thickness(polygon: Polygon) -> float:
    """Return 2 A / perimeter, which for a thin wall is its thickness, mm."""
    return float(2 * polygon.area / polygon.length)


def triangulate(lines: Lines) -> Mesh:
    """Return the triangles inside closed lines."""
    from cytriangle import CyTriangle

    _refuse_needles(lines)
    areas = [area * float(np.linalg.det(ASKEW)) for _, _, area in lines.regions]
    places = askew([(y, z) for y, z, _ in lines.regions])
    given: dict[str, object] = {
        "vertices": askew(lines.points),
        "segments": [list(pair) for pair in lines.segments],
        "regions": [{"vertex": at, "marker": i, "max_area": area} for i, (at, area) in enumerate(zip(places, areas, strict=True))],
    }
    if lines.voids:
        given["holes"] = askew(lines.voids)
    try:
        made = CyTriangle(given).triangulate(f"pq{MIN_ANGLE}Aa")
    except (RuntimeError, ValueError) as error:
        raise MeshError(f"the section can't be meshed ({error}); simplify its outline") from error
    if not made.triangles:
        raise MeshError("the section has no inside that can be meshed; check its sizes")
    triangles = np.array(made.triangles, dtype=np.int64)
    points = np.array(made.vertices, dtype=np.float64) @ np.linalg.inv(ASKEW).T
    points[: len(lines.points)] = lines.points
    return Mesh(points, triangles, np.zeros(len(triangles), dtype=np.int64))


def askew(points: Sequence[tuple[float, float]]) -> list[list[float]]:
    """Return points as the mesher sees them: see ASKEW."""
    skewed: list[list[float]] = (np.array(points, dtype=np.float64).reshape(-1, 2) @ ASKEW.T).tolist()
    return skewed


def _refuse_needles(lines: Lines) -> None:
    """Raise MeshError where two sides leave a point in nearly the same direction."""
    points, ends = np.array(lines.points), np.array(lines.segments)
    starts = np.concatenate([ends[:, 0], ends[:, 1]])
    along = points[np.concatenate([ends[:, 1], ends[:, 0]])] - points[starts]
    direction = np.arctan2(along[:, 1], along[:, 0])
    order = np.lexsort((direction, starts))
    same = starts[order][1:] == starts[order][:-1]
    between = np.diff(direction[order])[same]
    if len(between) and between.min() < SHARPEST:
        y, z = points[starts[order][1:][same][between.argmin()]]
        raise MeshError(f"two sides of the outline run into one another at {y:.4g}, {z:.4g} mm; part them or join them")
