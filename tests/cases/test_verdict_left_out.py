"""Ways in which a file once passed over something in silence: joints at supports and springs, pins, holes, metals that do not weld."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from pytest import approx

from tests.cases.answers import ROOT, Answer, checked

LB, INCH = 4.4482216, 0.0254
BEAM = """
title: a beam on two supports, loaded in its middle
targets: {safety factor: 1.5}
frame:
  points: {a: {x: 0 in}, m: {x: -30 in}, b: {x: -60 in}, p: {x: -30 in, z: -10 in}}
  members: [{name: rail, points: [a, m, b], section: SECTION, ends: rigid}]
  supports: [{point: a, held: [x, y, z, turn x]}, {point: b, held: [y, z, turn x]}, {point: p, held: all}]
  springs: [{name: stay, points: [m, p], stiffness: {z: 1 N/mm}}]
load cases:
  - push: {member loads: [{member: rail, load: {z: -100 lb/ft}}]}
"""
WELD = """
joints:
  - name: pad
    kind: welds
    at: {point: POINT}
    around: {plane: {facing: down, along: forward}, across: 1 in, along: 2 in, leg: 1/8 in}
    electrode: E70
    parts: [{name: wall, thickness: 1/4 in, material: A36}]
"""


def beam(section: str = "tube 4 x 2 x 11 ga", more: str = "") -> str:
    return BEAM.replace("SECTION", section) + more


def open_at(answer: Answer) -> dict[str, list[str]]:
    """Return what is open, by what."""
    found: dict[str, list[str]] = {}
    for each in answer.data["verdict"]["open"]:
        found.setdefault(each["what"], []).extend(each["where"])
    return found


def rows(answer: Answer, check: str) -> list[dict[str, Any]]:
    return [row for row in answer.data["checks"] if row["check"] == check]


def test_a_joint_at_a_support_carries_what_the_support_holds(tmp_path: Path) -> None:
    """Statics: half of 100 lb/ft over 5 ft, less half of what the stay takes, over 6 in of weld; it was judged as unloaded: 999."""
    answer = checked(beam(more=WELD.replace("POINT", "a")), tmp_path)
    row = next(each for each in rows(answer, "welds") if each["words"].startswith("weld metal"))
    assert row["demand"] == approx(250 * LB / (6 * INCH), rel=0.02)


def test_a_joint_that_a_spring_pulls_at_is_left_open(tmp_path: Path) -> None:
    """Both ends of a spring can tear off; what it pulls is not among the loads of a joint there."""
    found = open_at(checked(beam(more=WELD.replace("POINT", "m")), tmp_path))
    assert "pad, with spring stay" in found["joints"]
    assert {"m", "p"} <= set(found["welds or bolts of brackets and mounts"])
    assert {"m", "p"} <= set(found["walls under brackets and mounts"])


def test_a_pinned_end_is_asked_for_its_pin(tmp_path: Path) -> None:
    arm = "  members: [{name: arm, points: [m, p], section: tube 2 x 2 x 11 ga, start: pinned, end: rigid}, {name: rail"
    found = open_at(checked(beam().replace("  members: [{name: rail", arm), tmp_path))
    assert "arm at m" in found["welds or bolts of member ends"]


def test_bolts_do_not_answer_for_the_holes_of_a_section_of_the_same_name(tmp_path: Path) -> None:
    section = """
sections:
  one name: {shape: drilled, base: tube 4 x 2 x 11 ga, holes: [{side: top, size: 1/2 in}], material: A500 grade B}
"""
    bolts = """
joints:
  - name: one name
    kind: bolts
    at: {point: m}
    plane: {facing: up, along: forward}
    grid: {across: 1, along: 2, pitch along: 3 in}
    bolt: {thread: 3/8-16, grade: grade 5}
    plies: [{name: pad, thickness: 1/4 in, material: A36, edge: 1 in}]
    contact: {across: [-1 in, 1 in], along: [-3 in, 3 in]}
"""
    found = open_at(checked(beam("one name", section + bolts), tmp_path))
    assert "rail" in found["holes in members"][0]


@pytest.mark.parametrize("held", ["weld: {leg: 1/8 in}", "stitches: {length: 1 in, pitch: 3 in, leg: 1/8 in}"])
def test_steel_welded_on_aluminium_is_missed(held: str, tmp_path: Path) -> None:
    """No filler of AWS D1.1 or D1.2 joins steel to aluminium (from memory); the seams passed at 54."""
    mixed = """
sections:
  mixed:
    shape: plated
    base: {shape: rectangular tube, height: 3 in, width: 2 in, wall: 1/8 in, material: 6061-T6}
    plates: [{side: bottom, width: 1 1/2 in, thickness: 1/8 in, material: A36}]
    joined: {HELD}
    material: A36
"""
    answer = checked(beam("mixed", mixed.replace("HELD", held)), tmp_path)
    assert answer.code == 1
    assert min(row["safety_factor"] for row in rows(answer, "seams")) == 0.0
    bolted = checked(beam("mixed", mixed.replace("HELD", "bolts: {pitch: 3 in, holds: 2000 lb}")), tmp_path)
    assert min(row["safety_factor"] for row in rows(bolted, "seams")) > 1.0


@pytest.mark.parametrize("metals", [("A36", "6061-T6"), ("6061-T6", "6061-T6")])
def test_resistance_spots_on_aluminium_are_left_open(metals: tuple[str, str], tmp_path: Path) -> None:
    """The rule is for steel sheet (AISI S100, J2.6); it passed on aluminium at 91, and between steel and aluminium too."""
    spots = f"""
