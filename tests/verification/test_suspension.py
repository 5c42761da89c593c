"""Statics of each suspension kind against an example worked by hand in its test, from the equations of equilibrium.

W: vertical wheel load, B: braking force at the contact patch, both 1000 N. Forces are what a bracket feels.
"""

from __future__ import annotations

from functools import partial

import numpy as np
import pytest

from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array
from framecheck.model.suspension import LateralLinkage, LeafAxle
from framecheck.model.vehicle import Axle
from framecheck.output.display import Units, spoken
from framecheck.vehicle.scene import Carried
from framecheck.vehicle.suspension import suspension_of
from tests.unit.vehicle.suspensions import (
    FRAME,
    at,
    bar,
    corner_axle,
    leaf,
    links,
    live_axle,
    strut,
    trailing,
    wishbones,
)
from tests.verification.manual import Held, Kind, proof

UP = np.array([0.0, 0.0, 1000.0, 0.0, 0.0, 0.0])
BRAKE = np.array([-1000.0, 0.0, 0.0, 0.0, 350.0, 0.0])
"""1000 N rearward at the ground, about the wheel centre 0.35 m above: My = z Fx = -0.35 x -1000."""
INWARD = np.array([0.0, -1000.0, 0.0, -350.0, 0.0, 0.0])
"""1000 N toward -y at the ground: Mx = -z Fy = 0.35 x -1000."""
NONE = np.zeros(6)


def carried(axle: Axle, left: Array, right: Array = NONE, rest: Array = NONE) -> Carried:
    return suspension_of(axle, FRAME.points).carry(np.stack([left, right]), np.stack([rest, rest]))


def forces(found: Carried) -> dict[str, tuple[float, float, float]]:
    total: dict[str, Array] = {}
    for row in found.brackets:
        total[row.foot.name] = total.get(row.foot.name, np.zeros(3)) + np.array(row.force)
    return {name: tuple(force.tolist()) for name, force in total.items()}


def near(*values: float) -> object:
    return pytest.approx(values, abs=1e-6)


def test_double_wishbone_under_a_wheel_load() -> None:
    """By hand: W stands 0.1 m outside the ball joints, 0.35 m apart: a couple of 0.1/0.35 W in the arms, W at the lower
    ball. Lower arm: W at 0.4 m from the hinge, the spring at 0.2 m: S = 2 W; the hinge holds it down with W."""
    found = forces(carried(corner_axle(wishbones), UP))
    couple = 1000 * 0.1 / 0.35
    assert found["left spring"] == near(0, 0, 2000)
    assert found["left upper arm, front bush"] == near(0, -couple / 2, 0)
    assert found["left lower arm, front bush"] == near(0, couple / 2, -500)
    assert found["left tie rod"] == near(0, 0, 0)


@proof(Kind.DERIVED)
def test_double_wishbone_under_braking(held: Held) -> None:
    """By hand: B acts 0.2 m below the lower ball: the upper arm pushes the frame forward with B 0.2/0.35, the
    lower rearward with B 0.55/0.35. B acts 0.1 m outside the steering axis: the tie rod, 0.1 m
    behind it, is pushed inward with B."""
    found = forces(carried(corner_axle(wishbones), BRAKE))
    upper = [found[f"left upper arm, {end} bush"][0] for end in ("front", "rear")]
    lower = [found[f"left lower arm, {end} bush"][0] for end in ("front", "rear")]
    held(sum(upper), 1000 * 0.2 / 0.35)
    held(sum(lower), -1000 * 0.55 / 0.35)
    assert found["left tie rod"] == near(0, -1000, 0)


@proof(Kind.DERIVED)
def test_wheel_rate_by_the_travel_ratio(held: Held) -> None:
    """By hand: the spring moves half as far as the wheel, so k/4 at the wheel; roll stiffness 2 k/4 (1.6/2)^2."""
    roll = suspension_of(corner_axle(wishbones), FRAME.points).roll
    held(roll.stiffness, 2 * 80e3 / 4 * 0.8**2)


@proof(Kind.DERIVED)
@pytest.mark.parametrize("lower_z", [0.12, 0.2, 0.25])
def test_roll_centre_by_the_instant_centre(held: Held, lower_z: float) -> None:
    """The line from the contact patch to where the arms' lines meet crosses the middle plane at the roll centre
    (vehicle dynamics texts, from memory). Arms: z = 0.55 and z = 0.2 + s (0.7 - y), s = (lower_z - 0.2)/0.4."""
    slope = (lower_z - 0.2) / 0.4
    height = 0.0 if slope == 0 else 0.55 / (0.8 - (0.7 - 0.35 / slope)) * 0.8
    roll = suspension_of(corner_axle(partial(wishbones, lower_z=lower_z)), FRAME.points).roll
    held(roll.centre, height, abs=1e-9)


