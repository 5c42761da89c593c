"""Plates against series, tables, a reference library and closed forms. Coefficients: the source stands beside each."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest

from framecheck.checks.plate.bending import bendings, sheet_of
from framecheck.model.plate import (
    Bead,
    BoltedPlate,
    Edge,
    EdgeHold,
    HeldEdge,
    Patch,
    PlateBolt,
    PlateSide,
    Press,
    Rib,
    StiffenerRun,
)
from tests.unit.checks.plates import EVEN, T, central, edges, middle, moment_at, plain, round_bolts
from tests.verification.manual import FrontDoor, Held, Kind, proof

NU = 0.3
D = 200e9 * T**3 / 12 / (1 - NU**2)
NAVIER = (
    "C. L. Navier's double sine series, S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, "
    "2nd ed., art. 29-31: deflection x D, moments, N"
)


def navier(
    a: float, b: float, at: tuple[float, float], patch: tuple[float, float, float, float] | None, terms: int = 399
):
    """Return w D, M_x, M_y at a place of a simply supported plate, one Pa all over or one N on a patch (x, y, u, v).

    C. L. Navier's double sine series, S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., art. 29-31.
    """
    m, n = np.meshgrid(np.arange(1, terms + 1), np.arange(1, terms + 1), indexing="ij")
    if patch is None:
        load = np.where((m % 2 == 1) & (n % 2 == 1), 16 / (pi**2 * m * n), 0.0)
    else:
        x, y, u, v = patch
        load = 16 / (pi**2 * m * n * u * v) * np.sin(m * pi * x / a) * np.sin(n * pi * y / b)
        load = load * np.sin(m * pi * u / 2 / a) * np.sin(n * pi * v / 2 / b)
    p, q = (m * pi / a) ** 2, (n * pi / b) ** 2
    shape = np.sin(m * pi * at[0] / a) * np.sin(n * pi * at[1] / b) * load / (p + q) ** 2
    return float(shape.sum()), float((shape * (p + NU * q)).sum()), float((shape * (q + NU * p)).sum())


@proof(Kind.FORMULA, NAVIER)
@pytest.mark.parametrize("length", [1.0, 1.4, 2.0])
def test_simply_supported_plates_agree_with_naviers_series(held: Held, length):
    patch = Patch((length / 2, 0.5), (0.2, 0.1))
    plate = plain(length, edges=edges(EdgeHold.SIMPLE), loads=(EVEN, Press("patch", patch, 1.0)))
    found = middle(plate)
    for (w, mx, my), where in zip(found, (None, (length / 2, 0.5, 0.2, 0.1)), strict=True):
        wd, mx_series, my_series = navier(length, 1.0, (length / 2, 0.5), where)
        held(w * D, wd, rel=1e-3)
        held((mx, my), (mx_series, my_series), rel=0.01)


@proof(Kind.FORMULA, NAVIER)
def test_patch_out_of_the_middle_agrees_with_naviers_series(held: Held):
    patch = Patch((0.35, 0.7), (0.1, 0.15))
    plate = plain(1.3, edges=edges(EdgeHold.SIMPLE), loads=(Press("patch", patch, 1.0),))
    sheet = sheet_of(plate)
    shape = bendings(sheet, plate.loads)[0].shape
    at = sheet.x.index(0.35), sheet.y.index(0.7)
    wd, mx, my = navier(1.3, 1.0, (0.35, 0.7), (0.35, 0.7, 0.1, 0.15))
    held(shape[::2, ::2][at] * D, wd, rel=1e-3)
    held(moment_at(sheet, shape, at), (mx, my), rel=0.01)


@proof(Kind.DERIVED)
@pytest.mark.parametrize(
    ("ratio", "alpha", "short", "long"),
    [(1.0, 0.00406, 0.0479, 0.0479), (1.2, 0.00565, 0.0627, 0.0501), (1.4, 0.00708, 0.0755, 0.0502),
     (1.5, 0.00772, 0.0812, 0.0498), (2.0, 0.01013, 0.1017, 0.0464), (3.0, 0.01223, 0.1189, 0.0406)],
)  # fmt: skip
def test_simply_supported_uniform_load(held: Held, ratio, alpha, short, long):
    """S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, table 8, w = alpha q a4 / D, M = beta q a2: the square was
    seen printed, the others are C. L. Navier's series summed apart.
    """
    w, mx, my = middle(plain(ratio, edges=edges(EdgeHold.SIMPLE)))[0]
    held((w * D, my, mx), (alpha, short, long), rel=0.01, kind=Kind.PRINTED if ratio == 1.0 else None)


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("ratio", "alpha", "beta"),
    [(1.0, 0.0444, 0.2874), (1.2, 0.0616, 0.3762), (1.4, 0.0770, 0.4530), (1.6, 0.0906, 0.5172), (1.8, 0.1017, 0.5688),
     (2.0, 0.1110, 0.6102), (3.0, 0.1335, 0.7134)],
)  # fmt: skip
def test_simply_supported_uniform_load_of_a_handbook(held: Held, ratio, alpha, beta):
    """Roark's Formulas for Stress and Strain, 7th ed., table 11.4, case 1a (opened): w = alpha q b4 / E t3, s = beta q b2 / t2."""
    w, _, my = middle(plain(ratio, edges=edges(EdgeHold.SIMPLE)))[0]
    held(w * 200e9 * T**3, alpha, rel=0.01)
    held(6 * my, beta, rel=0.01)


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("ratio", "alpha"), [(1.0, 0.1267), (1.2, 0.1478), (1.4, 0.1621), (1.6, 0.1715), (1.8, 0.1770), (2.0, 0.1805)]
)
def test_simply_supported_central_load(held: Held, ratio, alpha):
    """Roark's Formulas for Stress and Strain, 7th ed., table 11.4, case 1b (opened): w = alpha W b2 / E t3, on a patch of b / 100."""
    w = middle(plain(ratio, edges=edges(EdgeHold.SIMPLE), loads=(central(ratio, 0.01),)))[0][0]
    held(w * 200e9 * T**3, alpha, rel=0.01)