joints:
  - name: spots
    kind: spot welds
    at: {{point: m}}
    plane: {{facing: up, along: forward}}
    grid: {{across: 2, along: 2, pitch across: 1 in, pitch along: 1 in}}
    spot: resistance spot weld
    diameter: 1/4 in
    electrode: E70
    parts:
      - {{name: upper, thickness: 16 ga sheet, material: {metals[0]}}}
      - {{name: lower, thickness: 11 ga tube, material: {metals[1]}}}
"""
    answer = checked(beam(more=spots), tmp_path)
    assert rows(answer, "spot welds") == []
    assert open_at(answer)["joints"] == ["spots"]
    assert "m" in open_at(answer)["welds or bolts of brackets and mounts"]


METAL = "\nmaterials:\n  - {name: own, youngs modulus: 69 GPa, density: 2700 kg/m3, FIRST, SECOND}"
BOX = "\nsections:\n  box: {shape: rectangular tube, height: 4 in, width: 2 in, wall: 1/4 in, material: own}"


@pytest.mark.parametrize(
    ("first", "second", "told"),
    [
        ("yield strength: 240 MPa, ultimate strength: 290 MPa", "kind: aluminium", "'welded yield strength' is not written"),
        ("yield strength: 240 MPa, ultimate strength: 290 MPa", "elongation: 0.1", "a Young's modulus of 69 GPa is not that of steel"),
        ("yield strength: 700 MPa, ultimate strength: 800 MPa", "elongation: 0.1", "'welded yield strength' is not written"),
    ],
)
def test_a_metal_that_welding_may_soften_or_of_another_kind_is_told(first: str, second: str, told: str, tmp_path: Path) -> None:
    """6061-T6 keeps 105 of 240 MPa beside a weld; with that line left out it kept all of it, and nobody was told."""
    text = beam("box", METAL.replace("FIRST", first).replace("SECOND", second) + BOX)
    assert any(told in why for why in reasons(checked(text, tmp_path)))
    both = "welded yield strength: 105 MPa, welded ultimate strength: 165 MPa"
    kind = f"kind: aluminium, {both}"
    assert not any(told in why for why in reasons(checked(text.replace(second, kind), tmp_path)))


def reasons(answer: Answer) -> list[str]:
    """Return why something is open."""
    return [why for each in answer.data["verdict"]["open"] for why in each["why"]]


def test_a_metal_that_tears_before_it_yields_is_refused_by_line(tmp_path: Path) -> None:
    metal = METAL.replace("FIRST", "yield strength: 300 MPa, ultimate strength: 260 MPa").replace("SECOND", "kind: aluminium")
    answer = checked(beam("box", metal + BOX), tmp_path)
    assert answer.code == 2
    assert "yield strength is above its ultimate strength" in answer.err


@pytest.mark.parametrize("targets", ["{safety factor: 0.5}", "{safety factor: 1.5, load cases: {push: 0.5}}"])
def test_a_target_below_one_is_told(targets: str, tmp_path: Path) -> None:
    """It passes what yields: first yield at 0.46 of the load was a PASS."""
    text = beam().replace("{safety factor: 1.5}", targets)
    assert any("a target of 0.5" in why for why in reasons(checked(text, tmp_path)))
    assert not any("a target of" in why for why in reasons(checked(beam(), tmp_path)))


def test_a_load_case_that_loads_nothing_is_told(tmp_path: Path) -> None:
    """Everything passed in it, at 999."""
    idle = beam().replace("load: {z: -100 lb/ft}", "load: {z: 0 lb/ft}")
    assert any("it puts no force on any member" in why for why in reasons(checked(idle, tmp_path)))
    assert not any("it puts no force on any member" in why for why in reasons(checked(beam(), tmp_path)))


def test_a_bracket_on_a_better_wall_than_its_member_has_is_told(tmp_path: Path) -> None:
    """A wall of 1/2 in and 110 ksi under a bracket of a rail of 11 ga and 46 ksi passed at 160, and closed the entry of that wall."""
    bracket = """
joints:
  - name: pad
    kind: bracket
    at: {point: m}
    plane: {facing: down, along: forward}
    width: 1 in
    length: 3 in
    on: {kind: rectangular tube, width: 2 in, depth: 4 in, wall: 1/2 in, outside radius: 1/2 in, material: heat-treated truck rail}
"""
    told = reasons(checked(beam(more=bracket), tmp_path))
    assert any("and its member has" in why for why in told)
    assert any("which bears less" in why for why in told)
    own = bracket.replace("wall: 1/2 in", "wall: 0.111 in").replace("heat-treated truck rail", "A500 grade B")
    told = reasons(checked(beam(more=own), tmp_path))
    assert not any("its member" in why for why in told)


def test_a_suspension_without_its_travel_is_told(tmp_path: Path) -> None:
    """Without it no bump stop strikes the frame: the nose of the truck moved 6.7 mm in a drop, 11.2 mm with it."""
    truck = (ROOT / "cases" / "hill-truck.yaml").read_text(encoding="utf-8")
    bare = re.sub(r"^ +(bump|droop): .*\n", "", truck, flags=re.MULTILINE)
    assert bare != truck
    assert any("strikes the frame" in why for why in reasons(checked(bare, tmp_path)))
    assert not any("strikes the frame" in why for why in reasons(checked(truck, tmp_path)))
