"""Bolts against published tables, worked numbers and closed forms."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, pi

import numpy as np
import pytest
from pytest import approx

from framecheck.checks.bolt_strength import (
    bearing,
    bearing_of_sheet,
    bearing_of_sheet_kept,
    shear_strength,
    shear_through_shank,
    shear_through_threads,
    slip_aisc,
    slip_en,
    slip_plain,
    slip_resistance,
    tear_out,
    tension_en,
    tension_strength,
    used_by_both,
)
from framecheck.checks.bolts.group import PryingTerms, bolt_forces, share_of_bolt, thickness_without_prying
from framecheck.checks.bolts.plies import shop_lines, tightening, torque
from framecheck.checks.bolts.sleeve import play_angle, wall_force
from framecheck.model.joints import MEAN_OVER_LEAST, Bolt, JointLoad, Threads, Tightened
from framecheck.model.shop_tables import BoltGrade, Thread
from framecheck.results.row import Sizing
from framecheck.results.subjects import Remark
from tests.unit.checks.joint_samples import BOLTS, four_bolts, grade, m10, thread
from tests.verification.manual import Held, Kind, proof

IN, KSI, KIP, LBF, FTLB = 0.0254, 6.894757e6, 4448.2216, 4.4482216, 1.3558179


def clamp_of(row: BoltGrade, size: Thread) -> float:
    """Return the clamp of a bolt tightened to three quarters of its proof load, N."""
    clamp = Bolt(size, row, size.diameter + 1e-3, clamp_share=0.75).clamp
    assert clamp is not None
    return clamp


@proof(Kind.FORMULA)
@pytest.mark.parametrize(
    ("name", "inches", "threads_per_inch"),
    [("1/4-20", 0.25, 20), ("5/16-18", 0.3125, 18), ("3/8-16", 0.375, 16), ("7/16-14", 0.4375, 14),
     ("1/2-13", 0.5, 13), ("5/8-11", 0.625, 11), ("3/4-10", 0.75, 10), ("1/2-20", 0.5, 20)],
)  # fmt: skip
def test_unified_stress_areas_follow_the_formula(held: Held, name: str, inches: float, threads_per_inch: float) -> None:
    """ASME B1.1: At = 0.7854 (d - 0.9743 / n)2; the table prints 3 or 4 digits."""
    by_formula = 0.7854 * (inches - 0.9743 / threads_per_inch) ** 2 * IN**2
    held(thread(name).stress_area, by_formula, rel=2.5e-3)


@proof(Kind.MEMORY)
@pytest.mark.parametrize(("name", "pitch"), [("M6", 1.0), ("M8", 1.25), ("M10", 1.5), ("M12", 1.75), ("M16", 2.0)])
def test_metric_stress_areas_follow_the_formula(held: Held, name: str, pitch: float) -> None:
    """ISO 898-1: As = pi / 4 (d - 0.9382 P)2, formula from memory."""
    size = thread(name).diameter * 1e3
    held(thread(name).stress_area, pi / 4 * (size - 0.9382 * pitch) ** 2 * 1e-6, rel=3e-3)


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("name", "inches", "strengths_ksi"),
    [("grade 2", 0.5, (55, 57, 74)), ("grade 5", 0.5, (85, 92, 120)), ("grade 5", 1.25, (74, 81, 105)),
     ("grade 8", 0.5, (120, 130, 150))],
)  # fmt: skip
def test_inch_grades(held: Held, name: str, inches: float, strengths_ksi: tuple[float, ...]) -> None:
    """SAE J429, table of proof, yield and tensile strength."""
    row = grade(name, inches * IN)
    held((row.proof, row.yield_strength, row.tensile), [each * KSI for each in strengths_ksi], rel=1e-6)


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("size", "name", "newtons"),
    [("M10", "8.8", 33700), ("M12", "8.8", 48900), ("M16", "8.8", 91000), ("M12", "10.9", 70000)],
)
def test_metric_proof_loads(held: Held, size: str, name: str, newtons: float) -> None:
    """ISO 898-1, table of proof loads, rounded there to 100 N."""
    row = grade(name, thread(size).diameter)
    held(row.proof * thread(size).stress_area, newtons, rel=3e-3)


@proof(Kind.PRINTED)
def test_inch_proof_and_clamp_loads(held: Held) -> None:
    """SAE J429, proof loads of 1/2-13: 12 100 lbf (grade 5), 17 050 lbf (grade 8), there of an area rounded to 0.142 in2; a stockist's
    table of clamps at 75 % (opened): 5853 lbf for grade 2.
    """
    area = thread("1/2-13").stress_area
    held(grade("grade 5").proof * area, 12100 * LBF, rel=4e-3)
    held(grade("grade 8").proof * area, 17050 * LBF, rel=4e-3)
    held(clamp_of(grade("grade 2"), thread("1/2-13")), 5853 * LBF, rel=2e-4)


@proof(Kind.DERIVED)
@pytest.mark.parametrize(
    ("size", "name", "clamp_kn", "torque_nm", "shear_kn", "slip_kn"),
    [("M10", "8.8", 25.2, 50, 27.8, 7.6), ("M10", "10.9", 36.1, 72, 34.8, 10.8),
     ("M12", "10.9", 52.5, 126, 50.6, 15.7)],
)  # fmt: skip
def test_worked_metric_bolts(
    held: Held, size: str, name: str, clamp_kn: float, torque_nm: float, shear_kn: float, slip_kn: float
) -> None:
    """Worked by hand: F = 0.75 Sp As, T = 0.20 F d, shear 0.6 fub As, slip 0.30 F; three digits."""
    bolt, row = thread(size), grade(name)
    clamp = clamp_of(row, bolt)
    held(clamp, clamp_kn * 1e3, rel=5e-3)
    held(torque(0.20, clamp, bolt.diameter), torque_nm, rel=1e-2)
    held(shear_through_threads(0.6, row.tensile, bolt.stress_area), shear_kn * 1e3, rel=5e-3)
    held(slip_plain(0.30, clamp, 1, 0.0), slip_kn * 1e3, rel=1e-2)


@proof(Kind.DERIVED)
def test_worked_inch_bolt_and_why_slip_is_the_number_to_look_at(held: Held) -> None:
    """3/8-16 grade 8 by hand: clamp 6.97 kip, 44 lb ft, threads 6.97 kip, shank 9.94 kip, slip at mu 0.3 2.09 kip."""
    bolt, row = thread("3/8-16"), grade("grade 8")
    clamp = clamp_of(row, bolt)
    threads, slip = shear_through_threads(0.6, row.tensile, bolt.stress_area), slip_plain(0.30, clamp, 1, 0.0)
    held(clamp, 6.97 * KIP, rel=2e-3)
    held(torque(0.20, clamp, bolt.diameter), 44 * FTLB, rel=1.2e-2)
    held(threads, 6.97 * KIP, rel=2e-3)
    held(shear_through_shank(row.tensile, bolt.diameter), 9.94 * KIP, rel=2e-3)
    held(slip, 2.09 * KIP, rel=2e-3)
    assert 3 < threads / slip < 5  # slip is 3 to 5 times below shear


@proof(Kind.PRINTED)
@pytest.mark.parametrize(
    ("size", "name", "kilonewtons"),
    [("M16", "8.8", 60.3), ("M20", "8.8", 94.1), ("M24", "8.8", 136),
     ("M16", "10.9", 62.8), ("M20", "10.9", 98.0), ("M24", "10.9", 141)],
)  # fmt: skip
def test_shear_by_the_european_rule(held: Held, size: str, name: str, kilonewtons: float) -> None:
    """A steelmaker's public book of resistances to EN 1993-1-8: Fv,Rd through the threads, with its factor 1.25."""
    bolt = grade(name, thread(size).diameter)
    held(shear_through_threads(bolt.shear_factor, bolt.tensile, thread(size).stress_area) / 1.25, kilonewtons * 1e3, rel=5e-3)


