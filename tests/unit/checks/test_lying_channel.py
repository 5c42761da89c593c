"""A channel that stands on a wall with its open side across the rail: its web alone folds the wall, its web and flanges punch it.

By hand from EN 1993-1-8:2005, table 7.11 (N = fy t0^2 / (1 - beta) x (2 eta + 4 sqrt(1 - beta))) and 7.14 about the rail, from
memory, and from the shear yield stress fy / sqrt 3 along what is welded; that a stiff patch within another one never bears
more is a theorem of limit analysis.
"""

from __future__ import annotations

from math import sqrt

import pytest

from framecheck.checks.face_strength import branch_yields, face, punched
from framecheck.checks.feet import EndOnWall, feet_of
from framecheck.reading.case_file import read_case
from tests.cases.test_sections import LIBRARY
from tests.properties.test_quarter_turns import FRAME, POSTS

B0, T0, FY = 0.090, 0.004, 340e6
H, FLANGE, T = 0.070, 0.060, 0.003


def foot(roll: float) -> EndOnWall:
    """Return a channel 70 x 60 x 3 on a wall 90 x 4, turned about its length, deg."""
    places = {"at": 0.0, "middle": 480.0, "end": 1000.0, "top": 480.0, "across": 0.0}
    text = FRAME.format(**places, roll=roll, push=0.0, width=90, make="butt on one face", post=POSTS[1].replace("40", "60"), leg="")
    ((found,),) = feet_of(read_case(text, "case.yaml", LIBRARY).frame)
    return found


LYING = next(roll for roll in (0.0, 90.0) if not foot(roll).upright)


@pytest.mark.parametrize("roll", [LYING, LYING + 180.0])
def test_its_web_folds_the_wall(roll: float) -> None:
    lying = foot(roll)
    assert (lying.branch.b1, lying.branch.h1) == pytest.approx((FLANGE, H))
    b0 = lying.wall.b0
    beta = T / b0
    by_hand = FY * T0**2 / (1 - beta) * (2 * H / b0 + 4 * sqrt(1 - beta))
    assert face(lying).pull == pytest.approx(by_hand, rel=1e-6)
    about_rail = FY * T0**2 * (H * (1 + beta) / (2 * (1 - beta)) + sqrt(2 * b0 * T * (1 + beta) / (1 - beta)))
    assert face(lying).about_rail == pytest.approx(about_rail, rel=1e-6)


def test_its_web_and_flanges_punch_the_wall() -> None:
    """What counts of each flange: 10 / (b0 / t0) x b1 at most (the same table); twist about the rail by the flanges alone."""
    lying = foot(LYING)
    counts = min(10 / (lying.wall.b0 / T0) * FLANGE, FLANGE)
    along = FY / sqrt(3) * T0
    assert punched(lying).pull == pytest.approx(along * (H + 2 * counts), rel=1e-6)
    assert punched(lying).in_plane == pytest.approx(along * (H**2 / 4 + H * counts), rel=1e-6)
    assert punched(lying).about_rail == pytest.approx(along * 2 * (FLANGE**2 - (FLANGE - counts) ** 2) / 4, rel=1e-6)


def test_upright_it_is_open_at_one_end() -> None:
    """Both flanges along the rail and the web across it punch: 2 x 60 and what counts of 70."""
    upright = foot(90.0 - LYING)
    assert upright.upright
    counts = min(10 / (upright.wall.b0 / T0) * H, H)
    assert punched(upright).pull == pytest.approx(FY / sqrt(3) * T0 * (2 * FLANGE + counts), rel=1e-6)
    assert branch_yields(upright).pull > 0.0
