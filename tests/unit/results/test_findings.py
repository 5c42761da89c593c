"""What has a page of its own, and what each thing uses in each load case."""

from __future__ import annotations

from dataclasses import replace

from framecheck.output.html_report.used_page import used_page
from framecheck.results.findings import MOST, findings, used_table
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Subject, Thing
from tests.unit.output.samples import results, row


def member(name: str, check: Check, factor: float) -> CheckResult:
    return row(check, Subject(Thing.MEMBER, name), "bump", factor, Mode.FIRST_YIELD)


def test_every_kind_that_misses_comes_before_a_second_of_one_kind() -> None:
    """Ten rails yield, one buckles by less: both kinds have a page, and no more than so many pages there are."""
    low = [member(f"rail {number}", Check.YIELD, 0.5 + number / 100) for number in range(10)]
    buckles, met = member("post", Check.BUCKLING, 1.2), member("beam", Check.FACE, 9.0)
    found = findings((*low, buckles, met))
    assert len(found) == MOST
    assert buckles in found
    assert found[0] == low[0]
    assert met not in found


def test_where_nothing_misses_the_tightest_of_each_kind_is_shown() -> None:
    found = findings((member("a", Check.YIELD, 3.0), member("b", Check.YIELD, 2.0), member("c", Check.BUCKLING, 4.0)))
    assert [each.subject.name for each in found] == ["b", "c"]


def test_a_met_rule_of_layout_is_no_finding() -> None:
    layout = replace(member("a", Check.BOLTS, 2.0), mode=Mode.BOLT_SPACING)
    assert findings((layout,)) == ()


def test_each_thing_stands_once_with_its_worst_in_each_load_case() -> None:
    """The sample: the left rail in two load cases, another member and a joint in one; by hand from its rows."""
    found = used_table(results().rows)
    assert found.things[0] == "left rail"
    assert found.load_cases == ("bump", "static")
    used = [[None if each is None else round(each.used, 4) for each in line] for line in found.rows]
    assert used[0] == [round(1.5 / 1.2499, 4), 0.6]
    assert all(line[1] is None for line in used[1:])


def test_what_has_no_room_is_counted() -> None:
    found = used_table(results().rows, most=(1, 1))
    assert found.left_off == (2, 1)
    assert found.things == ("left rail",)


def test_checks_told_in_their_worst_load_case_alone_are_named() -> None:
    """A bolt judged in both load cases is told in the worse one: its cell of the other one says nothing, or less than was found.

    Yield is told in both. With one load case there is no other one in which a row could lack.
    """
    found = used_table(results().rows)
    assert found.worst_only == (Check.BOLTS,)
    assert used_table([each for each in results().rows if each.load_case == "bump"]).worst_only == ()
    assert "Shown in their worst load case only: bolts." in used_page(results()).note
