"""Joints, fatigue, buckling lengths, notches: blocks of a case file to what the checks are asked. Sizes by hand, 1 in = 25.4 mm."""

from __future__ import annotations

from math import inf

import pytest

from framecheck.errors import InputError
from framecheck.model.case import Case
from framecheck.model.duty import Detail, DetailClass, Event, History, Per
from framecheck.model.joints import AtMemberEnd, AtPoint, BoltGroup, GivenLoads, PinnedSleeve, Terminal
from framecheck.model.plate import Bead, Drop, Press, Rib, StiffenerRun, Strike
from framecheck.model.shapes import Side
from framecheck.model.weld_joints import Bracket, SpotGroup, Stitch, WeldGroup
from tests.unit.reading.shop import LIBRARY, TRUCK, read_case

INCH = 0.0254

JOINTS = """
joints:
  - kind: bolts
    name: gearbox crossmember bolts
    at: {member: gearbox crossmember, end: left}
    plane: {facing: right, along: forward}
    grid: {across: 2, along: 2, pitch across: 2 in, pitch along: 3 in}
    bolt: {thread: 3/8-16, grade: grade 5, clamp share: 0.75, threads are: dry, faces: painted}
    plies: [{name: end plate, thickness: 1/4 in, material: A36, edge: 3/4 in}]
    contact: {across: [2 in, -2 in], along: [-3 in, 3 in]}
    tube: {width: 2 in, depth: 4 in, wall: 11 ga tube, washer: 1 in, material: A500 grade B,
           sleeve: {outside diameter: 5/8 in, inside diameter: 7/16 in, material: 1020 DOM}}
  - kind: welds
    name: mount weld
    at: {point: gearbox mount}
    around: {plane: {facing: up}, across: 2 in, along: 3 in, leg: 3/16 in}
    electrode: E70
    parts: [{name: wall, thickness: 11 ga tube, material: A500 grade B}]
  - kind: pinned sleeve
    name: snorkel
    at: {loads: [{load case: by hand, moment: {x: 100 lb·ft}}]}
    bolt: {thread: M10, grade: "8.8", hole: 11 mm}
    bolts: 2
    depth: 2 in
    walls: [{name: outer, thickness: 1/8 in, material: A36}, {name: inner, thickness: 1/8 in, material: A36}]
  - kind: stitch welds along a member
    name: boxing
    member: left rail
    length: 1 in
    pitch: 4 in
    leg: 1/8 in
    seams: 2
    shear: vertical
    first moment: 1 in3
    second moment: 3 in4
    electrode: E70
    parts: [{name: flange, thickness: 12 ga sheet, material: S235}]
  - kind: spot welds
    name: floor
    at: {point: gearbox mount}
    plane: {facing: up}
    spots: [{across: -1 in}, {across: 1 in}]
    spot: plug weld
    diameter: 3/8 in
    electrode: E70
    parts: [{name: floor, thickness: 16 ga sheet, material: S235}]
  - kind: bracket
    name: pad
    at: {point: gearbox mount}
    plane: {facing: up, along: left}
    width: 2 in
    length: 3 in
    on: {kind: channel, width: 1 3/4 in, depth: 4 in, wall: 12 ga sheet, outside radius: 1/4 in, material: S235}
"""


def with_blocks(text: str) -> Case:
    return read_case(TRUCK + text, "truck.yaml", LIBRARY)


def test_bolts_take_their_rows_from_the_tables() -> None:
    """3/8-16: 0.0775 in2 (ASME B1.1); its standard hole 7/16 in; grade 5 up to 1 in: proof 85 ksi (SAE J429)."""
    group = with_blocks(JOINTS).joints[0]
    assert isinstance(group, BoltGroup)
    assert group.place == AtMemberEnd("gearbox crossmember", Terminal.START)
    assert group.bolt.thread.stress_area == pytest.approx(0.0775 * INCH**2)
    assert group.bolt.hole == pytest.approx(7 / 16 * INCH)
    assert group.bolt.clamp == pytest.approx(0.75 * 85e3 * 4.4482216 * 0.0775, rel=1e-6)
    assert group.bolt.surface is not None
    assert group.bolt.surface.name == "painted"
    assert group.contact == pytest.approx((-2 * INCH, 2 * INCH, -3 * INCH, 3 * INCH))
    assert group.tube is not None
    assert group.tube.sleeve is not None
    assert group.tube.sleeve.outside_diameter == pytest.approx(5 / 8 * INCH)


def test_a_grid_lies_about_its_origin() -> None:
    group = with_blocks(JOINTS).joints[0]
    assert isinstance(group, BoltGroup)
    corners = {(u, v) for u in (-1.0, 1.0) for v in (-1.5, 1.5)}
    assert {(round(u / INCH, 9), round(v / INCH, 9)) for u, v in group.positions} == corners


