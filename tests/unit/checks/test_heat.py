"""Which lengths of a member lie beside a weld: geometry by hand, 25 mm (an inch) from the weld's outermost places."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from framecheck.checks.heat import strengths_of
from framecheck.checks.heat.zones import REACH, SoftenedZone, Why
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED

SECTIONS = SHARED

HEAD = """title: a soft tube
origin: a
sections:
  tube: {shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 5 mm, material: 1020 DOM}
  thin: {shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 4 mm, material: 1020 DOM}
  worn: {shape: worn, base: {shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 5 mm}, top: 1 mm, material: 1020 DOM}
  sewn: {shape: plated, base: {shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 5 mm}, joined: SEAM,
         plates: [{side: top, width: 40 mm, thickness: 4 mm}], material: 1020 DOM}
frame:
  points: {a: {x: 0 mm, y: 0 mm, z: 0 mm}, m: {x: 1000 mm, y: 0 mm, z: KINK mm}, b: {x: 2000 mm, y: 0 mm, z: 0 mm},
           c: {x: 1000 mm, y: 500 mm, z: KINK mm}}
  members:
    - {name: rail, points: [a, m, b], section: tube, start: START, end: pinned MORE}
    - {name: cross, points: [m, c], section: tube, start: CROSS, end: pinned}
  supports:
    - {point: a, held: [x, y, z, turn x, turn y, turn z]}
    - {point: b, held: [x, y, z, turn x, turn y, turn z]}
    - {point: c, held: [x, y, z, turn x, turn y, turn z]}
load cases:
  - push:
      forces:
        - {point: LOADED, force: {z: -1 kN}}
"""


def zones(joints: str = "", seam: str = "welded all along", head: str = HEAD, **said: str) -> tuple[SoftenedZone, ...]:
    """Return the softened lengths of the rail."""
    given_words = {"KINK": "0", "MORE": "", "START": "pinned", "CROSS": "pinned", "LOADED": "b", "SEAM": seam, **said}
    text = head
    for word, meant in given_words.items():
        text = text.replace(word, meant)
    outcome = run(read_case(text + joints, "case.yaml", LIBRARY), SECTIONS).outcome
    return strengths_of(outcome, outcome.case.frame.members[0], outcome.solutions[0].members[0]).zones


def spans(found: tuple[SoftenedZone, ...]) -> list[tuple[Why, float, float]]:
    return [(zone.why, zone.low, zone.high) for zone in found]


def test_nothing_is_soft_where_nothing_is_welded() -> None:
    assert zones() == ()


def test_a_load_is_taken_as_welded_on_until_its_bolts_are_told() -> None:
    ((why, low, high),) = spans(zones(LOADED="m"))
    assert (why, low, high) == (Why.MOUNT, approx(1 - REACH), approx(1 + REACH))
    bolts = """joints:
  - {name: lug, kind: bolts, at: {point: m}, plane: {facing: up}, spots: [{along: 0 in}],
     bolt: {thread: M8, grade: "8.8"}, plies: [{name: rail, thickness: 5 mm, material: 1020 DOM}]}
"""
    assert zones(bolts, LOADED="m") == ()


def test_the_foot_of_a_crossmember_reaches_half_its_width_further() -> None:
    """The tube is 50 mm wide along the rail: welds 25 mm from the point, an inch of heat beyond."""
    ((why, low, high),) = spans(zones(CROSS="butt on one face"))
    assert (why, low, high) == (Why.MEMBER, approx(1 - 0.025 - REACH), approx(1 + 0.025 + REACH))
    assert zones(CROSS="rigid")[0].why is Why.MEMBER


def test_a_weld_is_as_long_as_it_is_drawn() -> None:
    weld = """joints:
  - {name: pad, kind: welds, at: {point: m}, electrode: E70,
     around: {plane: {facing: up, along: forward, origin: {x: 30 mm}}, across: 40 mm, along: 100 mm, leg: 4 mm},
     parts: [{name: rail, thickness: 5 mm, material: 1020 DOM}]}
