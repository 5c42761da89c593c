"""What a finding's page says of a beam that statics knows by heart, and of a gap."""

from __future__ import annotations

from dataclasses import replace
from math import pi
from pathlib import Path

import numpy as np
import pytest
from pytest import approx

from framecheck.cli.context import read
from framecheck.output.charts.along import LookedAlong, lines_of, named, signed
from framecheck.output.charts.chart import Note
from framecheck.output.charts.forces_chart import TURN, forces_chart, round_about
from framecheck.output.charts.frame_chart import key_words
from framecheck.output.charts.room import Pixels
from framecheck.output.display import Units
from framecheck.output.first_screen import in_lines, name_of
from framecheck.output.html_report.environment import coded
from framecheck.output.html_report.finding_page import FindingPage, facts, finding_page
from framecheck.output.html_report.first_page import LONGEST, load_source, with_remedy
from framecheck.output.html_report.mending import times
from framecheck.output.html_report.tables import HtmlTable, words
from framecheck.results.free_body import free_body
from framecheck.results.places import found_at
from framecheck.results.row import Check
from framecheck.run import Results, run
from tests.memory import SHARED
from tests.unit.results.test_free_body import CANTILEVER


@pytest.fixture(scope="module")
def beam(tmp_path_factory: pytest.TempPathFactory) -> Results:
    path = tmp_path_factory.mktemp("beam") / "beam.yaml"
    path.write_text(CANTILEVER, encoding="utf-8")
    return run(read(str(path)), store=SHARED)


def test_the_walls_moment_stands_in_the_table_and_in_the_picture(beam: Results) -> None:
    """1 kN down at 2 m (statics): the wall turns the beam by 2 kNm about y, and pushes 1 kN up."""
    row = next(each for each in beam.rows if each.check is Check.YIELD)
    page = finding_page(beam, row, 1, Units.SI, "beam.yaml")
    assert [heading.text for heading in page.forces.headings][4:] == ["about x, N·m", "about y, N·m", "about z, N·m"]
    wall = next(cells for cells in page.forces.rows if "support" in cells[0])
    assert [abs(float(each)) for each in wall[1:]] == approx([0.0, 0.0, 1.0, 0.0, 2000.0, 0.0])
    chart = forces_chart(beam.outcome, 0, free_body(beam.outcome, 0, 0), Units.SI, Pixels(440.0, 225.0))
    said = [mark.text for mark in chart.marks if isinstance(mark, Note)]
    assert {"2000 N·m", "1.00 kN"} <= set(said)


def test_what_is_held_stays_where_it_is(beam: Results) -> None:
    """The wall does not move: a movement of rounding's size is none."""
    row = next(each for each in beam.rows if each.check is Check.YIELD)
    page = finding_page(beam, row, 1, Units.SI, "beam.yaml")
    assert "the finding: stays where it is" in page.figures[1].svg


def test_a_turning_arrow_goes_the_way_that_the_right_hand_closes() -> None:
    """About z from x to y: its cross products with its next point all point up (right-hand rule)."""
    turn = round_about(np.array([0.0, 0.0, 1.0]))
    assert np.linalg.norm(turn, axis=1) == approx(1.0)
    assert (np.cross(turn[:-1], turn[1:])[:, 2] > 0).all()
    assert TURN[-1] > pi


def test_the_first_page_says_where_the_governing_load_comes_from(beam: Results) -> None:
    """What the table of load cases says beside the factor, word for word; a force that the file writes is the file's."""
    assert load_source(beam) == "Source of the governing load, 'pushed': written in the case file, force by force."
    truck = run(read(str(Path(__file__).parents[3] / "cases" / "hill-truck.yaml")), store=SHARED)
    governing = next(each for each in truck.outcome.case.load_cases if each.name == truck.governing.load_case)  # type: ignore[union-attr]
    assert governing.least_known is not None
    assert load_source(truck).endswith(f": {governing.least_known[1].source}.")


