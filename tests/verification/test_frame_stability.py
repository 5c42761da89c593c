"""Buckling of whole frames against closed forms and published frames; none of them knows of our elements."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf, pi, sqrt, tan

import numpy as np
import pytest
from scipy.optimize import brentq

from framecheck.frame.results import FrameSolution
from framecheck.frame.solve import answered, structure_of
from framecheck.frame.stability import frame_buckling, stable_solutions
from framecheck.model.arrays import Vector
from framecheck.model.frame import EndWarping, Frame, Make, Member, MemberEnd, Section, Stretch
from framecheck.model.loads import CaseLoads, MemberLoad, PointLoad, Support
from framecheck.model.shapes import Flat
from framecheck.model.shop_tables import Material
from framecheck.section.properties import SectionProperties
from tests.verification.manual import Held, Kind, proof

IN, KSI, KIP = 0.0254, 6.894757e6, 4448.2216
E, G, L = 200e9, 80e9, 3.0
STEEL = Material("steel", E, G, 7850.0, 355e6, 470e6, "round numbers")
FIXED = (inf,) * 6
PIN, SLIDE = (inf, inf, inf, inf, 0.0, 0.0), (0.0, inf, inf, inf, 0.0, 0.0)
RIGID = MemberEnd(Make.RIGID)
FREE = MemberEnd(Make.RIGID, EndWarping.FREE)
ENDS = {"a": (0.0, 0.0, 0.0), "b": (L, 0.0, 0.0)}


def section(**changes: object) -> SectionProperties:
    values: dict[str, object] = {
        "name": "s", "area": 1e-3, "mass_per_length": 7.85, "centroid": (0.0, 0.0), "i_vertical": 2e-6, "i_sideways": 1e-6,
        "i_product": 0.0, "torsion_constant": 1e-6, "warping_constant": 0.0, "shear_centre": (0.0, 0.0),
        "shear_area_vertical": inf, "shear_area_sideways": inf, "plastic_modulus_vertical": 1.0, "plastic_modulus_sideways": 1.0,
        "box": (-0.05, 0.05, -0.05, 0.05), "closed": True, "youngs_modulus": E, "shear_modulus": G, "yield_strength": 355e6,
        "engine": "by hand", **changes,
    }  # fmt: skip
    return SectionProperties(**values)  # type: ignore[arg-type]


def member(name: str, points: Sequence[str], start: MemberEnd = RIGID, end: MemberEnd = RIGID) -> Member:
    return Member(name, tuple(points), (Stretch("s"),), start=start, end=end)


def factor(
    points: Mapping[str, Vector],
    members: Sequence[Member],
    held: Mapping[str, tuple[float, ...]],
    loads: Sequence[PointLoad],
    made: SectionProperties,
    free_free: bool = False,
) -> float:
    supports = tuple(Support(name, tuple(stiffness)) for name, stiffness in held.items())  # type: ignore[arg-type]
    frame = Frame(points, tuple(members), {"s": Section("s", Flat(1.0, 1.0), STEEL)}, supports)
    found = answered(structure_of(frame, {"s": made}), [CaseLoads("case", tuple(loads), free_free=free_free)])
    buckling = frame_buckling(found, np.ones(1)).buckling
    assert buckling.settled.all()
    return float(buckling.factors[0])


COLUMNS = {
    "pinned": (PIN, SLIDE, 1.0),
    "fixed and free": (FIXED, (0.0,) * 6, 0.25),
    "fixed and pinned": (FIXED, SLIDE, (4.493409457909064 / pi) ** 2),
    "fixed": (FIXED, (0.0, inf, inf, inf, inf, inf), 4.0),
    "fixed and guided": (FIXED, (0.0, 0.0, 0.0, inf, inf, inf), 1.0),
}


@proof(Kind.MEMORY)
@pytest.mark.parametrize("ends", COLUMNS)
def test_columns(held: Held, ends: str) -> None:
    """S. Timoshenko, J. Gere, Theory of Elastic Stability, 2nd ed., 2.1, 2.2 (L. Euler): pi2 E I / (K L)2 of one element a column."""
    start, end, expected = COLUMNS[ends]
    euler = pi**2 * E * 1e-6 / L**2
    load = [PointLoad("b", (-euler / 10, 0.0, 0.0))]
    supports = {name: ways for name, ways in (("a", start), ("b", end)) if any(ways)}
    held(factor(ENDS, [member("m", "ab")], supports, load, section()) / 10, expected, rel=1e-5)


@proof(Kind.MEMORY)
@pytest.mark.parametrize("warping", [0.0, 5e-9])
def test_beam_under_an_even_moment(held: Held, warping: float) -> None:
    """S. Timoshenko, J. Gere, 6.2: M = pi / L sqrt(E Iy G J + pi2 / L2 E Iy E Cw), ends forked and free to warp."""
    made = section(i_vertical=4e-6, i_sideways=2e-7, torsion_constant=2e-9, warping_constant=warping, closed=False)
    lateral, torsion = E * 2e-7, G * 2e-9
    moment = pi / L * sqrt(lateral * torsion + (pi / L) ** 2 * lateral * E * warping)
    loads = [PointLoad("a", (0.0,) * 3, (0.0, moment / 5, 0.0)), PointLoad("b", (0.0,) * 3, (0.0, -moment / 5, 0.0))]
    found = factor(ENDS, [member("m", "ab", FREE, FREE)], {"a": PIN, "b": SLIDE}, loads, made)
    held(found / 5, 1.0, rel=1e-5)


BLADE = section(i_vertical=4e-6, i_sideways=2e-7, torsion_constant=2e-8)
BLADE_ROOT = sqrt(E * 2e-7 * G * 2e-8)


@proof(Kind.MEMORY)
def test_a_cantilever_blade(held: Held) -> None:
    """S. Timoshenko, J. Gere, 6.3: P = 4.013 sqrt(E Iy G J) / L2 at the centroid of a narrow rectangle's free end."""
    load = [PointLoad("b", (0.0, 0.0, -BLADE_ROOT / L**2))]
    held(factor(ENDS, [member("m", "ab")], {"a": FIXED}, load, BLADE), 4.013, rel=3e-4)


