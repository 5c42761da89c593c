"""Large deflections: the shape of a plate that can't draw in, at the load it is asked for (von Karman's equations).

Membrane forces stiffen the sheet: (K + G(N)) w = F f, G of the forces that w itself brings. They are followed half way to what the
last movement gives, a number of rounds that is always the same, lest the answer jump. The shape so found is scaled so that one
newton of it takes as much energy as that newton does work; along it a load is a + c a3, as in `membrane`, and at the load asked for
that is the answer of the whole plate, not of the shape of small deflections.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from math import inf
from typing import TYPE_CHECKING

import numpy as np

from framecheck.checks.plate.bending import PlateMesh, UnitBending, bendings, load_vector, sense_of
from framecheck.checks.plate.contact import bendings_in_contact
from framecheck.checks.plate.elements import elements_of, unknowns_of
from framecheck.checks.plate.energy import PlateSpring, stopped_at
from framecheck.checks.plate.membrane import Membrane, MembranePlane, amplitude, load_of, membrane_of
from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, frozen
from framecheck.model.plate import PlateLoad, Press, Strike
from framecheck.value_class import array_class

if TYPE_CHECKING:
    from scipy.sparse import csr_array

ROUNDS = 16
HALF_WAY = 0.45  # a membrane alone would overshoot by twice what is left; bending alone by none of it


@array_class
class Taut:
    """Membrane forces N_x, N_y, N_xy at the nodes (3, nx, ny), N/m, and the load (N or Pa) over the amplitude at which they stand."""

    forces: Array
    share: float


def bent(sheet: PlateMesh, loads: Sequence[PlateLoad], taut: csr_array | None = None) -> tuple[UnitBending, ...]:
    """Return the plate under one unit of each load, in its own sense; against what it lies on."""
    if sheet.plate.rests or sheet.plate.give:
        return bendings_in_contact(sheet, tuple(sense_of(load) * load_vector(sheet, load) for load in loads), taut)
    return bendings(sheet, loads, taut)


def stretched(plane: MembranePlane, load: PlateLoad, small: UnitBending) -> tuple[UnitBending, Membrane, Taut | None]:
    """Return the shape at the load asked for, and its membrane; small: the shape of small deflections, kept where none is found."""
    membrane = membrane_of(plane, small.shape)
    with suppress(UnsolvableError):
        return _followed(plane, load, small, membrane)
    return small, membrane, None


def _followed(
    plane: MembranePlane, load: PlateLoad, small: UnitBending, membrane: Membrane
) -> tuple[UnitBending, Membrane, Taut | None]:
    bending, (level, a) = small, reached(load, small.work, membrane.energy)
    forces = membrane.inside * amplitude(level, small.work, membrane.energy) ** 2 * HALF_WAY
    for _ in range(ROUNDS):
        taut = tension(plane.sheet, forces)
        (found,) = bent(plane.sheet, (load,), taut)
        held = float(found.shape.ravel() @ (taut @ found.shape.ravel())) * level
        scale = found.work / (found.work - held / level)
        bending = replace(found, shape=frozen(found.shape * scale))
        membrane = membrane_of(plane, bending.shape)
        level, a = reached(load, bending.work, membrane.energy)
        forces = (1 - HALF_WAY) * forces + HALF_WAY * membrane.inside * a**2
    return bending, membrane, Taut(frozen(membrane.forces.values * a**2), level / a)


def reached(load: PlateLoad, work: float, energy: float) -> tuple[float, float]:
    """Return the load in units and its amplitude; a strike: were the plate elastic to its end."""
    if isinstance(load, Strike):
        a = stopped_at(load.blow, PlateSpring(work, energy, inf))
        return load_of(a, work, energy), a
    level = abs(load.force if isinstance(load, Press) else load.pressure)
    return level, amplitude(level, work, energy)


def tension(sheet: PlateMesh, forces: Array) -> csr_array:
    """Return what membrane forces at the Gauss points (3, gx, gy), N/m, add to the stiffness (n, n): the integral of N : w' w'."""
    from scipy.sparse import csr_array

    x, y = elements_of(sheet.x), elements_of(sheet.y)
    shape = len(x.unknowns), 4, len(y.unknowns), 4
    weights = x.weights[:, :, None, None] * y.weights[None, None, :, :]
    nx, ny, nxy = (each.reshape(shape) * weights for each in forces)
    slopes = (x.slope, y.value), (x.value, y.slope)
    along, across = (np.einsum("ipa,jqb->ijpqab", one, two).reshape(-1, 16, 16) for one, two in slopes)
    flat = [each.transpose(0, 2, 1, 3).reshape(-1, 16, 1) for each in (nx, ny, nxy)]
    mixed = along.transpose(0, 2, 1) @ (flat[2] * across)
    values = along.transpose(0, 2, 1) @ (flat[0] * along) + across.transpose(0, 2, 1) @ (flat[1] * across)
    values = values + mixed + mixed.transpose(0, 2, 1)
    unknowns = unknowns_of(sheet)
    rows, columns = np.repeat(unknowns, 16, axis=1).ravel(), np.tile(unknowns, (1, 16)).ravel()
    count = sheet.shape[0] * sheet.shape[1]
    return csr_array((values.ravel(), (rows, columns)), shape=(count, count))
