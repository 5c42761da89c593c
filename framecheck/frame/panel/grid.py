"""Panels divided by themselves along every line where a member, a load or another panel begins or ends. SI.

A panel is one four-sided piece, or three of a triangle; each is cut by lines of equal share from edge to edge. Where such a line
reaches an edge that lies on another panel, that one is cut there too, until no new line is found: pieces then meet corner to corner.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np

from framecheck.frame.panel.site import Site, at_shares, shares_of, within
from framecheck.frame.panel.touch import OnEdge, OnLine, PassingLeg, Touch
from framecheck.model.arrays import Array, BoolArray

SAME_SPOT = 1e-4
"""m; nearer than this, two places on sheet are one."""
MOST_LINES = 120
"""Lines one way across a piece beyond which dividing has run away: panels round a ring whose lines never close."""
ROUNDS = 40


class EndlessDivisionError(Exception):
    """A panel's lines cut its neighbours, and theirs it, without end. panel: its place in the frame."""

    def __init__(self, panel: int) -> None:
        super().__init__(panel)
        self.panel = panel


class Block:
    """A four-sided piece of a panel and the shares at which it is cut, filled line by line.

    panel: its place in the frame; solid (4, 3), flat (4, 2): corners; cuts: rising shares along its first edge and across.
    """

    def __init__(self, panel: int, site: Site, solid: Array) -> None:
        self.panel, self.site, self.solid = panel, site, solid
        self.flat = site.flat(solid)
        sides = np.linalg.norm(np.roll(solid, -1, axis=0) - solid, axis=1)
        self.size = np.array([(sides[0] + sides[2]) / 2, (sides[1] + sides[3]) / 2])
        self.slack = SAME_SPOT / np.maximum(self.size, SAME_SPOT)
        self.cuts: tuple[list[float], list[float]] = ([0.0, 1.0], [0.0, 1.0])
        self.low, self.high = solid.min(axis=0) - SAME_SPOT, solid.max(axis=0) + SAME_SPOT

    def cut(self, way: int, share: float) -> bool:
        """Cut across at a share, unless it lies outside or is cut there already; return whether it is new."""
        slack = float(self.slack[way])
        if not slack < share < 1 - slack or any(abs(share - each) <= slack for each in self.cuts[way]):
            return False
        self.cuts[way].append(share)
        self.cuts[way].sort()
        if len(self.cuts[way]) > MOST_LINES:
            raise EndlessDivisionError(self.panel)
        return True

    def cut_at(self, places: Array, at_edges: BoolArray) -> bool:
        """Cut at places (n, 3) that lie on it: inside both ways, at an edge across it; those not at_edges only there.

        at_edges (n,): whether they are at an edge of what they come from.
        """
        near = ((places >= self.low) & (places <= self.high)).all(axis=1)
        if not near.any():
            return False
        places, at_edges = places[near], at_edges[near]
        shares = shares_of(self.flat, self.site.flat(places))
        on = within(shares, self.slack) & (np.linalg.norm(at_shares(self.solid, shares) - places, axis=1) <= SAME_SPOT)
        fresh = False
        for share, free in zip(shares[on].tolist(), at_edges[on].tolist(), strict=True):
            ends = [min(share[way], 1 - share[way]) <= self.slack[way] for way in (0, 1)]
            for way in (0, 1):
                if ends[1 - way] or free:
                    fresh |= self.cut(way, share[way])
        return fresh

    def shares(self, parts: int = 1) -> tuple[Array, Array]:
        """Return the shares of its grid lines both ways, each length between cuts in so many parts."""
        steps = range(1, parts + 1)
        first, second = (
            [0.0, *(a + (b - a) * k / parts for a, b in pairwise(each) for k in steps)] for each in self.cuts
        )
        return np.array(first), np.array(second)

    def grid(self, parts: int = 1) -> tuple[Array, BoolArray]:
        """Return the shares (n, 2) of its grid's nodes, and which lie at its edges."""
        s, t = self.shares(parts)
        every = np.stack(np.meshgrid(s, t, indexing="ij"), axis=-1).reshape(-1, 2)
        return every, ((every == 0.0) | (every == 1.0)).any(axis=1)


