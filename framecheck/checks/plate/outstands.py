"""What the free part of a stiffener bears in compression before it buckles."""

from __future__ import annotations

from math import hypot, sqrt

import numpy as np

from framecheck.checks.formulas.plate_buckling import critical_stress, share_left_free, share_left_internal
from framecheck.checks.plate.stiffeners import yield_strength
from framecheck.model.arrays import Array
from framecheck.model.plate import Bead, BoltedPlate, Rib, Stiffener

OUTSTAND = 0.43  # k of a wall held along one edge, alike in compression. EN 1993-1-5:2006, table 4.2
INTERNAL = 4.0  # k of a wall held along both. EN 1993-1-5:2006, table 4.1


def bearable(plate: BoltedPlate, stiffener: Stiffener) -> float:
    """Return the compression at which a stiffener gives way, Pa: rho fy, the whole of it at the stress of its outer fibre.

    EN 1993-1-5:2006, 4.4 (4.2), (4.3). A rib is a wall with a free edge, held along the weld as by a hinge. A flat bar turns over
    about its weld at G J / Ip = G (t/h)2, which is the same with k = 0.425, so one row judges both. A bead: its flat top and sides.
    """
    strength = yield_strength(plate, stiffener)
    if isinstance(stiffener, Rib):
        return strength * float(share_left_free(_relative(plate, strength, stiffener.height / stiffener.thickness, OUTSTAND)))
    relative = _relative(plate, strength, widest(stiffener) / plate.thickness, INTERNAL)
    return strength * float(share_left_internal(relative, np.array(1.0)))


def widest(bead: Bead) -> float:
    """Return the widest flat of a bead, m: its top or a side."""
    return max(bead.crest, hypot((bead.width - bead.crest) / 2, bead.height))


def _relative(plate: BoltedPlate, strength: float, slenderness: float, factor: float) -> Array:
    """Return lambda = sqrt(fy / critical stress)."""
    metal = plate.material
    critical = critical_stress(metal.youngs_modulus, metal.poissons_ratio, np.array(slenderness), np.array(factor))
    return np.array(sqrt(strength / float(critical)))
