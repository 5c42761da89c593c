"""How the shear of stiffeners softens them (Timoshenko's beam): between near bolts and patches a flat bar shears as much as it bends.

A stiffener's section turns by itself, apart from the slope of the sheet it stands on; how it turns is found along with the sheet's
movement (quadratic elements) and put back into it. The sheet's stiffness with stiffeners that do not shear is a band; what their
shear takes from it is of few columns.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from framecheck.checks.plate.stiffeners import Beam
from framecheck.model.arrays import Array, BoolArray, IntArray
from framecheck.model.plate import StiffenerRun

if TYPE_CHECKING:
    from scipy.sparse import csr_array

    from framecheck.checks.plate.bending import PlateMesh
    from framecheck.checks.plate.lines import PlateLine

LEAST = 1e-12  # of the greatest: a way to shear that takes less from the stiffness takes nothing


class ShearingBeam(NamedTuple):
    """A stiffener on its mesh line, n unknowns W of it. numbers (n,): in W.ravel(); less (n, n): what shear takes from the stiffness;
    turning (m, n): how its section turns at flat places; cut (c,): which places of those lie at the mesh's end where the stiffener
    goes on, and turn as they do beyond; push (n, c), passed (m, c): what their turning puts on W, and how it turns the others;
    bend (g, m): change of turning at the Gauss points.
    """

    numbers: IntArray
    less: Array
    turning: Array
    cut: IntArray
    push: Array
    passed: Array
    bend: Array

    def curvature(self, shape: Array, turned: Array) -> Array:
        """Return how fast the section turns at the Gauss points (g,) of the line under a shape of W; turned (c,): at cut places."""
        return np.asarray(self.bend @ self.turns(shape, turned))

    def turns(self, shape: Array, turned: Array) -> Array:
        """Return how the section turns at the flat places (m,) of the line."""
        return np.asarray(self.turning @ shape.ravel()[self.numbers] + self.passed @ turned)


def shearing(sheet: PlateMesh, beam: Beam) -> ShearingBeam:
    """Return a stiffener that shears, on its line of a mesh."""
    along, numbers = line_under(sheet, beam)
    start, end = beam.stiffener.start, beam.stiffener.end
    weights = along.weights * along.within(start, end)
    bends, shears = stiffness_of(sheet, beam)
    stiff = bends * along.flat_slope.T @ (weights[:, None] * along.flat_slope)
    stiff += shears * along.flat_value.T @ (weights[:, None] * along.flat_value)
    mixed = shears * along.flat_value.T @ (weights[:, None] * along.slope)
    firm = bends * along.bend.T @ (weights[:, None] * along.bend)
    whole = shears * along.slope.T @ (weights[:, None] * along.slope)
    cut = cuts_of(along, start, end)
    own = np.setdiff1d(np.flatnonzero(np.diag(stiff) > 0), cut)
    freed = np.zeros((len(stiff), len(mixed[0]) + len(cut)))
    freed[own] = np.linalg.solve(stiff[np.ix_(own, own)], np.hstack([mixed[own], -stiff[np.ix_(own, cut)]]))
    turning, passed = freed[:, : len(mixed[0])], freed[:, len(mixed[0]) :]
    passed[cut, np.arange(len(cut))] = 1.0
    return ShearingBeam(numbers, firm - whole + mixed.T @ turning, turning, cut, -mixed.T @ passed, passed, along.flat_slope)


def line_under(sheet: PlateMesh, beam: Beam) -> tuple[PlateLine, IntArray]:
    """Return the mesh line that a stiffener stands on, and the numbers of its unknowns in W.ravel()."""
    wide = sheet.shape[1]
    if beam.stiffener.run is StiffenerRun.X:
        return sheet.x, wide * np.arange(sheet.shape[0]) + 2 * sheet.y.index(beam.stiffener.at)
    return sheet.y, wide * 2 * sheet.x.index(beam.stiffener.at) + np.arange(wide)


def stiffness_of(sheet: PlateMesh, beam: Beam) -> tuple[float, float]:
    """Return E I of what a stiffener adds, and its G A in shear."""
    material = sheet.plate.material
    return material.youngs_modulus * beam.added, material.shear_modulus * beam.shear_area


def cuts_of(along: PlateLine, start: float, end: float) -> IntArray:
    """Return which flat places are a mesh's ends beyond which a stiffener goes on."""
    hair = 1e-9 * (end - start)
    first, last = float(along.nodes[0]), float(along.nodes[-1])
    ends = [(0, start < first - hair and end > first + hair), (len(along.flat_nodes) - 1, end > last + hair and start < last - hair)]
    return np.array([place for place, goes_on in ends if goes_on], dtype=np.int64)


def softening(beams: Sequence[ShearingBeam], free: BoolArray) -> Array:
    """Return U (n, r): what shear takes from the stiffness of the free unknowns (n,) is U U'."""
    columns = []
    for beam in beams:
        kept = free[beam.numbers]
        values, ways = np.linalg.eigh((beam.less + beam.less.T)[np.ix_(kept, kept)] / 2)
        some = values > LEAST * values.max(initial=0.0)
        found = np.zeros((len(free), int(some.sum())))
        found[beam.numbers[kept]] = ways[:, some] * np.sqrt(values[some])
        columns.append(found)
    return np.hstack(columns) if columns else np.zeros((len(free), 0))


def taken(beams: Sequence[ShearingBeam], count: int) -> csr_array:
    """Return what shear takes from the stiffness (count, count)."""
    from scipy.sparse import csr_array

    rows = [np.repeat(beam.numbers, len(beam.numbers)) for beam in beams]
    columns = [np.tile(beam.numbers, len(beam.numbers)) for beam in beams]
    values = [beam.less.ravel() for beam in beams]
    none = np.zeros(0, dtype=np.int64)
    places = np.concatenate([none, *rows]), np.concatenate([none, *columns])
    return csr_array((np.concatenate([np.zeros(0), *values]), places), shape=(count, count))
