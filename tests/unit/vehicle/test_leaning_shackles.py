"""A leaf spring whose shackle leans sideways: statics, no source needed. What it does to the frame balances what is put on its pad."""

from __future__ import annotations

import numpy as np
import pytest

from framecheck.model.suspension import LeafSpring, SuspensionBracket
from framecheck.vehicle.live_axles import leaf_brackets


@pytest.mark.parametrize("seed", range(30))
def test_the_brackets_of_a_leaning_shackle_balance_its_load(seed: int) -> None:
    """A shackle pin 0.04 micrometre beside its eye left the frame out of balance: the hill truck was not judged."""
    random = np.random.default_rng(seed)
    lean = float(random.choice([0.0, 1e-8, 0.01, 0.3])) * random.choice([-1, 1])
    eye, shackle_eye = (0.6, 0.45, 0.5), (-0.6, 0.45 + 0.2 * float(random.normal()), 0.48)
    pin = (-0.6 + 0.05 * float(random.normal()), shackle_eye[1] + lean, 0.58)
    points = {"eye": (0.5, 0.4, 0.6), "pin": (-0.7, 0.4, 0.6)}
    spring = LeafSpring(SuspensionBracket("eye", eye), shackle_eye, SuspensionBracket("pin", pin), 30e3)
    pad, load = (0.0, 0.45, 0.49), random.normal(size=6) * 1000.0
    force, turning = np.zeros(3), np.zeros(3)
    for each in leaf_brackets("rear", spring, pad, load, points):
        force += each.force
        turning += np.cross(each.foot.at, each.force) + each.moment
    assert force == pytest.approx(load[:3], abs=1e-6)
    assert turning == pytest.approx(np.cross(pad, load[:3]) + load[3:], abs=1e-6)
