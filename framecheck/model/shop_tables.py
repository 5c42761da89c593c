"""Rows of the shop's tables: materials, bolts, welds and web crippling, each with its source and how that source was seen. SI."""

from __future__ import annotations

from enum import Enum

from framecheck.value_class import value_class


class Seen(Enum):
    """Opened, or quoted from memory: nobody could open it."""

    OPENED = "opened"
    MEMORY = "from memory"


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

    def plate_stiffness(self, thickness: float) -> float:
        """Return how stiff a plate is in bending, D = E t3 / (12 (1 - nu2)), Nm (plate theory)."""
        return self.youngs_modulus * thickness**3 / (12 * (1 - self.poissons_ratio**2))


@value_class
class Thread:
    """A thread: nominal diameter (m), tensile stress area (m2)."""

    name: str
    diameter: float
    stress_area: float
    source: str


@value_class
class BoltGrade:
    """A strength grade for bolts up to `largest_diameter` (m). Pa.

    shear_factor: shear strength over tensile strength (0.6; 0.5 for the hardest grades with the threads in the plane). like: the class
    of EN 1993-1-8 whose factor that is, where the grade is none of them.
    """

    name: str
    largest_diameter: float
    proof: float
    yield_strength: float
    tensile: float
    shear_factor: float
    source: str
    seen: Seen = Seen.OPENED
    like: str = ""


@value_class
class TorqueFactor:
    """K in torque = K x clamp x diameter for one state of the threads, least and most."""

    name: str
    least: float
    most: float
    source: str

    @property
    def middle(self) -> float:
        """Return the mean of the two ends of the range."""
        return 0.5 * (self.least + self.most)


class SlipRule(Enum):
    """The published ways to reckon slip."""

    AISC = "AISC"
    EN = "EN"
    PLAIN = "plain"


@value_class
class Surface:
    """A state of the faces in contact and its friction coefficient, under the rule it was published with."""

    name: str
    rule: SlipRule
    friction: float
    source: str
    seen: Seen = Seen.OPENED


@value_class
class HoleSize:
    """The standard hole (m) for a nominal bolt diameter (m)."""

    diameter: float
    hole: float
    source: str


@value_class
class EdgeDistance:
    """The least distance from a hole's centre to an edge (m) for bolts up to `diameter` (m)."""

    diameter: float
    least: float
    source: str
    seen: Seen = Seen.OPENED

    @property
    def name(self) -> str:
        """Return what it is called."""
        return "least edge distance"


@value_class
class Electrode:
    """A filler metal and its classification (tensile) strength, Pa.

    shear_share: nominal shear strength over it; metal: the kind it joins.
    """

    name: str
    strength: float
    shear_share: float
    source: str
    metal: str = "steel"
    seen: Seen = Seen.OPENED

    @property
    def shear(self) -> float:
        """Return the nominal shear strength on the throat, Pa."""
        return self.shear_share * self.strength


@value_class
class LeastLeg:
    """The least fillet leg (m) where the thinner part is up to `thickness` (m) thick."""

    thickness: float
    leg: float
    source: str
    seen: Seen = Seen.OPENED

    @property
    def name(self) -> str:
        """Return what it is called."""
        return "least leg"


@value_class
class CripplingRow:
    """Web crippling coefficients of one loading: Pn = C t2 Fy (1 - CR sqrt(R/t)) (1 + CN sqrt(N/t)) (1 - Ch
    sqrt(h/t)).
    """

    fastened: str
    flanges: str
    loading: str
    location: str
    c: float
    c_radius: float
    c_bearing: float
    c_slenderness: float
    safety: float
    largest_radius_ratio: float
    source: str
    seen: Seen = Seen.OPENED

    @property
    def name(self) -> str:
        """Return what it is called."""
        return "web crippling coefficients"


@value_class
class BoltTables:
    """Everything in shared/bolts.yaml."""

    threads: tuple[Thread, ...]
    grades: tuple[BoltGrade, ...]
    torque_factors: tuple[TorqueFactor, ...]
    surfaces: tuple[Surface, ...]
    holes: tuple[HoleSize, ...]
    edges: tuple[EdgeDistance, ...]


@value_class
class WeldTables:
    """Everything in shared/welds.yaml."""

    electrodes: tuple[Electrode, ...]
    least_legs: tuple[LeastLeg, ...]


@value_class
class JointTables:
    """What the joint checks look up: least edge distances of bolts, least legs of fillets, web crippling coefficients."""

    edges: tuple[EdgeDistance, ...] = ()
    least_legs: tuple[LeastLeg, ...] = ()
    crippling: tuple[CripplingRow, ...] = ()
