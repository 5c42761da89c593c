"""Where a force, a moment or a section jumps both sides count, and a section that a member has twice is the one that is meant."""

from __future__ import annotations

import json
from typing import Any

import pytest

from framecheck.output.json_text import as_json
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED

MEMORY = SHARED
HEAD = "title: bench\norigin: left end\n"
BEAM = """
sections:
  tube: {shape: rectangular tube, height: 4 in, width: 2 in, wall: 3/16 in, outside radius: 3/8 in, material: A500 grade C}
frame:
  points:
    a: {x: 0 m, y: 0 m, z: 0 m}
    b: {x: 0.5 m, y: 0 m, z: 0 m}
    c: {x: 1 m, y: 0 m, z: 0 m}
  members:
    - {name: beam, points: [a, b, c], section: tube, ends: rigid}
  supports:
    - {point: a, held: [x, y, z, turn x, turn z]}
    - {point: c, held: [y, z]}
load cases:
  - pushed and turned:
      forces: [{point: b, force: {z: -2000 N}, moment: {y: MOMENT}}]
fatigue:
  duty:
    life: 100000 km
    events: [{name: swing, to: pushed and turned, cycles per km: 10, source: x}]
  details: [{name: tab, member: beam, class: EN tab over 100 mm, from: FROM, to: TO, side: top}]
"""


def told(text: str) -> dict[str, Any]:
    """Return the JSON of a case."""
    written: dict[str, Any] = json.loads(as_json(run(read_case(HEAD + text, "bench.yaml", LIBRARY), MEMORY), "a caution"))
    return written


@pytest.mark.parametrize("moment", ["2000 Nm", "-2000 Nm"], ids=["jumps up", "jumps down"])
@pytest.mark.parametrize("place", [("0.4 m", "0.6 m"), ("0.5 m", "0.5 m"), ("0 m", "1 m"), ("19.685039 in", "19.685040 in")])
def test_both_sides_of_a_jump_count(moment: str, place: tuple[str, str]) -> None:
    """Statics: F L/4 = 500 Nm and, before or behind the middle, M/2 = 1000 Nm more: 1500 Nm on one side whichever way it turns.

    Damage n/N, N = 2e6 (56 MPa / 1.35 / range)^3: EN 1993-1-9:2005, 7.1 and table 8.4 (attachment over 100 mm long).
    """
    written = told(BEAM.replace("MOMENT", moment).replace("FROM", place[0]).replace("TO", place[1]))
    second = written["sections"]["tube"]["i_vertical_m4"]
    spread = 1500 * 0.0508 / second
    row = next(each for each in written["checks"] if each["check"] == "fatigue")
    assert row["demand"] == pytest.approx(1e6 / (2e6 * (56e6 / 1.35 / spread) ** 3), rel=1e-6)


STRUT = """
sections:
  rd: {shape: round tube, diameter: 60.3 mm, wall: 3.2 mm, material: S235}
  sq: {shape: rectangular tube, height: 60 mm, width: 60 mm, wall: 3 mm, material: S355}
frame:
  points:
    p0: {x: 0 mm, y: 0 mm, z: 0 mm}
    p1: {x: 1000 mm, y: 0 mm, z: 0 mm}
    p2: {x: 2000 mm, y: 0 mm, z: 0 mm}
    p3: {x: 3000 mm, y: 0 mm, z: 0 mm}
  members:
MEMBERS
  supports:
    - {point: p0, held: all}
rare load cases: [push]
load cases:
  - push:
      forces: [{point: p3, force: {x: -20 kN, y: 0.2 kN, z: 0.3 kN}}]
"""
ONE = """    - name: m
      points: [p0, p1, p2, p3]
      section: rd
      ends: rigid
      changes: [{at: 1000 mm, section: sq}, {at: 2000 mm, section: rd}]"""
THREE = "\n".join(
    f"    - {{name: m{k}, points: [p{k}, p{k + 1}], section: {of}, ends: rigid}}" for k, of in enumerate(("rd", "sq", "rd"))
)


@pytest.mark.parametrize("check", ["yield", "local buckling", "permanent set"])
def test_a_section_used_twice_is_judged_as_in_three_members(check: str) -> None:
    """The mean of the stations of the round ends lies in the square tube between: nothing may be looked up by that."""

    def worst(members: str) -> float:
        found = [each for each in told(STRUT.replace("MEMBERS", members))["checks"] if each["check"] == check]
        return float(min(each["safety_factor"] for each in found))

    assert worst(ONE) == pytest.approx(worst(THREE), rel=1e-9)


