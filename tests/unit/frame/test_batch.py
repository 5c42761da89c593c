"""Variants solved at once are the frames solved one by one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import inf

import numpy as np
import pytest
from pytest import approx

from framecheck.errors import MechanismError, UnsolvableError
from framecheck.frame.batch import solve_variants
from framecheck.frame.element import section_table
from framecheck.frame.solve import answered, structure_of
from framecheck.model.frame import Frame, Make, Member, MemberEnd, Mount, StiffBody, Stretch
from framecheck.model.loads import (
    BodyLoad,
    CaseLoads,
    MemberLoad,
    Motion,
    MovedSupport,
    PointLoad,
    PointSpring,
    Support,
    Warming,
)
from framecheck.section.properties import SectionProperties
from tests.unit.frame.at_stations import at
from tests.unit.frame.frames import PLACED, RIGID, bar, section

OPEN = section("open", warping=3e-10, j=2e-9, centroid=(0.01, 0.0), shear_centre=(0.03, 0.0), shear_areas=(4e-4, 3e-4))
THICK = replace(OPEN, name="thick", area=2e-3, torsion_constant=9e-9, shear_centre=(0.025, 0.002))
POINTS = {
    "L0": (0.0, 0.4, 0.0),
    "L1": (1.0, 0.4, 0.0),
    "L2": (2.5, 0.4, 0.1),
    "R0": (0.0, -0.4, 0.0),
    "R1": (1.0, -0.4, 0.0),
    "R2": (2.5, -0.4, 0.1),
}
SPRUNG = MemberEnd(Make.GIVEN, stiffness=(inf, inf, inf, 4e3, 5e3, inf), arm=(0.0, -0.03, 0.0))
MEMBERS = (
    Member("left", ("L0", "L1", "L2"), (Stretch("open", 0.6), Stretch("thick")), start=RIGID, end=RIGID),
    bar("right", "R0", "R1", "R2", of="thick"),
    bar("front", "L0", "R0", of="s"),
    bar("middle", "L1", "R1", start=SPRUNG, end=MemberEnd(Make.PINNED), of="s"),
    bar("rear", "L2", "R2", of="s"),
)
ENGINE = StiffBody("engine", 100.0, (0.9, 0.0, 0.3), tuple(Mount(p, (1e5, 2e5, 3e5)) for p in ("L1", "R1", "R0")))
FRAME = Frame(
    POINTS,
    MEMBERS,
    {},
    (
        Support("L0", (inf, inf, inf, 1e4, 0.0, 0.0)),
        Support("R0", (inf, 0.0, inf, 0.0, 0.0, 0.0)),
        Support("L2", (0.0, inf, inf, 0.0, 0.0, 0.0)),
    ),
    (PointSpring("stay", ("L0", "R1"), (1e4, 2e4, 3e4, 0.0, 0.0, 0.0)),),
    stiff_bodies=(ENGINE,),
)
CASES = (
    CaseLoads(
        "push",
        (PointLoad("R2", (100.0, 50.0, -800.0), (1.0, 2.0, 3.0)),),
        body_loads=(BodyLoad("engine", (0.0, 30.0, -900.0)),),
    ),
    CaseLoads(
        "lines",
        member_loads=(
            MemberLoad("left", (0.0, 10.0, -300.0), (0.0, 0.0, -100.0), 0.3, 1.7),
            MemberLoad("rear", (0.0, 0.0, -50.0), (0.0, 0.0, 0.0), 0.2, 0.2),
        ),
        motion=Motion((0.0, 1.0, -9.81), (0.5, 0.0, 0.0)),
    ),
    CaseLoads("moved", moved_supports=(MovedSupport("L2", 2, 0.01),)),
)


def variant(k: int) -> dict[str, SectionProperties]:
    """Return the sections of a variant: all numbers change, the thick one's shear centre too."""
    grow = 1.0 + 0.1 * k
    moved = (0.025 + 0.001 * k, 0.002 - 0.0005 * k)
    return {
        "s": section(area=1e-3 * grow, i_vertical=1e-6 * grow**2, mass=7.85 * grow),
        "open": replace(OPEN, warping_constant=3e-10 * grow, i_sideways=4e-7 * grow, centroid=(0.01 + 0.001 * k, 0.0)),
        "thick": replace(THICK, torsion_constant=9e-9 * grow, shear_centre=moved),
    }