@proof(Kind.MEMORY)
@pytest.mark.parametrize(
    ("ratio", "alpha", "edge", "centre"),
    [(1.0, 0.00126, 0.0513, 0.0231), (1.5, 0.00220, 0.0757, 0.0368), (2.0, 0.00254, 0.0829, 0.0412)],
)
def test_clamped_uniform_load(held: Held, ratio, alpha, edge, centre):
    """S. Timoshenko and S. Woinowsky-Krieger, table 35, from memory: w = alpha q a4 / D, edge and centre moments over q a2."""
    plate = plain(ratio, edges=edges(EdgeHold.CLAMPED))
    w, _, my = middle(plate)[0]
    sheet = sheet_of(plate)
    at = sheet.x.index(ratio / 2), 0
    _, at_edge = moment_at(sheet, bendings(sheet, plate.loads)[0].shape, at)
    held((w * D, my, at_edge), (alpha, centre, edge), rel=0.01)


@proof(Kind.MEMORY)
@pytest.mark.parametrize(
    ("ratio", "alpha"), [(1.0, 0.0611), (1.2, 0.0706), (1.4, 0.0754), (1.6, 0.0777), (2.0, 0.0788)]
)
def test_clamped_central_load(held: Held, ratio, alpha):
    """Roark, 7th ed., table 11.4, case 8b, from memory: w = alpha W b2 / E t3."""
    w = middle(plain(ratio, edges=edges(EdgeHold.CLAMPED), loads=(central(ratio, 0.01),)))[0][0]
    held(w * 200e9 * T**3, alpha, rel=0.01)


