"""Triangles over the parts of a section, by constrained Delaunay triangulation (package pythoncdt), fed in mm."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from framecheck.errors import MeshError, was_interrupted
from framecheck.model.arrays import Array, IntArray
from framecheck.section.parts import GRID, Bond, Parts, TriangleMesh, mirrored_mesh
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from pythoncdt import Triangulation
    from shapely import LineString, Polygon

AREA_SHARE = 0.5
"""Largest triangle, as a share of the square of the mean wall thickness: one triangle through the wall."""
SPACING = 0.57
"""How far apart the points of an outline stand over the thickness of its wall."""
STOCKY = 1.15
"""Triangles are refined where they are larger than this times the largest: inside a stocky section, far from its outline."""
FEWEST = 150
"""Triangles in a stocky section, where one through the wall is too few."""
SHORTEST = 1e-3
"""mm between neighbouring points of an outline; nearer ones are taken as one."""
SHARPEST = 1e-3
"""Smallest angle between two sides of an outline, rad: below it there is no metal between them that a mesh could show."""
MOST = 6_000
"""Triangles beyond which a section is not meshed: a wall 3000 times as long as thick. Twice as many took 0.6 GB."""
MESH_SETTING = f"constrained delaunay a{AREA_SHARE} s{SPACING} n{FEWEST} tri6 askew mirrored halved"
ASKEW = np.array([[1.0, 0.0413], [-0.0287, 1.0169]])
"""The mesher is shown sections a little askew: rectangles and arcs leave it many ties, and a hair more of any size would turn them."""
AROUND = 3
"""Points of the triangle around all that the mesher begins with; they come first, and go at the end."""
REINSTALL = "pip install --force-reinstall pythoncdt"
MEND = f"the section mesher (package pythoncdt) can't be loaded: reinstall it with '{REINSTALL}'"


class MesherMissingError(MeshError):
    """The mesher's package, or the compiled part of it, is not there."""


@array_class
class MesherInput:
    """What the mesher takes: points, pairs of their numbers, and for each part a point inside it and the largest area of its
    triangles; mm, mm2. What no part's point reaches is a void.
    """

    points: list[tuple[float, float]]
    segments: list[tuple[int, int]]
    regions: list[tuple[float, float, float]]


def require_mesher() -> None:
    """Raise MesherMissingError, saying how to mend it, where the mesher or the outline library can't be loaded."""
    try:
        import pythoncdt
        import shapely

        del pythoncdt, shapely
    except ImportError as error:
        if was_interrupted(error):
            raise KeyboardInterrupt from error
        raise MesherMissingError(f"{MEND} ({error})") from error


def mesh_parts(parts: Parts) -> TriangleMesh:
    """Return the mesh of all parts: those that touch share their points, those that don't are meshed one by one."""
    if len(parts.polygons) > 1 and parts.bond in (Bond.WHOLE, Bond.SEAMED):
        return _touching(parts.polygons)
    return _stacked([_single(polygon) for polygon in parts.polygons])


def _single(polygon: Polygon) -> TriangleMesh:
    """Return the mesh of one polygon, alike on both sides where the polygon is."""
    from shapely import remove_repeated_points

    polygon = remove_repeated_points(polygon, SHORTEST)
    ((_, _, largest),) = regions([polygon])
    return mirrored_mesh(polygon, lambda half: _of_polygon(half, largest, _spacing(polygon)))


def _of_polygon(polygon: Polygon, largest: float, spacing: float) -> TriangleMesh:
    """Return the mesh of one polygon, its largest triangle, mm2, and the spacing of its outline's points, mm, given."""
    from shapely import segmentize

    rings = [segmentize(ring, spacing) for ring in (polygon.exterior, *polygon.interiors)]
    return triangulate(_lines([ring.coords for ring in rings], [(*_inside(polygon), largest)]))


def _inside(polygon: Polygon) -> tuple[float, float]:
    """Return a point well inside a polygon."""
    point = polygon.representative_point()
    return float(point.x), float(point.y)


def _touching(polygons: Sequence[Polygon]) -> TriangleMesh:
    """Return the mesh of polygons that share parts of their outlines, each triangle labelled with its polygon."""
    from shapely import contains_xy, get_parts, union_all

    noded = union_all([polygon.boundary for polygon in polygons], grid_size=GRID)
    pieces = _divided(list(get_parts(noded)), polygons)
    mesh = triangulate(_lines([piece.coords for piece in pieces], regions(polygons)))
    middles = mesh.points[mesh.triangles].mean(axis=1)
    inside = np.array([contains_xy(polygon, middles) for polygon in polygons])
    return TriangleMesh(mesh.points, mesh.triangles, inside.argmax(axis=0).astype(np.int64))


