"""A long record is counted part by part of the places, so that memory stays bounded: the answer is that of all places at once."""

from __future__ import annotations

import pytest

from framecheck.check_lines import check_lines
from framecheck.checks.fatigue import assess
from framecheck.results.row import Check, CheckResult
from tests.unit.results.cases import results_of


def rows(name: str) -> list[tuple[object, ...]]:
    found = check_lines(results_of(name).outcome)
    lines = [each for each in found if isinstance(each, CheckResult) and each.check is Check.FATIGUE]
    return [(each.subject, each.mode, each.demand, each.station, each.source) for each in lines]


@pytest.mark.parametrize("at_once", [7, 60, 1000])
def test_parts_give_what_the_whole_gives(at_once: int, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = rows("notched-rail")
    monkeypatch.setattr(assess, "AT_ONCE", at_once)
    assert whole
    assert rows("notched-rail") == whole
