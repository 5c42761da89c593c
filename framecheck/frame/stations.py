"""Where along the pieces results are given: ends, ends of loads, even places between, and true extremes of the moments. SI."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from framecheck.frame.discretise import SAME
from framecheck.frame.element import Beams
from framecheck.frame.loads import Loads
from framecheck.model.arrays import Array, IntArray

FEW = 600  # pieces up to which each gets MANY stations
NEAR_END = 1e-6  # share of a stretch; an extreme nearer to its end than this is at its end
MANY, SOME = 9, 5
"""Stations a stretch of smooth load. They are Gauss-Lobatto places, so that energy can be summed over them: exact for 2n - 3
powers, and 5 serve the square of a moment under growing load (M. Abramowitz, I. Stegun, 25.4.32; from memory)."""


@dataclass(frozen=True, eq=False, slots=True)
class Stations:
    """m places along pieces, in order. piece (m,); at (m,) from its start; begin (m,): start of the smooth stretch it ends or
    lies in: loads that begin later do not act on it. weight (m,): of the sum over the piece that is an integral, m.
    """

    piece: IntArray
    at: Array
    begin: Array
    weight: Array


def lobatto(count: int) -> tuple[Array, Array]:
    """Return the Gauss-Lobatto places (count,) and weights on 0 to 1."""
    legendre = np.polynomial.legendre.Legendre.basis(count - 1)
    inner = np.sort(legendre.deriv().roots().real)
    places = np.concatenate(([-1.0], inner, [1.0]))
    weights = 2 / (count * (count - 1) * legendre(places) ** 2)
    return (places + 1) / 2, weights / 2


def stretches(beams: Beams, loads: Loads) -> tuple[IntArray, Array, Array]:
    """Return the pieces (m,) and both ends (m,) of stretches without a break in any case's load within them."""
    n, begun = len(beams.length), loads.begun
    inside = (begun.at > SAME) & (begun.at < beams.length[begun.piece] - SAME)
    if not inside.any():
        return np.arange(n), np.zeros(n), beams.length
    piece = np.concatenate((np.arange(n), begun.piece[inside]))
    start = np.concatenate((np.zeros(n), begun.at[inside]))
    order = np.lexsort((start, piece))
    piece, start = piece[order], start[order]
    fresh = np.concatenate(([True], (piece[1:] != piece[:-1]) | (start[1:] - start[:-1] > SAME)))
    piece, start = piece[fresh], start[fresh]
    follows = np.concatenate((piece[1:] == piece[:-1], [False]))
    end = np.where(follows, np.concatenate((start[1:], [0.0])), beams.length[piece])
    return piece, start, end


def stations_of(beams: Beams, loads: Loads) -> Stations:
    """Return the stations of all pieces, without the extremes."""
    piece, start, end = stretches(beams, loads)
    places, weights = lobatto(MANY if len(piece) <= FEW else SOME)
    at = start[:, None] + (end - start)[:, None] * places
    at[:, -1] = end
    begin = np.repeat(start, len(places))
    return Stations(np.repeat(piece, len(places)), at.ravel(), begin, ((end - start)[:, None] * weights).ravel())


def with_more(stations: Stations, piece: IntArray, at: Array, begin: Array) -> Stations:
    """Return the stations with more of no weight among them, in order."""
    pieces = np.concatenate((stations.piece, piece))
    places, begins = np.concatenate((stations.at, at)), np.concatenate((stations.begin, begin))
    order = np.lexsort((places, begins, pieces))
    weight = np.concatenate((stations.weight, np.zeros(len(piece))))
    return Stations(pieces[order], places[order], begins[order], weight[order])


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