def tables(frame: Frame, variants: list[dict[str, SectionProperties]]) -> np.ndarray:  # type: ignore[type-arg]
    keys = structure_of(frame, variants[0]).pieces.keys
    return np.stack([section_table([each[name] for _, name in keys]) for each in variants])


def compare(frame: Frame, cases: tuple[CaseLoads, ...], varied: Callable[[int], dict[str, SectionProperties]] = variant) -> None:
    variants = [varied(k) for k in range(70)]  # more than one chunk
    structure = structure_of(frame, variants[0])
    batch = solve_variants(structure, tables(frame, variants), cases)
    for k in (0, 1, 30, 69):
        alone = answered(structure_of(frame, variants[k]), cases)
        count = len(frame.points)
        moved = alone.unknowns[: 6 * count].reshape(count, 6, -1).transpose(0, 2, 1)
        assert batch.displacements[k] == approx(moved, rel=1e-7, abs=1e-9 * float(np.abs(moved).max()))
        for number, member in enumerate(frame.members):
            here = np.flatnonzero(batch.member == number)[1:-1:3]
            own = batch.stations[batch.member == number]
            inside = [i for i in here.tolist() if np.sum(np.abs(own - batch.stations[i]) < 1e-9) == 1]
            expected = at(alone, member.name, batch.stations[inside].tolist()).forces
            assert batch.forces[k][inside] == approx(expected, rel=1e-6, abs=1e-6 * float(np.abs(expected).max()))


def test_variants_on_supports() -> None:
    compare(FRAME, CASES)


def test_variants_that_hang_on_nothing() -> None:
    up, down = (0.0, 0.0, 400.0), (0.0, 0.0, -400.0)
    twist = CaseLoads(
        "twist", tuple(PointLoad(p, f) for p, f in (("L0", up), ("R0", down), ("L2", down), ("R2", up))), free_free=True
    )
    compare(FRAME, (twist, replace(twist, name="from four", reference=("L0", "R0", "L2", "R2"))))


def test_mixed_cases_are_refused() -> None:
    with pytest.raises(UnsolvableError, match="give them apart"):
        solve_variants(
            structure_of(FRAME, variant(0)), tables(FRAME, [variant(0)]), (CASES[0], CaseLoads("still", free_free=True))
        )


def test_a_mechanism_is_named_here_too() -> None:
    loose = replace(FRAME, supports=(Support("L0", PLACED),))
    with pytest.raises(MechanismError, match="the whole frame is free to move"):
        solve_variants(structure_of(loose, variant(0)), tables(loose, [variant(0)]), CASES[:1])


def in_place(k: int) -> dict[str, SectionProperties]:
    """Return the sections of a variant, closed, that all turn about the same places; the thin ones' axes are not upright."""
    found = {
        name: each if name == "s" else replace(each, centroid=(0.01, 0.0), shear_centre=(0.02, 0.001), closed=True)
        for name, each in variant(k).items()
    }
    return found | {"open": replace(found["open"], i_product=1e-7 * (1 + 0.1 * k))}


def test_variants_whose_sections_stay_in_place() -> None:
    """No warping, centroids and shear centres unmoved: a variant is a sum of parts fixed for all."""
    warm = CaseLoads("warm", (PointLoad("L1", (0.0, 0.0, 5.0)),), warmings=(Warming("right", 30.0, 12e-6),))
    compare(FRAME, (*CASES, warm), in_place)


def test_variants_in_place_that_hang_on_nothing() -> None:
    up, down = (0.0, 0.0, 400.0), (0.0, 0.0, -400.0)
    twist = tuple(PointLoad(p, f) for p, f in (("L0", up), ("R0", down), ("L2", down), ("R2", up)))
    leaning = (Support("L0", PLACED), Support("R1", (0.0, 0.0, inf, 0.0, 0.0, 0.0)))
    compare(
        replace(FRAME, supports=leaning),
        (CaseLoads("twist", twist, free_free=True), CaseLoads("from three", twist, free_free=True, reference=("L0", "R0", "R2"))),
        in_place,
    )