def test_a_gap_is_ringed_in_its_middle_and_told_in_numbers() -> None:
    """The demonstration truck's pan stands at z 21.25 in over a point at 20.5 in: its middle is at 20.875 in."""
    results = run(read(str(Path(__file__).parents[3] / "cases" / "hill-truck.yaml")), store=SHARED)
    row = next(each for each in results.rows if each.check is Check.CLEARANCE and each.where.startswith("oil pan"))
    found = found_at(results.outcome, row, 0, 0)
    assert found is not None
    assert found.place == approx(np.array([-2.0, 0.0, 20.875]) * 0.0254)
    told = dict(facts(results.outcome.case, row, Units.US))
    assert told["gap today, at rest"] == "0.750 in"
    assert told["asked"] == "0.250 in"
    assert told["from"] == "engine, gearbox and transfer case, x -2.000 in, y 0 in, z 21.25 in"


def test_a_reason_is_shortened_between_words_and_its_remedy_never() -> None:
    said = with_remedy("joints (a, prying): " + "why it is so " * 20, "write the group's `prying`", LONGEST)
    assert said.endswith("...; write the group's `prying`")
    assert len(said) <= LONGEST
    assert with_remedy("gaps:", "write them", LONGEST) == "gaps: write them"


def test_what_is_open_keeps_its_name_however_narrow_the_screen() -> None:
    said = in_lines("- 6 welds or bolts of member ends: it is not said", "write `leg:` in each `ends` block", 40, 1)
    assert said.replace("\n ", "") == "- 6 welds or bolts of member ends...; write `leg:` in each `ends` block"
    assert name_of("- joints (a weld): because") == ["-", "joints", "(a", "weld):"]


def test_a_value_just_under_a_thousand_stands_in_digits() -> None:
    assert [signed(each) for each in (999.97, -999.97, 12.345, 0.0)] == ["1000", "\N{MINUS SIGN}1000", "12.3", "0"]


def test_a_page_full_of_words_has_smaller_pictures() -> None:
    """Names of a hundred letters and a long remedy take a third of a printed page; short ones leave it to the pictures."""
    none = HtmlTable("", words("where"), ())
    page = FindingPage(1, "f", "short: it bends", False, (("rule", "a book"),), ("a thicker wall",), "", (), None, None, none, none)
    assert not page.is_full
    assert replace(page, title="left rail: notch: it folds; 61 % of what is allowed is used").listed == "left rail: notch: it folds"
    long = HtmlTable("", words("where"), tuple((f"a very long name of a place, number {n}",) for n in range(9)))
    assert replace(page, title="a name " * 30, mends=("a remedy " * 60,), forces=long).is_full


def test_what_is_typed_is_code_and_all_else_is_escaped() -> None:
    assert coded("a <b> `x & y`") == "a &lt;b&gt; <code>x &amp; y</code>"
    assert coded("one ` only") == "one ` only"


def test_long_names_of_points_stand_in_two_lines_where_there_is_room() -> None:
    assert list(lines_of("right gearbox crossmember", 3.0, 1.0, 9.0)) == [("right gearbox", 2.5), ("crossmember", 3.5)]
    assert list(lines_of("right gearbox crossmember", 3.0, 1.0, 1.5)) == [("right gearbox c...", 3.0)]
    points = (("left end of all", 0.0), ("left spring", 0.4), ("left rear end", 9.0))
    assert [name for name, _ in named(LookedAlong(0, 1.5, points, 9.0), (0.0, 9.0), 1.0, 0.1)] == ["spring", "rear end"]


def test_shares_far_from_one_keep_their_digits() -> None:
    assert [times(each) for each in (1.614, 0.62, 1026.34, 0.000974)] == ["1.61", "0.62", "1026", "0.00097"]


def test_thin_lines_that_are_no_parts_are_told(beam: Results) -> None:
    """The truck's crossmember is slung under its rails: its ends hang on links, drawn black. The beam has none."""
    assert key_words(beam.outcome, 0) == "thin grey: as built"
    truck = run(read(str(Path(__file__).parents[3] / "cases" / "hill-truck.yaml")), store=SHARED)
    assert key_words(truck.outcome, 0) == "thin grey: as built; thin black: links to ends (no parts)"
