"""Rows of shared/ and sections/, as the program loads them, against the very numbers that opened sources print."""

from __future__ import annotations

import pytest

from framecheck.reading.shop_tables import bolt_tables
from tests.cases.test_sections import LIBRARY
from tests.verification.manual import Held, Kind, proof

IN, KSI = 0.0254, 6.894757e6


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("name", "yields", "tears"), [("1010 hot-rolled sheet", 180, 320), ("1018 cold-drawn bar", 54 * 6.894757, 64 * 6.894757)]
)
def test_carbon_steels(held: Held, name: str, yields: float, tears: float) -> None:
    """J. E. Shigley, Mechanical Engineering Design, 9th ed., table A-20 (opened): 1010 HR 180 and 320 MPa, 1018 CD 54 and 64 kpsi."""
    metal = LIBRARY.material(name)
    held((metal.yield_strength, metal.ultimate_strength), (yields * 1e6, tears * 1e6), rel=1e-6)


@proof(Kind.PRINTED)
def test_a_bar_beside_a_weld_is_the_hot_rolled_one(held: Held) -> None:
    """The same table: 1018 HR 32 and 58 kpsi."""
    metal = LIBRARY.material("1018 cold-drawn bar")
    held((metal.welded_yield, metal.welded_ultimate), (32 * KSI, 58 * KSI), rel=1e-6)


@proof(Kind.PRINTED)
def test_the_softest_sheet(held: Held) -> None:
    """A stockist's table of estimated minimum values (opened): 1008 hot-rolled 24 000 and 44 000 psi; another has 24 500."""
    metal = LIBRARY.material("1008 hot-rolled sheet")
    held((metal.yield_strength, metal.ultimate_strength), (24 * KSI, 44 * KSI), rel=1e-6)


@proof(Kind.PRINTED)
@pytest.mark.parametrize(("name", "yields", "tears"), [("S235", 235, 360), ("S275", 275, 410), ("S355", 355, 470)])
def test_european_hollow_sections(held: Held, name: str, yields: float, tears: float) -> None:
    """EN 10210-1, table of mechanical properties, 6 to 16 mm, on a mill's page (opened): S235JRH, S275J0H, S355J2H."""
    metal = LIBRARY.material(name)
    held((metal.yield_strength, metal.ultimate_strength), (yields * 1e6, tears * 1e6), rel=1e-9)


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("size", "outside", "wall"),
    [("1", 1.315, 0.133), ("1 1/4", 1.660, 0.140), ("1 1/2", 1.900, 0.145), ("2", 2.375, 0.154), ("2 1/2", 2.875, 0.203),
     ("3", 3.500, 0.216)],
)  # fmt: skip
def test_pipes(held: Held, size: str, outside: float, wall: float) -> None:
    """A mill's table of ASTM A53 pipe, schedule 40 (opened): outside diameter and wall in inches."""
    row = LIBRARY.section(f"pipe {size} in schedule 40")
    assert row is not None
    held((row["diameter"], row["wall"]), (outside * IN, wall * IN), rel=1e-6)


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("size", "hole"), [(5, 5.5), (6, 6.6), (8, 9.0), (10, 11.0), (12, 13.5), (14, 15.5), (16, 17.5), (20, 22.0), (24, 26.0)]
)
def test_holes(held: Held, size: int, hole: float) -> None:
    """ISO 273, medium series, as two public tables print it (opened)."""
    rows = bolt_tables(LIBRARY.texts["shared/bolts.yaml"]).holes
    held(next(row.hole for row in rows if abs(row.diameter - size * 1e-3) < 1e-9), hole * 1e-3, rel=1e-9)
