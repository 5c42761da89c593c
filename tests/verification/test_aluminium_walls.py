"""Local buckling of aluminium walls against printed worked examples, and the limits of the class where the lines meet."""

from __future__ import annotations

import numpy as np
import pytest
from pytest import approx

from framecheck.checks.formulas.en1999_1_1 import FACTORS, LIMITS, epsilon_of, gradient_factor, round_class, share_left
from framecheck.model.shop_tables import BucklingClass, Material
from tests.verification.manual import FrontDoor, Held, Kind, proof

T6 = Material(
    "6082 T6", 70e9, 27e9, 2700.0, 200e6, 250e6, "for a test", kind="aluminium", buckling_class=BucklingClass.A
)

STRUT = """title: square hollow section under compression
origin: a
materials:
  - {name: T6, kind: aluminium, buckling class: A, youngs modulus: 70 GPa, density: 2700 kg/m3, yield strength: 200 MPa,
     ultimate strength: 250 MPa, source: a worked example}
sections:
  tube: {shape: rectangular tube, height: 70 mm, width: 70 mm, wall: 1.9 mm, outside radius: 0 mm, material: T6}
frame:
  points: {a: {x: 0 mm, y: 0 mm, z: 0 mm}, b: {x: 1000 mm, y: 0 mm, z: 0 mm}}
  members:
    - {name: strut, points: [a, b], section: tube, ends: pinned}
  supports:
    - {point: a, held: [x, y, z, turn x, turn y, turn z]}
    - {point: b, held: [y, z, turn y, turn z]}
load cases:
  - squeeze:
      forces:
        - {point: b, force: {x: -5 kN}}
"""


def left(slenderness: float, kind: BucklingClass = BucklingClass.A, free: bool = False, welded: bool = False) -> float:
    """Return rho_c of one wall."""
    limit, constants = LIMITS[kind, free, welded][2], FACTORS[kind, free, welded]
    found = share_left(
        np.array(slenderness), (np.array(constants[0]), np.array(constants[1])), np.array(limit), np.array(free)
    )
    return float(found)


@proof(Kind.PRINTED)
def test_a_square_hollow_section_under_compression(held: Held) -> None:
    """TALAT lecture 2301 (T. Hoeglund, 1999), example 5.1: 70 x 70 x 1.9 mm, fo 200 MPa: beta 34.8, epsilon 1.118, limits 12.3, 17.9,
    24.6, so class 4; rho_c 0.80, Aeff 414.2 mm2 along the middle of the walls.
    """
    held(epsilon_of(200e6), 1.118, abs=5e-4)
    held([each * epsilon_of(200e6) for each in LIMITS[BucklingClass.A, False, False]], [12.3, 17.9, 24.6], abs=0.05)
    share = left(66.2 / 1.9 / epsilon_of(200e6))
    held(share, 0.80, abs=5e-3)
    held(4 * 68.1 * share * 1.9, 414.2, rel=1e-3)


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("beta", "over_epsilon", "share"), [(8.333, 9.129, 1.0), (25.927, 28.402, 0.854), (30.0, 32.863, 0.770)]
)
def test_walls_of_a_hollow_extrusion(held: Held, beta: float, over_epsilon: float, share: float) -> None:
    """TALAT lecture 2301 (T. Hoeglund, 1999), example 5.2: walls of 1.2 mm, fo 300 MPa, table of beta / epsilon and rho_c."""
    held(beta / epsilon_of(300e6), over_epsilon, rel=1e-4)
    held(left(over_epsilon), share, abs=6e-4)


@proof(Kind.FORMULA)
def test_the_hollow_section_from_yaml_to_json(held: Held, front_door: FrontDoor) -> None:
    """TALAT lecture 2301, example 5.1: Aeff fo = 414.2 x 200 = 82.8 kN against 5 kN, so little that the moved strut makes no force
    larger. Its area is along the middle of the walls with the corners thinned too: ours is 0.7 % more.
    """
    rows = front_door(STRUT)["checks"]
    row = next(each for each in rows if each["check"] == "local buckling")
    held(row["safety_factor"], 414.2 * 200 / 5e3, rel=1e-2)
    assert "class 4" in row["words"]
    assert "EN 1999-1-1" in row["source"]


@pytest.mark.parametrize("key", LIMITS)
def test_nothing_jumps_at_the_limit_of_class_3(key: tuple[BucklingClass, bool, bool]) -> None:
    """Table 6.3 gives 1 at beta3 of table 6.2, for every kind of wall: so the two tables, each from memory, bear one another out."""
    limit = LIMITS[key][2]
    assert left(limit * (1 + 1e-9), *key) == approx(1.0, abs=1e-9)
    assert left(limit * 1.01, *key) < 1.0


@proof(Kind.MEMORY)
def test_a_wall_bent_about_its_middle_counts_four_tenths(held: Held) -> None:
    """EN 1999-1-1:2007, eq. (6.2), from memory: beta = 0.40 b/t with the neutral axis in the middle; figure 6.2 meets there."""
    no = np.array([False, False, False, True])
    held(gradient_factor(np.array([-1.0, -1.0 - 1e-9, 1.0, -1.0]), no).tolist(), [0.40, 0.40, 1.0, 1.0], abs=1e-8)


@proof(Kind.MEMORY)
def test_a_wall_beside_a_weld_keeps_the_lesser_of_both_reductions(held: Held, front_door: FrontDoor) -> None:
    """EN 1999-1-1:2007, 6.1.6, from memory: min(rho_c, rho_haz). Half the yield beside welds governs over walls that keep 80 %."""
    text = STRUT.replace("ultimate strength: 250 MPa,", "ultimate strength: 250 MPa, welded yield strength: 100 MPa,")
    text = text.replace("ends: pinned", "ends: rigid").replace("1000 mm", "45 mm")
    rows = front_door(text)["checks"]
    row = next(each for each in rows if each["check"] == "local buckling")
    held(row["safety_factor"], 4 * 68.1 * 1.9 * 100 / 5e3, rel=2e-3)


def test_round_tubes_are_ranked_by_the_root_of_their_slenderness() -> None:
    """EN 1999-1-1:2007, 6.1.4.3, from memory: beta = 3 sqrt(D / t) against internal walls: D / t 9 gives 9, 36 gives 18."""
    assert round_class(9.0, T6) == 1
    assert round_class(36.0 * 1.2, T6) == 3
    assert round_class(60.0, T6) == 4
