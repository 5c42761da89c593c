"""Work that is bounded: many load cases judged in blocks come out as they do together; what would fill the machine is refused."""

from __future__ import annotations

import pytest
from pytest import approx

from framecheck import load_blocks, run
from framecheck.checks.joint_rows import Line, lines_of_blocks
from framecheck.frame import report
from framecheck.results.row import CheckResult
from framecheck.run import Results
from framecheck.run import run as solve
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED
from tests.trust.texts import ROOT

STORE = SHARED
CASES = ("gearbox-crossmember", "hill-truck", "sleeved-rail-joint")


def solved(name: str) -> Results:
    from framecheck.reading.case_file import read_case

    return solve(read_case((ROOT / "cases" / f"{name}.yaml").read_text(encoding="utf-8"), f"{name}.yaml", LIBRARY), STORE)


def things(results: Results) -> dict[object, float]:
    """Return how much of what is allowed each thing uses in each way of failing."""
    found: dict[object, float] = {}
    for row in results.rows:
        key = row.check, row.mode, row.subject, row.part
        found[key] = max(found.get(key, 0.0), row.used)
    return found


@pytest.mark.parametrize("name", CASES)
def test_load_cases_in_blocks_come_out_as_together(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each load case is still told at the places where its own moments are extreme: the worst of each thing is the same."""
    together = solved(name)
    monkeypatch.setattr(report, "LITTLE", -1)
    monkeypatch.setattr(load_blocks, "LITTLE", -1)
    monkeypatch.setattr(load_blocks, "OF_A_BLOCK", 1)
    calls: list[int] = []
    lines = run.lines_of_blocks
    monkeypatch.setattr(run, "lines_of_blocks", lambda whole, found: (calls.append(len(found)), lines(whole, found))[1])
    apart = solved(name)
    assert calls
    assert calls[0] > 1
    assert apart.verdict.state is together.verdict.state
    assert things(apart) == approx(things(together), rel=2e-3)
    assert {row.subject for row in apart.rows} == {row.subject for row in together.rows}
    assert len(apart.verdict.ledger.groups) == len(together.verdict.ledger.groups)


def test_one_row_of_all_load_cases_stays_one() -> None:
    """A check that tells the worst load case alone tells one in each block; a check that tells them all keeps them."""
    rows = [row for row in solved("gearbox-crossmember").rows if row.load_case is not None]
    by_thing: dict[object, list[CheckResult]] = {}
    for row in rows:
        by_thing.setdefault((row.check, row.mode, row.subject, row.part), []).append(row)
    alike = max(by_thing.values(), key=len)
    assert len(alike) > 2
    alone: list[tuple[Line, ...]] = [(each,) for each in alike[:3]]
    worst = max(alike[:3], key=lambda row: row.used)
    assert list(lines_of_blocks((), alone)) == [worst]
    assert len([*lines_of_blocks((), [tuple(alike[:2]), tuple(alike[2:3])])]) == 3


def test_a_block_holds_as_many_as_its_bound_takes() -> None:
    for places, stations, bounds in ((200.0, 2500, 1), (4.0, 40, 4), (1e6, 10, 8)):
        size = load_blocks.block_size(places, stations, bounds)
        assert size >= 2
        assert size == 2 or size * (stations + size * places) * bounds <= load_blocks.OF_A_BLOCK
