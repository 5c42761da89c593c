"""The sheet about a patch on a finer mesh of its own: what the patch does there, within the movement of the whole plate around it.

The mesh of the whole plate is cut for its bolts and stiffeners, not for its loads, and is factored once for all of them. It gives
movement and forces well, but not the moment under a patch smaller than its elements. A window about the patch, cut through the
patch as well, moves along its rim as the whole plate does, hangs at its bolts where that has them, and is pressed by the same rests.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.checks.plate.banded import solve_banded
from framecheck.checks.plate.bending import (
    CUTS,
    PIECES,
    PlateMesh,
    UnitBending,
    held,
    load_vector,
    patch_of,
    plate_stiffness,
    sense_of,
    shearing_of,
    spring_stiffness,
)
from framecheck.checks.plate.large import Taut, tension
from framecheck.checks.plate.lines import SAME, PlateLine, line_of
from framecheck.checks.plate.moments import Tensors, moments
from framecheck.checks.plate.rib_shear import ShearingBeam, line_under, softening, taken
from framecheck.checks.plate.stiffeners import HELD_SIDES, Beam
from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.model.plate import HeldEdge, PlateLoad, StiffenerRun
from framecheck.value_class import array_class

AROUND = 2  # elements of the whole plate's mesh about the patch, at least; and its own size
NONE = np.zeros(0)  # no place where a stiffener is cut
HAIR = 1e-6  # of the plate: lines that near to a window's rim are on it


@array_class
class SheetPart:
    """A part of the sheet with a mesh: shape of one unit, membrane forces at its nodes (N/m at amplitude 1), which nodes (nx, ny)
    are its own to answer for, and how fast the section of each of its stiffeners turns at the Gauss points along it, 1/m.
    """

    sheet: PlateMesh
    shape: Array
    stretching: Tensors
    counts: BoolArray
    curvatures: tuple[Array, ...]

    @property
    def bending(self) -> Tensors:
        """Return the stress of bending at the surface, Pa: 6 M / t2."""
        return moments(self.sheet, self.shape).times(6 / self.sheet.plate.thickness**2)


def parts_of(sheet: PlateMesh, load: PlateLoad, acting: tuple[UnitBending, Tensors], taut: Taut | None) -> tuple[SheetPart, ...]:
    """Return the whole plate under one unit of a load and, where it presses on a patch, the window about that. acting: its shape and
    membrane forces; taut: those of the load asked for, None: none.
    """
    bending, stretching = acting
    everywhere = np.ones((len(sheet.x.nodes), len(sheet.y.nodes)), dtype=bool)
    beams = shearing_of(sheet)
    turns = tuple(beam.turns(bending.shape, NONE) for beam in beams)
    curved = tuple(beam.bend @ each for beam, each in zip(beams, turns, strict=True))
    whole = SheetPart(sheet, bending.shape, stretching, everywhere, curved)
    patch = patch_of(load)
    if patch is None:
        return (whole,)
    x, y = (finer(line, at, size) for line, at, size in zip((sheet.x, sheet.y), patch.at, patch.size, strict=True))
    window = cut_to(PlateMesh(sheet.plate, x, y, sheet.beams), sheet, load)
    parts = tuple(shearing_of(window))
    turned = tuple(turned_at(sheet, beam, turns, part, window) for beam, part in zip(window.beams, parts, strict=True))
    shape = within(sheet, window, load, (bending, taut), tuple(zip(parts, turned, strict=True)))
    bent = tuple(part.curvature(shape, each) for part, each in zip(parts, turned, strict=True))
    inner = ~rim(window, sheet)
    there = Tensors(frozen(read_linear(sheet, stretching.values, window.x.nodes, window.y.nodes)))
    outside = ~np.outer(_covered(sheet.x, window.x), _covered(sheet.y, window.y))
    return replace(whole, counts=outside), SheetPart(window, shape, there, inner, bent)


def turned_at(sheet: PlateMesh, beam: Beam, turns: tuple[Array, ...], part: ShearingBeam, window: PlateMesh) -> Array:
    """Return how a stiffener's section turns (c,) where a window cuts it. turns: of each of the whole sheet's, at flat places."""
    line, _ = line_under(sheet, beam)
    cut, _ = line_under(window, beam)
    return np.array([turns[sheet.beams.index(beam)][2 * line.index(float(cut.flat_nodes[place]))] for place in part.cut])


def finer(line: PlateLine, at: float, size: float) -> PlateLine:
    """Return the line about a stretch, its own nodes and cuts through the stretch."""
    length = float(line.nodes[-1])
    reach, hair = size / 2 + max(size, AROUND * length / PIECES), HAIR * length
    first = max(int(np.searchsorted(line.nodes, at - reach + hair, side="right")) - 1, 0)
    last = min(int(np.searchsorted(line.nodes, at + reach - hair, side="left")), len(line.nodes) - 1)
    nodes = [float(each) for each in line.nodes[first : last + 1]]
    for cut in at + np.linspace(-0.5, 0.5, CUTS + 1) * size:
        if min(abs(cut - node) for node in nodes) > SAME * length:
            nodes.append(float(cut))
    return line_of(tuple(sorted(nodes)))


def cut_to(window: PlateMesh, sheet: PlateMesh, load: PlateLoad) -> PlateMesh:
    """Return a window with only what lies in it: bolts, held edges, stiffeners."""
    spans = [(line.nodes[0], line.nodes[-1]) for line in (window.x, window.y)]
    bolts = tuple(b for b in sheet.plate.bolts if all(low <= at <= high for at, (low, high) in zip(b.at, spans, strict=True)))
    edges = tuple(edge for edge in sheet.plate.edges if _reaches(window, sheet, edge))
    lines = {StiffenerRun.X: spans[1], StiffenerRun.Y: spans[0]}
    beams = tuple(beam for beam in sheet.beams if lines[beam.stiffener.run][0] < beam.stiffener.at < lines[beam.stiffener.run][1])
    return replace(window, plate=replace(sheet.plate, bolts=bolts, edges=edges, loads=(load,)), beams=beams)


def _reaches(window: PlateMesh, sheet: PlateMesh, edge: HeldEdge) -> bool:
    """Return whether a window reaches an edge of the plate."""
    run, end = HELD_SIDES[edge.edge]
    part, whole = (window.x, sheet.x) if run is StiffenerRun.Y else (window.y, sheet.y)
    return bool(part.nodes[end] == whole.nodes[end])


def rim(window: PlateMesh, sheet: PlateMesh) -> BoolArray:
    """Return which nodes (nx, ny) of a window lie on its rim within the plate."""
    found = np.zeros((len(window.x.nodes), len(window.y.nodes)), dtype=bool)
    for lines, part, whole in ((found, window.x, sheet.x), (found.T, window.y, sheet.y)):
        for end in (0, -1):
            if part.nodes[end] != whole.nodes[end]:
                lines[end] = True
    return found


def within(
    sheet: PlateMesh,
    window: PlateMesh,
    load: PlateLoad,
    acting: tuple[UnitBending, Taut | None],
    beams: tuple[tuple[ShearingBeam, Array], ...],
) -> Array:
    """Return the window's shape, of W, under one unit of the load. acting: the whole plate's, and its membrane; beams: its stiffeners,
    and how they turn where it cuts them.
    """
    bending, taut = acting
    around = np.linalg.multi_dot([read_at(sheet.x, window.x), bending.shape, read_at(sheet.y, window.y).T])
    bare = replace(window, plate=replace(window.plate, bolts=()))
    given = held(bare) | np.repeat(np.repeat(rim(window, sheet), 2, axis=0), 2, axis=1)
    for bolt in window.plate.bolts:
        given[2 * window.x.index(bolt.at[0]), 2 * window.y.index(bolt.at[1])] = True
    put = sense_of(load) * load_vector(window, load)
    for rest, force in zip(sheet.plate.rests, bending.at_rests, strict=True):
        if force and all(line.nodes[0] <= at <= line.nodes[-1] for line, at in zip((window.x, window.y), rest.at, strict=True)):
            put = put - force * np.outer(window.x.value_at(rest.at[0]), window.y.value_at(rest.at[1]))
    matrix = plate_stiffness(window) + spring_stiffness(bare)
    if taut is not None:
        put = put * taut.share
        matrix = matrix + tension(window, read_linear(sheet, taut.forces, window.x.gauss, window.y.gauss))
    fixed = np.where(given, around, 0.0).ravel()
    shearing, free = [beam for beam, _ in beams], ~given.ravel()
    left = put.ravel() - matrix @ fixed + taken(shearing, len(free)) @ fixed
    for beam, turned in beams:
        left[beam.numbers] -= beam.push @ turned
    moved = solve_banded(matrix, free, left[:, None], window.shape, softening(shearing, free))[:, 0]
    return frozen((fixed + moved).reshape(window.shape))


def read_at(line: PlateLine, part: PlateLine) -> Array:
    """Return the values and slopes (2m, 2n) at the nodes of a part of a line."""
    return np.stack([each(float(node)) for node in part.nodes for each in (line.value_at, line.slope_at)])


def read_linear(sheet: PlateMesh, values: Array, x: Array, y: Array) -> Array:
    """Return values (3, nx, ny) at the nodes as they are at other places along x and y."""
    return np.asarray(linear(sheet.x.nodes, x) @ values @ linear(sheet.y.nodes, y).T)


def linear(places: Array, at: Array) -> Array:
    """Return the matrix (m, n) that reads values at places (n,) in between, at m others."""
    return np.stack([np.interp(at, places, row) for row in np.eye(len(places))], axis=1)


def _covered(line: PlateLine, part: PlateLine) -> BoolArray:
    """Return which nodes of a line lie within a part of it; at the line's own ends, on its rim too."""
    low = part.nodes[0] if part.nodes[0] > line.nodes[0] else -np.inf
    high = part.nodes[-1] if part.nodes[-1] < line.nodes[-1] else np.inf
    return np.asarray((line.nodes > low) & (line.nodes < high))
