"""Collapse of a plate in bending by von Mises: the least load at which a rigid, perfectly plastic sheet gives way.

The load theorem from above: of all ways in which the plate may move, the one whose plastic work is least for a given work of the
load. The ways are those of the elastic plate's bicubic rectangles, on a mesh of this load alone, so that no other load changes it.
Found as a row of elastic plates, each as stiff at a place as its yield there over how far it turned in the plate before (the linear
matching method of A. R. S. Ponter and K. F. Carter, from memory). Each gives an upper bound, and none is above the one before.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import replace
from math import hypot, inf, log, pi, sqrt
from typing import NamedTuple

import numpy as np

from framecheck.checks.plate.bending import PlateMesh, edge_rows, load_vector, patch_of, places
from framecheck.checks.plate.elements import elements_of, unknowns_of
from framecheck.checks.plate.lines import line_of
from framecheck.checks.plate.outstands import bearable
from framecheck.checks.plate.softening import sheet_yield, softened_edges
from framecheck.checks.plate.stiffeners import HELD_SIDES, Beam, beam_of, breadth
from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.model.plate import BoltedPlate, EdgeHold, HeldEdge, Patch, PlateBolt, PlateLoad, StiffenerRun

PIECES = 12  # elements along a side of a plain plate, at least
CUTS = 4  # elements along a side of the patch
KEPT = 8  # bolts nearest to the load that stand on mesh lines; the others are held within their elements
BESIDE = 2  # bolts nearest to the load that are meshed finer
FAN = (-1 / 2, -1 / 6, 1 / 6, 1 / 2)  # lines about those, over their seats
HELD_HARD = 1e4  # stiffness of those, over the sheet's
STEPS = 20  # elastic plates: the bound is then within 0.5 % of where it settles
FURTHER = 1.7  # power of the change of stiffness: with 1, as linear matching has it, they settle half as fast
STILL = (10, 5, 2)  # turns below 0.3 to this power of the mean count as that much, so that the plate stays solvable: the first that is
TOO_SLENDER = "a plate is so slender, or so nearly loose, that its collapse load would not be exact"
PLANE = 2 / sqrt(3)  # plastic moment of a fold that can't narrow over that of a free strip: von Mises in plane strain


def plastic_moment(yield_strength: float, thickness: float) -> float:
    """Return the plastic moment of a sheet per length, N: Fy t2 / 4 (statics of the fully plastic rectangle)."""
    return yield_strength * thickness**2 / 4


class Folds(NamedTuple):
    """Elements with q places and n unknowns each. unknowns (e, n): numbers in W.ravel(); turns (e, q, c, n): how each place turns;
    strength (e, q): plastic work per turn (its length as a vector), with the place's share of the sheet or line.
    """

    unknowns: IntArray
    turns: Array
    strength: Array


def sheet_folds(sheet: PlateMesh) -> Folds:
    """Return the sheet's folds. Plastic work of von Mises' plate per area: 2 / sqrt 3 Mp sqrt(kx2 + kx ky + ky2 + kxy2)."""
    x, y = elements_of(sheet.x), elements_of(sheet.y)
    count = len(x.unknowns) * len(y.unknowns)
    unknowns = unknowns_of(sheet)
    kx, ky, kxy = (
        np.einsum("ipa,jqb->ijpqab", one, two).reshape(count, 16, 16)
        for one, two in ((x.bend, y.value), (x.value, y.bend), (x.slope, y.slope))
    )
    turns = np.stack([kx + ky / 2, sqrt(3) / 2 * ky, kxy], axis=2)
    yields = sheet_yield(sheet.plate, x.spots[:, None, :, None], y.spots[None, :, None, :])
    moment = plastic_moment(1.0, sheet.plate.thickness) * yields * held_narrow(sheet.plate, yields)
    return Folds(unknowns, turns, (moment * x.weights[:, None, :, None] * y.weights[None, :, None, :]).reshape(count, 16))


def held_narrow(plate: BoltedPlate, yields: Array) -> Array:
    """Return the gain of a fold that can't narrow; none in softened metal, for which no rule of design counts on it."""
    return np.where(yields < plate.material.yield_strength, 1.0, PLANE)


