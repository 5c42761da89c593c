"""Plies that tear as a whole, flanges that pry, plates that press on their face, tubes bolted in one another."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from framecheck.checks.bolts.group import (
    PryingTerms,
    bolt_forces,
    pulls_per_moment,
    share_of_bolt,
    thickness_without_prying,
)
from framecheck.checks.bolts.plies import TearBlock, block_of, block_shear, block_tearing_en, net_width, pulled_through
from framecheck.checks.bolts.sleeve import Through, crossing_forces
from framecheck.model.arrays import Array
from framecheck.model.joints import JointLoad
from tests.unit.checks.joint_samples import four_bolts, m10
from tests.verification.manual import Held, Kind, proof

IN, KSI, KIP = 0.0254, 6.894757e6, 4448.2216


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("gross", "net", "tension", "kips"), [(5.06, 3.38, 0.340, 96.8), (0.563, 0.339, 3.38, 156.0)]
)
def test_block_shear_of_a_printed_gusset(held: Held, gross: float, net: float, tension: float, kips: float) -> None:
    """Handbook of Structural Steel Connection Design and Details, 2nd edition (2009), p. 168: a plate of A36 (36 and 58 ksi),
    five bolts, under shear and under pull, with its factor 0.75.
    """
    block = TearBlock(gross * IN**2, net * IN**2, tension * IN**2)
    held(0.75 * block_shear(block, 36 * KSI, 58 * KSI), kips * KIP, rel=5e-3)


@proof(Kind.PRINTED)
def test_the_areas_of_a_printed_block(held: Held) -> None:
    """The same page: a row of five across the pull, 3 in apart, 1.5 in from the end, plate 3/8 in: U-shaped block, 2 Le t and 12 in
    less four holes of 1 in. Its holes are slots, longer the way of the pull; here they are round.
    """
    row = np.array([(0.0, 3.0 * n) for n in range(5)]) * IN
    block = block_of(row, 1.0 * IN, 1.5 * IN, 0.375 * IN)
    held(block.gross_shear, 1.13 * IN**2, rel=5e-3)
    held(block.net_tension, 3.00 * IN**2, rel=1e-9)


@proof(Kind.PRINTED)
def test_block_tearing_of_a_printed_fin_plate(held: Held) -> None:
    """Steel Buildings in Europe, Multi-storey steel buildings, part 5, pp. 5-43 and 5-48: fin plate of S275 (275 and 430 MPa),
    10 mm, two lines of five M20: 483 kN in shear with half of the tension counted, 995 kN under pull, with its partial factors.
    """
    shear, pull = TearBlock(0.0, 2210e-6, 770e-6), TearBlock(0.0, 1540e-6, 1920e-6)
    held(block_tearing_en(shear, 275e6, 430e6 / 1.25, 0.5), 483e3, rel=2e-3)
    held(block_tearing_en(pull, 275e6, 430e6 / 1.1), 995e3, rel=2e-3)
    bolts = np.array([(60.0 * n, 70.0 * m) for n in range(2) for m in range(5)]) * 1e-3
    found = block_of(bolts, 22e-3, 50e-3, 10e-3)
    held(found.net_tension, 1920e-6, rel=1e-9)
    held(found.net_shear, 1540e-6, rel=1e-9)


@proof(Kind.PRINTED)
def test_prying_of_a_printed_tee(held: Held) -> None:
    """Handbook of Structural Steel Connection Design and Details, 2nd edition (2009), p. 107: half of a W16x57, b' 1.598 in,
    b'/a' 0.91, p 3 in, hole 15/16 in, 0.715 in thick, 65 ksi x 0.9, bolts of 40.6 kips: tc 1.215 in and 23.7 kips.
    """
    full = thickness_without_prying(40.6 * KIP, 1.598 * IN, 3 * IN, 0.9 * 65 * KSI)
    held(full, 1.215 * IN, rel=1e-3)
    held(40.6 * share_of_bolt(0.715 * IN, full, PryingTerms(1.598 * IN, 0.91, 0.6875)), 23.7, rel=2e-3)


@proof(Kind.DERIVED)
def test_the_least_chain_of_holes(held: Held) -> None:
    """By hand: three holes of 10 mm on lines 30 mm apart, the middle one 20 mm ahead: straight through two, or zigzag through
    three less 2 x 20^2 / (4 x 30).
    """
    places = np.array([(0.0, 0.0), (0.020, 0.030), (0.0, 0.060)])
    held(net_width(places, 0.010, 0.1), 0.1 - max(2 * 0.010, 3 * 0.010 - 2 * 0.020**2 / 0.120))


@proof(Kind.MEMORY)
def test_a_head_punches_through(held: Held) -> None:
    """EN 1993-1-8:2005, table 3.4, from memory: 0.6 pi dm tp fu; M20 with a hexagon of 30 mm: dm (30 + 34.6) / 2."""
    held(pulled_through(0.020, 0.010, 430e6), 0.6 * np.pi * 32.32e-3 * 0.010 * 430e6, rel=1e-3)


def pressed_by_strips(levers: Array, breadth: float, area: float, deep: float) -> Array:
    """Return tension for a moment of one by a model of its own: a rigid plate on 40 000 strips that only push and bolts that only
    pull, all as stiff for their area; the axis found where pull and push are equal.
    """
    middles = (np.arange(40000) + 0.5) * deep / 40000

    def forces(axis: float) -> tuple[Array, Array]:
        return area * np.maximum(levers - axis, 0.0), breadth * deep / 40000 * np.maximum(axis - middles, 0.0)

    axis = brentq(lambda at: float(np.sum(forces(at)[0]) - np.sum(forces(at)[1])), 0.0, deep)
    pull, push = forces(axis)
    return np.asarray(pull / (np.sum(pull * levers) - np.sum(push * middles)))


@proof(Kind.DERIVED)
@pytest.mark.parametrize("rows", [1, 2, 3])
def test_a_plate_turns_where_it_presses(held: Held, rows: int) -> None:
    """A model of strips and springs, seeded at random over sizes; a single row pulls more than about the very edge."""
    random = np.random.default_rng(15 + rows)
    for _ in range(12):
        levers = np.sort(random.uniform(0.01, 0.2, rows)).repeat(2)
        breadth, area = random.uniform(0.04, 0.3), random.uniform(2e-5, 3e-4)
        held(pulls_per_moment(levers, breadth, area), pressed_by_strips(levers, breadth, area, 0.25), rel=2e-3)
        if rows == 1:
            assert 1.0 < pulls_per_moment(levers, breadth, area)[0] * 2 * levers[0] < 1.5


@proof(Kind.DERIVED)
def test_a_single_row_with_its_face(held: Held) -> None:
    """By hand: two M10 (58 mm2) 40 mm from the pressed edge of a face 100 mm wide: 50 x2 + 116 x - 4640 = 0; M / (h - x / 3)."""
    depth = (-116 + (116**2 + 4 * 50 * 4640) ** 0.5) / 100
    joint = four_bolts(positions=((-0.04, 0.0), (0.04, 0.0)), contact=(-0.05, 0.05, -0.04, 0.04))
    found = bolt_forces(joint, JointLoad("bending", (0.0, 0.0, 0.0), (1000.0, 0.0, 0.0))).tension
    held(found, [1e6 / (2 * (40 - depth / 3))] * 2, rel=1e-9)


def spring_model(places: Array, facing: Array, load: Array) -> Array:
    """Return the force at every crossing by a model of its own: a rigid body of six ways on springs in the walls' planes, solved
    by its stiffness matrix. places (m, 3); load (6,) about the origin.
    """
    plane = np.eye(3) - np.outer(facing, facing)
    moves = [np.hstack((np.eye(3), [[0, z, -y], [-z, 0, x], [y, -x, 0]])) for x, y, z in places]
    stiffness = sum(move.T @ plane @ move for move in moves)
    turn = np.linalg.pinv(stiffness, rcond=1e-12) @ load
    return np.array([plane @ move @ turn for move in moves])


@proof(Kind.DERIVED)
def test_forty_sleeves_under_all_six_components(held: Held) -> None:
    """A stiffness model of its own, 40 sleeves drawn at random (seed 40): places, lever and load; the force along the bolts is the
    walls' own.
    """
    random = np.random.default_rng(40)
    for _ in range(40):
        bolts = tuple((float(x), float(z)) for x, z in random.uniform(-0.1, 0.1, (int(random.integers(2, 7)), 2)))
        lever, load = float(random.uniform(0.02, 0.15)), random.uniform(-1.0, 1.0, 6) * np.repeat((20e3, 2e3), 3)
        group = four_bolts(positions=bolts, bolt=m10(shear_planes=2))
        found = crossing_forces(Through(group, lever), JointLoad("load", tuple(load[:3]), tuple(load[3:])))
        middle = np.array([(x, 0.0, z) for x, z in bolts]).mean(axis=0)
        places = np.array([(x, side * lever / 2, z) for x, z in bolts for side in (1, -1)]) - middle
        about = np.concatenate((load[:3] * (1, 0, 1), load[3:] - np.cross(middle, load[:3])))
        model = spring_model(places, np.array((0.0, 1.0, 0.0)), about)
        held(found.worst, float(np.linalg.norm(model, axis=1).max()), rel=1e-6)
