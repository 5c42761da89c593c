"""How a frame with two stiff bodies gives way: Maxwell's reciprocity, and each body's own mounts."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from pytest import approx

from framecheck.frame.modes import flexibility
from framecheck.frame.solve import structure_of
from framecheck.model.arrays import Array
from framecheck.model.frame import Mount, StiffBody
from tests.unit.frame.test_batch import ENGINE, FRAME, variant

TANK = StiffBody("tank", 60.0, (2.0, -0.1, 0.1), tuple(Mount(p, (2e5, 1e5, 4e5)) for p in ("L2", "R2", "R1")))


def softness(*bodies: StiffBody) -> Array:
    """Return the movements (n, n) under unit forces on each freedom of points and bodies."""
    frame = replace(FRAME, stiff_bodies=bodies)
    size = 6 * (len(frame.points) + len(bodies))
    return flexibility(frame, structure_of(frame, variant(0)))(np.eye(size))


def test_a_gives_at_b_what_b_gives_at_a() -> None:
    found = softness(ENGINE, TANK)
    assert found == approx(found.T, rel=1e-6, abs=1e-9 * float(np.abs(found).max()))
    assert (np.diag(found)[-12:] > 0.0).all()


def test_bodies_in_another_order_move_alike() -> None:
    count = 6 * len(FRAME.points)
    swapped = np.r_[:count, count + 6 : count + 12, count : count + 6]
    one, other = softness(ENGINE, TANK), softness(TANK, ENGINE)
    assert one == approx(other[np.ix_(swapped, swapped)], rel=1e-6, abs=1e-9 * float(np.abs(one).max()))