BOLTED = {
    (4, 1.0): ((0.279, 0.67), (0.424, 2.21), (0.417, 1.76), (0.407, 1.51)),
    (4, 1.5): ((0.872, 1.61), (0.897, 2.94), (0.889, 2.56), (0.877, 2.29)),
    (4, 2.0): ((2.52, 2.94), (1.97, 3.62), (1.96, 3.32), (1.95, 3.07)),
    (6, 1.0): ((0.150, 0.74), (0.259, 2.30), (0.252, 1.86), (0.244, 1.60)),
    (6, 1.5): ((0.166, 0.78), (0.220, 2.07), (0.214, 1.66), (0.205, 1.40)),
    (6, 2.0): ((0.196, 0.85), (0.215, 1.99), (0.209, 1.62), (0.201, 1.36)),
    (8, 1.0): ((0.053, 0.30), (0.134, 1.73), (0.128, 1.29), (0.121, 1.03)),
    (8, 1.5): ((0.108, 0.53), (0.182, 1.91), (0.176, 1.50), (0.168, 1.24)),
    (8, 2.0): ((0.162, 0.71), (0.203, 1.94), (0.198, 1.57), (0.190, 1.32)),
}


@proof(Kind.DERIVED)
@pytest.mark.parametrize(("bolts", "ratio"), BOLTED)
def test_plates_on_bolts(held: Held, bolts, ratio):
    """Ritz's method with polynomials, computed for this project's fact sheet (no table is published): y = alpha q b4 / E t3 or
    alpha W b2 / E t3, sigma = beta q b2 / t2 or beta W / t2 in the middle; central square patches of 0.1, 0.2, 0.3 b.

    2 %; stress under the smallest patch on the longest plates 4 %: there the polynomials fall short, as the Argyris plate below
    shows.
    """
    presses = tuple(central(ratio, size) for size in (0.1, 0.2, 0.3))
    found = middle(plain(ratio, bolts=round_bolts(ratio, bolts), loads=(EVEN, *presses)))
    for n, ((w, mx, my), (alpha, beta)) in enumerate(zip(found, BOLTED[bolts, ratio], strict=True)):
        held(w * 200e9 * T**3, alpha, rel=0.02)
        held(6 * max(mx, my), beta, rel=0.04 if n == 1 and ratio == 2.0 else 0.02)


@proof(Kind.MEMORY)
def test_square_plate_on_its_corners(held: Held):
    """S. Timoshenko and S. Woinowsky-Krieger, art. 52, from memory: w = 0.0257 q a4 / D, M = 0.1109 q a2 in the middle.

    2 % of the moment: the printed one comes from a short series (a polynomial one gives 0.1117).
    """
    w, mx, _ = middle(plain(1.0, bolts=round_bolts(1.0, 4)))[0]
    held(w * D, 0.0257, rel=0.01)
    held(mx, 0.1109, rel=0.02)


ON_CORNERS = """title: a square plate on its corners
origin: anywhere
frame:
  points:
    a: {x: 0 mm, y: 0 mm, z: 0 mm}
    b: {x: 1000 mm, y: 0 mm, z: 0 mm}
  members:
    - {name: bar, points: [a, b], section: tube 2 x 2 x 3/16 in, ends: rigid}
  supports:
    - {point: a, held: all}
load cases:
  - rest: {own weight: 1}
plates:
  - name: sheet
    length: 1000 mm
    width: 1000 mm
    thickness: 5 mm
    material: S235
    gap: 100 mm
    lies: on spacers
    bolts:
      - {name: a, x: 0 mm, y: 0 mm, seat: 1 mm, bolt: {thread: M10, grade: '8.8'}}
      - {name: b, x: 1000 mm, y: 0 mm, seat: 1 mm, bolt: {thread: M10, grade: '8.8'}}
      - {name: c, x: 0 mm, y: 1000 mm, seat: 1 mm, bolt: {thread: M10, grade: '8.8'}}
      - {name: d, x: 1000 mm, y: 1000 mm, seat: 1 mm, bolt: {thread: M10, grade: '8.8'}}
    loads:
      - {name: up, kind: pressure, pressure: 100 Pa}
      - {name: down, kind: pressure, pressure: -100 Pa}
"""