def test_anti_roll_bar_shares_roll_with_the_springs() -> None:
    """By hand: +-D at the wheels, k_w = k/4 each, bar k_b over link ends that move with the wheels:
    P = k_b 2 (D - P)/k_w, so P = D 2 k_b/(k_w + 2 k_b) = D/2 for k_b = k_w/2. Bushes 0.7 m
    apart, links 1.4 m: 2 P each."""
    found = forces(carried(corner_axle(wishbones, bar=bar(10e3)), UP, -UP))
    assert found["left spring"] == near(0, 0, 2 * 500)
    assert found["front anti-roll bar, left bush"] == near(0, 0, 1000)
    assert found["front anti-roll bar, right bush"] == near(0, 0, -1000)


@proof(Kind.DERIVED)
def test_bar_adds_to_the_roll_stiffness(held: Held) -> None:
    """By hand: k_b times the square of the ends' 1.4 m times (1.6/1.4)^2, as the ends move with the wheels."""
    with_bar = suspension_of(corner_axle(wishbones, bar=bar(10e3)), FRAME.points).roll.stiffness
    held(with_bar, 2 * 20e3 * 0.8**2 + 10e3 * 1.6**2)


def test_bump_travel_is_said() -> None:
    """By hand: 3000 N more on a wheel rate of 20 kN/m asks for 150 mm."""
    found = carried(corner_axle(partial(wishbones, bump=0.1)), 4 * UP, 4 * UP, UP)
    assert spoken(found.notes[0], Units.SI) == "the left wheel is on its bump stop: 150 mm asked of 100 mm"


def test_strut_under_a_wheel_load() -> None:
    """By hand: the flat arm carries no vertical force, S = W. About the ball: W 0.1 m outside, S 0.1 m inside,
    together 0.2 W, held by the top mount 0.7 m above: 0.2/0.7 W inward on the frame, as much outward at the arm."""
    found = forces(carried(corner_axle(strut), UP))
    side = 1000 * 0.2 / 0.7
    assert found["left spring"] == near(0, 0, 1000)
    assert found["left strut top"] == near(0, -side, 0)
    assert found["left lower arm, front bush"] == near(0, side / 2, 0)


def test_trailing_arm_under_a_wheel_load() -> None:
    """By hand: W 0.6 m behind the hinge, the spring 0.4 m: S = 1.5 W. Bushes on the arm b1 (y 0.3) and b2 (0.6):
    b1 + b2 = 0.5 W, 0.75 W - 0.75 W + 0.3 b1 + 0.6 b2 = 0: b1 = W up, b2 = W/2 down; the frame feels the opposite."""
    found = forces(carried(corner_axle(trailing), UP + _outward(-0.05)))
    assert found["left spring"] == near(0, 0, 1500)
    assert found["left arm, inner bush"] == near(0, 0, -1000)
    assert found["left arm, outer bush"] == near(0, 0, 500)


def _outward(y: float) -> Array:
    """Return what moves the wheel load sideways by y: Mx = y W."""
    return np.array([0.0, 0.0, 0.0, 1000 * y, 0.0, 0.0])


def test_leaf_springs_under_load_and_braking() -> None:
    """By hand: W half to each end. B at the ground 0.55 m below the eyes, 1 m between them: the shackle is pushed up
    with 0.55 B and the fixed eye pulled down as much; all of B goes to the fixed eye."""
    found = forces(carried(live_axle(LeafAxle(leaf(1), leaf(-1))), UP + BRAKE, UP + BRAKE))
    assert found["rear left spring, fixed eye"] == near(-1000, 0, 500 - 550)
    assert found["rear left spring, shackle"] == near(0, 0, 500 + 550)


def test_leaf_springs_in_a_corner() -> None:
    """By hand: 2 x 1000 N at the ground, 0.55 m below the eyes, 1 m apart: 1100 N on the side pushed toward."""
    found = forces(carried(live_axle(LeafAxle(leaf(1), leaf(-1))), INWARD, INWARD))
    assert found["rear left spring, fixed eye"] == near(0, -500, -550)
    assert found["rear right spring, shackle"] == near(0, -500, 550)


