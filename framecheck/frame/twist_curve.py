"""How far a frame has twisted from place to place along it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.frame.long_members import long_members
from framecheck.frame.results import MemberForces
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame

COUPLE = 1000.0  # Nm; the answer does not depend on it


def _line(members: Sequence[MemberForces], axis: int) -> tuple[Array, Array]:
    """Return x, rising, and the places along the axis (1 y) or the first case's movement along it (2 z).

    Where members lie beside one another the first one counts.
    """
    xs, values, spans = list[Array](), list[Array](), list[tuple[float, float]]()
    for member in members:
        x = member.places[:, 0]
        new = np.all([(x < low) | (x > high) for low, high in spans], axis=0) if spans else np.ones(len(x), dtype=bool)
        xs.append(x[new])
        values.append((member.places[:, 1] if axis == 1 else member.displacements[:, 0, 2])[new])
        spans.append((float(x.min()), float(x.max())))
    x = np.concatenate(xs)
    order = np.argsort(x, kind="stable")
    return x[order], np.concatenate(values)[order]


def twist_curve(frame: Frame, members: Sequence[MemberForces], rear: float) -> tuple[Array, Array]:
    """Return x (n,) and the turn about x (n,) there per couple, rad/Nm, less that at the rear axle.

    The turn is that of the line between the left and the right rails, or what stands for them. Nothing where a side has none.
    """
    by_name = {each.member: each for each in members}
    rails = [by_name[each.name] for each in long_members(frame)]
    sides = [[m for m in rails if np.mean(m.places[:, 1]) * sign > 0] for sign in (1, -1)]
    if not all(sides):
        return np.empty(0), np.empty(0)
    lines = [(_line(side, 1), _line(side, 2)) for side in sides]
    low, high = (pick(part(y[0]) for y, _ in lines) for pick, part in ((max, np.min), (min, np.max)))
    x = np.unique(np.concatenate([y[0] for y, _ in lines]))
    x = x[(x >= low) & (x <= high)]

    def turn(at: Array) -> Array:
        (left_y, left_z), (right_y, right_z) = lines
        rise = np.interp(at, *left_z) - np.interp(at, *right_z)
        return rise / (np.interp(at, *left_y) - np.interp(at, *right_y)) / COUPLE

    return x, turn(x) - turn(np.array([rear]))