@proof(Kind.MEMORY)
def test_a_blade_loaded_at_mid_span(held: Held) -> None:
    """S. Timoshenko, J. Gere, 6.4: P = 16.94 sqrt(E Iy G J) / L2 at the centroid, ends forked."""
    points = {"a": (0.0, 0.0, 0.0), "m": (L / 2, 0.0, 0.0), "b": (L, 0.0, 0.0)}
    load = [PointLoad("m", (0.0, 0.0, -BLADE_ROOT / L**2))]
    held(factor(points, [member("m", "amb")], {"a": PIN, "b": SLIDE}, load, BLADE), 16.94, rel=5e-4)


ANGLE_FRAME = section(
    area=18.0, i_vertical=0.6 * 30**3 / 12, i_sideways=0.54, torsion_constant=2.16, youngs_modulus=71240.0, shear_modulus=27191.0
)


@proof(Kind.MEMORY)
@pytest.mark.parametrize(("push", "expected"), [(1.0, 1.088), (-1.0, 0.680)])
def test_a_right_angled_blade(held: Held, push: float, expected: float) -> None:
    """J. H. Argyris et al., Comput. Methods Appl. Mech. Eng. 20 (1979): right-angled cantilever frame, legs 240, 30 x 0.6, E 71 240,
    Poisson 0.31, force at the free end along the first leg: 1.088 and -0.680. Members that meet at an angle stay together.
    """
    points = {"a": (0.0, 0.0, 0.0), "c": (240.0, 0.0, 0.0), "d": (240.0, 0.0, -240.0)}
    load = [PointLoad("d", (push, 0.0, 0.0))]
    held(factor(points, [member("m", "ac"), member("n", "cd")], {"a": FIXED}, load, ANGLE_FRAME), expected, rel=2e-3)


