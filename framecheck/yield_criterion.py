"""The yield criterion of metal, for members, plates, panels and what is read: von Mises. Another criterion is written here alone.

R. von Mises (1913); EN 1993-1-1:2005, 6.2.1(5), eq. (6.1), is the same at yield.
"""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array

SHEAR_COUNTS = 3.0
"""How often the square of a shear stress counts beside that of one normal stress."""
SOURCE = "R. von Mises (1913); EN 1993-1-1:2005, 6.2.1(5), eq. (6.1)"
SHEET_SOURCE = "R. von Mises (1913), plane stress"


def equivalent_on_surface(normal: Array, across: Array, up: Array) -> Array:
    """Return the equivalent stress of one normal stress with shear along two axes, sqrt(sigma2 + 3 tau2), Pa."""
    return np.asarray(np.sqrt(normal**2 + SHEAR_COUNTS * (across**2 + up**2)), dtype=np.float64)


def equivalent_in_sheet(xx: Array, yy: Array, xy: Array) -> Array:
    """Return the equivalent stress of plane stress, sqrt(xx2 - xx yy + yy2 + 3 xy2), in the unit of its parts."""
    return np.asarray(np.sqrt(xx**2 - xx * yy + yy**2 + SHEAR_COUNTS * xy**2), dtype=np.float64)