def edge_folds(sheet: PlateMesh, edge: HeldEdge) -> Folds:
    """Return the fold along a clamped edge: the slope across it, which the clamp lets go at the plastic moment."""
    run, end = HELD_SIDES[edge.edge]
    along, wide = (sheet.x if run is StiffenerRun.X else sheet.y), sheet.shape[1]
    parts = elements_of(along)
    row = 1 if end == 0 else (sheet.shape[1] if run is StiffenerRun.X else sheet.shape[0]) - 1
    unknowns = wide * parts.unknowns + row if run is StiffenerRun.X else wide * row + parts.unknowns
    level = 0.0 if end == 0 else breadth(sheet.plate, run)
    places_ = (parts.spots, np.array(level)) if run is StiffenerRun.X else (np.array(level), parts.spots)
    yields = sheet_yield(sheet.plate, *places_)
    moment = plastic_moment(1.0, sheet.plate.thickness) * yields * held_narrow(sheet.plate, yields)
    return Folds(unknowns, parts.value[:, :, None, :], moment * parts.weights)


def beam_folds(sheet: PlateMesh, beam: Beam) -> Folds:
    """Return a stiffener's folds along its line. It turns when its outer fibre yields or buckles, below its plastic moment."""
    run = beam.stiffener.run
    along, across = (sheet.x, sheet.y) if run is StiffenerRun.X else (sheet.y, sheet.x)
    parts, row = elements_of(along), 2 * across.index(beam.stiffener.at)
    wide = sheet.shape[1]
    unknowns = wide * parts.unknowns + row if run is StiffenerRun.X else wide * row + parts.unknowns
    inside = (parts.spots > beam.stiffener.start) & (parts.spots < beam.stiffener.end)
    moment = bearable(sheet.plate, beam.stiffener) * beam.added / beam.reach
    kept = inside.any(axis=1)
    return Folds(unknowns[kept], parts.bend[kept][:, :, None, :], (moment * inside * parts.weights)[kept])


def fan_lines(plate: BoltedPlate, load: PlateLoad, axis: int) -> Iterator[float]:
    """Yield places along an axis, m, at and within the seats of the bolts beside a load, within the plate."""
    size = (plate.length, plate.width)[axis]
    for bolt in bolts_near(plate, load, BESIDE):
        yield from (place for share in FAN if 0 < (place := bolt.at[axis] + share * bolt.seat) < size)


def bolts_near(plate: BoltedPlate, load: PlateLoad, count: int) -> tuple[PlateBolt, ...]:
    """Return the bolts nearest to the load, so many and those as near as the last of them."""
    patch = patch_of(load)
    at = (plate.length / 2, plate.width / 2) if patch is None else patch.at
    away = [hypot(bolt.at[0] - at[0], bolt.at[1] - at[1]) for bolt in plate.bolts]
    reach = sorted(away)[min(count, len(away)) - 1] * (1 + 1e-6) if away else 0.0
    return tuple(bolt for bolt, each in zip(plate.bolts, away, strict=True) if each <= reach)


def stays(sheet: PlateMesh) -> BoolArray:
    """Return which unknowns (shape of W) do not move: at bolts on mesh lines and held edges. Springs are taken as stiff: they don't
    yield.
    """
    found = np.zeros(sheet.shape, dtype=bool)
    for bolt in sheet.plate.bolts:
        found[2 * sheet.x.index(bolt.at[0]), 2 * sheet.y.index(bolt.at[1])] = True
    for edge in sheet.plate.edges:
        if edge.hold is not EdgeHold.ELASTIC or edge.stiffness > 0:
            found |= edge_rows(sheet, replace(edge, hold=EdgeHold.SIMPLE))
    return found


def held_within(sheet: PlateMesh, bolts: Sequence[PlateBolt]) -> Folds | None:
    """Return bolts between mesh lines as elements whose only turn is their movement; None: there are none. strength: 1 each."""
    if not bolts:
        return None
    ends = [(sheet.x.element_at(bolt.at[0]), sheet.y.element_at(bolt.at[1])) for bolt in bolts]
    unknowns = np.array([[sheet.shape[1] * (2 * i + a) + 2 * j + b for a in range(4) for b in range(4)] for i, j in ends])
    values = [np.outer(sheet.x.value_at(x)[2 * i : 2 * i + 4], sheet.y.value_at(y)[2 * j : 2 * j + 4])
              for (x, y), (i, j) in zip((bolt.at for bolt in bolts), ends, strict=True)]  # fmt: skip
    return Folds(unknowns, np.array(values).reshape(len(bolts), 1, 1, 16), np.ones((len(bolts), 1)))


