"""Examples through the front door, printed or worked out by hand: YAML in, JSON out, by the commands that a user types."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.cases.answers import told
from tests.verification.front_door_page import PAGE, page
from tests.verification.front_door_table import (
    FOLDER,
    UNITS,
    Example,
    all_things,
    examples,
    found_at,
    lacking,
    names_of,
    row_of,
)
from tests.verification.manual import Held, Kind, proof


@cache
def answer(example: Example) -> Any:
    """Return the JSON that `framecheck check FILE --json`, or `framecheck section FILE --json`, writes for a case."""
    with TemporaryDirectory() as folder:
        command = "section" if example.is_section else "check"
        found = told(command, str(example.path), "--json", str(Path(folder) / "answer.json"))
    assert found.data, found.err or found.out
    return found.data


def made(example: Example) -> Callable[[Held], None]:
    """Return the test of one example, with its source as its docstring."""

    @proof(example.values[0].kind, example.reference)
    def test(held: Held) -> None:
        data = answer(example)
        held.front_door = True
        for each in example.values:
            held.variant = f"{each.words}, {each.unit}" if each.unit != "1" else each.words
            ours = found_at(data, each.at) / UNITS[each.unit] * each.times
            absolute = each.within if each.value == 0 else None
            relative = None if each.value == 0 else each.within
            held(ours, each.value, rel=relative, abs=absolute, kind=each.kind if each.kind is not example.values[0].kind else None)
        held.variant = ""

    return test


MADE: list[str] = []
"""Names of the tests that are made here, one an example."""

for _number, _example in enumerate(examples()):
    _same = sum(_each.case == _example.case for _each in examples()[:_number])
    _name = f"test_{_example.path.stem.replace('-', '_')}{f'_{_same + 1}' if _same else ''}"
    _test = made(_example)
    _test.__name__ = _test.__qualname__ = _name
    globals()[_name] = _test
    MADE.append(_name)


def test_every_case_file_is_held_and_says_why_it_is_here() -> None:
    held = {each.case for each in examples()}
    for file in FOLDER.glob("*.yaml"):
        if not file.name.startswith(("values", "not_found")):
            assert file.name in held
            assert file.read_text(encoding="utf-8").startswith("# "), f"{file.name}: the first line says why"


def test_what_an_example_shows_stands_in_its_file() -> None:
    """A kind of load case, a shape, a joint or a plate load that an example claims is written in its case."""
    known = {f"{what}: {name}" for what, name in all_things()}
    for each in examples():
        text = each.path.read_text(encoding="utf-8")
        for thing in each.shows:
            assert thing in known, f"{each.case}: {thing}"
            assert thing.partition(": ")[2] in text, f"{each.case}: {thing}"


@cache
def shown() -> tuple[tuple[str, Kind], ...]:
    """Return what the table holds, 'what name', and by which kind of proof."""
    return tuple(_shown())


def _shown() -> Iterator[tuple[str, Kind]]:
    for example in examples():
        for each in example.values:
            yield from ((thing.replace(": ", " ", 1), each.kind) for thing in example.shows)
            row = row_of(answer(example), each.at)
            if row:
                yield f"check {row['check']}", each.kind
                yield f"mode {row['mode']}", each.kind


def test_everything_that_can_govern_has_an_example() -> None:
    """Every check, mode, kind of load case, shape, joint and plate load has a printed value that goes in by YAML and comes out by
    JSON, or is listed with the reason why not; what is listed as worked out by hand is held, and nothing listed has a printed one.
    """
    known = {f"{what} {name}" for what, name in all_things()}
    held, printed = {thing for thing, _ in shown()}, {thing for thing, kind in shown() if kind is Kind.PRINTED}
    listed = names_of(lacking())
    assert sorted(known - printed - set(listed)) == []
    assert sorted(set(listed) & printed) == []
    assert sorted(set(listed) - known) == []
    assert len(listed) == len(set(listed))
    assert sorted(set(names_of(each for each in lacking() if each.is_held)) - held) == []
    assert sorted(set(names_of(each for each in lacking() if not each.is_held)) & held) == []


def test_there_are_enough_of_them() -> None:
    """The issue asks for 120 values through the front door, and for 200 printed ones."""
    assert sum(len(each.values) for each in examples()) >= 300
    assert sum(value.kind is Kind.PRINTED for each in examples() for value in each.values) >= 200


def test_the_page_is_up_to_date() -> None:
    """docs/front_door.md is written by `python -m tests.verification.front_door_page`."""
    assert PAGE.read_text(encoding="utf-8") == page(), "write it again: python -m tests.verification.front_door_page"
