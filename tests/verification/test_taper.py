"""Tapered stretches as prismatic steps, against the integrals of the beam whose section changes evenly."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from pytest import approx
from scipy.integrate import quad

from framecheck.errors import InputError
from framecheck.model.case import Case
from framecheck.model.frame import Section
from framecheck.model.shapes import BoxedChannel, Channel, RectTube, RoundTube
from framecheck.reading.case_file import read_case
from framecheck.results.summary import member_rows
from framecheck.run import Results, run
from framecheck.section.taper import STIFFNESS_WITHIN, STRESS_WITHIN, between, steps_between
from tests.cases.test_sections import LIBRARY
from tests.unit.checks.members import STEEL

YOUNG, LENGTH, DEEP, LOW, WIDTH, WALL = 210e9, 2.0, 0.100, 0.060, 0.050, 0.003
METAL = """\
materials:
  - {name: plain steel, kind: steel, youngs modulus: 210 GPa, poissons ratio: 0.3, density: 7850 kg/m3, yield strength: 355 MPa,
     ultimate strength: 470 MPa, source: invented for this test}
  - {name: other steel, kind: steel, youngs modulus: 200 GPa, poissons ratio: 0.3, density: 7850 kg/m3, yield strength: 355 MPa,
     ultimate strength: 470 MPa, source: invented for this test}
sections:
  deep: {shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 3 mm, material: plain steel}
  low: {shape: rectangular tube, height: 60 mm, width: 50 mm, wall: 3 mm, material: plain steel}
  alien: {shape: rectangular tube, height: 60 mm, width: 50 mm, wall: 3 mm, material: other steel}
  open: {shape: channel, height: 100 mm, flange: 50 mm, wall: 3 mm, inside radius: 4 mm, material: plain steel}
  open low: {shape: channel, height: 60 mm, flange: 50 mm, wall: 3 mm, inside radius: 4 mm, material: plain steel}
"""
BEAM = f"""\
title: A tapered cantilever
{METAL}
frame:
  points: {{a: {{x: 0 m}}, b: {{x: 2 m}}}}
  members:
    - {{name: beam, points: [a, b], section: deep, ends: rigid, changes: [CHANGES]}}
  supports:
    - {{point: a, held: all}}
load cases:
  - bent: {{forces: [{{point: b, moment: {{y: -1 kNm}}}}]}}
"""
LADDER = f"""\
title: A ladder whose rails taper
{METAL}
frame:
  ladder:
    rail:
      section: open
      stations:
        - {{name: front, x: 1 m, y: 400 mm, z: 0 mm}}
        - {{name: kick, x: 0.6 m, taper to: open low}}
        - {{name: arch, x: 0 m}}
        - {{name: rear, x: -1 m, y: 400 mm, z: 0 mm, END}}
    crossmembers:
      - {{name: fore, x: 0.8 m, section: low, ends: rigid}}
      - {{name: aft, x: -0.7 m, section: low, ends: rigid}}
  supports:
    - {{point: left front, held: all}}
load cases:
  - pushed: {{forces: [{{point: right rear, force: {{z: -1 kN}}}}]}}