def test_a_plane_is_square() -> None:
    """Facing right (-y), along forward (+x): across = facing x along = (0, -1, 0) x (1, 0, 0) = (0, 0, 1)."""
    group = with_blocks(JOINTS).joints[0]
    assert isinstance(group, BoltGroup)
    assert (group.plane.facing, group.plane.along, group.plane.across) == ((0, -1, 0), (1, 0, 0), (0, 0, 1))


def test_a_weld_around_closes() -> None:
    """2 (2 + 3) in of fillet; facing up, along is forward."""
    group = with_blocks(JOINTS).joints[1]
    assert isinstance(group, WeldGroup)
    assert group.place == AtPoint("gearbox mount")
    runs = group.runs
    lengths = [sum((b - a) ** 2 for a, b in zip(run.start, run.end, strict=True)) ** 0.5 for run in runs]
    assert sum(lengths) == pytest.approx(10 * INCH)
    assert [run.end for run in runs] == [run.start for run in (*runs[1:], runs[0])]
    assert max(run.start[0] for run in runs) == pytest.approx(1.5 * INCH)


def test_every_kind_of_joint_is_built() -> None:
    kinds = [type(joint) for joint in with_blocks(JOINTS).joints]
    assert kinds == [BoltGroup, WeldGroup, PinnedSleeve, Stitch, SpotGroup, Bracket]


def test_given_loads_stand_beside_a_joint() -> None:
    sleeve = with_blocks(JOINTS).joints[2]
    assert isinstance(sleeve, PinnedSleeve)
    assert isinstance(sleeve.place, GivenLoads)
    assert sleeve.place.loads[0].moment == pytest.approx((135.5818, 0.0, 0.0), rel=1e-6)


@pytest.mark.parametrize("joints", ["", JOINTS])
def test_tables_come_with_members_that_may_be_welded(joints: str) -> None:
    tables = with_blocks(joints).joint_tables
    assert tables is not None
    assert tables.edges
    assert tables.least_legs
    assert tables.crippling


FATIGUE = """
fatigue:
  duty:
    life: 200000 km
    distance per year: 10000 mi
    events:
      - {name: rough road, from: static, to: vertical bump, share: 0.3, cycles per km: 20}
      - {name: potholes, to: vertical bump, cycles per year: 500}
    histories:
      - {name: recorded, to: vertical bump, values: [0, 1, 0.2, 0.9], repeats per km: 2}
    partial factors: {strength: 1.15}
  details:
    - {name: hanger, member: rails, class: EN tab up to 80 mm, from: 98 in, to: 104 in, side: inboard}
    - {name: edge, member: tail crossmember, base metal: {finish: hot-rolled}}
buckling lengths:
  - {member: rails, vertical: 40 in}
notches: {zone share: 30 %, local yield: left rail}
rare load cases: [big bump]
"""


def test_a_duty_counts_in_km() -> None:
    """10000 mi = 16093.44 km (exact)."""
    fatigue = with_blocks(FATIGUE).fatigue
    assert fatigue is not None
    duty = fatigue.duty
    assert (duty.life, duty.life_in) == (pytest.approx(200e3), Per.KM)
    assert duty.km_per_year == pytest.approx(16093.44)
    road, holes, record = duty.events
    assert isinstance(road, Event)
    assert (road.low, road.high, road.cycles, road.per, road.share) == ("static", "vertical bump", 20.0, Per.KM, 0.3)
    assert isinstance(holes, Event)
    assert (holes.low, holes.per) == (None, Per.YEAR)
    assert isinstance(record, History)
    assert record.values == (0.0, 1.0, 0.2, 0.9)
    assert (duty.factors.load, duty.factors.strength) == (1.0, 1.15)


def test_a_detail_on_both_rails_mirrors() -> None:
    """Looking rearward along a rail, the left rail's inboard side is to the left, the right rail's to the right."""
    fatigue = with_blocks(FATIGUE).fatigue
    assert fatigue is not None
    left, right, edge = fatigue.details
    assert [each.member for each in (left, right)] == ["left rail", "right rail"]
    assert [each.side for each in (left, right)] == [Side.LEFT, Side.RIGHT]
    assert isinstance(left.resistance, DetailClass)
    assert left.resistance.reference == 71e6
    assert isinstance(edge, Detail)
    assert (edge.side, edge.end) == (None, inf)


