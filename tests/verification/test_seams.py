"""Force on the stitches and bolts of built-up members, against V Q / I and T / 2 A by hand."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from framecheck.checks.effective import pinned_edge, wall_state
from framecheck.checks.seam_parts import share_left, strip_slenderness
from framecheck.checks.seams import check
from framecheck.model.arrays import Array
from framecheck.model.frame import Member, Section, Stretch
from framecheck.model.joining import E70_SHEAR, BoltRow, ContinuousWeld, Joining, StitchWeld
from framecheck.model.shapes import BoxedChannel, Channel, Plate, Plated, RectTube, Shape, Side
from framecheck.output.display import Units, spoken
from framecheck.reading.case_file import read_case
from framecheck.results.row import CheckResult, Mode
from framecheck.results.subjects import Open
from framecheck.section.analysis import section_properties
from framecheck.section.properties import Wall
from framecheck.section.store import section_key
from framecheck.section.walls import walls_of
from framecheck.stress import SolvedCase
from tests.cases.test_sections import LIBRARY
from tests.unit.checks.members import STEEL, outcome, row

TUBE, WIDE, THICK = RectTube(0.1, 0.05, 0.003), 0.04, 0.003
STITCH = StitchWeld(0.025, 0.1, 0.003)
WALL = Mode.WALL_YIELDS_AT_WELD


def doubled(joining: Joining) -> Plated:
    return Plated(TUBE, (Plate(Side.TOP, WIDE, THICK),), joining)


def flushed(joining: Joining) -> BoxedChannel:
    return BoxedChannel(Channel(0.1, 0.05, 0.003, 0.0), 0.003, 0.0, joining)


def solved(shape: Shape, *forces: Array) -> SolvedCase:
    """A member of two stations whose forces (9,) are those of the load cases, all along it."""
    section = Section("built up", shape, STEEL)
    member = Member("rail", ("a", "b"), (Stretch("built up"),))
    each = np.stack([np.stack(forces)] * 2)
    found = outcome((section_properties(section),) * 2, each, (0.0, 1.0), member)
    return replace(found, case=replace(found.case, frame=replace(found.case.frame, sections={"built up": section})))


def rows(found: SolvedCase) -> list[CheckResult]:
    return [line for line in check(found) if isinstance(line, CheckResult) and line.mode not in (Mode.SHEET_BETWEEN, WALL)]


def told(found: SolvedCase) -> str:
    """What is said of the one seam that could not be judged."""
    (line,) = (line for line in check(found) if isinstance(line, Open))
    return spoken(line.reason, Units.SI)


def doubler_flow(shear: float) -> float:
    """V Q / I, N/m, of a doubler 40 x 3 mm on a 100 x 50 x 3 mm tube, by the parallel-axis theorem."""
    tube, plate = 0.1 * 0.05 - 0.094 * 0.044, WIDE * THICK
    own = (0.05 * 0.1**3 - 0.044 * 0.094**3) / 12
    middle = plate * 0.0515 / (tube + plate)
    inertia = own + tube * middle**2 + WIDE * THICK**3 / 12 + plate * (0.0515 - middle) ** 2
    return shear * plate * (0.0515 - middle) / inertia


def test_a_stitch_carries_half_of_v_q_over_i_times_the_pitch() -> None:
    found = rows(solved(doubled(STITCH), row(Vz=10e3), row(Vz=5e3)))
    assert len(found) == 2
    for line in found:
        assert line.load_case == "case 1"
        assert line.demand == approx(doubler_flow(10e3) / 2 * 0.1, rel=0.01)
        assert line.capacity == approx(0.60 * 482.6e6 * 0.7071 * 0.003 * 0.025, rel=1e-4)
        assert line.target == 2.0


def test_twist_of_a_boxed_channel_runs_round_its_cell() -> None:
    # T / 2 A with 97 x 47 mm inside the mid-line, whatever the seam
    found = rows(solved(flushed(STITCH), row(T=500.0)))
    assert len(found) == 2
    for line in found:
        assert line.demand == approx(500.0 / (2 * 0.097 * 0.047) * 0.1, rel=0.01)


def test_shear_and_twist_add_on_one_seam_and_take_away_on_the_other() -> None:
    sheared, twisted, both = (
        sorted(line.demand for line in rows(solved(flushed(STITCH), row(**forces))))
        for forces in ({"Vy": 8e3}, {"T": 500.0}, {"Vy": 8e3, "T": 500.0})
    )
    assert sheared[0] == approx(sheared[1], rel=1e-3)
    assert both[1] == approx(sheared[1] + twisted[1], rel=1e-3)
    assert both[0] == approx(abs(sheared[0] - twisted[0]), rel=1e-2)


def test_without_a_leg_the_force_and_the_leg_it_asks_for_are_told() -> None:
    said = told(solved(flushed(replace(STITCH, leg=None)), row(T=500.0)))
    flow = rows(solved(flushed(STITCH), row(T=500.0)))[0].demand / 0.1
    assert f"each seam must carry up to {flow / 1000:.1f} N/mm" in said
    leg = 2.0 * flow * 0.1 / (E70_SHEAR * 0.7071 * 0.025)
    asked = re.search(r"weld metal asks for ([\d.]+) mm", said)
    assert asked is not None
    assert float(asked[1]) == approx(1000 * leg, rel=1e-3)


def test_one_row_of_bolts_carries_what_both_edges_of_a_wide_contact_would() -> None:
    said = told(solved(doubled(BoltRow(0.05)), row(Vz=10e3)))
    shown = re.search(r"pitch of 50(?:\.0+)? mm ([\d.]+) kN; its size is not given", said)
    assert shown is not None
    force = 1000 * float(shown[1])
    assert force == approx(doubler_flow(10e3) * 0.05, rel=5e-3)
    # grade 5 in shear: 0.563 x 120 ksi (SAE J429; ANSI/AISC 360-10, table J3.2), factor 2: d = sqrt(4 x 2 F / pi / 465.8 MPa)
    size = re.search(r"would do from ([\d.]+) mm", said)
    assert size is not None
    assert float(size[1]) == approx(1000 * (8 * force / np.pi / 465.8e6) ** 0.5, abs=0.06)


def test_bolts_whose_strength_is_given_are_judged() -> None:
    (line,) = rows(solved(doubled(BoltRow(0.05, 20e3)), row(Vz=10e3)))
    assert (line.demand, line.capacity) == (approx(doubler_flow(10e3) * 0.05, rel=1e-3), 20e3)


def test_a_continuous_weld_carries_half_of_v_q_over_i_on_its_throat() -> None:
    # two welds of 3 mm along the plate's edges; ANSI/AISC 360-22, J2.4: 0.60 x 70 ksi x 0.707 leg
    for line in rows(solved(doubled(ContinuousWeld(0.003)), row(Vz=10e3))):
        assert line.unit == "N/m"
        assert line.demand == approx(doubler_flow(10e3) / 2, rel=0.01)
        assert line.capacity == approx(0.60 * 482.6e6 * 0.7071 * 0.003, rel=1e-4)


def test_a_continuous_weld_without_a_leg_is_not_judged_and_its_leg_is_told() -> None:
    said = told(solved(doubled(ContinuousWeld()), row(Vz=100e3)))
    leg = 2.0 * doubler_flow(100e3) / 2 / (E70_SHEAR * 0.7071)
    asked = re.search(r"weld metal asks for ([\d.]+) mm", said)
    assert asked is not None
    assert float(asked[1]) == approx(1000 * leg, abs=0.06)


CASE = """\
title: A stitched beam
sections:
  rail: {shape: boxed channel, channel: channel 100 x 50 x 3 mm, plate: 3 mm, inset: 0 mm, material: A36,
         joined: {stitches: {length: 25 mm, pitch: 100 mm, leg: 3 mm, electrode: E60}}}