@proof(Kind.MEMORY)
@pytest.mark.parametrize(("base", "expected"), [("pinned", 1.3496), ("fixed", 2.7165)])
def test_a_portal_sways(held: Held, base: str, expected: float) -> None:
    """S. Timoshenko, J. Gere, 2.4: columns h, beam b = h, all alike. u tan u = 6 on pins, tan u = -u / 6 fixed; P = u2 E I / h2."""
    equation = (lambda u: u * tan(u) - 6) if base == "pinned" else (lambda u: tan(u) + u / 6)
    low, high = (1.0, 1.5) if base == "pinned" else (1.7, 3.0)
    held(brentq(equation, low, high), expected, rel=1e-4)
    made = section(i_vertical=1e-6, i_sideways=1e-4, torsion_constant=1e-4, area=1.0)
    points = {"a": (0.0, 0.0, 0.0), "b": (0.0, 0.0, L), "c": (L, 0.0, L), "d": (L, 0.0, 0.0)}
    foot = FIXED if base == "fixed" else (inf, inf, inf, inf, 0.0, inf)
    load = [PointLoad(name, (0.0, 0.0, -E * 1e-6 / L**2)) for name in "bc"]
    members = [member("left", "ab"), member("beam", "bc"), member("right", "dc")]
    held(sqrt(factor(points, members, {"a": foot, "d": foot}, load, made)), expected, rel=3e-4)


@proof(Kind.FORMULA)
def test_a_channel_column_twists_as_it_bends(held: Held) -> None:
    """ANSI/AISC 360-22, eq. (E4-3): one axis of symmetry, shear centre beside the centroid, ends forked and free to warp."""
    area, off, warping, torsion, vertical, sideways = 6e-4, 0.035, 2e-10, 2e-9, 1e-6, 4e-7
    made = section(
        area=area, shear_centre=(off, 0.0), warping_constant=warping, torsion_constant=torsion, i_vertical=vertical,
        i_sideways=sideways, closed=False,
    )  # fmt: skip
    polar = (vertical + sideways) / area + off**2
    bend = pi**2 * E * vertical / L**2
    twist = (pi**2 * E * warping / L**2 + G * torsion) / polar
    share = 1 - off**2 / polar
    expected = (bend + twist) / (2 * share) * (1 - sqrt(1 - 4 * bend * twist * share / (bend + twist) ** 2))
    load = [PointLoad("b", (-expected / 10, 0.0, 0.0))]
    held(factor(ENDS, [member("m", "ab", FREE, FREE)], {"a": PIN, "b": SLIDE}, load, made) / 10, 1.0, rel=1e-4)


@proof(Kind.MEMORY)
def test_shear_softens_a_stocky_column(held: Held) -> None:
    """F. Engesser (1889), as in S. Timoshenko, J. Gere, 2.17: P = Pe / (1 + Pe / G As); here Pe / G As = 0.11, in four pieces."""
    made = section(shear_area_sideways=0.25e-3 / 9, shear_area_vertical=0.25e-3 / 9)
    euler = pi**2 * E * 1e-6 / L**2
    points = {name: (L / 4 * number, 0.0, 0.0) for number, name in enumerate("apqrb")}
    load = [PointLoad("b", (-euler / 10, 0.0, 0.0))]
    found = factor(points, [member("m", "apqrb")], {"a": PIN, "b": SLIDE}, load, made)
    held(found / 10, 1 / (1 + euler / (G * 0.25e-3 / 9)), rel=3e-3)


@proof(Kind.DERIVED)
def test_a_strut_that_hangs_on_nothing(held: Held) -> None:
    """Pushed at both ends and held by its own inertia alone, which a half wave does not need: pi2 E I / L2."""
    euler = pi**2 * E * 1e-6 / L**2
    points = {"a": (0.0, 0.0, 0.0), "m": (L / 2, 0.0, 0.0), "b": (L, 0.0, 0.0), "k": (L / 2, 0.1, 0.0)}
    loads = [PointLoad("a", (euler / 10, 0.0, 0.0)), PointLoad("b", (-euler / 10, 0.0, 0.0))]
    members = [member("m", "amb"), member("stub", "mk")]
    light = section(mass_per_length=0.0)
    held(factor(points, members, {}, loads, light, free_free=True) / 10, 1.0, rel=2e-3)