def _divided(pieces: Sequence[LineString], polygons: Sequence[Polygon]) -> list[LineString]:
    """Return pieces of outlines divided as finely as the finest of the polygons that each of them bounds needs."""
    from shapely import distance, line_interpolate_point, segmentize

    middles = line_interpolate_point(pieces, 0.5, normalized=True)
    spacings = [_spacing(polygon) for polygon in polygons]
    near = np.array([distance(polygon, middles) < SHORTEST for polygon in polygons])
    finest = np.where(near, np.array(spacings)[:, None], max(spacings)).min(axis=0)
    return list(segmentize(pieces, finest))


def _spacing(polygon: Polygon) -> float:
    """Return how far apart the points of an outline stand, mm.

    Outlines are divided before they are meshed: the mesher leaves out points that rounding would put beside a slanted side.
    """
    return SPACING * mean_thickness(polygon)


def _stacked(meshes: Sequence[TriangleMesh]) -> TriangleMesh:
    """Return meshes side by side, no point shared, numbered as parts 0, 1, 2 ..."""
    starts = np.cumsum([0, *(len(mesh.points) for mesh in meshes)])
    return TriangleMesh(
        np.concatenate([mesh.points for mesh in meshes]),
        np.concatenate([mesh.triangles + start for mesh, start in zip(meshes, starts[:-1], strict=True)]),
        np.repeat(np.arange(len(meshes)), [len(mesh.triangles) for mesh in meshes]),
    )


def _lines(chains: Sequence[Sequence[tuple[float, ...]]], areas: list[tuple[float, float, float]]) -> MesherInput:
    """Return chains of points as numbered points and segments, each point once."""
    number: dict[tuple[float, float], int] = {}
    segments: list[tuple[int, int]] = []
    for chain in chains:
        ids = [number.setdefault((point[0], point[1]), len(number)) for point in chain]
        segments += [pair for pair in pairwise(ids) if pair[0] != pair[1]]
    return MesherInput(list(number), segments, areas)


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


def triangulate(lines: MesherInput) -> TriangleMesh:
    """Return the triangles inside closed lines. MeshError: lines that cross, or enclose nothing."""
    _refuse_needles(lines)
    try:
        triangles, skewed = _refined(lines)
    except RuntimeError as error:
        reason = str(error).splitlines()[0]
        raise MeshError(f"the section can't be meshed ({reason}); simplify its outline") from error
    points = skewed @ np.linalg.inv(ASKEW).T
    points[: len(lines.points)] = lines.points
    return TriangleMesh(points, triangles, np.zeros(len(triangles), dtype=np.int64))


def _refined(lines: MesherInput) -> tuple[IntArray, Array]:
    """Return triangles and points, askew: those between the points of the outlines, and more where a part is stocky.

    All triangles that are too large are divided at once: one by one, of many alike the first would hang on rounding.
    """
    points, seeds = np.array(askew(lines.points)), np.array(askew([(y, z) for y, z, _ in lines.regions]))
    largest = STOCKY * float(np.linalg.det(ASKEW)) * np.array([*(area for _, _, area in lines.regions), np.inf])
    segments = np.sort(np.array(lines.segments), axis=1)
    while True:
        made = _triangulated(points, segments)
        part = _part_of_each(made, seeds)
        halved = _longest_of_large(made, largest[part])
        if not len(halved) or len(points) > 4 * MOST:
            break
        segments = _with_halves(segments, halved, len(points))
        points = np.concatenate((points, points[halved].mean(axis=1)))
    made.finalize_triangulation(set(np.flatnonzero(part < 0).tolist()))
    if not made.triangles_count():
        raise MeshError("the section has no inside that can be meshed; check its sizes")
    return _triangles(made)[0], points


def _triangulated(points: Array, segments: IntArray) -> Triangulation:
    """Return the constrained Delaunay triangulation of points (n, 2) and the segments (m, 2) between them."""
    from pythoncdt import Edge, IntersectingConstraintEdges, Triangulation, V2d, VertexInsertionOrder

    made = Triangulation(VertexInsertionOrder.AUTO, IntersectingConstraintEdges.NOT_ALLOWED, 0.0)
    made.insert_vertices([V2d(*point) for point in points.tolist()])
    made.insert_edges([Edge(*ends) for ends in segments.tolist()])
    return made