def mesh_for(plate: BoltedPlate, load: PlateLoad, pieces: int) -> PlateMesh:
    """Return the plate cut for one load alone: at the bolts near it, stiffeners, softened sheet and its patch; finer about the bolts
    beside it, round which the sheet folds as a fan.
    """
    bolts = tuple(replace(bolt, seat=0.0) for bolt in bolts_near(plate, load, KEPT))
    bare = replace(plate, bolts=bolts, loads=(load,))
    further = ((*softened_edges(plate, axis), *fan_lines(plate, load, axis)) for axis in (0, 1))
    x, y = (line_of(places(bare, axis, pieces, CUTS, more)) for axis, more in enumerate(further))
    return PlateMesh(bare, x, y, tuple(beam_of(plate, each) for each in plate.stiffeners))


class BandPlaces(NamedTuple):
    """Where the elements' matrices go in one symmetric band of free unknowns. kept: their numbers, in the band's order; used: which
    values of the matrices count (lower half); into: where in the band each of those goes.
    """

    kept: IntArray
    used: BoolArray
    into: IntArray
    shape: tuple[int, int]

    def solve(self, matrices: list[Array], load: Array) -> Array:
        """Return the movements (n,) of the system that element matrices (e, n, n) make, under a load (n,)."""
        from scipy.linalg import LinAlgError, solveh_banded

        values = np.concatenate([each.ravel() for each in matrices])[self.used]
        band = np.bincount(self.into, values, self.shape[0] * self.shape[1]).reshape(self.shape)
        found = np.zeros(load.shape)
        try:
            found[self.kept] = solveh_banded(band, load[self.kept], lower=True, check_finite=False)
        except LinAlgError as error:
            raise UnsolvableError(f"{TOO_SLENDER}; look at its sizes, and at where its bolts are") from error
        return found