@proof(Kind.DERIVED)
def test_a_bent_pulled_or_idle_frame_never_buckles_as_a_column(held: Held) -> None:
    """Pulled, a strut has no positive load factor: what is told is the largest that is told."""
    held(factor(ENDS, [member("m", "ab")], {"a": PIN, "b": SLIDE}, [PointLoad("b", (1e4, 0.0, 0.0))], section()), 1e3)


W14X48 = section(
    area=14.1 * IN**2, i_vertical=484 * IN**4, i_sideways=484 * IN**4, torsion_constant=1e-4, youngs_modulus=29000 * KSI,
    shear_modulus=11200 * KSI, shear_area_vertical=13.8 * 0.34 * IN**2, shear_area_sideways=13.8 * 0.34 * IN**2,
)  # fmt: skip
HIGH = 28 * 12 * IN


def on_moved(points: Mapping[str, Vector], held_at: Mapping[str, tuple[float, ...]], loads: CaseLoads) -> FrameSolution:
    """Return a row of points as one member, solved on the moved frame at the loads themselves."""
    supports = tuple(Support(name, tuple(stiffness)) for name, stiffness in held_at.items())  # type: ignore[arg-type]
    frame = Frame(points, (member("m", list(points)),), {"s": Section("s", Flat(1.0, 1.0), STEEL)}, supports)
    answer = answered(structure_of(frame, {"s": W14X48}), [loads])
    return stable_solutions([answer], [frame_buckling(answer, np.ones(1))], {})[0]


@proof(Kind.MEMORY)
@pytest.mark.parametrize(("push", "moment", "sag"), [(150, 270, 0.230), (300, 316, 0.269), (450, 380, 0.322)])
def test_benchmark_of_a_beam_column(held: Held, push: float, moment: float, sag: float) -> None:
    """ANSI/AISC 360-10, commentary, figure C-C2.2 (case 1): W14x48, 28 ft, 0.2 kip/ft, pinned; moment in kip in and sag in inches at
    mid-span, shear counted.
    """
    points = {f"p{number}": (HIGH / 8 * number, 0.0, 0.0) for number in range(9)}
    line = 0.2 * KIP / (12 * IN)
    loads = CaseLoads("c", (PointLoad("p8", (-push * KIP, 0.0, 0.0)),), (MemberLoad("m", (0.0, 0.0, -line), (0.0, 0.0, -line)),))
    found = on_moved(points, {"p0": PIN, "p8": SLIDE}, loads)
    held(np.abs(found.members[0].forces[:, 0, 4]).max() / (KIP * IN), moment, rel=5e-3)
    held(-found.displacements[4, 0, 2] / IN, sag, rel=5e-3)


@proof(Kind.MEMORY)
@pytest.mark.parametrize(("push", "moment", "sway"), [(100, 470, 1.34), (150, 601, 1.77), (200, 856, 2.60)])
def test_benchmark_of_a_swaying_column(held: Held, push: float, moment: float, sway: float) -> None:
    """ANSI/AISC 360-10, commentary, figure C-C2.3 (case 2): W14x48 cantilever, 28 ft, 1 kip sideways at its top; moment at its foot in
    kip in and sway in inches, shear counted.
    """
    points = {"foot": (0.0, 0.0, 0.0), "top": (0.0, 0.0, HIGH)}
    loads = CaseLoads("c", (PointLoad("top", (KIP, 0.0, -push * KIP)),))
    found = on_moved(points, {"foot": FIXED}, loads)
    line = found.members[0]
    held(np.abs(line.forces[0, 0, 4:6]).max() / (KIP * IN), moment, rel=5e-3)
    held(found.displacements[1, 0, 0] / IN, sway, rel=5e-3)
