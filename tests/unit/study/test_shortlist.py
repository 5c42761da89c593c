"""What is kept of a stream of variants, against a look at all of them."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from framecheck.output.study_text import not_all
from framecheck.study.measure import MeasuredAim, VariantRow
from framecheck.study.sweep import shortlist

PAIRS = st.lists(st.tuples(st.integers(1, 12), st.integers(1, 16)), min_size=1, max_size=30)


def rows(pairs: list[tuple[int, int]]) -> list[VariantRow]:
    """Return variants of some masses that reach some eighths of what is asked."""
    return [
        VariantRow(number, (), "", mass=float(mass), governs=MeasuredAim("safety factor", 1.0, 1.0, eighths / 8))
        for number, (mass, eighths) in enumerate(pairs)
    ]


@given(PAIRS)
def test_winners_are_the_lightest_that_pass(pairs: list[tuple[int, int]]) -> None:
    passing = sorted((mass, number) for number, (mass, eighths) in enumerate(pairs) if eighths >= 8)
    found = shortlist(rows(pairs), 3)
    assert [row.number for row in found.winners] == [number for _, number in passing[:3]]
    assert found.passed == len(passing)
    assert not_all(found) == (f"; 3 of {len(passing)} shown" if len(passing) > 3 else "")


@given(PAIRS)
def test_nothing_on_the_front_is_beaten_and_all_else_is(pairs: list[tuple[int, int]]) -> None:
    """Pareto: a variant is on the front exactly where no other is as light and reaches as much, and better in one of the two."""
    front = {(row.mass, row.ratio * 8) for row in shortlist(rows(pairs), 3).front}
    unbeaten = {(m, e) for m, e in pairs if not any((a <= m and b >= e) and (a, b) != (m, e) for a, b in pairs)}
    assert front == unbeaten


@given(PAIRS)
def test_near_misses_are_no_heavier_than_the_winner_and_nearest_first(pairs: list[tuple[int, int]]) -> None:
    found = shortlist(rows(pairs), 3)
    lightest = min((mass for mass, eighths in pairs if eighths >= 8), default=99)
    misses = sorted((-eighths, mass) for mass, eighths in pairs if eighths < 8 and mass <= lightest)
    assert [(-row.ratio * 8, row.mass) for row in found.near] == [(e, m) for e, m in misses[:3]]


def test_variants_that_could_not_be_run_are_counted_not_ranked() -> None:
    found = shortlist([VariantRow(0, ("a",), "", fault="no such size"), *rows([(3, 9)])], 3)
    assert (found.count, found.faulty, found.passed) == (2, 1, 1)
    assert found.first_fault is not None
    assert found.first_fault.fault == "no such size"