@proof(Kind.PRINTED)
@pytest.mark.parametrize(("size", "kilonewtons"), [("M12", 24.3), ("M16", 45.2), ("M20", 70.6), ("M24", 102)])
def test_tension_by_the_european_rule(held: Held, size: str, kilonewtons: float) -> None:
    """The same book, hexagon bolts of class 4.6 (400 MPa): Ft,Rd, with its factor 1.25."""
    held(tension_en(400e6, thread(size).stress_area) / 1.25, kilonewtons * 1e3, rel=4e-3)


@proof(Kind.PRINTED)
def test_bearing_of_sheet_by_both_rules(held: Held) -> None:
    """A public letter on the 2001 edition of AISI S100 (seen): 3/8 in bolt, 0.06 in sheet, 55 ksi: 2.78 and 2.24 kips."""
    held(bearing_of_sheet(0.375 * IN, 0.06 * IN, 55 * KSI), 2.78 * KIP, rel=2e-3)
    held(bearing_of_sheet_kept(0.375 * IN, 0.06 * IN, 55 * KSI), 2.24 * KIP, rel=2e-3)


INCHES = ("1/4-20", "1/4-28", "1/2-13", "1/2-20", "1-8", "1-12")
WHOLE = [(name, inches) for name in ("grade 2", "grade 5", "grade 8") for inches in INCHES]
METRIC = [(name, size) for name in ("8.8", "10.9", "12.9") for size in ("M5", "M12", "M16", "M24")]


