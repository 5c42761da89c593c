"""Collapse of a plate in bending by von Mises: the least load at which a rigid, perfectly plastic sheet gives way.

The load theorem from above: of all ways in which the plate may move, the one whose plastic work is least for a given work of the
load. The ways are those of the elastic plate's bicubic rectangles, on a mesh of this load alone, so that no other load changes it.
Found as a row of elastic plates, each as stiff at a place as its yield there over how far it turned in the plate before (the linear
matching method of A. R. S. Ponter and K. F. Carter, from memory). Each gives an upper bound, and none is above the one before.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from math import hypot, inf, log
from typing import NamedTuple

import numpy as np

from framecheck.checks.plate.bending import PlateMesh, edge_rows, load_vector, patch_of, places
from framecheck.checks.plate.folds import Folds, beam_folds, bolt_folds, edge_folds, point_load, sheet_folds
from framecheck.checks.plate.lines import line_of
from framecheck.checks.plate.softening import softened_edges
from framecheck.checks.plate.stiffeners import beam_of
from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.model.plate import BoltedPlate, EdgeHold, Patch, PlateBolt, PlateLoad, StiffenerRun

PIECES = 12  # elements along a side of a plain plate, at least
CUTS = 4  # elements along a side of the patch
KEPT = 8  # bolts nearest to the load that stand on mesh lines; the others are held within their elements
BESIDE = 2  # bolts nearest to the load that are meshed finer
FAN = (-1 / 2, -1 / 6, 1 / 6, 1 / 2)  # lines about those, over their seats
HELD_HARD = 1e4  # stiffness of bolts at most, over the sheet's
TINY = 1e-300  # of a movement that is divided by
STEPS = 20  # elastic plates: the bound is then within 0.5 % of where it settles, within 1 % beside a bolt that gives
FURTHER = 1.7  # power of the change of stiffness: with 1, as linear matching has it, they settle half as fast
STILL = (10, 5, 2)  # turns below 0.3 to this power of the mean count as that much, so that the plate stays solvable: the first that is
TOO_SLENDER = "a plate is so slender, or so nearly loose, that its collapse load would not be exact"


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
    """Return which unknowns (shape of W) do not move: at held edges. Springs are taken as stiff: they don't yield."""
    found = np.zeros(sheet.shape, dtype=bool)
    for edge in sheet.plate.edges:
        if edge.hold is not EdgeHold.ELASTIC or edge.stiffness > 0:
            found |= edge_rows(sheet, replace(edge, hold=EdgeHold.SIMPLE))
    return found


def mesh_for(plate: BoltedPlate, load: PlateLoad, pieces: int = PIECES) -> PlateMesh:
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


def least_load(folds: list[Folds], bolts: Folds, free: BoolArray, load: Array) -> float:
    """Return the least plastic work of the folds for a unit of the load's work. Raises UnsolvableError."""
    for still in STILL[:-1]:
        with suppress(UnsolvableError):
            return least_load_down_to(still, folds, bolts, free, load)
    return least_load_down_to(STILL[-1], folds, bolts, free, load)


def least_load_down_to(still: int, folds: list[Folds], bolts: Folds, free: BoolArray, load: Array) -> float:
    """Return the least plastic work of the folds for a unit of the load's work. As many plates each time, lest the answer jump."""
    band, work, bound = band_of([*folds, bolts], free), load.ravel(), inf
    stiff = [each.strength for each in folds]
    holds = np.full_like(bolts.strength, inf)
    for step in range(STEPS):
        matrices = [_matrix(each, one) for each, one in zip(folds, stiff, strict=True)]
        mean = float(np.mean(np.einsum("eii->ei", matrices[0])[:, ::4]))
        holds = np.minimum(holds, (1.0 if step == 0 else HELD_HARD) * mean)
        moved = band.solve([*matrices, _matrix(bolts, holds)], work)
        moved = moved / float(work @ moved)
        turned, given = [_turned(each, moved) for each in folds], _turned(bolts, moved)
        least_work = sum(float(np.sum(each.strength * one)) for each, one in zip(folds, turned, strict=True))
        bound = min(least_work + float(np.sum(np.minimum(bolts.strength, holds * given) * given)), bound)
        least = float(np.mean(turned[0])) * 0.3 ** min(step, still)
        stiff = [_matched(*each, least) for each in zip(folds, stiff, turned, strict=True)]
        holds = _matched(bolts, holds, given, TINY)
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


def collapse_load(plate: BoltedPlate, load: PlateLoad, firm: bool = False) -> float:
    """Return the collapse load of a load acting alone, N or Pa, from above. firm: about bolts the sheet never folds."""
    sheet = mesh_for(plate, load)
    clamped = (edge for edge in plate.edges if edge.hold is EdgeHold.CLAMPED)
    folds = [sheet_folds(sheet), *(edge_folds(sheet, edge) for edge in clamped), *(beam_folds(sheet, b) for b in sheet.beams)]
    patch = patch_of(load)
    fan = inf if patch is None else fan_load(plate, patch)
    return min(least_load(folds, bolt_folds(sheet, plate, firm), ~stays(sheet), load_vector(sheet, load)), fan)


def collapse_loads(plate: BoltedPlate, loads: tuple[PlateLoad, ...]) -> tuple[float, ...]:
    """Return the collapse load of each load acting alone, N or Pa, from above."""
    found: dict[Patch | None, float] = {}
    for load in loads:
        patch = patch_of(load)
        if patch not in found:
            found[patch] = collapse_load(plate, load)
    return tuple(found[patch_of(load)] for load in loads)
