"""The `held` fixture, and the verification manual written from what it held."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from inspect import getdoc
from pathlib import Path
from typing import Any

import pytest

from framecheck.output.json_text import as_json
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED
from tests.verification.manual import COUNTS, PAGE, Entry, FrontDoor, Held, counts_file, page, strays

STORE = SHARED

ENTRIES = pytest.StashKey[list[Entry]]()


@pytest.fixture
def held(request: pytest.FixtureRequest) -> Iterator[Held]:
    """Hold numbers to expected ones and write them down; the test is marked with `proof` and names its source."""
    function = request.node.originalname
    variant = request.node.callspec.id if hasattr(request.node, "callspec") else ""
    holding = Held(f"{request.path.name}::{function}", variant)
    if request.config.getoption("manual") is not None:
        holding.page = {}  # the page is being written anew: nothing on it stands
    yield holding
    entry = entry_of(request, function, holding)
    request.config.stash.setdefault(ENTRIES, []).append(entry)
    failed = request.node.stash.get(FAILED, False)
    if not failed and request.config.getoption("manual") is None:
        assert not strays(holding), "values new or gone: write the manual again (see tests/verification/manual.py)"


@pytest.fixture
def front_door(held: Held) -> FrontDoor:
    """Solve the text of a case file and give its JSON; what `held` gets from then on is marked as read there."""

    def written(text: str) -> Mapping[str, Any]:
        held.front_door = True
        told: Mapping[str, Any] = json.loads(as_json(run(read_case(text, "case.yaml", LIBRARY), STORE), "a caution"))
        return told

    return written


def entry_of(request: pytest.FixtureRequest, function: str, holding: Held) -> Entry:
    """Return what a test says of itself."""
    mark = request.node.get_closest_marker("proof")
    assert mark is not None, "a test that uses `held` needs @proof(Kind...)"
    kind, source = mark.args
    source = source or " ".join((getdoc(request.function) or "").split())
    assert source, "name the source in the docstring"
    chapter = re.split(r"[.:;] ", " ".join((request.module.__doc__ or "").split()))[0]
    return Entry(request.path.name, chapter, function, kind, source, tuple(holding.rows))


FAILED = pytest.StashKey[bool]()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]) -> Iterator[None]:
    """Note whether the test itself failed: then its list of values is not complete and says nothing."""
    report = yield
    if call.when == "call":
        item.stash[FAILED] = report.failed  # type: ignore[attr-defined]
    return report  # type: ignore[return-value]


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Write the manual where one was asked for."""
    target = session.config.getoption("manual")
    if target is not None:
        entries = session.config.stash.get(ENTRIES, [])
        Path(target).write_text(page(entries), encoding="utf-8")
        if Path(target).resolve() == PAGE:
            COUNTS.write_text(counts_file(entries), encoding="utf-8")