@pytest.mark.parametrize("threads", Threads)
@pytest.mark.parametrize(("name", "size"), [*WHOLE, *METRIC])
def test_no_strength_is_kinder_than_either_standard_whole(name: str, size: str, threads: Threads) -> None:
    """ANSI/AISC 360-10, table J3.2, over 2.00; EN 1993-1-8:2005, table 3.4, over 1.25 and 1.5 on loads. Bolts with the most stress
    area for their size (fine threads) and the least; what is taken over 2.00 is the smaller of AISC's and EN's nominal strengths.
    """
    of, bolt = thread(size), grade(name, thread(size).diameter)
    area, put = pi * of.diameter**2 / 4, Bolt(of, bolt, of.diameter + 1e-3, threads=threads)
    american = (0.450 if threads is Threads.IN else 0.563) * bolt.tensile * area
    european = bolt.shear_factor * bolt.tensile * of.stress_area if threads is Threads.IN else 0.6 * bolt.tensile * area
    assert shear_strength(put).value == approx(min(american, european), rel=1e-9)
    assert ("AISC" in shear_strength(put).source.split(", less than")[0]) == (american < european)
    pulled = (0.75 * bolt.tensile * area, 0.9 * bolt.tensile * of.stress_area)
    assert tension_strength(put).value == approx(min(pulled), rel=1e-9)
    for taken, (ours, theirs) in ((shear_strength(put), (american, european)), (tension_strength(put), pulled)):
        assert taken.allowed <= min(ours / 2.00, theirs / 1.25 / 1.5) * (1 + 1e-9)


@proof(Kind.PRINTED)
def test_slip_of_a_pretensioned_bolt(held: Held) -> None:
    """A Beginner's Guide to the Steel Construction Manual, example 4.1: 0.35 x 1.13 x 28 kip = 11.1 kip a bolt."""
    held(slip_aisc(0.35, MEAN_OVER_LEAST * 28 * KIP, 1, 0.0), 11.1 * KIP, rel=4e-3)


