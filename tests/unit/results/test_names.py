"""Nothing that a thing is called changes how a case comes out."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from framecheck.results.row import CheckResult
from framecheck.results.subjects import Entry, Subject, Thing
from framecheck.results.verdict import Verdict
from tests.unit.results.cases import case_of, results_of, solved_again
from tests.unit.results.renamed import Named, Names, names_in, renamed, renamed_subject

TRICKY = ("all", "duty", "static", "tightening", "frame", "rail, left: 2", "a with b", "a to b", "left", "=1+1", "None")
"""Words that the program has used for things of its own, and signs that it puts between names."""
words = st.one_of(st.sampled_from(TRICKY), st.text("abc ,:;'-{}", min_size=1, max_size=12).filter(str.strip))


@st.composite
def other_names(draw: st.DrawFn, name: str) -> Names:
    """Draw a new name for everything in a case, no two of one kind alike."""
    found = {}
    for kind, given_names in names_in(case_of(name)).items():
        drawn = draw(st.lists(words, min_size=len(given_names), max_size=len(given_names)))
        each = [f"{new} {number}" if new in drawn[:number] else new for number, new in enumerate(drawn)]
        found[kind] = dict(zip(given_names, each, strict=True))
    return found


def is_distinct(names: Names) -> bool:
    return all(len(set(each.values())) == len(each) for each in names.values())


def by_point(subject: Subject) -> Subject:
    return replace(subject, name="") if subject.thing is Thing.SPLICE else subject


def missed(verdict: Verdict, names: Names | None = None) -> dict[object, float]:
    """Return the safety factor of what misses its target, by check, mode, subject and load case as they are called now."""

    def key(row: CheckResult) -> object:
        if names is None:
            return row.check, row.mode, by_point(row.subject), row.load_case
        case = None if row.load_case is None else names[Named.LOAD_CASE].get(row.load_case, row.load_case)
        return row.check, row.mode, renamed_subject(row.subject, names), case

    return {key(row): row.safety_factor for row in verdict.missed}


def entries(found: tuple[Entry, ...], names: Names | None = None) -> Counter[object]:
    subjects = (by_point(each.subject) if names is None else renamed_subject(each.subject, names) for each in found)
    return Counter((subject, each.question) for subject, each in zip(subjects, found, strict=True))


def alike(name: str, names: Names) -> None:
    """Fail where a case comes out otherwise under other names."""
    before, after = results_of(name).verdict, solved_again(renamed(case_of(name), names)).verdict
    assert (after.state, after.judged) == (before.state, before.judged)
    assert missed(after) == approx(missed(before, names), rel=1e-9)
    assert entries(after.ledger.judged) == entries(before.ledger.judged, names)
    left = [tuple(each.entry for each in verdict.ledger.open) for verdict in (before, after)]
    assert entries(left[1]) == entries(left[0], names)


@pytest.mark.parametrize("name", ["gearbox-crossmember", "sleeved-rail-joint", "tie-down"])
@settings(max_examples=5, deadline=None)
@given(data=st.data())
def test_other_names_change_no_verdict(name: str, data: st.DataObject) -> None:
    alike(name, data.draw(other_names(name).filter(is_distinct)))


@pytest.mark.parametrize("name", ["hill-truck", "hill-truck-original", "notched-rail", "skid-plate"])
def test_names_that_the_program_uses_itself_change_no_verdict(name: str) -> None:
    found = names_in(case_of(name))
    enough = (*TRICKY, *(f"{number}: a, b" for number in range(max(map(len, found.values())))))
    alike(name, {kind: dict(zip(each, enough, strict=False)) for kind, each in found.items()})