frame:
  points: {a: {x: 0 m}, b: {x: 2 m}}
  members:
    - {name: beam, points: [a, b], section: rail, ends: rigid}
  supports:
    - {point: a, held: all}
load cases:
  - pushed: {forces: [{point: b, force: {z: -1 kN}}]}
"""


def test_leg_and_metal_are_read_and_change_nothing_of_the_section() -> None:
    # E60: 0.60 x 60 ksi, ANSI/AISC 360-22, table J2.5
    section = read_case(CASE, "beam.yaml", LIBRARY).frame.sections["rail"]
    assert isinstance(section.shape, BoxedChannel)
    joining = section.shape.joined
    assert isinstance(joining, StitchWeld)
    assert (joining.leg, joining.shear_strength) == (0.003, approx(0.60 * 413.7e6, rel=1e-3))
    plain = replace(section, shape=replace(section.shape, joined=StitchWeld(0.025, 0.1)))
    assert section_key(plain) == section_key(section)


def test_a_plate_on_one_row_of_bolts_has_two_free_halves() -> None:
    """Its real free width: from the bolts in its middle to each edge; between welds along both edges it is held."""
    bolted, welded = (walls_of(doubled(each))[4:] for each in (BoltRow(0.05), ContinuousWeld()))
    assert [(wall.width, wall.free_end, wall.gap) for wall in bolted] == [(approx(WIDE / 2), True, 0.05)] * 2
    assert [(wall.width, wall.free_start or wall.free_end, wall.gap) for wall in welded] == [(approx(WIDE), False, 0.0)]


@pytest.mark.parametrize(("length", "factor"), [(1.0, 1.440), (1.4, 0.952), (2.0, 0.698), (3.0, 0.564), (5.0, 0.506)])
def test_a_tip_held_at_stitches_buckles_as_a_plate_of_that_length(length: float, factor: float) -> None:
    """S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability, 2nd ed., table 9-5, from memory: k of a plate of length a on three
    simple supports (nu = 0.25); EN 1993-1-5's own 0.43 for a long one stands in ours for their 0.456.
    """
    tip = Wall((0.0, 0.0), (0.05, 0.0), 0.05, 0.001, False, True, tip_gap=0.05 * length)
    plain = section_properties(Section("rail", TUBE, STEEL))
    held = replace(plain, walls=(tip,))
    free = replace(plain, walls=(replace(tip, tip_gap=np.inf),))
    ours = 0.43 + float(pinned_edge(held)[0])
    assert ours == approx(factor, abs=0.04)
    pressed = np.array([row(N=-1e3)])
    assert float(pinned_edge(free)[0]) == 0.0
    assert wall_state(held, pressed).share_left[0, 0] > wall_state(free, pressed).share_left[0, 0]


@pytest.mark.parametrize("gap", [0.03, 0.1, 0.3])
def test_a_strip_between_fasteners_is_a_column(gap: float) -> None:
    """EN 1993-1-8:2005, table 3.3, note 2, and EN 1993-1-1:2005, 6.3.1.2, curve c, worked out for 3 mm; free up to 9 epsilon t."""
    slender = 0.6 * gap / (0.003 / 12**0.5) / (np.pi * (200e9 / 250e6) ** 0.5)
    assert strip_slenderness(gap, 0.003, 200e9, 250e6) == approx(slender, rel=1e-12)
    phi = 0.5 * (1 + 0.49 * (slender - 0.2) + slender**2)
    assert share_left(slender) == approx(1 / (phi + (phi**2 - slender**2) ** 0.5), rel=1e-12)
    limit = 9 * (235 / 250) ** 0.5 * 0.003
    assert share_left(strip_slenderness(limit, 0.003, 210e9, 250e6)) == approx(1.0, abs=0.01)


def test_seams_of_mirror_images_carry_the_same() -> None:
    """Symmetry: a doubler on the left and one on the right, the load turned with them. The plate's balance is exact; how it is split
    between both edges hangs on the mesh.
    """
    left, right = (
        [line.demand for line in rows(solved(Plated(TUBE, (Plate(side, 0.08, THICK),), STITCH), row(Vz=10e3, Vy=way * 4e3)))]
        for side, way in ((Side.LEFT, 1.0), (Side.RIGHT, -1.0))
    )
    assert sum(left) == approx(sum(right), rel=2e-3)  # both meshes miss V Q / I by about a thousandth
    assert sorted(left) == approx(sorted(right), rel=5e-3, abs=1e-3 * max(right))


@pytest.mark.parametrize(("joining", "share"), [(ContinuousWeld(0.02), 1.0), (replace(STITCH, leg=0.02), 4.0)])
def test_more_leg_than_the_wall_can_use_is_no_help(joining: Joining, share: float) -> None:
    """ANSI/AISC 360-22, eq. (J4-3): 0.60 Fy t of the 3 mm wall, whatever the leg; stitches a quarter of the pitch long: fourfold."""
    (line,) = (each for each in check(solved(doubled(joining), row(Vz=10e3))) if isinstance(each, CheckResult) and each.mode is WALL)
    assert line.capacity == approx(0.60 * STEEL.yield_strength * 0.003, rel=1e-9)
    assert line.demand == approx(share * doubler_flow(10e3) / 2, rel=0.01)
    assert line.target == 1.5