def band_of(folds: list[Folds], free: BoolArray) -> BandPlaces:
    """Return the band of the unknowns that are free (shape of W), numbered along the shorter side first."""
    numbers = np.arange(free.size).reshape(free.shape[0] // 2, 2, free.shape[1] // 2, 2).transpose(0, 2, 1, 3)
    order = (numbers.transpose(1, 0, 2, 3) if free.shape[1] > free.shape[0] else numbers).ravel()
    kept = order[free.ravel()[order]]
    place = np.full(free.size, -1)
    place[kept] = np.arange(len(kept))
    spots = [place[each.unknowns] for each in folds]
    rows = np.concatenate([np.repeat(each, each.shape[1], axis=1).ravel() for each in spots])
    columns = np.concatenate([np.tile(each, (1, each.shape[1])).ravel() for each in spots])
    used = (rows >= columns) & (columns >= 0)
    away = (rows - columns)[used]
    return BandPlaces(kept, used, away * len(kept) + columns[used], (int(away.max()) + 1, len(kept)))


def least_load(folds: list[Folds], hard: Folds | None, free: BoolArray, load: Array) -> float:
    """Return the least plastic work of the folds for a unit of the load's work; hard: bolts between lines. Raises UnsolvableError."""
    for still in STILL[:-1]:
        with suppress(UnsolvableError):
            return least_load_down_to(still, folds, hard, free, load)
    return least_load_down_to(STILL[-1], folds, hard, free, load)


def least_load_down_to(still: int, folds: list[Folds], hard: Folds | None, free: BoolArray, load: Array) -> float:
    """Return the least plastic work of the folds for a unit of the load's work. As many plates each time, lest the answer jump."""
    more = [] if hard is None else [hard]
    band, work, bound = band_of([*folds, *more], free), load.ravel(), inf
    stiff = [each.strength for each in folds]
    for step in range(STEPS):
        matrices = [_matrix(each, one) for each, one in zip(folds, stiff, strict=True)]
        hold = HELD_HARD * float(np.mean(np.einsum("eii->ei", matrices[0])[:, ::4]))
        moved = band.solve([*matrices, *(_matrix(each, hold * each.strength) for each in more)], work)
        moved = moved / float(work @ moved)
        turned = [_turned(each, moved) for each in folds]
        least_work = sum(float(np.sum(each.strength * one)) for each, one in zip(folds, turned, strict=True))
        bound = min(least_work + sum(hold * float(np.sum(_turned(each, moved) ** 2)) for each in more), bound)
        least = float(np.mean(turned[0])) * 0.3 ** min(step, still)
        stiff = [_matched(*each, least) for each in zip(folds, stiff, turned, strict=True)]
    return bound


def _matched(folds: Folds, stiffness: Array, turned: Array, least: float) -> Array:
    """Return the stiffness of the next elastic plate (e, q): strength over turn, and somewhat further that way."""
    sought = folds.strength / np.maximum(turned, least)
    return np.asarray(stiffness * np.divide(sought, stiffness, out=np.ones_like(sought), where=stiffness > 0) ** FURTHER)


def _matrix(folds: Folds, stiffness: Array) -> Array:
    """Return the elements' matrices (e, n, n)."""
    count, places_, parts, width = folds.turns.shape
    rows = folds.turns.reshape(count, places_ * parts, width)
    scaled = (folds.turns * stiffness[:, :, None, None]).reshape(rows.shape)
    return np.asarray(rows.transpose(0, 2, 1) @ scaled)


def _turned(folds: Folds, moved: Array) -> Array:
    """Return how far each place turns (e, q)."""
    count, places_, parts, width = folds.turns.shape
    rows = folds.turns.reshape(count, places_ * parts, width) @ moved[folds.unknowns][:, :, None]
    return np.asarray(np.linalg.norm(rows.reshape(count, places_, parts), axis=2))


def fan_load(plate: BoltedPlate, patch: Patch) -> float:
    """Return the load of a round dish about a patch, N: 4 pi / sqrt 3 Mp (1 + 2 / ln(R / rho)).

    Work of w = ln(R / r) outside the patch's circle rho and flat within, with folds round both, by von Mises; 4 pi / sqrt 3 Mp is
    what a point load needs on any plate (H. G. Hopkins and A. J. Wang, from memory). R: the rim, that meets no edge, bolt,
    stiffener or softened sheet; inf where it would not go round the patch.
    """
    (x, y), radius = patch.at, float(np.hypot(*patch.size)) / 2
    reach = [x, plate.length - x, y, plate.width - y]
    reach += [float(np.hypot(x - bolt.at[0], y - bolt.at[1])) for bolt in plate.bolts]
    reach += [abs((y if each.run is StiffenerRun.X else x) - each.at) for each in plate.stiffeners]
    rim = min(reach)
    if rim <= radius:
        return inf
    return point_load(plate) * (1 + 2 / log(rim / radius))


def point_load(plate: BoltedPlate) -> float:
    """Return the load on a point at which any sheet gives way about it, N: 4 pi / sqrt 3 Mp (Hopkins and Wang, from memory)."""
    return 4 * pi / sqrt(3) * plastic_moment(plate.material.yield_strength, plate.thickness)


def collapse_load(plate: BoltedPlate, load: PlateLoad, pieces: int = PIECES) -> float:
    """Return the collapse load of a load acting alone, N or Pa, from above."""
    sheet = mesh_for(plate, load, pieces)
    clamped = (edge for edge in plate.edges if edge.hold is EdgeHold.CLAMPED)
    folds = [sheet_folds(sheet), *(edge_folds(sheet, edge) for edge in clamped), *(beam_folds(sheet, b) for b in sheet.beams)]
    patch = patch_of(load)
    fan = inf if patch is None else fan_load(plate, patch)
    between = held_within(sheet, [bolt for bolt in plate.bolts if all(bolt.name != each.name for each in sheet.plate.bolts)])
    return min(least_load(folds, between, ~stays(sheet), load_vector(sheet, load)), fan)


def collapse_loads(plate: BoltedPlate, loads: tuple[PlateLoad, ...]) -> tuple[float, ...]:
    """Return the collapse load of each load acting alone, N or Pa, from above."""
    found: dict[Patch | None, float] = {}
    for load in loads:
        patch = patch_of(load)
        if patch not in found:
            found[patch] = collapse_load(plate, load)
    return tuple(found[patch_of(load)] for load in loads)
