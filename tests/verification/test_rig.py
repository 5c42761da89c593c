"""A rig test in one file: supports of each load case, turns, bimoment and stress at named places, against closed forms."""

from __future__ import annotations

from math import cosh, sinh, sqrt, tanh

import pytest

from framecheck.errors import InputError, UnsolvableError
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.test_sections import LIBRARY
from tests.verification.conftest import STORE
from tests.verification.manual import FrontDoor, Held, Kind, proof

RIG = """
title: A channel on a twist rig
materials: [{name: plate, youngs modulus: 200 GPa, shear modulus: 80 GPa, density: 8 g/cm3,
  yield strength: 900 MPa, ultimate strength: 1 GPa}]
sections: {rail: {shape: channel, height: 100 mm, flange: 50 mm, wall: 3 mm, inside radius: 0.2 mm, material: plate}}
frame:
  points: {root: {x: 0 mm, y: 0 mm, z: 0 mm}, tip: {x: 1200 mm, y: 0 mm, z: 0 mm}}
  members: [{name: rail, points: [root, tip], section: rail, start: {make: rigid, warping: fixed}, end: {make: rigid, warping: free}}]
load cases:
  - twist at the tip: {forces: [{point: tip, moment: {x: 5 N·m}}], supports: [{point: root, held: all}]}
  - twist at the root: {forces: [{point: root, moment: {x: 5 N·m}}], supports: [{point: tip, held: all}]}
readings:
  - {name: root, member: rail, at: 0 mm, side: top, offset: -20 mm}
  - {name: third, member: rail, at: 400 mm, side: top, offset: -20 mm}
"""
HELD = "[{point: root, held: all}]"


@proof(Kind.FORMULA)
def test_a_channel_twisted_from_either_end(held: Held, front_door: FrontDoor) -> None:
    """V. Z. Vlasov, Thin-walled elastic beams: warping held at x = 0 and free at L, torque T: B = T sinh k(L - x) / (k cosh kL),
    turn T (L - tanh(kL) / k) / GJ, k2 = GJ / E Cw; which end the ground holds changes the sign of the bimoment and of the turn alone.
    """
    written = front_door(RIG)
    section = written["sections"]["rail"]
    gj, ecw = 80e9 * section["torsion_constant_m4"], 200e9 * section["warping_constant_m6"]
    k, length, torque = sqrt(gj / ecw), 1.2, 5.0
    read = {(row["reading"], row["load_case"]): row for row in written["readings"]}
    for name, x in (("root", 0.0), ("third", 0.4)):
        bimoment = torque * sinh(k * (length - x)) / (k * cosh(k * length))
        held(abs(read[name, "twist at the tip"]["bimoment_nm2"]), bimoment, rel=1e-3)
        held(abs(read[name, "twist at the root"]["bimoment_nm2"]), bimoment, rel=1e-3)
    turn = torque * (length - tanh(k * length) / k) / gj
    for case, point in (("twist at the tip", "tip"), ("twist at the root", "root")):
        found = next(row for row in written["load_cases"] if row["name"] == case)
        held(found["points"][point]["rotation_rad"][0], turn, rel=1e-3)
        held_at = "root" if point == "tip" else "tip"
        held(found["reactions"][held_at]["moment_nm"][0], -torque, rel=1e-9)
        held(found["reactions"][point]["moment_nm"][0], 0.0, abs=1e-9)


@proof(Kind.FORMULA)
def test_warping_stress_where_a_gauge_sits(held: Held, front_door: FrontDoor) -> None:
    """Thin-wall theory by hand: sigma = B omega / Cw; on a flange omega = (h / 2)(s - e) at s from the web's middle line, e = 3 b2 /
    (h + 6 b) (Vlasov), less (t / 2)(s + e) on its outside, where the gauge sits (warping through the wall); h 97, b 48.5, t 3 mm.
    """
    row = next(each for each in front_door(RIG)["readings"] if each["reading"] == "root" and each["load_case"] == "twist at the tip")
    h, b = 0.097, 0.0485
    from_web = 0.025 + 0.020 - 0.0015
    e = 3 * b**2 / (h + 6 * b)
    omega = h / 2 * (from_web - e) - 0.0015 * (from_web + e)
    cw = 0.003 * b**3 * h**2 / 12 * (3 * b + 2 * h) / (6 * b + h)
    held(abs(row["normal_stress_pa"]), abs(row["bimoment_nm2"]) * omega / cw, rel=0.02)


def refused(text: str) -> str:
    with pytest.raises(InputError) as caught:
        run(read_case(text, "rig.yaml", LIBRARY), STORE)
    return str(caught.value)


@pytest.mark.parametrize(
    ("old", "new", "line", "says"),
    [
        ("point: root, held: all", "point: rot, held: all", 10, "rot"),
        (HELD, "[{point: root}]", 10, "holds nothing"),
        (HELD, "[{point: root, held: [x]}, {point: root, held: [y]}]", 10, "stands on line 10 already"),
        (HELD, f"{HELD}, moved supports: [{{point: tip, direction: z, amount: 1 mm}}]", 10, "does not hold"),
        ("name: third, member: rail", "name: root, member: rail", 14, "stands on line 13 already"),
        ("at: 400 mm", "at: 1400 mm", 14, "beyond the end"),
        ("at: 400 mm, side: top, offset: -20 mm", "at: 400 mm, side: top, offset: -40 mm", 14, "beyond the edge"),
        ("at: 400 mm, side: top, offset: -20 mm", "at: 400 mm, side: right, offset: 0 mm", 14, "where the section is open"),
        ("member: rail, at: 400 mm", "member: trail, at: 400 mm", 14, "trail"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_with_its_line(old: str, new: str, line: int, says: str) -> None:
    assert old in RIG
    found = refused(RIG.replace(old, new))
    assert f"rig.yaml:{line}" in found
    assert says in found


def test_a_load_case_whose_own_supports_hold_too_little_is_named() -> None:
    with pytest.raises(UnsolvableError, match=r"twist at the tip.*supports of its own.*free to move"):
        run(read_case(RIG.replace(HELD, "[{point: root, held: place}]"), "rig.yaml", LIBRARY), STORE)
