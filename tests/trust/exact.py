"""A space frame solved with fifty digits: the textbook's twelve by twelve beam, assembled and eliminated by mpmath. Shares no code."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import Any

import mpmath as mp  # type: ignore[import-untyped]

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Bar:
    """A straight beam between two points: E A, E I for bending vertically and sideways, G J; N and Nm2."""

    points: tuple[str, str]
    axial: float
    vertical: float
    sideways: float
    twist: float


def local(bar: Bar, length: Any) -> Any:
    """Return a beam's stiffness (12, 12) in its own axes.

    J. S. Przemieniecki, Theory of Matrix Structural Analysis (1968), eq. 5.116 without shear deformation, from memory.
    """
    k = mp.zeros(12, 12)

    def spring(stiffness: Any, *shape: tuple[int, Any]) -> None:
        for i, a in shape:
            for j, b in shape:
                k[i, j] += stiffness * a * b

    spring(mp.mpf(bar.axial) / length, (0, -1), (6, 1))
    spring(mp.mpf(bar.twist) / length, (3, -1), (9, 1))
    for across, turn, sign, rigidity in ((1, 5, 1, bar.sideways), (2, 4, -1, bar.vertical)):
        e = mp.mpf(rigidity)
        # bending = uniform bending (turns against each other) + bending by shear (turns beyond the chord's)
        spring(e / length, (turn, sign), (turn + 6, -sign))
        chord = mp.mpf(2) / length
        spring(3 * e / length, (across, chord), (across + 6, -chord), (turn, sign), (turn + 6, sign))
    return k


def turning(first: Vector, last: Vector) -> tuple[Any, Any]:
    """Return a beam's axes as rows (3, 3), and its length: z as near to up as can be, y to the left."""
    along = [mp.mpf(b) - mp.mpf(a) for a, b in zip(first, last, strict=True)]
    length = mp.sqrt(sum(each * each for each in along))
    x = [each / length for each in along]
    up = [-x[2] * x[0], -x[2] * x[1], 1 - x[2] * x[2]]
    size = mp.sqrt(sum(each * each for each in up))
    z = [each / size for each in up]
    y = [z[1] * x[2] - z[2] * x[1], z[2] * x[0] - z[0] * x[2], z[0] * x[1] - z[1] * x[0]]
    return mp.matrix([x, y, z]), length


def solved(
    places: Mapping[str, Vector],
    bars: Sequence[Bar],
    supports: Mapping[str, Sequence[float]],
    forces: Mapping[str, Sequence[float]],
) -> dict[str, list[Any]]:
    """Return six movements a point, m and rad. supports: six stiffnesses a point, inf: held; forces: six a point, N and Nm."""
    with mp.workdps(50):
        names = list(places)
        size = 6 * len(names)
        whole, right = mp.zeros(size, size), mp.zeros(size, 1)
        for bar in bars:
            _add(whole, bar, places, names)
        for name, row in forces.items():
            for way, value in enumerate(row):
                right[6 * names.index(name) + way] += mp.mpf(value)
        held = set()
        for name, row in supports.items():
            for way, value in enumerate(row):
                at = 6 * names.index(name) + way
                if value == inf:
                    held.add(at)
                else:
                    whole[at, at] += mp.mpf(value)
        free = [at for at in range(size) if at not in held]
        part = mp.matrix([[whole[i, j] for j in free] for i in free])
        found = mp.lu_solve(part, mp.matrix([right[i] for i in free]))
        moved = dict(zip(free, found, strict=True))
        return {name: [moved.get(6 * n + way, mp.mpf(0)) for way in range(6)] for n, name in enumerate(names)}


def _add(whole: Any, bar: Bar, places: Mapping[str, Vector], names: list[str]) -> None:
    """Add a beam to the whole."""
    axes, length = turning(*(places[point] for point in bar.points))
    turn = mp.zeros(12, 12)
    for block in range(4):
        for i in range(3):
            for j in range(3):
                turn[3 * block + i, 3 * block + j] = axes[i, j]
    stiffness = turn.T * local(bar, length) * turn
    at = [6 * names.index(point) + way for point in bar.points for way in range(6)]
    for i, row in enumerate(at):
        for j, column in enumerate(at):
            whole[row, column] += stiffness[i, j]
