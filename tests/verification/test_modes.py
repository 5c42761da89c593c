"""Natural frequencies against published tables and closed forms."""

from __future__ import annotations

from math import inf, pi, sqrt

import numpy as np
import pytest
from scipy.optimize import brentq

from framecheck.frame.modes import CarriedMass, Modes, Standing, WheelSpring, natural_modes
from framecheck.frame.results import Bound
from framecheck.model.frame import EndWarping, Frame, Make, Member, MemberEnd, Mount, StiffBody, Stretch
from framecheck.model.loads import Support
from framecheck.section.properties import SectionProperties
from tests.verification.manual import Held, Kind, proof

HELD = (inf,) * 6
RIGID = MemberEnd(Make.RIGID, EndWarping.FREE)
# PyNite's modal test beam: 20 m, E 200 GPa, A 0.01 m2, I 8.33e-6 m4, 7800 N/m3 with g = 9.81
LENGTH, E, AREA, SECOND, LINE = 20.0, 200e9, 0.01, 8.33e-6, 7800 / 9.81 * 0.01


def section(up: float = SECOND, sideways: float = 4 * SECOND, twist: float = 2e-6) -> SectionProperties:
    return SectionProperties(
        "bar", AREA, LINE, (0.0, 0.0), up, sideways, 0.0, twist, 0.0, (0.0, 0.0), inf, inf, 0.0, 0.0, (0.0,) * 4, True,
        E, 77e9, 250e6, "given",
    )  # fmt: skip


def bar(supports: tuple[Support, ...] = (), bodies: tuple[StiffBody, ...] = ()) -> Frame:
    member = Member("bar", ("a", "b"), (Stretch("bar"),), start=RIGID, end=RIGID)
    return Frame({"a": (0.0, 0.0, 0.0), "b": (LENGTH, 0.0, 0.0)}, (member,), {}, supports, stiff_bodies=bodies)


def found(frame: Frame, standing: Standing, **more: object) -> Modes:
    return natural_modes(frame, {"bar": section()}, Bound(), standing, **more)  # type: ignore[arg-type]


def of(modes: Modes, motion: str) -> list[float]:
    return [mode.frequency for mode in modes.modes if mode.motion == motion]


@proof(Kind.FORMULA)
def test_a_cantilevers_first_three(held: Held) -> None:
    """Beta^2/(2 pi L^2) sqrt(EI/m), beta 1.87510, 4.69409, 7.85476 (vibration tables); 0.640377, 4.013173,
    11.236999 Hz for the beam of PyNite's Testing/test_modal_analysis.py.
    """
    modes = found(bar((Support("a", HELD),)), Standing.SUPPORTED, count=6)
    held(of(modes, "bends upwards")[:3], [0.640377, 4.013173, 11.236999], rel=2e-4)
    held(of(modes, "bends sideways")[0], 2 * 0.640377, rel=2e-4)


@proof(Kind.MEMORY)
def test_a_free_free_beams_first_three(held: Held) -> None:
    """Beta 4.73004, 7.85320, 10.99561 (R. D. Blevins, Formulas for Natural Frequency and Mode Shape, table 8-1;
    from memory).
    """
    modes = found(bar(), Standing.FREE, count=8)
    by_table = [b**2 / (2 * pi * LENGTH**2) * sqrt(E * SECOND / LINE) for b in (4.73004, 7.85320, 10.99561)]
    held(of(modes, "bends upwards")[:3], by_table, rel=3e-4)
    held(of(modes, "bends sideways")[:1], [2 * by_table[0]], rel=3e-4)


@proof(Kind.DERIVED)
def test_a_beam_on_two_supports(held: Held) -> None:
    """(n pi)^2/(2 pi L^2) sqrt(EI/m), n = 1, 2, 3."""
    ends = (Support("a", (inf, inf, inf, inf, 0, 0)), Support("b", (0, inf, inf, 0, 0, 0)))
    modes = found(bar(ends), Standing.SUPPORTED, count=6)
    by_hand = [(n * pi) ** 2 / (2 * pi * LENGTH**2) * sqrt(E * SECOND / LINE) for n in (1, 2, 3)]
    held(of(modes, "bends upwards")[:3], by_hand, rel=3e-4)


