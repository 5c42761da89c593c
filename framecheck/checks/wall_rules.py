"""The rules by which a section's walls buckle: those of its metal."""

from __future__ import annotations

import numpy as np

from framecheck.checks.aluminium_walls import SOURCE as ALUMINIUM
from framecheck.checks.aluminium_walls import aluminium_state
from framecheck.checks.effective import WallState, wall_state
from framecheck.checks.heat import Beside
from framecheck.checks.plate_buckling import epsilon_of
from framecheck.model.arrays import Array
from framecheck.model.materials import Material
from framecheck.section.properties import SectionProperties

STEEL = "EN 1993-1-5:2006, 4.4 (effective width at yield); class: EN 1993-1-1:2005, table 5.2, compressed share from elastic stress"
YOUNG = 210e9
"""Young's modulus that the European limits for steel hold for, Pa. EN 1993-1-1:2005, 3.2.6."""


def is_steel(metal: Material) -> bool:
    """Return whether the rules for steel hold."""
    return metal.kind == "steel"


def state_of(section: SectionProperties, forces: Array, metal: Material, near: Beside) -> WallState:
    """Return the state of every wall under rows of forces (n_bound, n_row, n_case, 9); near: how the rows stand to welds."""
    return wall_state(section, forces) if is_steel(metal) else aluminium_state(section, forces, metal, near)


def source_of(metal: Material) -> str:
    """Return where the rules stand."""
    return STEEL if is_steel(metal) else ALUMINIUM


def shear_epsilon(metal: Material, yield_strength: Array) -> Array:
    """Return epsilon of the limits of webs in shear, wall by wall; for another modulus than steel's times sqrt(E / 210 GPa).

    The limits stand for sqrt(shear yield / critical stress), and that goes by fy / E: EN 1993-1-5:2006, 5.3(3). EN 1999-1-1:2007,
    6.7.4, has lambda = 0.35 (h/t) sqrt(fo / E), which is the same.
    """
    return epsilon_of(yield_strength) * (1.0 if is_steel(metal) else float(np.sqrt(metal.youngs_modulus / YOUNG)))
