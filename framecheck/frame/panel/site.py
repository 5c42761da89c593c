"""Where a panel lies: its plane, its corners, and how places on it are told by two shares. SI."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, BoolArray
from framecheck.model.frame import Frame
from framecheck.model.panels import Panel
from framecheck.value_class import array_class

SETTLED = 1e-13
NEWTON = 12
"""Steps to find a place's shares: quadratic, so that six serve any convex four-sided piece."""


@array_class
class Site:
    """A panel's plane through the mean of its corners. corners (c, 3): as drawn, offset counted; middle (3,); axes (3, 3) rows: along
    its first edge, across it in the plane, its normal.
    """

    corners: Array
    middle: Array
    axes: Array

    def flat(self, places: Array) -> Array:
        """Return places (n, 3) in the plane (n, 2)."""
        found: Array = (places - self.middle) @ self.axes[:2].T
        return found

    def pieces(self) -> tuple[Array, ...]:
        """Return its four-sided pieces (4, 3): itself, or three of a triangle, each from a corner to the middle."""
        if len(self.corners) == 4:
            return (self.corners,)
        a, b, c = self.corners
        centre = self.corners.mean(axis=0)
        mid = [(a + b) / 2, (b + c) / 2, (c + a) / 2]
        quads = ((a, mid[0], centre, mid[2]), (b, mid[1], centre, mid[0]), (c, mid[2], centre, mid[1]))
        return tuple(np.array(each) for each in quads)


def site_of(frame: Frame, panel: Panel) -> Site:
    """Return where a panel lies."""
    corners = np.array([frame.points[name] for name in panel.corners], dtype=np.float64) + np.array(panel.offset)
    return site_through(corners)


def site_through(corners: Array) -> Site:
    """Return the plane through three or four corners."""
    first, second = (
        (corners[2] - corners[0], corners[-1] - corners[1]) if len(corners) == 4 else np.diff(corners, axis=0)
    )
    normal = np.cross(first, second)
    normal = normal / max(float(np.linalg.norm(normal)), 1e-300)
    along = corners[1] - corners[0]
    along = along - (along @ normal) * normal
    along = along / max(float(np.linalg.norm(along)), 1e-300)
    return Site(corners, corners.mean(axis=0), np.array([along, np.cross(normal, along), normal]))


def warp_of(corners: Array) -> float:
    """Return how far the worst of four corners lies off the plane of its others, over the longest diagonal."""
    if len(corners) < 4:
        return 0.0
    worst = 0.0
    for corner in range(4):
        others = np.delete(corners, corner, axis=0)
        normal = np.cross(others[1] - others[0], others[2] - others[0])
        size = max(float(np.linalg.norm(normal)), 1e-300)
        worst = max(worst, abs(float((corners[corner] - others[0]) @ normal)) / size)
    diagonals = np.linalg.norm(corners[[2, 3]] - corners[[0, 1]], axis=1)
    return worst / max(float(diagonals.max()), 1e-300)


def is_convex(flat: Array) -> bool:
    """Return whether corners (c, 2) run round a piece without crossing or turning back."""
    edges = np.roll(flat, -1, axis=0) - flat
    nexts = np.roll(edges, -1, axis=0)
    turns = edges[:, 0] * nexts[:, 1] - edges[:, 1] * nexts[:, 0]
    return bool((turns > 0).all() or (turns < 0).all())


def at_shares(corners: Array, shares: Array) -> Array:
    """Return the places (n, d) at shares (n, 2) of a four-sided piece's corners (4, d), straight between them."""
    s, t = shares[:, :1], shares[:, 1:]
    found: Array = (
        (1 - s) * (1 - t) * corners[0] + s * (1 - t) * corners[1] + s * t * corners[2] + (1 - s) * t * corners[3]
    )
    return found


def shares_of(flat: Array, places: Array) -> Array:
    """Return the shares (n, 2) of places (n, 2) in the plane of a four-sided piece (4, 2), within -1 to 2."""
    shares = np.full((len(places), 2), 0.5)
    for _ in range(NEWTON):
        s, t = shares[:, :1], shares[:, 1:]
        by_s = (1 - t) * (flat[1] - flat[0]) + t * (flat[2] - flat[3])
        by_t = (1 - s) * (flat[3] - flat[0]) + s * (flat[2] - flat[1])
        off = places - at_shares(flat, shares)
        size = by_s[:, 0] * by_t[:, 1] - by_s[:, 1] * by_t[:, 0]
        size = np.where(np.abs(size) > 1e-300, size, 1e-300)
        step = np.stack(
            (
                (off[:, 0] * by_t[:, 1] - off[:, 1] * by_t[:, 0]) / size,
                (by_s[:, 0] * off[:, 1] - by_s[:, 1] * off[:, 0]) / size,
            ),
            1,
        )
        shares = np.clip(shares + step, -1.0, 2.0)
        if float(np.abs(step).max(initial=0.0)) < SETTLED:
            break
    return shares


def within(shares: Array, slack: Array) -> BoolArray:
    """Return which shares (n, 2) lie in the piece, with some slack (2,)."""
    return np.asarray(((shares >= -slack) & (shares <= 1 + slack)).all(axis=1), dtype=np.bool_)
