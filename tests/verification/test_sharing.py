"""Bolts and welds in one joint, against the rules' own formulas worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pytest import approx

from framecheck.checks.joint_rows import Line
from framecheck.checks.sharing import (
    BoltPath,
    WeldPath,
    bolt_stiffness,
    bolts_at,
    joint_sharing,
    may_add,
    weld_movement,
)
from framecheck.checks.sharing_in_case import check, pairs
from framecheck.model.frame import Member, Stretch
from framecheck.model.joints import BoltGroup, GivenLoads, JointLoad
from framecheck.model.shop_tables import JointTables
from framecheck.model.weld_joints import ShearWay, Stitch, WeldedPart, WeldGroup, WeldRun
from framecheck.output.display import Units, spoken
from framecheck.reading.case_file import read_case
from framecheck.results.row import CheckResult
from framecheck.results.subjects import Open, Remark
from framecheck.stress import SolvedCase
from tests.cases.test_sections import LIBRARY
from tests.unit.checks.joint_samples import BOLTS, STEEL, WELDS, four_bolts, m10, plate, weld_group
from tests.unit.checks.members import outcome, row, tube


def test_bolt_stiffness_is_that_of_the_component_method() -> None:
    # EN 1993-1-8:2005, table 6.11, from memory: k11 = 16 nb d2 fub / (E dM16); one row of two M20 8.8: 16 x 0.02^2 x 800e6 / 0.016
    assert bolt_stiffness(2, 0.020, 800e6, 1) == approx(320e6)
    assert bolt_stiffness(2, 0.020, 800e6, 2) == approx(640e6)


def test_a_longitudinal_fillet_moves_as_published() -> None:
    # Lesik and Kennedy (1990), from memory: at full strength 0.209 x 2^-0.32 of the leg = 0.167; else P/P0 = (p (1.9 - 0.9 p))^0.3
    assert weld_movement(1.0, 0.006) == approx(0.1674 * 0.006, rel=1e-3)
    part = weld_movement(0.6, 1.0) / 0.16743
    assert (part * (1.9 - 0.9 * part)) ** 0.3 == approx(0.6, rel=1e-4)


def test_bolts_carry_friction_then_bearing_up_to_their_strength() -> None:
    path = BoltPath(strength=50e3, slip=10e3, stiffness=1e8, play=1e-3)
    assert [bolts_at(path, 1e-3 * each) for each in (0.5, 1.2, 9.0)] == approx([10e3, 30e3, 50e3])


def test_strengths_are_added_only_where_the_rule_allows_it() -> None:
    # ANSI/AISC 360-22, J1.8: available weld strength at least 70 %, available slip at least 33 % of what is required
    welds = WeldPath(strength=2 * 70.1, leg=0.006)
    assert may_add(BoltPath(200.0, 1.5 * 33.1, 1e8, 1e-3), welds, 100.0, 2.0)
    assert not may_add(BoltPath(200.0, 1.5 * 32.9, 1e8, 1e-3), welds, 100.0, 2.0)
    assert not may_add(BoltPath(200.0, 1.5 * 33.1, 1e8, 1e-3), replace(welds, strength=2 * 69.9), 100.0, 2.0)


@pytest.mark.parametrize(
    ("bolts", "welds", "slip", "begins", "together"),
    [
        (250.0, 250.0, 0.0, "weld not needed: either path", 2.5),
        (250.0, 120.0, 0.0, "weld not needed: the bolts carry the load alone, and after a slip the weld cracks", 2.5),
        (120.0, 250.0, 0.0, "weld needed: it carries", 2.5),
        (120.0, 150.0, 60.0, "weld needed, with slip-tight", 2.1),
        (120.0, 150.0, 0.0, "not enough", 1.5),
    ],
)
def test_the_answer_follows_from_what_each_path_carries(
    bolts: float, welds: float, slip: float, begins: str, together: float
) -> None:
    # by J1.8: added 60 + 150 = 210 of 100; else the stronger path alone counts
    found = joint_sharing(BoltPath(bolts, slip, 1e8, 1e-3), WeldPath(welds, 0.006), 100.0)
    assert found.words.startswith(begins)
    assert found.together == approx(together)
    assert found.weld_needed == ("not needed" not in found.words)


# in a case ------------------------------------------------------------------------------------------------------------------------

PUSH = GivenLoads((JointLoad("pushed", (-20e3, 0.0, 0.0)),))
PARTS = tuple(WeldedPart(name, 0.006, STEEL) for name in ("plate", "rail"))
RUNS = tuple(WeldRun((-0.05, 0.0, z), (0.05, 0.0, z), 0.005) for z in (-0.04, 0.04))


def bolted(**changes: object) -> BoltGroup:
    return four_bolts(**{"place": PUSH, "plies": (plate(), replace(plate(), name="rail")), **changes})


def welded(**changes: object) -> WeldGroup:
    return weld_group(RUNS, **{"place": PUSH, "parts": PARTS, **changes})


def with_joints(*joints: BoltGroup | WeldGroup | Stitch) -> SolvedCase:
    member = Member("rail", ("a", "b"), (Stretch("tube"),))
    found = outcome((tube(0.1, 0.05, 0.003),) * 2, row()[None, None].repeat(2, axis=0), (0.0, 1.0), member)
    tables = JointTables(edges=BOLTS.edges, least_legs=WELDS.least_legs)
    return replace(found, case=replace(found.case, joints=joints, joint_tables=tables))


def answer(lines: tuple[Line, ...]) -> CheckResult:
    (line,) = lines
    assert isinstance(line, CheckResult)
    return line


def test_demand_and_paths_are_those_by_hand() -> None:
    # 20 kN along four bolts in line with their middle: 5 kN each, of which M10 8.8 in shear takes 0.6 fub As = 27.8 kN, its 6 mm
    # plate 2.4 d t Fu = 57.6 kN and the tear-out 1.2 (25 - 5.5 mm) t Fu = 56.2 kN; two runs of 100 mm: 100 N/mm on 0.707 x 5 mm
    line = answer(check(with_joints(bolted(), welded())))
    assert line.demand == approx(5e3)
    alone = 0.6 * 800e6 * 58.0e-6 / 5e3
    assert spoken(line.note, Units.SI).startswith("weld not needed: either path")
    assert f"bolts alone {alone:.2f} (bolt shear" in spoken(line.note, Units.SI)
    assert line.load_case == "pushed"


def test_friction_that_does_not_hold_leaves_the_weld_to_take_the_load() -> None:
    loose = m10(clamp_share=None)
    line = answer(check(with_joints(bolted(bolt=loose), welded())))
    assert "together the weld takes 100 %" in spoken(line.note, Units.SI)
    assert "the bolts bear after 1.00 mm" in spoken(line.note, Units.SI)
    tight = answer(check(with_joints(bolted(), welded())))
    assert "friction spares the weld" in spoken(tight.note, Units.SI)


def test_a_pair_is_one_place_or_named() -> None:
    elsewhere = GivenLoads((JointLoad("pushed", (-10e3, 0.0, 0.0)),))
    apart = bolted(), welded(place=elsewhere)
    assert not list(pairs(with_joints(*apart).case))
    named = bolted(shares_with="bracket weld"), welded(place=elsewhere)
    assert list(pairs(with_joints(*named).case)) == [named]
    assert len(list(pairs(with_joints(bolted(), welded()).case))) == 1


def test_bolts_and_welds_in_a_row_spare_neither() -> None:
    # a member welded to a plate that is bolted to a rail: statics, the whole load goes through both
    row_of_two = welded(parts=(WeldedPart("member", 0.006, STEEL), WeldedPart("plate", 0.006, STEEL)))
    assert not check(with_joints(bolted(), row_of_two))
    (line,) = check(with_joints(bolted(), welded(parts=(WeldedPart("member", 0.006, STEEL),))))
    assert isinstance(line, Open)
    assert "shares with" in line.reason


def test_stitches_along_a_member_spare_no_bolt() -> None:
    part = WeldedPart("rail", 0.006, STEEL)
    seam = Stitch("seam", "rail", 0.04, 0.1, 0.003, 2, ShearWay.VERTICAL, 1e-5, 1e-6, WELDS.electrodes[1], (part,))
    (line,) = check(with_joints(bolted(shares_with="seam"), seam))
    assert isinstance(line, Remark)
    assert "shear flow" in line.reason
    assert not check(with_joints(bolted(), seam))


def test_bolts_that_only_pull_are_not_compared() -> None:
    pulled = GivenLoads((JointLoad("pulled", (0.0, 5e3, 0.0)),))
    (line,) = check(with_joints(bolted(place=pulled), welded(place=pulled)))
    assert isinstance(line, Open)
    assert "no bolt is loaded across" in line.reason


def test_shares_with_is_read_and_its_name_looked_up() -> None:
    from framecheck.cli.files import data_folder
    from framecheck.errors import InputError

    text = (data_folder("cases") / "sleeved-rail-joint.yaml").read_text(encoding="utf-8")
    said = text.replace("    electrode: E70\n", "    electrode: E70\n    shares with: bolts through the rear half\n")
    case = read_case(said, "joint.yaml", LIBRARY)
    assert [getattr(joint, "shares_with", None) for joint in case.joints] == [None, None, "bolts through the rear half"]
    with pytest.raises(InputError, match="there is no joint 'bolts thru"):
        read_case(said.replace("shares with: bolts through", "shares with: bolts thru"), "joint.yaml", LIBRARY)
