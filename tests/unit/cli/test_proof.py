"""`framecheck selfcheck --proof`: how many values the tests hold the program to, by kind of proof."""

from __future__ import annotations

import pytest

from framecheck.cli.shop_commands import SEEN, read
from tests.cases.answers import told
from tests.verification.manual import MEANING, Kind
from tests.verification.second_copy import Seen


@pytest.mark.parametrize("columns", [40, 50, 80])
def test_every_kind_of_proof_is_counted_apart(columns: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    answer = told("selfcheck", "--proof")
    assert answer.code == 0
    values = read()["values"]
    assert list(values) == [kind.value for kind in Kind]
    lines = answer.out.splitlines()
    said = " ".join(answer.out.split())
    for kind in Kind:
        counts = values[kind.value]
        assert counts["about"] == MEANING[kind]
        assert f"- {kind.value}: {counts['values']}, of them {counts['front door']} through the front door; {counts['about']}" in said
    assert max(map(len, lines)) <= columns
    assert not any("  " in line.strip() for line in lines)  # no columns that only an eye puts together


def test_the_numbers_of_the_tables_are_counted_by_how_their_source_was_seen() -> None:
    seen = read()["tables"]
    assert list(seen) == [each.value for each in Seen] == list(SEEN)
    assert sum(seen.values()) > 2000
    said = " ".join(told("selfcheck", "--proof").out.split())
    assert all(f"- {how}: {count}; {SEEN[how]}" in said for how, count in seen.items())


def test_it_leads_with_what_a_sceptic_asks() -> None:
    """That no real part was measured, then how many values stand printed in an opened source, and how many rest on us."""
    values = read()["values"]
    total = sum(each["values"] for each in values.values())
    ours = sum(values[kind.value]["values"] for kind in (Kind.SHELL, Kind.DERIVED, Kind.PRACTICE, Kind.MEMORY))
    said = " ".join(told("selfcheck", "--proof").out.split())
    first = f"{values[Kind.PRINTED.value]['values']} ({100 * values[Kind.PRINTED.value]['values'] / total:.0f} %) stand printed"
    places = [said.index(each) for each in (first, f"{ours} ({100 * ours / total:.0f} %) rest on us", "front door")]
    assert said.startswith("No real part was ever loaded and measured")
    assert places == sorted(places)
    assert "measured" not in {kind.value for kind in Kind}  # the first sentence would be wrong


def test_rows_without_an_opened_source_are_counted_apart() -> None:
    seen = read()["tables"]
    sourced = seen[Seen.OPENED.value] + seen[Seen.BEFORE.value]
    said = " ".join(told("selfcheck", "--proof").out.split())
    rows = sum(seen.values())
    assert f"Of {rows}, {sourced} have a source that was opened, {rows - sourced} have none or one that nobody could open" in said
