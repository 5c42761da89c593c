"""Where along the pieces results are given: ends, ends of loads, even places between, and true extremes of the moments. SI."""

from __future__ import annotations

import numpy as np

from framecheck.frame.discretise import SAME
from framecheck.frame.element import Beams
from framecheck.frame.loads import Loads
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.value_class import array_class

FEW = 150  # stretches up to which each gets MANY stations
NEAR_END = 1e-6  # share of a stretch; an extreme nearer to its end than this is at its end
FINE, MANY, SOME, LEAST = 17, 9, 5, 3
"""Stations a stretch of smooth load. They are Gauss-Lobatto places, so that energy can be summed over them: exact for 2n - 3
powers; 5 serve the square of a moment under growing load, 3 that of an unloaded one (M. Abramowitz, I. Stegun, 25.4.32; from
memory)."""


@array_class
class Stretches:
    """m lengths of pieces without a break in any case's load, in order. piece, start, end (m,): places from the piece's start, m;
    loaded (m,): whether any load acts within the piece.
    """

    piece: IntArray
    start: Array
    end: Array
    loaded: BoolArray

    def places(self, stretch: IntArray, share: Array) -> Array:
        """Return the places at shares (0 to 1) of some stretches, from the piece's start, m."""
        start, end = self.start[stretch], self.end[stretch]
        return np.where(share == 1.0, end, start + share * (end - start))


@array_class
class Stations:
    """m places along pieces, in order. piece (m,); at (m,) from its start; begin (m,): start of the smooth stretch it ends or
    lies in: loads that begin later do not act on it. weight (m,): of the sum over the piece that is an integral, m.
    """

    piece: IntArray
    at: Array
    begin: Array
    weight: Array

    def part(self, which: slice) -> Stations:
        """Return some of the stations."""
        return Stations(self.piece[which], self.at[which], self.begin[which], self.weight[which])


def lobatto(count: int) -> tuple[Array, Array]:
    """Return the Gauss-Lobatto places (count,) and weights on 0 to 1."""
    legendre = np.polynomial.legendre.Legendre.basis(count - 1)
    inner = np.sort(legendre.deriv().roots().real)
    places = np.concatenate(([-1.0], inner, [1.0]))
    weights = 2 / (count * (count - 1) * legendre(places) ** 2)
    return (places + 1) / 2, weights / 2


RULES = {count: lobatto(count) for count in (FINE, MANY, SOME, LEAST)}
SMOOTH = {MANY: 3.0, SOME: 0.5}
"""Longest stretch, in lengths 1/k over which restrained warping dies out, whose exp(-2kx) a rule sums to 1e-9."""
LAYER = 16.0
"""Length of the layer at an end, in 1/k, after which nothing is left of it (1e-7); FINE stations sum it to 1e-11."""


def stretches_of(beams: Beams, loads: Loads) -> Stretches:
    """Return the stretches of all pieces."""
    n, begun = len(beams.length), loads.begun
    loaded = np.full(n, loads.even is not None)
    loaded[begun.piece] = True
    inside = (begun.at > SAME) & (begun.at < beams.length[begun.piece] - SAME)
    if not inside.any():
        return Stretches(np.arange(n), np.zeros(n), beams.length, loaded)
    piece = np.concatenate((np.arange(n), begun.piece[inside]))
    start = np.concatenate((np.zeros(n), begun.at[inside]))
    order = np.lexsort((start, piece))
    piece, start = piece[order], start[order]
    fresh = np.concatenate(([True], (piece[1:] != piece[:-1]) | (start[1:] - start[:-1] > SAME)))
    piece, start = piece[fresh], start[fresh]
    follows = np.concatenate((piece[1:] == piece[:-1], [False]))
    end = np.where(follows, np.concatenate((start[1:], [0.0])), beams.length[piece])
    return Stretches(piece, start, end, loaded[piece])


def usual_count(stretches: Stretches) -> int:
    """Return how many stations a stretch of smooth load gets as a rule."""
    return MANY if len(stretches.piece) <= FEW else SOME


def stations_of(beams: Beams, stretches: Stretches, count: int) -> Stations:
    """Return the stations of all pieces, without the extremes; count: MANY or SOME a stretch."""
    return _with_rule(stretches, np.arange(len(stretches.piece)), MANY) if count == MANY else few_stations(beams, stretches)


def few_stations(beams: Beams, stretches: Stretches) -> Stations:
    """Return no more stations than serve to sum the energy exactly."""
    more = stretches.loaded | beams.warps[stretches.piece]
    parts = [_with_rule(stretches, np.flatnonzero(chosen), count) for chosen, count in ((more, SOME), (~more, LEAST))]
    return _in_order(*parts) if more.any() else parts[1]


