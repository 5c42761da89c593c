"""Work is said before it is done: the memory that an estimate tells is what a run takes, and what is too much is refused in words."""

from __future__ import annotations

import re
import tracemalloc
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from framecheck.cli.main import entry
from framecheck.errors import InputError
from framecheck.model.case import Case
from framecheck.reading.case_file import read_case
from framecheck.run import prepare, run, solved
from framecheck.study.rate import refuse_long_ratings
from framecheck.work import START, UNLIMITED, USUAL, Work, load_cases_of, work_of
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED
from tests.trust.ladders import ladder
from tests.trust.texts import ROOT

STORE = SHARED
Said = pytest.CaptureFixture[str]


def case_of(text: str) -> Case:
    return read_case(text, "ladder.yaml", LIBRARY)


@pytest.mark.parametrize("seed", range(4))
def test_the_memory_of_a_ladder_is_what_was_said(seed: int) -> None:
    """Python's own count of what is held at the same time, without the program itself: to a factor of two, of any size."""
    draw = np.random.default_rng(seed)
    ends = ("", "rigid")[seed % 2]
    most = ((4, 10), (5, 15)) if not ends else ((8, 40), (15, 60))  # unsaid ends are solved in some twenty ways
    size = *(int(draw.integers(*each)) for each in most), ends
    case = case_of(ladder(*size))
    prepared = prepare(case, STORE)
    told = work_of(case, prepared.structures).memory - START.memory
    tracemalloc.start()
    solved(prepared, case)
    taken = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert told / 2 <= taken <= told * 2, (size, told / 1e6, taken / 1e6)


def test_every_load_case_and_bound_is_counted() -> None:
    text = (ROOT / "cases" / "hill-truck.yaml").read_text(encoding="utf-8")
    case = read_case(text, "hill-truck.yaml", LIBRARY)
    results = run(case, STORE)
    assert load_cases_of(case) == len(results.outcome.loads)
    small, large = (case_of(ladder(8, count)) for count in (10, 40))
    works = [work_of(each, prepare(each, STORE).structures) for each in (small, large)]
    assert works[1].seconds > works[0].seconds
    assert works[1].memory > works[0].memory
    rigid, unsaid = (case_of(ladder(8, 10, ends)) for ends in ("rigid", ""))
    more = work_of(unsaid, prepare(unsaid, STORE).structures)
    assert more.seconds > work_of(rigid, prepare(rigid, STORE).structures).seconds


def test_too_much_work_is_refused_before_it_is_done() -> None:
    case = case_of(ladder(8, 10))
    with pytest.raises(InputError, match=r"10 load cases: to solve them takes about 1 seconds and 0\.\d GB of memory; .* --long"):
        run(case, STORE, replace(USUAL, memory=1e6))
    with pytest.raises(InputError, match=r"10 load cases in \d+ ways, for what the file leaves open"):
        run(case_of(ladder(8, 10, "")), STORE, Work(0.1, 1e12))
    assert run(case, STORE, UNLIMITED).rows


@pytest.mark.parametrize("name", ["hill-truck", "hill-truck-original", "skid-plate", "notched-rail", "twist-rig"])
def test_no_case_of_ours_is_anywhere_near_the_limit(name: str) -> None:
    case = read_case((ROOT / "cases" / f"{name}.yaml").read_text(encoding="utf-8"), f"{name}.yaml", LIBRARY)
    work = work_of(case, prepare(case, STORE).structures)
    assert work.seconds < USUAL.seconds / 10
    assert work.memory < USUAL.memory / 5


def test_a_command_says_it_by_line_and_how_to_go_on(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    monkeypatch.setattr("framecheck.work.USUAL", Work(0.1, 1e6))
    file = tmp_path / "ladder.yaml"
    file.write_text(ladder(5, 3), encoding="utf-8")
    assert entry(["check", str(file)]) == 2
    told = capsys.readouterr().err
    assert re.match(r".*ladder\.yaml:\d+: work: .*to solve them takes about", told)
    assert "--long" in told
    assert entry(["check", str(file), "--long", "-q"]) in (0, 1)


def test_long_ratings_are_refused_before_they_begin() -> None:
    """Each load that is rated is a search of trials; how long they take is told, with how to go on."""
    case = read_case((ROOT / "cases/hill-truck.yaml").read_text(encoding="utf-8"), "hill-truck.yaml", LIBRARY)
    prepared = prepare(case, STORE)
    refuse_long_ratings(USUAL, prepared, case)
    with pytest.raises(InputError, match=r"loads to rate, some \d+ trials each: that takes about \d+ seconds; .* --long"):
        refuse_long_ratings(Work(1.0, 1e9), prepared, case)
