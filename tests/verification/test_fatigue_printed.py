"""Printed examples of fatigue in torsion and bending together, entered as a case file and read from its JSON."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.verification.manual import FrontDoor, Held, Kind, proof

INCH, LBF_INCH, KPSI = 0.0254, 0.112984829, 6.894757e6
AXIAL = 0.85
"""framecheck divides the normal amplitude by it (walls are pulled all through); these examples bend solid bars and do not: their
bending amplitude is entered times 0.85."""
Swing = tuple[float, float]


def shaft(diameter: float, bent: Swing, twisted: Swing, metal: tuple[float, float, str]) -> str:
    """Return the case file of a bar; bent, twisted: (amplitude, mean) in Nm; metal: strength and limit in Pa, rule for the mean."""
    ultimate, limit, rule = metal
    ground = min(1.58 * (ultimate / 1e6) ** -0.085, 1.0)
    loads = []
    for name, way in (("low", -1.0), ("high", 1.0)):
        moment = bent[1] + way * AXIAL * bent[0]
        torque = twisted[1] + way * twisted[0]
        loads.append(f"  - {name}:\n      forces: [{{point: b, moment: {{x: {torque!r} Nm, y: {moment!r} Nm}}}}]\n")
    return f"""title: a shaft
materials:
  - {{name: metal, youngs modulus: 207 GPa, density: 7850 kg/m3, yield strength: {0.8 * ultimate / 1e6!r} MPa,
     ultimate strength: {ultimate / 1e6!r} MPa}}
sections:
  bar: {{shape: round bar, diameter: {diameter * 1000!r} mm, material: metal}}
frame:
  points:
    a: {{x: 0 mm, y: 0 mm, z: 0 mm}}
    b: {{x: 1000 mm, y: 0 mm, z: 0 mm}}
  members: [{{name: shaft, points: [a, b], section: bar, ends: rigid}}]
  supports: [{{point: a, held: all}}]
load cases:
{"".join(loads)}fatigue:
  duty:
    life: 1 km
    partial factors: {{load: 2, strength: 1}}
    events: [{{name: turns, from: low, to: high, cycles per km: 1e6}}]
  details:
    - name: metal
      member: shaft
      base metal: {{finish: ground, mean stress: {rule}, reliability: {limit / (0.5 * ultimate * ground)!r}}}
"""


def least(front_door: FrontDoor, text: Callable[[float], str], near: float) -> float:
    """Return the least diameter that is never damaged with a factor of 2 on load, between 0.98 and 1.02 times `near`."""
    low, high = 0.98 * near, 1.02 * near
    for _ in range(7):
        middle = (low + high) / 2
        row = next(each for each in front_door(text(middle))["checks"] if each["check"] == "fatigue")
        low, high = (middle, high) if row["demand"] > 0.0 else (low, middle)
    return (low + high) / 2


@proof(Kind.PRINTED)
@pytest.mark.parametrize(("rule", "diameter"), [("Goodman", 1.073), ("Gerber", 1.016)])
def test_a_shaft_bent_and_twisted(held: Held, front_door: FrontDoor, rule: str, diameter: float) -> None:
    """R. G. Budynas, J. K. Nisbett, Shigley's Mechanical Engineering Design, 8th ed., solution of problem 7-1 (opened): factor 2.

    Bending 600 and 500 lbf in (amplitude, mean) times 2.2, torque 400 and 300 times 1.8; Se 30, Su 100 kpsi: 1.073 in by DE-Goodman,
    1.016 in by DE-Gerber.
    """
    bent, twisted = (2.2 * 600 * LBF_INCH, 2.2 * 500 * LBF_INCH), (1.8 * 400 * LBF_INCH, 1.8 * 300 * LBF_INCH)
    metal = 100 * KPSI, 30 * KPSI, rule
    found = least(front_door, lambda size: shaft(size, bent, twisted, metal), diameter * INCH)
    held(found / INCH, diameter, abs=1.5e-3)


@proof(Kind.PRINTED)
def test_a_shaft_of_another_textbook(held: Held, front_door: FrontDoor) -> None:
    """V. B. Bhandari, Design of Machine Elements, example 5.20 (worked in the Scilab textbook companion of FOSSEE, opened there).

    Bending 200 to 600 Nm, torque 70 to 200 Nm, Su 540 MPa, Se 200 MPa, factor 2 by Goodman: diameter 33.29 mm.
    """
    metal = 540e6, 200e6, "Goodman"
    found = least(front_door, lambda size: shaft(size, (200.0, 400.0), (65.0, 135.0), metal), 0.03329)
    held(found * 1000, 33.29, abs=0.04)