def _with_rule(stretches: Stretches, which: IntArray, count: int) -> Stations:
    """Return `count` stations on some stretches."""
    shares, weights = RULES[count]
    row = np.repeat(which, count)
    size = stretches.end[row] - stretches.start[row]
    at = stretches.places(row, np.tile(shares, len(which)))
    return Stations(stretches.piece[row], at, stretches.start[row], size * np.tile(weights, len(which)))


def summing_stations(beams: Beams, stretches: Stretches, stations: Stations, count: int) -> Stations:
    """Return stations whose weights sum energy and work truly: the given ones, or more where warping dies out within a stretch.

    Flat bars and angles hardly warp: at a held end their torsion is in a layer as short as the bar is wide, which even places
    along the member miss.
    """
    rate = 2 * beams.z[stretches.piece] / beams.length[stretches.piece]
    layered = rate * (stretches.end - stretches.start) > SMOOTH[count]
    if not layered.any():
        return stations
    steep = np.flatnonzero(layered)
    return _in_order(_with_rule(stretches, np.flatnonzero(~layered), count), _with_layers(stretches, steep, rate[steep]))


def _with_layers(stretches: Stretches, which: IntArray, rate: Array) -> Stations:
    """Return stations on some stretches, close together in the layers at both ends; rate: k, 1/m."""
    size = stretches.end[which] - stretches.start[which]
    layer = np.minimum(0.5, LAYER / (rate * size))[:, None]
    (fine, fine_weights), (even, even_weights) = RULES[FINE], RULES[SOME]
    share = np.concatenate((layer * fine, layer + (1 - 2 * layer) * even, 1 - layer * (1 - fine)), axis=1)
    weight = np.concatenate((layer * fine_weights, (1 - 2 * layer) * even_weights, layer * fine_weights), axis=1)
    row = np.repeat(which, share.shape[1])
    at = stretches.places(row, share.ravel())
    return Stations(stretches.piece[row], at, stretches.start[row], (size[:, None] * weight).ravel())


def with_more(stations: Stations, stretches: Stretches, stretch: IntArray, share: Array) -> Stations:
    """Return the stations with more of no weight among them, at shares of some stretches."""
    at = stretches.places(stretch, share)
    return _in_order(stations, Stations(stretches.piece[stretch], at, stretches.start[stretch], np.zeros(len(at))))


def _in_order(first: Stations, second: Stations) -> Stations:
    """Return both rows of stations as one, in order along the pieces."""
    piece = np.concatenate((first.piece, second.piece))
    at, begin = np.concatenate((first.at, second.at)), np.concatenate((first.begin, second.begin))
    weight = np.concatenate((first.weight, second.weight))
    order = np.lexsort((at, begin, piece))
    return Stations(piece[order], at[order], begin[order], weight[order])


def stretch_places(beams: Beams, stretches: Stretches, piece_members: IntArray, marks: Array) -> Array:
    """Return marks (n, 2), member by number and station (m), as stretch and share of it (n, 2); those at a stretch's ends left out."""
    found: list[tuple[float, float]] = []
    low, high = (beams.start[stretches.piece] + each for each in (stretches.start, stretches.end))
    of = piece_members[stretches.piece]
    for member, station in marks.tolist():
        inside = np.flatnonzero((of == member) & (low + SAME < station) & (station < high - SAME))
        found += [(float(each), float((station - low[each]) / (high[each] - low[each]))) for each in inside]
    return np.array(found).reshape(-1, 2)


def roots_within(start: Array, middle: Array, end: Array, noise: float) -> tuple[tuple[IntArray, ...], Array]:
    """Return where and at what share (0 to 1) quadratics vanish strictly within a stretch, from their values at three places.

    Values below `noise` count as nothing.
    """
    b, c = 4 * middle - 3 * start - end, 2 * (start + end) - 4 * middle
    found: list[tuple[tuple[IntArray, ...], Array]] = []
    lively = np.nonzero((np.abs(b) + np.abs(c) > noise) & (np.minimum(start, np.minimum(middle, end)) <= noise))
    first, second, third = start[lively], b[lively], c[lively]
    inside = second**2 - 4 * first * third
    root = -0.5 * (second + np.where(second < 0, -1.0, 1.0) * np.sqrt(np.maximum(inside, 0.0)))
    with np.errstate(divide="ignore", invalid="ignore"):
        for share in (root / third, first / root):
            good = (inside > 0) & (share > NEAR_END) & (share < 1 - NEAR_END)
            found.append((tuple(axis[good] for axis in lively), share[good]))
    where = tuple(np.concatenate(axes) for axes in zip(*(places for places, _ in found), strict=True))
    return where, np.concatenate([share for _, share in found])
