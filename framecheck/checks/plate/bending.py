"""Small deflections of the plate: Kirchhoff's theory, bicubic rectangles of Bogner, Fox and Schmit.

Unknowns are W (2nx, 2ny): rows as the line along x (value, slope, value, ...), columns as the line along y. W[0::2, 0::2] is the
deflection at the nodes (m, up), W[1::2, 0::2] its slope along x, and so on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import isinf
from typing import TYPE_CHECKING

import numpy as np

from framecheck.checks.plate.banded import solve_banded
from framecheck.checks.plate.lines import PlateLine, line_of, line_places
from framecheck.checks.plate.rib_shear import ShearingBeam, shearing, softening, taken
from framecheck.checks.plate.softening import softened_edges
from framecheck.checks.plate.stiffeners import HELD_SIDES, Beam, beam_of
from framecheck.model.arrays import Array, BoolArray, frozen
from framecheck.model.plate import BoltedPlate, EdgeHold, HeldEdge, Patch, PlateLoad, Press, StiffenerRun, Uniform
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from scipy.sparse import csr_array

PIECES = 20  # elements along a side of a plain plate, at least
CUTS = 6  # elements along a side of a patch: fewer overstate the moment under it (by 3 % with two, 0.4 % with six)


@array_class
class PlateMesh:
    """A plate cut into elements: its two lines and its stiffeners as beams."""

    plate: BoltedPlate
    x: PlateLine
    y: PlateLine
    beams: tuple[Beam, ...]

    @property
    def shape(self) -> tuple[int, int]:
        """Return the shape of W."""
        return 2 * len(self.x.nodes), 2 * len(self.y.nodes)


def patch_of(load: PlateLoad) -> Patch | None:
    """Return the patch a load acts on, None for the whole plate."""
    return None if isinstance(load, Uniform) else load.patch


def places(
    plate: BoltedPlate, axis: int, pieces: int, cuts: int = CUTS, further: tuple[float, ...] = ()
) -> tuple[float, ...]:
    """Return the mesh lines across one axis (0: x): at bolts, stiffeners, `cuts` pieces of patches and further places, near bolt
    seats' edges.
    """
    exact = [*(bolt.at[axis] for bolt in plate.bolts), *further]
    for patch in filter(None, map(patch_of, plate.loads)):
        exact += [float(at) for at in patch.at[axis] + np.linspace(-0.5, 0.5, cuts + 1) * patch.size[axis]]
    for stiffener in plate.stiffeners:
        along = stiffener.run is (StiffenerRun.X, StiffenerRun.Y)[axis]
        exact += [stiffener.start, stiffener.end] if along else [stiffener.at]
    near = [bolt.at[axis] + way * bolt.seat / 2 for bolt in plate.bolts for way in (-1, 1)]
    return line_places((plate.length, plate.width)[axis], exact, near, pieces)


def sheet_of(plate: BoltedPlate, pieces: int = PIECES) -> PlateMesh:
    """Return the plate cut into elements, `pieces` or more along each side."""
    along, across = (line_of(places(plate, axis, pieces, further=tuple(softened_edges(plate, axis)))) for axis in (0, 1))
    return PlateMesh(plate, along, across, tuple(beam_of(plate, each) for each in plate.stiffeners))


def _unit(count: int, index: int) -> Array:
    found = np.zeros((count, count))
    found[index, index] = 1.0
    return found


def _pairs_of_sheet(sheet: PlateMesh) -> Iterator[tuple[Array, Array]]:
    """Yield matrix pairs (along x, along y) whose products add up to the sheet's stiffness.

    Kirchhoff: D [(w_xx + w_yy)2 - 2 (1 - nu) (w_xx w_yy - w_xy2)].
    """
    nu, d = sheet.plate.material.poissons_ratio, sheet.plate.rigidity
    mx, my = (line.weighed(line.value, line.value) for line in (sheet.x, sheet.y))
    sx, sy = (line.weighed(line.slope, line.slope) for line in (sheet.x, sheet.y))
    bx, by = (line.weighed(line.bend, line.bend) for line in (sheet.x, sheet.y))
    cx, cy = (line.weighed(line.bend, line.value) for line in (sheet.x, sheet.y))
    yield d * bx, my
    yield d * mx, by
    yield d * nu * cx, cy.T
    yield d * nu * cx.T, cy
    yield 2 * d * (1 - nu) * sx, sy


def _along_and_across(sheet: PlateMesh, run: StiffenerRun) -> tuple[PlateLine, PlateLine]:
    return (sheet.x, sheet.y) if run is StiffenerRun.X else (sheet.y, sheet.x)


def _in_order(run: StiffenerRun, along: Array, across: Array) -> tuple[Array, Array]:
    return (along, across) if run is StiffenerRun.X else (across, along)


def _pairs_of_beam(sheet: PlateMesh, beam: Beam) -> Iterator[tuple[Array, Array]]:
    """Yield what a stiffener adds: E I in bending along its run, G J in twist."""
    run, material = beam.stiffener.run, sheet.plate.material
    along, across = _along_and_across(sheet, run)
    share = along.within(beam.stiffener.start, beam.stiffener.end)
    row, count = 2 * across.index(beam.stiffener.at), 2 * len(across.nodes)
    bending = material.youngs_modulus * beam.added * along.weighed(along.bend, along.bend, share)
    twist = material.shear_modulus * beam.torsion * along.weighed(along.slope, along.slope, share)
    yield _in_order(run, bending, _unit(count, row))
    yield _in_order(run, twist, _unit(count, row + 1))


def _pairs_of_edge(sheet: PlateMesh, edge: HeldEdge) -> Iterator[tuple[Array, Array]]:
    """Yield what an elastic edge adds: its springs against moving and against turning."""
    run, end = HELD_SIDES[edge.edge]
    along, across = _along_and_across(sheet, run)
    count = 2 * len(across.nodes)
    row = 0 if end == 0 else count - 2
    mass = along.weighed(along.value, along.value)
    yield _in_order(run, edge.stiffness * mass, _unit(count, row))
    yield _in_order(run, edge.turning * mass, _unit(count, row + 1))


def added_up(left: Array, right: Array, pairs: Iterable[tuple[Array, Array]]) -> csr_array:
    """Return the sum of products (Kronecker's) of matrix pairs, all of them zero where the patterns left and right are."""
    from scipy.sparse import csr_array

    (row, column), (inner_row, inner_column) = np.nonzero(left), np.nonzero(right)
    values = np.zeros((len(row), len(inner_row)))
    for one, two in pairs:
        values += np.outer(one[row, column], two[inner_row, inner_column])
    rows = (len(right) * row[:, None] + inner_row).ravel()
    columns = (len(right) * column[:, None] + inner_column).ravel()
    return csr_array((values.ravel(), (rows, columns)), shape=(len(left) * len(right),) * 2)


def _added_up(sheet: PlateMesh, pairs: Iterator[tuple[Array, Array]]) -> csr_array:
    left, right = (line.weighed(np.abs(line.value), np.abs(line.value)) for line in (sheet.x, sheet.y))
    return added_up(left, right, pairs)


def plate_stiffness(sheet: PlateMesh) -> csr_array:
    """Return the stiffness (n, n) of the plate with its stiffeners as if they did not shear, freedoms as W.ravel()."""
    return _added_up(sheet, (pair for part in (_pairs_of_sheet(sheet), *(_pairs_of_beam(sheet, b) for b in sheet.beams))
                             for pair in part))  # fmt: skip


def shearing_of(sheet: PlateMesh) -> tuple[ShearingBeam, ...]:
    """Return the stiffeners of a sheet, which shear."""
    return tuple(shearing(sheet, beam) for beam in sheet.beams)


def spring_stiffness(sheet: PlateMesh) -> csr_array:
    """Return the stiffness (n, n) of elastic edges and of bolts on springs."""
    from scipy.sparse import csr_array, diags_array

    springs = np.zeros(sheet.shape)
    for bolt in sheet.plate.bolts:
        if not isinf(bolt.stiffness):
            springs[2 * sheet.x.index(bolt.at[0]), 2 * sheet.y.index(bolt.at[1])] += bolt.stiffness
    elastic = [edge for edge in sheet.plate.edges if edge.hold is EdgeHold.ELASTIC]
    edges = _added_up(sheet, (pair for edge in elastic for pair in _pairs_of_edge(sheet, edge)))
    return csr_array(edges + diags_array(springs.ravel()))


def edge_rows(sheet: PlateMesh, edge: HeldEdge) -> BoolArray:
    """Return which unknowns (shape of W) are the movement (and slope across it, where clamped) of an edge."""
    rows = np.zeros(sheet.shape, dtype=bool)
    run, end = HELD_SIDES[edge.edge]
    lines = rows.T if run is StiffenerRun.X else rows
    first = 0 if end == 0 else len(lines) - 2
    lines[first] = True
    lines[first + 1] = edge.hold is not EdgeHold.SIMPLE
    return rows


def held(sheet: PlateMesh) -> BoolArray:
    """Return which unknowns (shape of W) are held still: by stiff bolts, simply supported and clamped edges."""
    found = np.zeros(sheet.shape, dtype=bool)
    for bolt in sheet.plate.bolts:
        if isinf(bolt.stiffness):
            found[2 * sheet.x.index(bolt.at[0]), 2 * sheet.y.index(bolt.at[1])] = True
    for edge in sheet.plate.edges:
        if edge.hold is not EdgeHold.ELASTIC:
            found |= edge_rows(sheet, edge)
    return found


def load_vector(sheet: PlateMesh, load: PlateLoad) -> Array:
    """Return what one newton (a patch) or one pascal (the whole plate) puts on the unknowns, shape of W."""
    patch = patch_of(load)
    if patch is None:
        parts = [line.value.T @ line.weights for line in (sheet.x, sheet.y)]
    else:
        parts = [line.mean_over(at, size) for line, at, size in zip((sheet.x, sheet.y), patch.at, patch.size, strict=True)]
    return np.outer(*parts)


def sense_of(load: PlateLoad) -> float:
    """Return which way a load acts: 1 upward, -1 downward."""
    amount = load.force if isinstance(load, Press) else load.pressure if isinstance(load, Uniform) else 1.0
    return -1.0 if amount < 0 else 1.0


@array_class
class UnitBending:
    """What one newton or one pascal does: shape W (2nx, 2ny); load (the same shape); reactions (the same shape), N and Nm, that
    the supports put on the plate. work: load times movement, m2/N-like: twice the energy. at_bolts, at_rests (n,): what the plate
    puts on each, upward, N; reactions at bolts in contact are left out.
    """

    shape: Array
    load: Array
    reactions: Array
    at_bolts: Array
    at_rests: Array

    @property
    def work(self) -> float:
        return float(np.sum(self.shape * self.load))


def bendings(sheet: PlateMesh, loads: Sequence[PlateLoad], taut: csr_array | None = None) -> tuple[UnitBending, ...]:
    """Return the plate under one unit of each load, in the load's own sense, all from one factorisation. taut (n, n): what membrane
    forces add to its stiffness.
    """
    vectors = [sense_of(load) * load_vector(sheet, load) for load in loads]
    columns = np.column_stack([vector.ravel() for vector in vectors])
    own = plate_stiffness(sheet) if taut is None else plate_stiffness(sheet) + taut
    beams, free = shearing_of(sheet), ~held(sheet).ravel()
    moved = solve_banded(own + spring_stiffness(sheet), free, columns, sheet.shape, softening(beams, free))
    reactions = own @ moved - taken(beams, len(free)) @ moved - columns
    return tuple(_bending(sheet, moved[:, n], columns[:, n], reactions[:, n]) for n in range(len(loads)))


def _bending(sheet: PlateMesh, *columns: Array) -> UnitBending:
    """Return what one unit does, with what each bolt takes, from columns (n,) of movement, load and reactions."""
    shape, load, reactions = (frozen(each.reshape(sheet.shape).copy()) for each in columns)
    taken = [-reactions[2 * sheet.x.index(bolt.at[0]), 2 * sheet.y.index(bolt.at[1])] for bolt in sheet.plate.bolts]
    return UnitBending(shape, load, reactions, frozen(np.array(taken, dtype=np.float64)), frozen(np.zeros(0)))