def _longest_of_large(made: Triangulation, largest: Array) -> IntArray:
    """Return the longest side of each triangle that is over its largest area (n,), each once: two points (m, 2), the lower first."""
    triangles, points = _triangles(made)[0], _points(made)
    sides = np.roll(points[triangles], -1, axis=1) - points[triangles]
    large = np.abs(sides[:, 0, 0] * sides[:, 1, 1] - sides[:, 0, 1] * sides[:, 1, 0]) / 2 > largest
    first = (sides[large] ** 2).sum(axis=2).argmax(axis=1)[:, None]
    ends = [np.take_along_axis(triangles[large], (first + more) % 3, axis=1) for more in (0, 1)]
    return np.unique(np.sort(np.concatenate(ends, axis=1), axis=1), axis=0) - AROUND


def _with_halves(segments: IntArray, halved: IntArray, first: int) -> IntArray:
    """Return the segments (m, 2) with those that are among the halved sides (n, 2) in two; first: the number of the first middle."""
    cut, stays = np.isin(_number(halved), _number(segments)), ~np.isin(_number(segments), _number(halved))
    middles = first + np.flatnonzero(cut)
    return np.concatenate((segments[stays], *(np.stack((halved[cut, end], middles), axis=1) for end in (0, 1))))


def _number(ends: IntArray) -> IntArray:
    """Return one number (n,) for each pair (n, 2) of point numbers, the lower first."""
    number: IntArray = ends @ np.array([1, 2**32])
    return number


def _part_of_each(made: Triangulation, seeds: Array) -> IntArray:
    """Return the part (m,) that each triangle lies in, -1 for a void or the outside: what a seed's triangle joins without
    crossing a line.
    """
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    (triangles, neighbours), points = _triangles(made), _points(made)
    of_edge = np.array([1, len(points)])
    lines = np.array([(edge.v1, edge.v2) for edge in made.fixed_edges_iter()])
    edges = np.sort(np.stack((triangles, np.roll(triangles, -1, axis=1)), axis=2), axis=2) @ of_edge
    crossable = ~np.isin(edges, np.sort(lines, axis=1) @ of_edge) & (neighbours < len(triangles))
    one, side = np.nonzero(crossable)
    joined = coo_array((np.ones(len(one)), (one, neighbours[one, side])), shape=(len(triangles), len(triangles)))
    body = connected_components(joined, directed=False)[1]
    part = np.full(len(triangles), -1)
    for number, seed in enumerate(seeds):
        part[body == body[_triangle_at(points[triangles], seed)]] = number
    return part


def _triangle_at(corners: Array, place: Array) -> int:
    """Return the index of the counter-clockwise triangle (m, 3, 2) that holds a place."""
    from_place = corners - place
    after = np.roll(from_place, -1, axis=1)
    twice_area = from_place[:, :, 0] * after[:, :, 1] - from_place[:, :, 1] * after[:, :, 0]
    return int(twice_area.min(axis=1).argmax())


def _triangles(made: Triangulation) -> tuple[IntArray, IntArray]:
    """Return the corners (m, 3) of the triangles, and their neighbours (m, 3) across the sides from a corner to the next."""
    rows = made.triangles_array()
    return rows["vertices"].astype(np.int64), rows["neighbors"].astype(np.int64)


def _points(made: Triangulation) -> Array:
    """Return the points (n, 2) of the mesh."""
    rows = made.vertices_array()
    return np.column_stack((rows["x"], rows["y"]))


def askew(points: Sequence[tuple[float, float]]) -> list[list[float]]:
    """Return points as the mesher sees them: see ASKEW."""
    skewed: list[list[float]] = (np.array(points, dtype=np.float64).reshape(-1, 2) @ ASKEW.T).tolist()
    return skewed


def _refuse_needles(lines: MesherInput) -> None:
    """Raise MeshError where two sides leave a point in nearly the same direction."""
    points, ends = np.array(lines.points), np.array(lines.segments)
    if not np.isfinite(points).all():
        raise MeshError("a corner of the section has no place; check its sizes")
    starts = np.concatenate([ends[:, 0], ends[:, 1]])
    along = points[np.concatenate([ends[:, 1], ends[:, 0]])] - points[starts]
    direction = np.arctan2(along[:, 1], along[:, 0])
    order = np.lexsort((direction, starts))
    same = starts[order][1:] == starts[order][:-1]
    between = np.diff(direction[order])[same]
    if len(between) and between.min() < SHARPEST:
        y, z = points[starts[order][1:][same][between.argmin()]]
        raise MeshError(f"two sides of the outline run into one another at {y:.4g}, {z:.4g} mm; part them or join them")