@proof(Kind.MEMORY)
def test_square_plate_on_its_corners_by_file(held: Held, front_door: FrontDoor):
    """S. Timoshenko and S. Woinowsky-Krieger, art. 52, from memory: w = 0.0257 q a4 / D; a quarter of it a bolt (statics)."""
    rows = [row for row in front_door(ON_CORNERS)["checks"] if row["check"] == "plate"]
    rigidity = 210e9 * 0.005**3 / 12 / (1 - (210 / 162 - 1) ** 2)
    (sag,) = (row["demand"] for row in rows if row["mode"] == "touches_pan")
    held(sag, 0.0257 * 100 / rigidity, rel=0.01)
    held([row["demand"] for row in rows if row["mode"] == "bolt_tension"], [25.0] * 4, rel=1e-6)


def argyris(xs, ys, spots, patch):
    """Return scikit-fem's Argyris plate (quintic triangles, another element on another mesh) on point supports: work of one Pa
    all over, work of one N on a patch (x, y, size), and M_x, M_y in the patch's middle.
    """
    from skfem import Basis, BilinearForm, ElementTriArgyris, LinearForm, MeshTri, condense, solve
    from skfem.helpers import dd, ddot, trace

    mesh = MeshTri.init_tensor(np.array(xs), np.array(ys))
    basis = Basis(mesh, ElementTriArgyris(), intorder=8)
    form = BilinearForm(lambda u, v, _: D * ((1 - NU) * ddot(dd(u), dd(v)) + NU * trace(dd(u)) * trace(dd(v))))
    x, y, size = patch
    inside = LinearForm(lambda v, w: v * ((abs(w.x[0] - x) < size / 2) & (abs(w.x[1] - y) < size / 2)) / size**2)
    loads = [LinearForm(lambda v, _: v).assemble(basis), inside.assemble(basis)]
    nodes = [int(np.argmin(np.hypot(*(mesh.p - np.array(spot)[:, None])))) for spot in (*spots, (x, y))]
    stiffness, held = form.assemble(basis), basis.nodal_dofs[0][nodes[:-1]]
    even, pressed = (solve(*condense(stiffness, load, D=held)) for load in loads)
    xx, yy = (pressed[basis.nodal_dofs[basis.elem.dofnames.index(name)][nodes[-1]]] for name in ("u_xx", "u_yy"))
    moments = abs(D * (xx + NU * yy)), abs(D * (yy + NU * xx))
    return float(even @ loads[0]), float(pressed @ loads[1]), *moments


@proof(Kind.LIBRARY)
def test_bolted_plate_agrees_with_argyris_triangles(held: Held):
    """scikit-fem 12.0.2, Argyris triangles: work of both loads, moments in the patch; six bolts inside, patch out of the middle."""
    spots = [(x, y) for x in (0.1, 0.8, 1.5) for y in (0.1, 0.9)]
    press = Press("press", Patch((0.4, 0.4), (0.2, 0.2)), 1.0)
    plate = plain(1.6, bolts=tuple(PlateBolt(str(n), spot, 1e-4) for n, spot in enumerate(spots)), loads=(EVEN, press))
    sheet = sheet_of(plate)
    even, pressed = bendings(sheet, plate.loads)
    reference = argyris(np.linspace(0, 1.6, 17), np.linspace(0, 1, 11), spots, (0.4, 0.4, 0.2))
    held((even.work, pressed.work), reference[:2], rel=2e-3)
    at = sheet.x.index(0.4), sheet.y.index(0.4)
    held(moment_at(sheet, pressed.shape, at), reference[2:], rel=0.01)