def blocks_of(sites: Sequence[Site], order: Sequence[int]) -> list[Block]:
    """Return the pieces of all panels in some order, not cut yet."""
    return [Block(number, sites[number], solid) for number in order for solid in sites[number].pieces()]


def cut_where_met(blocks: Iterable[Block], touches: Sequence[Sequence[Touch]], bare: Array) -> None:
    """Cut the pieces where members that are joined to them begin, end and pass, and at bare points (n, 3)."""
    for block in blocks:
        block.cut_at(bare, np.ones(len(bare), dtype=np.bool_))
        for touch in touches[block.panel]:
            match touch:
                case OnEdge():
                    ends = np.array([touch.leg.start, touch.leg.end])
                    block.cut_at(_on_edge(block, touch, ends), np.zeros(2, dtype=np.bool_))
                case OnLine():
                    block.cut_at(_lifted(block, touch.ends), np.ones(2, dtype=np.bool_))
                case PassingLeg():
                    _cut_out(block, touch)


def _on_edge(block: Block, touch: OnEdge, places: Array) -> Array:
    """Return the nearest places (n, 3) on the edge that a leg runs along."""
    corners = block.site.corners
    first, second = corners[touch.edge], corners[(touch.edge + 1) % len(corners)]
    span = second - first
    feet: Array = first + np.clip((places - first) @ span / (span @ span), 0, 1)[:, None] * span
    return feet


def _lifted(block: Block, places: Array) -> Array:
    """Return places (n, 3) of the mean plane on the piece itself, which may be a little out of it."""
    return at_shares(block.solid, shares_of(block.flat, block.site.flat(places)))


def _cut_out(block: Block, touch: PassingLeg) -> None:
    """Cut a piece along the sides of the box that passes through it, and midway between them as far as they lie on the piece."""
    shares = shares_of(block.flat, block.site.flat(touch.corners))
    low, high = shares.min(axis=0), shares.max(axis=0)
    if (high < -block.slack).any() or (low > 1 + block.slack).any():
        return
    for way in (0, 1):
        for share in (low[way], high[way], (max(low[way], 0.0) + min(high[way], 1.0)) / 2):
            block.cut(way, float(share))


def cut_alike(blocks: Sequence[Block]) -> None:
    """Cut pieces where the lines of their neighbours reach them, until nothing is new; only those that were cut are asked again."""
    near = neighbours(blocks)
    asked = list(range(len(blocks)))
    for _ in range(ROUNDS):
        told = {number: _nodes_of(blocks[number]) for number in asked}
        heard = [[told[other] for other in near[number] if other in told] for number in range(len(blocks))]
        asked = [number for number, block in enumerate(blocks) if _cut_by(block, heard[number])]
        if not asked:
            return
    raise EndlessDivisionError(max(blocks, key=lambda block: sum(map(len, block.cuts))).panel)


def neighbours(blocks: Sequence[Block]) -> list[list[int]]:
    """Return, for each piece, those others whose boxes in space meet its own."""
    low, high = np.array([block.low for block in blocks]), np.array([block.high for block in blocks])
    meet = np.asarray(((low[:, None] <= high) & (low <= high[:, None])).all(axis=2), dtype=np.bool_)
    np.fill_diagonal(meet, False)
    return [np.flatnonzero(row).tolist() for row in meet]


def _nodes_of(block: Block) -> tuple[Array, BoolArray]:
    """Return the places (n, 3) of a piece's nodes, and which lie at its edges."""
    shares, at_edges = block.grid()
    return at_shares(block.solid, shares), at_edges


def _cut_by(block: Block, told: Sequence[tuple[Array, BoolArray]]) -> bool:
    """Cut a piece where its neighbours' nodes lie on it; return whether anything is new."""
    fresh = False
    for places, at_edges in told:
        fresh |= block.cut_at(places, at_edges)
    return fresh
