"""Anti-roll bars."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.model.arrays import Array, Vector
from framecheck.model.suspension import AntiRollBar
from framecheck.vehicle.corners import Points, foot
from framecheck.vehicle.scene import BracketForce, vector, wrench
from framecheck.vehicle.sharing import shared


def bar_brackets(axle: str, bar: AntiRollBar, push: float, points: Points) -> Iterator[BracketForce]:
    """Yield what a bar's two bushes do to the frame when its links push down the left and up the right with `push`, N.

    The bar itself is pushed up on the left and down on the right; its bushes answer as a couple.
    """
    left, right = (
        foot(f"{axle} anti-roll bar, {side} bush", each, points)
        for side, each in zip(("left", "right"), bar.bushes, strict=True)
    )
    about = np.array(left.at)
    up = np.array([0.0, 0.0, push])
    total = wrench(up, np.array(bar.ends[0]), about) + wrench(-up, np.array(bar.ends[1]), about)
    rows = shared(total, left.at, (left.at, right.at))
    yield from (
        BracketForce(each, vector(row[:3]), vector(row[3:])) for each, row in zip((left, right), rows, strict=True)
    )


def bar_push(bar: AntiRollBar | None, roll: float, softness: float) -> float:
    """Return the link force of a bar on an axle that would roll by `roll` (rad, left up) without it, N.

    softness: roll per moment without the bar, rad/Nm. P = k w roll / (1 + k w2 softness), w between the links.
    """
    if bar is None:
        return 0.0
    apart = bar.ends[0][1] - bar.ends[1][1]
    return bar.rate * apart * roll / (1 + bar.rate * apart**2 * softness)


def bar_load(bar: AntiRollBar | None, push: float, about: Vector) -> Array:
    """Return force and moment (6,) of a bar's links on the housing about a place."""
    if bar is None:
        return np.zeros(6)
    down = np.array([0.0, 0.0, -push])
    return wrench(down, np.array(bar.ends[0]), np.array(about)) + wrench(-down, np.array(bar.ends[1]), np.array(about))
