"""The first screen of every case: forty lines, no line too long, nothing that is LOW left out, nothing said that was not judged."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from framecheck.cli.context import read_with_origin, section_store
from framecheck.cli.main import CAUTION
from framecheck.errors import InputError
from framecheck.output.display import shortened
from framecheck.output.first_screen import MOST_LINES, first_screen
from framecheck.output.terminal import as_text
from framecheck.results.row import Grade
from framecheck.results.subjects import Question, Subject, Thing
from framecheck.results.verdict import State
from framecheck.run import Results, run
from framecheck.units import Units
from framecheck.versions import Origin
from tests.cases.answers import ROOT, VERDICT

WIDTHS = (50, 80, 120)
FILES = sorted((*(ROOT / "cases").glob("*.yaml"), *VERDICT.glob("*.yaml")))


@cache
def answer(file: Path) -> tuple[Results, Origin, Units] | None:
    """Return a case's results; None for a study, or a case that is there to be refused."""
    try:
        case, origin = read_with_origin(str(file))
        return run(case, section_store()), origin, case.written_in
    except InputError:
        return None


def screen(file: Path, width: int) -> str | None:
    """Return the first screen of a case."""
    found = answer(file)
    return None if found is None else first_screen(found[0], CAUTION, found[2], width, found[1])


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_the_first_screen_fits(file: Path) -> None:
    """Forty lines at 80 columns and more; at 50 no line is too long (the brief's own numbers)."""
    for width in WIDTHS:
        text = screen(file, width)
        if text is not None:
            lines = text.rstrip("\n").splitlines()
            assert max(map(len, lines)) <= width
            assert width < 80 or len(lines) <= MOST_LINES


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_kind_that_misses_stands_in_the_table_with_its_count(file: Path) -> None:
    found = answer(file)
    if found is None or found[0].verdict.state is State.NOT_JUDGED:
        return
    missed = found[0].verdict.missed
    for width in WIDTHS:
        lines = (screen(file, width) or "").splitlines()
        lines = lines[next(n for n, line in enumerate(lines) if line.startswith("kind ")) :]
        for check in {row.check for row in missed}:
            count = sum(row.check is check for row in missed)
            mark = "LOW" if count == 1 else f"LOW +{count - 1}"
            start = f"{check.words.split()[0]} "  # the name may go on in the next line
            line = next(each for each in lines if each.startswith(start) and "%" in each)
            assert mark in line.split("%")[1]
        assert sum(line.count(" LOW") for line in lines if "%" in line) == len({row.check for row in missed})


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_us_units_reach_every_word(file: Path) -> None:
    """No metric force, moment or flow in what the program says by itself: a file's own words and standards' names may hold lengths."""
    found = answer(file)
    if found is None:
        return
    text = " ".join(as_text(found[0], CAUTION, Units.US, 200, found[1]).split())
    text = text.replace(" ".join(found[0].outcome.case.title.split()), "")
    assert re.findall(r"\d (?:N|kN|Nm|N·m|N/mm|MPa)\b", text) == []
    assert "Said(" not in text
    assert "Amount(" not in text


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_met_is_said_where_it_is_met_and_nothing_is_open(file: Path) -> None:
    found = answer(file)
    if found is None:
        return
    text, verdict = screen(file, 80) or "", found[0].verdict
    is_met = bool(found[0].rows) and not verdict.ledger.open and all(row.grade is Grade.PASS for row in found[0].rows)
    assert ("every target is met" in text.lower()) == is_met
    assert (verdict.state is State.MET) == is_met


def test_a_remedy_fits_one_line() -> None:
    """Three digits of things, their title and what closes them: 80 columns."""
    for question in Question:
        assert len(f"- 999 {question.title}: {question.remedy}") <= 80, question


def test_a_detail_is_called_by_its_own_name_once() -> None:
    assert Subject(Thing.DETAIL, "left rail", "spring bracket, left rail").words == "spring bracket, left rail"
    assert Subject(Thing.DETAIL, "left rail", "spring bracket").words == "left rail, spring bracket"


def test_a_text_that_is_cut_says_so() -> None:
    assert shortened("gearbox crossmember", 10) == "gearbox..."
    assert shortened("gearbox", 7) == "gearbox"