@proof(Kind.DERIVED)
def test_slip_counts_on_the_least_clamp_of_a_torque(held: Held) -> None:
    """By hand, 1/2-13 grade 5 at 0.75 proof, dry (K 0.20 to 0.25, torque for 0.225): 9046 lbf aimed at, 0.9 of it at least; mu 0.30.

    A controlled minimum may take the mean, 1.13 of it (ANSI/AISC 360-22, J3.9); threads of unknown state: 0.7 (common practice).
    """
    dry = next(row for row in BOLTS.torque_factors if row.name == "dry")
    mill = next(row for row in BOLTS.surfaces if row.name == "mill scale")
    bolt = Bolt(thread("1/2-13"), grade("grade 5"), 0.0143, clamp_share=0.75, torque_factor=dry, surface=mill)
    aimed = 0.75 * 85000 * 0.1419 * LBF
    held(slip_resistance(bolt, 0.0) or 0.0, 0.30 * 0.9 * aimed, rel=1e-6)
    held(slip_resistance(replace(bolt, tightened=Tightened.CONTROLLED), 0.0) or 0.0, 0.30 * 1.13 * aimed, rel=1e-6)
    held(slip_resistance(replace(bolt, torque_factor=None), 0.0) or 0.0, 0.30 * 0.7 * aimed, rel=1e-6)
    held(bolt.most_clamp or 0.0, 0.225 / 0.20 * aimed, rel=1e-6)  # what walls and sleeves must bear


@proof(Kind.MEMORY)
@pytest.mark.parametrize(("name", "strengths"), [("8.8", (640, 800)), ("10.9", (900, 1000)), ("12.9", (900, 1000))])
@pytest.mark.parametrize("size", ["M10", "M20"])
def test_metric_grades_carry_the_strengths_of_the_design_rule(held: Held, name: str, strengths: tuple[float, ...], size: str) -> None:
    """EN 1993-1-8:2005, table 3.1 (as pages quote it), which ends at 10.9: 12.9 counts as that."""
    row = grade(name, thread(size).diameter)
    held((row.yield_strength, row.tensile), [each * 1e6 for each in strengths], rel=1e-9)


@proof(Kind.FORMULA)
def test_slip_under_tension_falls_to_nothing(held: Held) -> None:
    """ANSI/AISC 360-22, eq. (J3-5b): 1 - 1.5 T / (1.13 Tb) is 0 at T = 1.13 Tb / 1.5; EN 1993-1-8 eq. (3.8): 0.8
    Ft off.
    """
    held(slip_aisc(0.30, MEAN_OVER_LEAST * 100e3, 1, 113e3 / 1.5), 0.0, abs=1e-6)
    held(slip_en(0.4, 100e3, 1, 50e3), 0.4 * (100e3 - 40e3))


@proof(Kind.FORMULA)
def test_eccentric_group(held: Held) -> None:
    """AISC Steel Construction Manual, part 7, elastic method: 2 x 3 bolts, gauge 100, pitch 75 mm, 20 kN at 200
    mm. Ip = 6 x 50^2 + 4 x 75^2 = 37500 mm2; a corner bolt: 20/6 + 4000 x 50 / 37500 down, 4000 x 75 / 37500
    across.
    """
    positions = tuple((x, z) for x in (-0.05, 0.05) for z in (-0.075, 0.0, 0.075))
    load = JointLoad("P", (0.0, 0.0, -20e3), (0.0, 20e3 * 0.2, 0.0))
    sizes = np.linalg.norm(bolt_forces(four_bolts(positions=positions), load).shear, axis=1)
    by_hand = hypot(20000 / 6 + 4e6 * 50 / 37500, 4e6 * 75 / 37500)
    held(sizes.max(), by_hand, rel=1e-12)
    held(sizes.max(), 11794.5373, rel=1e-6)
    held(sizes.min(), 2000.0, rel=1e-6)


@proof(Kind.DERIVED)
def test_tension_about_the_centroid(held: Held) -> None:
    """Statics: four bolts 60 mm apart up, 1 kNm: M / (2 h) each above the centroid."""
    load = JointLoad("bending", (0.0, 0.0, 0.0), (1000.0, 0.0, 0.0))
    held(bolt_forces(four_bolts(), load).tension.max(), 1000 / (2 * 0.06))