"""


def beam(changes: str) -> Case:
    return read_case(BEAM.replace("CHANGES", changes), "beam.yaml", LIBRARY)


@cache
def bent() -> Results:
    return run(beam("{at: 0 m, taper to: low, until: 2 m}"))


def inertia(x: float) -> float:
    """Second moment of the tube at x, m4: outer less inner rectangle."""
    depth = DEEP + (LOW - DEEP) * x / LENGTH
    return (WIDTH * depth**3 - (WIDTH - 2 * WALL) * (depth - 2 * WALL) ** 3) / 12


def modulus(share: float) -> float:
    depth = DEEP + (LOW - DEEP) * share
    return inertia(share * LENGTH) / (depth / 2)


def test_a_cantilever_under_an_end_moment_bends_as_the_integral_says() -> None:
    # M / E times the integral of 1 / I turns the end, of (L - x) / I moves it: the unit-load method. A moment makes no shear
    turned = 1e3 / YOUNG * quad(lambda x: 1 / inertia(x), 0, LENGTH)[0]
    moved = 1e3 / YOUNG * quad(lambda x: (LENGTH - x) / inertia(x), 0, LENGTH)[0]
    solution = bent().outcome.solutions[0]
    end = solution.displacements[solution.points.index("b"), 0]
    assert abs(end[2]) == approx(moved, rel=STIFFNESS_WITHIN)
    assert abs(end[4]) == approx(turned, rel=STIFFNESS_WITHIN)


def test_the_estimate_by_halving_is_the_error_that_steps_make() -> None:
    found = steps_between(
        Section("deep", RectTube(DEEP, WIDTH, WALL), STEEL), Section("low", RectTube(LOW, WIDTH, WALL), STEEL)
    )
    count = len(found.shapes)
    ends = np.linspace(0, 1, count + 1)
    errors = []
    for weight in (lambda s: 1.0, lambda s: s**2, lambda s: (1 - s) ** 2):
        true = quad(lambda s, w=weight: w(s) / inertia(s * LENGTH), 0, 1)[0]
        steps = sum(quad(weight, a, b)[0] / inertia((a + b) / 2 * LENGTH) for a, b in pairwise(ends))
        errors.append(abs(steps / true - 1))
    assert found.stiffness_error == approx(max(errors), rel=0.1)
    assert found.stiffness_error <= STIFFNESS_WITHIN


def test_stress_is_told_to_exceed_its_step_by_the_ratio_of_moduli() -> None:
    found = steps_between(
        Section("deep", RectTube(DEEP, WIDTH, WALL), STEEL), Section("low", RectTube(LOW, WIDTH, WALL), STEEL)
    )
    last = 1 - 0.5 / len(found.shapes)
    assert found.stress_error == approx(modulus(last) / modulus(1.0) - 1, rel=0.02)
    assert found.stress_error <= STRESS_WITHIN


def test_mass_is_that_of_the_mean_area() -> None:
    # the area of the tube grows straight with its depth
    (row,) = member_rows(bent().outcome, bent().rows)
    areas = [depth * WIDTH - (depth - 2 * WALL) * (WIDTH - 2 * WALL) for depth in (DEEP, LOW)]
    assert row.mass == approx(7850 * LENGTH * sum(areas) / 2, rel=1e-6)
    assert row.section == "deep tapered to low"


def test_the_note_tells_steps_and_errors_once() -> None:
    notes = [note for each in bent().outcome.sections.values() for note in each.notes if "taper" in note]
    assert len(notes) == 1
    assert f"taken in {len(bent().outcome.sections)} equal steps" in notes[0]
    assert "open section" not in notes[0]


def test_sizes_run_straight_from_one_section_to_the_other() -> None:
    first = BoxedChannel(Channel(0.1, 0.05, 0.003, 0.004), 0.003, 0.0)
    last = BoxedChannel(Channel(0.06, 0.04, 0.003, 0.004), 0.005, 0.0)
    assert between(first, last, 0.25) == BoxedChannel(Channel(0.09, 0.0475, 0.003, 0.004), 0.0035, 0.0)
    (only,) = steps_between(Section("a", first, STEEL), Section("b", first, STEEL)).shapes
    assert only == first


@pytest.mark.parametrize(
    "shapes",
    [(RoundTube(0.06, 0.003), RoundTube(0.04, 0.003)), (RectTube(0.1, 0.05, 0.004), RectTube(0.1, 0.05, 0.002))],
)
def test_other_sizes_may_taper_too(shapes: tuple[RoundTube | RectTube, RoundTube | RectTube]) -> None:
    assert steps_between(*(Section(name, shape, STEEL) for name, shape in zip("ab", shapes, strict=True))).meets_limits


def test_a_part_of_a_member_tapers_between_two_stretches() -> None:
    stretches = beam("{at: 0.5 m, taper to: low, until: 1.5 m}").frame.members[0].stretches
    assert (stretches[0].section, stretches[0].until) == ("deep", 0.5)
    assert (stretches[-1].section, stretches[-1].until) == ("low", np.inf)
    assert stretches[-2].until == approx(1.5)
    assert np.diff([each.until for each in stretches[:-1]]) == approx(1.0 / (len(stretches) - 2))


def test_both_rails_taper_from_a_station_to_the_next() -> None:
    frame = read_case(LADDER.replace(", END", ""), "ladder.yaml", LIBRARY).frame
    left, right = frame.members[:2]
    assert left.stretches == right.stretches
    assert (left.stretches[0].section, left.stretches[0].until) == ("open", approx(0.4))
    assert left.stretches[-2].until == approx(1.0)
    assert left.stretches[-1].section == "open low"
    (note,) = [note for section in frame.sections.values() for note in section.notes]
    assert "inclined flanges of an open section" in note


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ("{at: 0 m, taper to: open, until: 1 m}", "not of one kind"),
        ("{at: 0 m, taper to: alien, until: 1 m}", "of two metals"),
        ("{at: 0 m, taper to: lw, until: 1 m}", "did you mean 'low'"),
        ("{at: 0 m, taper to: low}", "does not say one of"),
        ("{at: 1 m, until: 2 m, section: low}", "does not say one of"),
        ("{at: 1 m, section: low, taper to: low, until: 2 m}", "does not say one of"),
        ("{at: 1 m}", "does not say one of"),
        ("{at: 1 m, taper to: low, until: 0.5 m}", "lies beyond its end"),
        ("{at: 1 m, taper to: low, until: 2.5 m}", "lies beyond its end"),
        ("{at: 0 m, taper to: low, until: 1 m}, {at: 0.5 m, section: deep}", "not further along"),
        ("{at: 0 m, section: low}", "not further along"),
    ],
)
def test_a_taper_that_cannot_be_made_is_refused(changes: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        beam(changes)


def test_a_rail_cannot_taper_beyond_its_end() -> None:
    with pytest.raises(InputError, match="the rail ends here"):
        read_case(LADDER.replace("END", "taper to: open low"), "ladder.yaml", LIBRARY)