@proof(Kind.DERIVED)
def test_a_mass_at_a_cantilevers_tip(held: Held) -> None:
    """1 + cos b cosh b + mu b (cos b sinh b - sin b cosh b) = 0, mu = tip mass / beam's mass (vibration
    textbooks).
    """
    mass = 120.0
    mu = mass / (LINE * LENGTH)

    def equation(b: float) -> float:
        return 1 + np.cos(b) * np.cosh(b) + mu * b * (np.cos(b) * np.sinh(b) - np.sin(b) * np.cosh(b))

    betas = [brentq(equation, 0.5, 2.0), brentq(equation, 3.0, 4.7)]
    by_hand = [b**2 / (2 * pi * LENGTH**2) * sqrt(E * SECOND / LINE) for b in betas]
    tip = CarriedMass("tip", mass, ("b",), np.eye(6))
    modes = found(bar((Support("a", HELD),)), Standing.SUPPORTED, masses=(tip,), count=6)
    held(of(modes, "bends upwards")[:2], by_hand, rel=2e-4)
    held(dict(modes.modes[0].parts)["tip"] + dict(modes.modes[0].parts)["frame"], 1.0)


def test_a_body_on_soft_mounts_is_a_mass_on_springs() -> None:
    # three equal vertical mounts round the mass: sqrt(k/m) upwards, the bar being held at both ends and far stiffer
    frame = short_table()
    modes = natural_modes(frame, {"bar": section()}, Bound(), Standing.SUPPORTED, count=6)
    body = [mode for mode in modes.modes if mode.parts[0][0] == "engine" and mode.parts[0][1] > 0.99]
    rates = (3 * 8e3, 3 * 5e3, 3 * 2e3)  # z, y, x
    by_hand = sorted(sqrt(rate / 150.0) / (2 * pi) for rate in rates)
    seen = [mode.frequency for mode in body]
    for frequency in by_hand:
        assert any(each == pytest.approx(frequency, rel=2e-3) for each in seen), (frequency, seen)


def short_table() -> Frame:
    """Return three stiff posts under a body whose centre of mass lies in the plane and the middle of its three mounts."""
    feet = {f"foot {i}": (x, y, 0.0) for i, (x, y) in enumerate(((0.4, 0.0), (-0.2, 0.3464), (-0.2, -0.3464)))}
    tops = {f"top {i}": (x, y, 0.2) for i, (x, y, _) in enumerate(feet.values())}
    posts = tuple(
        Member(f"post {i}", (f"foot {i}", f"top {i}"), (Stretch("bar"),), start=RIGID, end=RIGID) for i in range(3)
    )
    mounts = tuple(Mount(f"top {i}", (2e3, 5e3, 8e3)) for i in range(3))
    body = StiffBody("engine", 150.0, (0.0, 0.0, 0.2), mounts, (0.2, 0.2, 0.2))
    return Frame({**feet, **tops}, posts, {}, tuple(Support(name, HELD) for name in feet), stiff_bodies=(body,))


@proof(Kind.DERIVED)
def test_a_bar_on_two_wheel_springs_heaves_and_pitches(held: Held) -> None:
    """Far stiffer than its springs: heave sqrt(2k/m), pitch sqrt(2k (L/2)^2 / (m L^2/12)) = sqrt(3) times as much."""
    rate, up = 20.0, np.array([0.0, 0.0, 1.0, 0.0, 0.0, 0.0])
    springs = tuple(WheelSpring(name, rate, (name,), up) for name in ("a", "b"))
    modes = found(bar(), Standing.WHEELS, springs=springs, count=4)
    heave = sqrt(2 * rate / (LINE * LENGTH)) / (2 * pi)
    held([mode.frequency for mode in modes.modes[:2]], [heave, sqrt(3) * heave], rel=2e-2)


def test_a_free_shaft_twists() -> None:
    # n/(2 L) sqrt(GJ / (rho Ip)), n = 1, 2 (vibration textbooks)
    shaft = section(up=8e-6, sideways=8e-6, twist=1e-8)
    modes = natural_modes(bar(), {"bar": shaft}, Bound(), Standing.FREE, count=16)
    first = sqrt(77e9 * 1e-8 / (LINE / AREA * 16e-6)) / (2 * LENGTH)
    seen = [mode.frequency for mode in modes.modes]
    for n in (1, 2):
        assert any(each == pytest.approx(n * first, rel=1e-3) for each in seen), (n * first, seen)
