"""What yields in a plate: its sheet, clamped edges, stiffeners, and what it carries to a bolt before it folds about it."""

from __future__ import annotations

from math import hypot, inf, pi, sqrt
from typing import NamedTuple

import numpy as np

from framecheck.checks.plate.bending import PlateMesh
from framecheck.checks.plate.elements import elements_of, unknowns_of
from framecheck.checks.plate.outstands import bearable
from framecheck.checks.plate.softening import Box, sheet_yield, softened_boxes
from framecheck.checks.plate.stiffeners import HELD_SIDES, Beam, breadth
from framecheck.model.arrays import Array, IntArray
from framecheck.model.plate import BoltedPlate, HeldEdge, PlateBolt, Stiffener, StiffenerRun

FIRM = 1e9  # over what a sheet carries to a bolt: so much is never asked
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


def point_load(plate: BoltedPlate) -> float:
    """Return the load on a point at which any sheet gives way about it, N: 4 pi / sqrt 3 Mp (Hopkins and Wang, from memory)."""
    return 4 * pi / sqrt(3) * plastic_moment(plate.material.yield_strength, plate.thickness)


def bolt_folds(sheet: PlateMesh, plate: BoltedPlate, firm: bool) -> Folds:
    """Return bolts as elements whose only turn is their movement; strength: what a bolt holds before the sheet folds about it."""
    ends = [(sheet.x.element_at(bolt.at[0]), sheet.y.element_at(bolt.at[1])) for bolt in plate.bolts]
    unknowns = [[sheet.shape[1] * (2 * i + a) + 2 * j + b for a in range(4) for b in range(4)] for i, j in ends]
    values = [np.outer(sheet.x.value_at(x)[2 * i : 2 * i + 4], sheet.y.value_at(y)[2 * j : 2 * j + 4])
              for (x, y), (i, j) in zip((bolt.at for bolt in plate.bolts), ends, strict=True)]  # fmt: skip
    strength = np.array([FIRM * point_load(plate) if firm else bolt_hold(plate, bolt) for bolt in plate.bolts])
    count = len(plate.bolts)
    numbers = np.array(unknowns, dtype=np.int64).reshape(count, 16)
    return Folds(numbers, np.array(values).reshape(count, 1, 1, 16), strength.reshape(count, 1))


def bolt_hold(plate: BoltedPlate, bolt: PlateBolt) -> float:
    """Return what a sheet carries to a bolt, N, before it folds as a small fan about it: the load on a point.

    In softened sheet that of softened sheet, from half a seat away on more and more. A stiffener that the fan would have to fold, too,
    lets it hold more, from half a seat away on.
    """
    own, (x, y), near = plate.material.yield_strength, bolt.at, bolt.seat / 2
    welded = own if plate.material.welded_yield is None else plate.material.welded_yield
    away = min((out_of(box, x, y) for box in softened_boxes(plate)), default=inf)
    hold = point_load(plate) * (1.0 if away >= near else welded / own / PLANE + away / near * (1 - welded / own / PLANE))
    lines = [out_of(line_under(each), x, y) for each in plate.stiffeners]
    return hold / min(1.0, max(min(lines, default=inf) / near, 1 / FIRM)) if near > 0 else hold


def line_under(stiffener: Stiffener) -> Box:
    """Return the lengths along x and y, m, of a stiffener's line."""
    along, across = (stiffener.start, stiffener.end), (stiffener.at, stiffener.at)
    return (along, across) if stiffener.run is StiffenerRun.X else (across, along)


def out_of(box: Box, x: float, y: float) -> float:
    """Return how far a place is from a box, m; 0 within it."""
    (left, right), (low, high) = box
    return hypot(max(left - x, 0.0, x - right), max(low - y, 0.0, y - high))