"""
    ((why, low, high),) = spans(zones(weld, LOADED="m"))
    assert (why, low, high) == (Why.WELD, approx(1.03 - 0.05 - REACH), approx(1.03 + 0.05 + REACH))


def test_a_kink_is_mitred_until_it_is_said_to_be_bent() -> None:
    (found,) = zones(KINK="60")
    assert found.why is Why.KINK
    assert found.high - found.low == approx(
        2 * (REACH + 0.05 * 0.06), rel=1e-2
    )  # half of 100 mm times half the turn, 0.12 rad
    assert zones(KINK="60", MORE=", kinks: bent") == ()
    assert zones(KINK="60", MORE=", kinks: mitred")[0].why is Why.MITRE
    assert zones(KINK="4") == ()  # less than half a degree in all


@pytest.mark.parametrize(("section", "why"), [("thin", Why.CHANGE), ("worn", None), ("sewn", Why.CHANGE)])
def test_a_change_of_section_is_a_weld_unless_it_is_the_same_piece(section: str, why: Why | None) -> None:
    found = zones(MORE=f", changes: [{{at: 600 mm, section: {section}}}]")
    assert [zone.why for zone in found if zone.why is not Why.SEAM] == ([] if why is None else [why])
    for splice in ("bolted", "formed from one piece"):
        more = f", changes: [{{at: 600 mm, section: thin}}], splices: {splice}"
        assert zones(MORE=more) == ()


def test_welded_seams_are_soft_all_along_and_bolted_ones_nowhere() -> None:
    more = ", changes: [{at: 600 mm, section: sewn}]"
    sewn = next(zone for zone in zones(MORE=more) if zone.why is Why.SEAM)
    length = 2.0
    assert (sewn.low, sewn.high) == (approx(0.6 - REACH), approx(length))
    assert zones(MORE=more, seam="{bolts: {pitch: 50 mm}}") == ()


def test_bolts_through_the_walls_of_an_end_leave_it_cold_and_a_plate_on_it_does_not() -> None:
    joint = """joints:
  - {name: end bolts, kind: bolts, at: {member: rail, end: start}, plane: {facing: WAY}, spots: [{along: 0 in}],
     bolt: {thread: M8, grade: "8.8"}, plies: [{name: rail, thickness: 5 mm, material: 1020 DOM}]}
"""
    assert [zone.why for zone in zones(START="rigid")] == [Why.END, Why.MOUNT]
    assert [zone.why for zone in zones(joint.replace("WAY", "left"), START="rigid")] == [Why.MOUNT]
    assert [zone.why for zone in zones(joint.replace("WAY", "forward"), START="rigid")] == [Why.END_PLATE, Why.MOUNT]


@settings(max_examples=15, deadline=None)
@given(st.integers(150, 900), st.integers(10, 60), st.booleans())
def test_softened_lengths_do_not_depend_on_which_way_the_rail_is_drawn(change: int, kink: int, bent: bool) -> None:
    """The same rail from b to a: the same lengths, seen from its other end."""
    kinks = ", kinks: bent" if bent else ""
    there = zones(
        KINK=str(kink),
        MORE=f", changes: [{{at: {change} mm, section: thin}}]{kinks}",
        CROSS="butt on one face",
        LOADED="m",
    )
    length = 2 * ((1000**2 + kink**2) ** 0.5) / 1000
    back = f", changes: [{{at: {1000 * length - change:.12f} mm, section: tube}}]{kinks}"
    text = HEAD.replace(
        "points: [a, m, b], section: tube, start: START, end: pinned", "points: [b, m, a], section: thin, ends: pinned"
    )
    here = zones(head=text, KINK=str(kink), MORE=back, CROSS="butt on one face", LOADED="m")
    seen = sorted((length - zone.high, length - zone.low) for zone in here)
    assert [each for pair in sorted((zone.low, zone.high) for zone in there) for each in pair] == approx(
        [each for pair in seen for each in pair], abs=1e-9
    )