@proof(Kind.DERIVED)
def test_leaf_springs_with_a_bar_share_roll(held: Held) -> None:
    """By hand: springs k s2/2 = 15 kNm/rad; bar 10 kN/m x 1.4^2 = 19.6 kNm/rad; wheels +-1000 N at 1.6 m: 1600 Nm."""
    axle = live_axle(LeafAxle(leaf(1), leaf(-1)), bar=bar(10e3))
    held(suspension_of(axle, FRAME.points).roll.stiffness, 15e3 + 19.6e3)
    found = forces(carried(axle, UP, -UP))
    spring = found["rear left spring, fixed eye"][2] + found["rear left spring, shackle"][2]
    held(spring * 1.0, 1600 * 15 / 34.6)
    held(found["rear anti-roll bar, left bush"][2] * 0.7, 1600 * 19.6 / 34.6)


def test_links_under_braking() -> None:
    """By hand: 2 B at the ground, 0.25 m below the lower links, the upper link 0.3 m above them: the upper is pushed
    forward with 0.5 B/0.3, the two lower pull rearward with 2 B + that."""
    found = forces(carried(live_axle(links()), BRAKE, BRAKE))
    assert found["rear upper link"] == near(500 / 0.3, 0, 0)
    assert found["rear lower left link"] == near(-(2000 + 500 / 0.3) / 2, 0, 0)
    assert found["rear left spring"] == near(0, 0, 0)


def test_links_in_a_corner() -> None:
    """By hand: the rod takes 2000 N at 0.35 m height, the springs 1 m apart the couple of 700 Nm."""
    found = forces(carried(live_axle(links()), INWARD, INWARD))
    assert found["rear lateral rod"] == near(0, -2000, 0)
    assert found["rear right spring"] == near(0, 0, 700)


@proof(Kind.DERIVED)
def test_links_roll_centre_and_stiffness(held: Held) -> None:
    """By hand: the level rod's height; springs k s2/2."""
    roll = suspension_of(live_axle(links()), FRAME.points).roll
    held(roll.centre, 0.35)
    held(roll.stiffness, 40e3 / 2)


@proof(Kind.DERIVED)
def test_lateral_linkage_shares_between_its_brackets(held: Held) -> None:
    """By hand: the centre pivot's 2000 N, half to each side's bracket; they stand 0.1 m above and below the pivot."""
    linkage = LateralLinkage((0.0, 0.0, 0.35), (at((0.0, 0.5, 0.45)), at((0.0, -0.5, 0.25))))
    axle = live_axle(links("lower left link", "lower right link", "upper link", linkage=linkage))
    found = forces(carried(axle, INWARD, INWARD))
    held(found["rear lateral linkage, left"][1], -1000)
    held(found["rear lateral linkage, right"][1], -1000)


def test_singular_linkage_names_the_direction() -> None:
    with pytest.raises(UnsolvableError, match=r"rear axle: .* nothing holds it against moving along y"):
        carried(live_axle(links("lower left link", "lower right link", "upper link")), UP)
    with pytest.raises(UnsolvableError, match=r"left: .* nothing holds it against turning about z"):
        carried(corner_axle(partial(wishbones, tie_x=0.0)), UP)


@pytest.mark.parametrize(
    "axle",
    [
        corner_axle(wishbones, bar=bar()),
        corner_axle(partial(wishbones, bump=0.01)),
        corner_axle(strut, bar=bar()),
        corner_axle(trailing),
        live_axle(LeafAxle(leaf(1), leaf(-1)), bar=bar()),
        live_axle(links(), bar=bar()),
    ],
    ids=["wishbones", "wishbones on the stop", "strut", "trailing arm", "leaf springs", "links"],
)
def test_brackets_carry_all_that_the_wheels_give(axle: Axle) -> None:
    """Equilibrium of the whole suspension: six sums, for random loads on both wheels."""
    rng = np.random.default_rng(7)
    loads = rng.normal(size=(2, 6)) * 1000
    found = carried(axle, loads[0], loads[1], UP)
    total = np.zeros(6)
    for row in found.brackets:
        total[:3] += row.force
        total[3:] += np.array(row.moment) + np.cross(row.foot.at, row.force)
    given = np.zeros(6)
    for y, load in zip((0.8, -0.8), loads, strict=True):
        given[:3] += load[:3]
        given[3:] += load[3:] + np.cross((0.0, y, 0.35), load[:3])
    assert total == pytest.approx(given, abs=1e-7)
