"""Materials."""

from __future__ import annotations

from enum import Enum

from framecheck.model.seen import Seen
from framecheck.value_class import value_class


class BucklingClass(Enum):
    """How aluminium bears compression beyond its limit of proportion: A heat-treated, B the rest. EN 1999-1-1:2007, 3.2.2."""

    A = "A"
    B = "B"


@value_class
class Material:
    """A metal with minimum strengths. Pa, kg/m3, 1/K.

    welded_yield, welded_ultimate: strengths beside a weld where welding lowers them (cold-worked tube, tempered aluminium),
    None where welding does not lower them. source: where the numbers come from. buckling_class: of aluminium; B bears less.
    design_share: of the wall that its tubes are sold by, the share that counts.
    """

    name: str
    youngs_modulus: float
    shear_modulus: float
    density: float
    yield_strength: float
    ultimate_strength: float
    source: str
    elongation: float | None = None
    welded_yield: float | None = None
    welded_ultimate: float | None = None
    kind: str = "steel"
    thermal_expansion: float = 11.7e-6
    buckling_class: BucklingClass = BucklingClass.B
    seen: Seen = Seen.OPENED
    design_share: float = 1.0

    @property
    def poissons_ratio(self) -> float:
        """Return E / 2G - 1 (isotropic elasticity)."""
        return self.youngs_modulus / (2 * self.shear_modulus) - 1
