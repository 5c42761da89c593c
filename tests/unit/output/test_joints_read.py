"""Joints and member ends as the report says them: words that the case files hold, nothing more and nothing less."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import pytest

from framecheck.cli.context import read
from framecheck.cli.files import data_folder
from framecheck.model.frame import EndWarping, Make, MemberEnd
from framecheck.output.display import Units
from framecheck.output.html_report.inputs import ends
from framecheck.output.html_report.joints_read import OPEN, described, end_in_words, member_ends
from framecheck.run import Results
from tests.unit.output.samples import results


def of_case(name: str) -> Results:
    """Return results that hold a case of the demonstrations as it was read; nothing is solved."""
    sample = results()
    return replace(sample, outcome=replace(sample.outcome, case=read(str(data_folder("cases") / f"{name}.yaml"))))


@pytest.mark.parametrize(
    ("case", "joint", "kind", "where", "phrases"),
    [
        (
            "hill-truck",
            "engine mount bolts",
            "bolts",
            "point left engine mount",
            (
                "2 bolts 3/8-16 grade 5",
                "one shear plane",
                "to 75 % of proof",
                "bracket 1/4 in A36",
                "with a crush sleeve",
            ),
        ),
        (
            "hill-truck",
            "gearbox crossmember weld",
            "welds",
            "first end of gearbox crossmember, at left gearbox crossmember",
            (
                "4 fillets, 10 in in all",
                "leg 3/16 in",
                "E70 filler",
                "on the end of a tube",
                "rail wall 3/16 in",
            ),
        ),
        (
            "sleeved-rail-joint",
            "bolts in twist",
            "pinned sleeve",
            "first end of rear half, at splice",
            ("3 bolts through both tubes, 1/2-13 grade 8", "play of the fit 0.0075"),
        ),
        (
            "tie-down",
            "wall under the ring",
            "bracket on a wall",
            "point left ring",
            ("pad 2 1/2 in wide and 5 in long", "wall 0.111 in", "doubler of 1/4 in"),
        ),
    ],
)
def test_a_joint_is_said_as_the_file_has_it(
    case: str, joint: str, kind: str, where: str, phrases: tuple[str, ...]
) -> None:
    """Read by eye from the case file of that name."""
    row = next(row for row in described(of_case(case), Units.US).rows if row[0] == joint)
    assert row[1:3] == (kind, where)
    assert [each for each in phrases if each not in row[3]] == []


def test_member_ends_say_what_they_meet_and_how_they_are_made() -> None:
    """The demonstration's rails end free; its suspension crossmember is slung under them (cases/hill-truck.yaml)."""
    rows = {row[:2]: row[2:] for row in member_ends(of_case("hill-truck"), Units.SI).rows}
    free = "a free end: no other member is there, closed by a plate of 4.762 mm"
    assert rows["left rail", "first"] == ("left front end", "nothing", free)
    assert rows["spring crossmember", "last"][1:] == ("right rail", "passed through both faces and welded to both")
    slung = "slung under the bottom wall"
    assert rows["suspension crossmember", "last"] == ("right suspension crossmember", "right rail", slung)
    assert rows["rear crossmember", "first"][1:] == ("left rail", "butt-welded on one face of the wall")


def test_ends_in_a_lap_name_the_tube_beside_them() -> None:
    """Each tube of cases/lapped-rail.yaml has one end on the ground and one in the lap: none is free."""
    rows = {row[:2]: row[3:] for row in member_ends(of_case("lapped-rail"), Units.SI).rows}
    assert rows["old rail", "last"] == ("new rail", "lapped, in the splice 'lap': see the joints below")
    assert rows["new rail", "first"][0] == "old rail"
    assert rows["old rail", "first"][0] == rows["new rail", "last"][0] == "the ground"


def test_members_say_how_their_kinks_are_made() -> None:
    """As cases/hill-truck.yaml says of its rails; the spring crossmember is straight."""
    table = ends(of_case("hill-truck"), Units.US)
    kinks = {row[0]: row[-1] for row in table.rows}
    assert table.headings[-1].text == "kinks"
    assert (kinks["left rail"], kinks["spring crossmember"]) == ("mitred with an inner plate, 1/2 in", "-")


GIVEN = MemberEnd(Make.GIVEN, stiffness=(inf, inf, 2e6, 0.0, inf, inf))


@pytest.mark.parametrize(
    ("end", "said"),
    [
        (MemberEnd(), OPEN),
        (MemberEnd(Make.RIGID, EndWarping.FIXED), "rigid; its warping held"),
        (MemberEnd(Make.PINNED, EndWarping.SPRING, warping_stiffness=1.0), "pinned: passes on no moment; its warping on a spring"),
        (GIVEN, "springs as given: vertically 2000 N/mm, about its length free"),
        (MemberEnd(Make.GIVEN, stiffness=(inf,) * 6), "rigid as given"),
    ],
)  # fmt: skip
def test_ends_in_words(end: MemberEnd, said: str) -> None:
    assert end_in_words(end, Units.SI) == said