LONG = BEAM.replace("b: {x: 0.5 m", "b: {x: 0.3 m").replace("held: [y, z]", "held: [y, z, turn x]")


def lives(text: str, spans: tuple[tuple[str, str], ...]) -> list[float]:
    """Return Miner's sum of the details over spans."""
    found = {row["subject"]["part"]: row["demand"] for row in told(text)["checks"] if row["check"] == "fatigue"}
    return [found[f"{a} to {b}"] for a, b in spans]


def details(*spans: tuple[str, str], of: str = "EN sheared base metal") -> str:
    """Return a list of details over spans, named by them."""
    return "".join(f"\n    - {{name: {a} to {b}, member: beam, class: {of}, from: {a}, to: {b}}}" for a, b in spans)


def test_both_sides_of_a_jump_in_torque_count() -> None:
    """Statics: a torque at 0.3 of a bar held at both ends goes to 0.7 and 0.3 of it; shear, m = 5: (7 / 3)^5 in damage."""
    pushed = "force: {z: -2000 N}, moment: {y: MOMENT}"
    spans = ("0.1 m", "0.2 m"), ("0.3 m", "0.3 m"), ("0.3001 m", "0.9 m"), ("0.2 m", "0.8 m")
    head = LONG.split("  details:")[0].replace(pushed, "moment: {x: 9000 Nm}")
    near, at, far, across = lives(f"{head}  details:{details(*spans)}\n", spans)
    assert at == across == pytest.approx(near, rel=1e-9)
    assert near / far == pytest.approx((7 / 3) ** 5, rel=1e-3)


def test_both_sides_of_a_change_of_section_count() -> None:
    """A detail at the very place where a thinner tube begins is that of the thinner one, from whichever side its span comes."""
    thin = "  thin: {shape: rectangular tube, height: 4 in, width: 2 in, wall: 1/8 in, outside radius: 1/4 in, material: A500 grade C}"
    head = BEAM.replace("frame:", f"{thin}\nframe:", 1).replace("section: tube, ends", "section: tube, changes: [CHANGE], ends")
    head = head.replace("CHANGE", "{at: 0.5 m, section: thin}").replace("MOMENT", "9000 Nm").split("  details:")[0]
    tab = "EN tab over 100 mm"
    spans = ("0.5 m", "0.5 m"), ("0.4 m", "0.5 m"), ("0.5 m", "0.6 m"), ("0.4 m", "0.4999 m")
    at, before, beyond, thick = lives(f"{head}  details:{details(*spans, of=tab)}\n", spans)
    assert at == pytest.approx(before, rel=1e-9) == pytest.approx(beyond, rel=1e-9)
    assert at > 2 * thick


@pytest.mark.parametrize("check", ["yield", "notch"])
def test_other_checks_take_the_worse_side_of_a_jump(check: str) -> None:
    """Statics: 1500 Nm on one side of the middle and 500 on the other, whichever way the moment turns; a notch lies over both."""
    slot = "  cuts: [{name: slot, member: beam, at: 0.5 m, side: top, depth: 10 mm, length: 60 mm}]\n"
    notched = BEAM.replace("  supports:", f"{slot}  supports:")
    head = notched.split("fatigue:")[0]
    up, down = (
        max(row["demand"] for row in told(head.replace("MOMENT", each))["checks"] if row["check"] == check)
        for each in ("2000 Nm", "-2000 Nm")
    )
    assert up == pytest.approx(down, rel=1e-6)


def test_an_end_of_a_load_on_a_member_is_a_station() -> None:
    """Statics: 10 kN/m over 0.2 m in the middle of a leg; shear 2 kN before it begins, nothing is looked over beyond."""
    load = "member loads: [{member: beam, from: 0.1 m, to: 0.3 m, load: {z: -10 N/mm}}]"
    head = BEAM.replace("forces: [{point: b, force: {z: -2000 N}, moment: {y: MOMENT}}]", load).split("fatigue:")[0]
    rows = [each for each in told(head)["member_forces"] if each["member"] == "beam"]
    for place, shear in ((0.1, 1600.0), (0.3, -400.0)):
        found = [abs(each["shear_vertical_n"]) for each in rows if abs(each["station_m"] - place) < 1e-9]
        assert found
        assert max(found) == pytest.approx(abs(shear), rel=1e-6)