def test_what_is_asked_beyond_targets() -> None:
    strength = with_blocks(FATIGUE).strength
    assert [each.member for each in strength.buckling_lengths] == ["left rail", "right rail"]
    assert strength.buckling_lengths[0].vertical == pytest.approx(40 * INCH)
    assert strength.notches.zone_share == pytest.approx(0.3)
    assert strength.notches.local_yield == ("left rail",)
    assert strength.rare == ("big bump",)


PLATES = """
plates:
  - name: skid
    length: 20 in
    width: 30 in
    thickness: 3/16 in
    material: A36
    gap: 3/4 in
    bolts:
      - {name: rear right, x: 1 in, y: 1 in, seat: 1 in, point: right gearbox crossmember, bolt: {thread: 3/8-16, grade: grade 5}}
      - {name: front left, x: 19 in, y: 29 in, seat: 1 in}
    edges: [{edge: rear, hold: elastic, stiffness: 10 N/mm/mm, turning stiffness: 2 kNm/rad/m}]
    stiffeners:
      - {kind: rib, name: rib, runs: along x, at: 15 in, from: 2 in, to: 18 in, height: 1/2 in, thickness: 1/8 in}
      - {kind: bead, name: bead, runs: along y, at: 10 in, from: 2 in, to: 28 in, height: 1/2 in, width: 1 in}
    loads:
      - {kind: press, name: rock, force: 1500 lb, patch: {x: 10 in, y: 15 in, length: 3 in, width: 3 in, drag: 0.5}}
      - {kind: drop, name: ledge, mass: 800 lb, height: 4 in, patch: {x: 10 in, y: 15 in, length: 3 in, width: 3 in}}
"""


def test_a_skid_plate_is_built() -> None:
    """1500 lbf = 6672.333 N; 10 N/mm per mm = 10 MPa."""
    plate = with_blocks(PLATES).plates[0]
    assert (plate.length, plate.gap) == (pytest.approx(20 * INCH), pytest.approx(0.75 * INCH))
    assert plate.bolts[0].frame_point == "right gearbox crossmember"
    assert plate.bolts[0].bolt is not None
    assert (plate.bolts[1].frame_point, plate.bolts[1].stiffness) == (None, inf)
    assert (plate.edges[0].stiffness, plate.edges[0].turning) == (pytest.approx(10e6), pytest.approx(2e3))
    rib, bead = plate.stiffeners
    assert isinstance(rib, Rib)
    assert isinstance(bead, Bead)
    assert (rib.run, bead.run, bead.at) == (StiffenerRun.X, StiffenerRun.Y, pytest.approx(10 * INCH))
    press, drop = plate.loads
    assert isinstance(press, Press)
    assert press.force == pytest.approx(6672.333, rel=1e-6)
    assert isinstance(drop, Strike)
    assert drop.blow == Drop(pytest.approx(800 * 0.45359237), pytest.approx(4 * INCH))


WRONG = {
    "a bolt beside its plate": (
        ("x: 19 in, y: 29 in", "x: 21 in, y: 29 in"),
        "truck.yaml:50: plates > skid > bolts > front left: reaches beyond the plate; the plate is 20 in (508 mm) by 30 in (762 mm)",
    ),
    "a patch over the edge": (
        ("height: 4 in, patch: {x: 10 in", "height: 4 in, patch: {x: 1 in"),
        "truck.yaml:57: plates > skid > loads > ledge > patch: reaches beyond the plate; move it inward",
    ),
    "a grade that is not made that large": (
        ("thread: 3/8-16, grade: grade 5", 'thread: M24, hole: 26 mm, grade: grade 9'),
        "truck.yaml:49: plates > skid > bolts > rear right > bolt > grade: there is no bolt grade 'grade 9'; did you mean 'grade 8'?",
    ),
}  # fmt: skip


@pytest.mark.parametrize("what", WRONG)
def test_a_wrong_plate_is_told(what: str) -> None:
    (old, new), message = WRONG[what]
    assert PLATES.count(old) == 1
    with pytest.raises(InputError) as caught:
        with_blocks(PLATES.replace(old, new))
    assert str(caught.value) == message


def test_a_joint_has_one_place() -> None:
    both = JOINTS.replace(
        "at: {member: gearbox crossmember, end: left}", "at: {member: gearbox crossmember, point: gearbox mount}"
    )
    with pytest.raises(InputError) as caught:
        with_blocks(both)
    told = str(caught.value)
    assert told.startswith(
        "truck.yaml:44: joints > gearbox crossmember bolts > at: does not say in one way where the joint sits"
    )


def test_a_plane_that_is_not_square_is_told() -> None:
    with pytest.raises(InputError) as caught:
        with_blocks(JOINTS.replace("{facing: right, along: forward}", "{facing: right, along: {y: 1, z: 1}}"))
    assert "'along' does not lie in the plane that faces that way" in str(caught.value)
