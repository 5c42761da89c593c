"""The chart of load cases: nothing that is LOW is left out, none looks better than it is."""

from __future__ import annotations

from dataclasses import replace

from pytest import approx

from framecheck.model.loads import CaseLoads
from framecheck.output.charts.along import reach_of
from framecheck.output.charts.chart import Area, Note
from framecheck.output.charts.diagrams import MOST_USE_SHOWN, safety_chart
from framecheck.output.wording import picture_words
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Subject, Thing
from framecheck.results.summary import drawn_on_member, drawn_row, load_case_rows
from framecheck.stress import SolvedCase
from tests.unit.output.samples import results, row

LIFE = CheckResult(Check.FATIGUE, Mode.DAMAGE, Subject(Thing.DETAIL, "left rail", "toe"), None, 2.0, 1.0, "", 1.0, "a source")
PLATE = row(Check.PLATE, Subject(Thing.PLATE, "pan"), "set down on a rock", 0.5, Mode.PLATE_BENDS)


def outcome() -> SolvedCase:
    return results().outcome


def test_what_holds_in_all_load_cases_and_the_loads_of_plates_have_bars() -> None:
    rows = (LIFE, PLATE, *results().rows)
    chart = safety_chart(load_case_rows(outcome(), rows))
    assert chart.names == ("set down on a rock", "all load cases", "bump", "static")
    said = [mark.text for mark in chart.marks if isinstance(mark, Note)]
    assert said == ["300 % LOW", "200 % LOW", "121 % LOW", "60 % PASS"]


def test_a_bar_is_as_long_as_its_share_and_hatched_above_all_of_it() -> None:
    """Shares by hand: target 1.5 over the factor, at most what the axis shows."""
    bars = [mark for mark in safety_chart(load_case_rows(outcome(), results().rows)).marks if isinstance(mark, Area)]
    assert [round(float(bar.rings[0][:, 0].max()), 1) for bar in bars] == [round(150 / 1.2499, 1), 60.0]
    assert [bar.is_hatched for bar in bars] == [True, False]
    assert round(150 / 1.2499, 1) < MOST_USE_SHOWN


def test_a_picture_shows_the_next_that_can_be_drawn_and_says_so() -> None:
    rows = (LIFE, PLATE, *results().rows)
    shown = drawn_on_member(outcome(), rows)
    assert shown is results().rows[0] or shown == results().rows[0]
    assert drawn_row(replace(outcome(), loads=(CaseLoads("nothing judged"),)), rows) is None
    said = picture_words(LIFE, shown)
    assert "fatigue, 200 % used" in said
    assert "next: left rail, yield: 121 % used, LOW" in said
    assert picture_words(shown, shown) == "governs: left rail, yield: 121 % used, LOW"


def test_a_force_that_is_small_beside_others_of_its_kind_looks_small() -> None:
    """Torsion of 0.5 N·m beside bending of 4000: its axis reaches 5 % of the bending."""
    stress = outcome().stresses[0][0]
    rows = stress.forces.member_forces.copy()
    rows[:, 1, 3] = 0.5
    small = replace(stress, forces=replace(stress.forces, member_forces=rows))
    assert reach_of(small, 1, "torsion") == approx(200.0)
    assert reach_of(small, 1, "bending vertically") == approx(4000.0)