@proof(Kind.FORMULA)
def test_shear_with_tension_meets_the_published_line(held: Held) -> None:
    """ANSI/AISC 360-22, eq. (J3-3): at frv = 0.5 Fnv the tension left is (1.3 - 0.5) Fnt = 0.8 Fnt."""
    held(used_by_both(0.5, 0.8), 1.0)
    held(used_by_both(0.2, 1.0), 1.0)
    held(used_by_both(1.0, 0.3), 1.0)


@proof(Kind.FORMULA)
def test_bearing_and_tear_out_meet_where_the_edge_is_two_diameters_clear(held: Held) -> None:
    """ANSI/AISC 360-22, J3.11a: 1.2 lc t Fu reaches 2.4 d t Fu at lc = 2 d: 2.4 x 10 x 4 x 400 = 38.4 kN."""
    held((tear_out(0.020, 0.004, 400e6), bearing(0.010, 0.004, 400e6)), (38.4e3, 38.4e3))


@proof(Kind.DERIVED)
def test_prying_of_a_tee_hanger(held: Held) -> None:
    """W. A. Thornton, Engineering Journal 1985 (equilibrium of the model): with full double curvature Mc = Tb' /
    (1 + delta), so the flange alone carries T = p t2 Fu (1 + delta) / (4 b'); with none, the bolt alone
    decides.
    """
    terms = PryingTerms(offset=0.03, ratio=0.8, net_share=0.8)
    strength, pitch, ultimate = 80e3, 0.08, 450e6
    full = thickness_without_prying(strength, terms.offset, pitch, ultimate)
    thin = 0.2 * full
    by_hand = pitch * thin**2 * ultimate * (1 + 0.8) / (4 * terms.offset)
    held(strength * share_of_bolt(thin, full, terms), by_hand)
    assert share_of_bolt(1.001 * full, full, terms) == 1.0
    # in between, bolt and flange give way together: B = T (1 + delta alpha rho / (1 + delta alpha))
    middle = 0.8 * full
    alpha = ((full / middle) ** 2 - 1) / (0.8 * 1.8)
    pull = strength * share_of_bolt(middle, full, terms)
    held(pull * (1 + 0.8 * alpha * 0.8 / (1 + 0.8 * alpha)), strength)


@proof(Kind.DERIVED)
def test_pinned_sleeve(held: Held) -> None:
    """Statics: one bolt through a 50 mm tube: the couple is V x D."""
    held(wall_force(500.0, 1, 0.05) * 0.05, 500.0)
    held(play_angle(0.0005, 0.05), 0.02)


def test_every_row_names_its_source() -> None:
    rows = [*BOLTS.threads, *BOLTS.grades, *BOLTS.torque_factors, *BOLTS.surfaces, *BOLTS.holes, *BOLTS.edges]
    assert all(row.source for row in rows)
    assert m10().clamp == approx(0.75 * 580e6 * 58e-6)


@proof(Kind.DERIVED)
def test_torque_and_what_clamp_it_gives(held: Held) -> None:
    """3/8-16 grade 8, dry, K 0.20 to 0.25, by hand: 0.225 x 6.97 kip x 3/8 in = 49.0 lb ft; clamp 6.27 to 7.84 kip."""
    dry = next(row for row in BOLTS.torque_factors if row.name == "dry")
    bolt = Bolt(thread("3/8-16"), grade("grade 8"), 0.0105, clamp_share=0.75, torque_factor=dry)
    found = tightening(bolt)
    assert found is not None
    held(found.torque, 49.0 * FTLB, rel=2e-3)
    held((found.least_clamp, found.most_clamp), (6.27 * KIP, 7.84 * KIP), rel=2e-3)
    lines = list(shop_lines(four_bolts(bolt=bolt)))
    assert next(line.what for line in lines if isinstance(line, Sizing)) == "tightening torque"


def test_no_torque_is_said_where_it_is_not_known() -> None:
    for bolt, missing in ((m10(), "the state of their threads"), (m10(clamp_share=None), "how far the bolts are tightened")):
        (line,) = shop_lines(four_bolts(bolt=bolt))
        assert isinstance(line, Remark)
        assert line.reason.startswith(missing)