@proof(Kind.LIBRARY, "scikit-fem 12.0.2, Argyris triangles: moments in the patch, 2 to 1, a patch of a tenth of the width")
def test_long_plate_on_its_corners_agrees_with_argyris_triangles(held: Held):
    """The case where Ritz's polynomials above have not converged: 2 to 1, a patch of a tenth of the width."""
    near = (0.95, 0.975, 1.0, 1.025, 1.05)
    xs = (*np.linspace(0, 0.9, 9), *near, *np.linspace(1.1, 2, 9))
    ys = (0.0, 0.15, 0.3, 0.4, *(each - 0.5 for each in near), 0.6, 0.7, 0.85, 1.0)
    reference = argyris(xs, ys, [(0, 0), (2, 0), (0, 1), (2, 1)], (1.0, 0.5, 0.1))
    w_moments = middle(plain(2.0, bolts=round_bolts(2.0, 4), loads=(central(2.0, 0.1),)))[0][1:]
    held(w_moments, reference[2:], rel=0.01)


def bead_strip(stiffener: Bead | Rib, width: float) -> tuple[float, BoltedPlate]:
    ends = (HeldEdge(Edge.REAR, EdgeHold.SIMPLE), HeldEdge(Edge.FRONT, EdgeHold.SIMPLE))
    plate = plain(1.0, width, edges=ends, stiffeners=(stiffener,))
    sheet = sheet_of(plate)
    shape = bendings(sheet, plate.loads)[0].shape
    return float(shape[::2, ::2][sheet.x.index(0.5), sheet.y.index(width / 2)]), plate


def outline_second_moment(points: list[tuple[float, float]]) -> float:
    """Return the second moment of an outline about its own centroid, by Green's theorem (polygon formulas)."""
    y, z = np.array(points).T
    y2, z2 = np.roll(y, -1), np.roll(z, -1)
    cross = y * z2 - y2 * z
    area, first = cross.sum() / 2, ((z + z2) * cross).sum() / 6
    return float(abs(((z**2 + z * z2 + z2**2) * cross).sum() / 12 - first**2 / area))


@proof(Kind.DERIVED)
def test_bead_strip_bends_as_the_beam_it_is(held: Held):
    """A strip 60 mm wide with a V bead 40 mm wide and 12 mm high, 5 q L4 / 384 E I; I from the bent sheet's outline."""
    bead = Bead("bead", StiffenerRun.X, 0.03, 0.0, 1.0, 0.04, 0.012, 0.0, PlateSide.DOWN)
    up = T / 2 * sqrt(1 + (0.012 / 0.02) ** 2)  # the leaning web is t thick square to itself
    top = [(0.0, T / 2), (0.01, T / 2), (0.03, T / 2 - 0.012), (0.05, T / 2), (0.06, T / 2)]
    lower = [(0.0, -T / 2), (0.01, -T / 2), (0.03, -T / 2 - 0.012), (0.05, -T / 2), (0.06, -T / 2)]
    web = [(y, z + (up - T / 2) * (1 if k == 2 else 0)) for k, (y, z) in enumerate(top)]
    sole = [(y, z - (up - T / 2) * (1 if k == 2 else 0)) for k, (y, z) in enumerate(lower)]
    second = outline_second_moment(web + sole[::-1])
    w, _ = bead_strip(bead, 0.06)
    held(w, 5 * 0.06 / (384 * 200e9 * second), rel=0.01)


@proof(Kind.DERIVED)
def test_ribbed_strip_bends_as_the_beam_it_is(held: Held):
    """A strip 60 mm wide with a flat bar 25 x 5 mm on edge: 5 q L4 / 384 E I, I of the tee by parallel axes."""
    w, _ = bead_strip(Rib("rib", StiffenerRun.X, 0.03, 0.0, 1.0, 0.025, 0.005), 0.06)
    tee = [(0, -T / 2), (0.06, -T / 2), (0.06, T / 2), (0.0325, T / 2), (0.0325, T / 2 + 0.025), (0.0275, T / 2 + 0.025),
           (0.0275, T / 2), (0, T / 2)]  # fmt: skip
    held(w, 5 * 0.06 / (384 * 200e9 * outline_second_moment(tee)), rel=0.01)
