"""Small problems with known answers, solved on the machine at hand: does this installation compute what it should?"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import inf, isfinite, sqrt, tanh

from framecheck.errors import MeshError
from framecheck.frame.results import FrameSolution
from framecheck.frame.solve import solve_frame, structure_of
from framecheck.model.frame import EndWarping, Frame, Make, Member, MemberEnd, Section, Stretch
from framecheck.model.loads import CaseLoads, PointLoad, Support
from framecheck.model.shapes import Flat
from framecheck.model.shop_tables import Material
from framecheck.section.properties import SectionProperties
from framecheck.value_class import value_class

STEEL = Material("steel", 200e9, 80e9, 7850.0, 250e6, 400e6, "round numbers")
LENGTH, PUSH, TORQUE = 1.0, 1000.0, 100.0
FIXED_END = (inf,) * 6


@value_class
class KnownAnswer:
    """A problem, what came out, what is known, the share that they may differ by, and where the known answer is from."""

    problem: str
    found: float
    known: float
    tolerance: float
    source: str

    @property
    def holds(self) -> bool:
        """Return whether what came out is what is known."""
        return isfinite(self.found) and abs(self.found - self.known) <= self.tolerance * abs(self.known)


def known_answers() -> Iterator[KnownAnswer | str]:
    """Yield each problem solved, or a sentence on why it could not be."""
    problems: tuple[Callable[[], KnownAnswer], ...] = (meshed_area, meshed_torsion, cantilever_tip, held_twist)
    for problem in problems:
        try:
            yield problem()
        except MeshError as error:
            yield str(error)


def meshed_area() -> KnownAnswer:
    """Return the area of a meshed flat bar, m2."""
    return KnownAnswer("area of a meshed bar 20 x 10 mm, m2", _bar().area, 0.02 * 0.01, 1e-9, "width x thickness")


def meshed_torsion() -> KnownAnswer:
    """Return the torsion constant of a meshed flat bar, m4."""
    return KnownAnswer(
        "its torsion constant, m4", _bar().torsion_constant, 0.2287 * 0.02 * 0.01**3, 2e-3,
        "S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, table of rectangular bars: 0.2287 a b3",
    )  # fmt: skip


def _bar() -> SectionProperties:
    """Return a solid bar 20 x 10 mm, meshed anew; MeshError where the mesher is missing."""
    from framecheck.section.mesh import require_mesher
    from framecheck.section.meshed_section import meshed_properties
    from framecheck.section.outline_built_up import parts_of
    from framecheck.section.walls import walls_of

    require_mesher()
    section = Section("bar", Flat(0.02, 0.01), STEEL)
    return meshed_properties(section, parts_of(section.shape), walls_of(section.shape))


def cantilever_tip() -> KnownAnswer:
    """Return how far the tip of a cantilever sinks, m."""
    s = _by_numbers()
    moved = _solved(s, (0.0, 0.0, -PUSH), (0.0, 0.0, 0.0)).displacements[1, 0, 2]
    known = PUSH * LENGTH**3 / (3 * s.youngs_modulus * s.i_vertical)
    known += PUSH * LENGTH / (s.shear_modulus * s.shear_area_vertical)
    return KnownAnswer("tip of a cantilever, m", float(-moved), known, 1e-9, "P L3 / 3 E I + P L / G As, beam theory")


def held_twist() -> KnownAnswer:
    """Return the twist of an open bar that is kept from warping at one end, rad."""
    s = _by_numbers()
    turned = _solved(s, (0.0, 0.0, 0.0), (TORQUE, 0.0, 0.0)).displacements[1, 0, 3]
    twist_stiffness = s.shear_modulus * s.torsion_constant
    kl = LENGTH * sqrt(twist_stiffness / (s.youngs_modulus * s.warping_constant))
    known = TORQUE * LENGTH / twist_stiffness * (1 - tanh(kl) / kl)
    source = "T L / G J x (1 - tanh kL / kL), V. Z. Vlasov's theory of thin-walled bars"
    return KnownAnswer("twist of a bar kept from warping, rad", float(turned), known, 1e-9, source)


def _by_numbers() -> SectionProperties:
    """Return a section about as stiff as a 4 in channel, by round numbers."""
    return SectionProperties(
        name="s", area=5e-4, mass_per_length=4.0, centroid=(0.0, 0.0), i_vertical=8e-7, i_sideways=1e-7, i_product=0.0,
        torsion_constant=1.5e-9, warping_constant=2e-10, shear_centre=(0.0, 0.0), shear_area_vertical=2e-4,
        shear_area_sideways=2e-4, plastic_modulus_vertical=0.0, plastic_modulus_sideways=0.0, box=(-0.02, 0.02, -0.05, 0.05),
        closed=False, youngs_modulus=200e9, shear_modulus=80e9, yield_strength=250e6, engine="given",
    )  # fmt: skip


def _solved(
    section: SectionProperties, force: tuple[float, float, float], moment: tuple[float, float, float]
) -> FrameSolution:
    """Return a cantilever 1 m long, warping held at its wall and free at its tip, with one load on the tip."""
    wall, tip = MemberEnd(Make.RIGID, EndWarping.FIXED), MemberEnd(Make.RIGID, EndWarping.FREE)
    member = Member("bar", ("wall", "tip"), (Stretch("s"),), start=wall, end=tip)
    points = {"wall": (0.0, 0.0, 0.0), "tip": (LENGTH, 0.0, 0.0)}
    frame = Frame(points, (member,), {}, (Support("wall", FIXED_END),))
    return solve_frame(structure_of(frame, {"s": section}), [CaseLoads("load", (PointLoad("tip", force, moment),))])
