"""An edit on the page changes what it is meant to change and nothing else, whatever place of whatever file."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import ndiff
from pathlib import Path as File
from random import Random
from typing import Any

import pytest

from framecheck.bench.document import Path, data_of, with_entry, with_source, with_value, without, written_as
from framecheck.errors import InputError

CASES = sorted((File(__file__).parents[3] / "cases").glob("*.yaml"))


def paths(data: Any, before: Path = ()) -> Iterator[Path]:
    """Yield the path of everything in data."""
    for step, value in data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ():
        yield (*before, step)
        yield from paths(value, (*before, step))


def followed(data: Any, path: Path) -> Any:
    """Return what a path leads to in data."""
    for step in path:
        data = data[step]
    return data


def changed_lines(before: str, after: str) -> list[str]:
    return [line for line in ndiff(before.splitlines(), after.splitlines()) if line[:1] in "+-"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_a_value_changes_its_own_line_alone(case: File) -> None:
    text = case.read_text(encoding="utf-8")
    data = data_of(text)
    single = [path for path in paths(data) if isinstance(followed(data, path), str) and "\n" not in str(followed(data, path))]
    for path in Random(1).sample(single, min(12, len(single))):
        after = with_value(text, path, "14 ga tube")
        found = data_of(after)
        assert followed(found, path) == "14 ga tube"
        assert with_value(after, path, followed(data, path)) is not None
        assert len(changed_lines(text, after)) <= 4  # ndiff marks the letters that differ on a line of their own


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_what_is_taken_out_takes_no_comment_of_its_neighbours(case: File) -> None:
    text = case.read_text(encoding="utf-8")
    every = list(paths(data_of(text)))
    for path in Random(2).sample(every, min(12, len(every))):
        after = without(text, path)
        assert not [line for line in changed_lines(text, after) if line.startswith("+ ") and line[2:].strip().startswith("#")]
        gone = [line[2:].strip() for line in changed_lines(text, after) if line.startswith("- ")]
        assert any(not line.startswith("#") for line in gone)


FLOW = "a: {b: 1, c: [x, y]}  # of a\nd:\n  # first\n  - {n: one}\n  - n: two\n    m: 3  # of m\nlast: 1\n"


@pytest.mark.parametrize(
    ("path", "source", "line"),
    [
        (("a", "z"), "9 in", "a: {b: 1, c: [x, y], z: 9 in}  # of a"),
        (("a", "c", 2), "z", "a: {b: 1, c: [x, y, z]}  # of a"),
        (("d", 1, "k"), "{q: 1}", "    k: {q: 1}"),
        (("d", 2), "{n: three}", "  - {n: three}"),
        (("e f",), "yes", "e f: yes"),
    ],
)
def test_an_entry_is_added_where_it_belongs(path: Path, source: str, line: str) -> None:
    after = with_entry(FLOW, path, source)
    assert line in after.splitlines()
    assert all(comment in after for comment in ("# of a", "# first", "# of m"))


def test_the_first_key_of_an_entry_goes_and_the_next_takes_its_place() -> None:
    assert without(FLOW, ("d", 1, "n")).splitlines()[4] == "  - m: 3  # of m"


def test_what_would_be_left_empty_goes_too() -> None:
    assert data_of(without(FLOW, ("d", 0, "n")))["d"] == [{"n": "two", "m": "3"}]


@pytest.mark.parametrize("value", ["no: way", "# none", "{a", "- x", "*a", "&a", "'", "x, y", "[1", "", "a\nb", "null: ~", "é: #"])
def test_whatever_is_typed_stays_one_text(value: str) -> None:
    assert data_of(f"k: {{a: {written_as(value)}, b: 1}}")["k"] == {"a": " ".join(value.split()), "b": "1"}
    assert data_of(with_value(FLOW, ("d", 0, "n"), value))["d"][0]["n"] == " ".join(value.split())


def test_a_list_is_written_anew_and_no_yaml_is_refused() -> None:
    assert data_of(with_source(FLOW, ("a", "c"), "[p]"))["a"]["c"] == ["p"]
    for path, source in ((("a", "c"), "[p"), (("nowhere",), "1")):
        with pytest.raises(InputError):
            with_source(FLOW, path, source)


SHARED = "a: &same {h: 4 in}\nb: *same\nc: {h: &h 1 in, w: *h}\nd: 1\n"


def test_a_value_that_nobody_shares_is_changed_beside_those_that_are() -> None:
    assert followed(data_of(with_value(SHARED, ("d",), "5 in")), ("d",)) == "5 in"


@pytest.mark.parametrize("path", [("a", "h"), ("b", "h"), ("c", "h"), ("c", "w")])
def test_a_value_that_others_share_is_not_changed_for_them_unseen(path: Path) -> None:
    """An alias is another's value: to write over it would change both."""
    with pytest.raises(InputError, match="neighbours"):
        with_value(SHARED, path, "5 in")


def test_a_source_that_would_break_out_of_its_place_is_refused() -> None:
    for path, source in ((("a", "c"), "p: 1\nq: 2"), (("d", 0), "n: 1\nlast: 2")):
        with pytest.raises(InputError, match="neighbours"):
            with_source(FLOW, path, source)
    with pytest.raises(InputError, match="YAML"):
        with_entry(FLOW, ("a", "z"), "{")


BOMB = "a: &a0 [x, x, x, x, x, x, x, x, x]\n" + "".join(f"b{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 9))
LOOP, DEEP = "a: &a {b: *a}\n", f"a: {400 * '['}{400 * ']'}\n"


@pytest.mark.parametrize("text", [BOMB, LOOP, DEEP], ids=["aliases", "loop", "deep"])
def test_a_text_that_the_reader_would_not_take_is_not_edited(text: str) -> None:
    """Aliases written out are 9^9 values; each would keep the page busy or break it."""
    for edit in (lambda: with_value(text + "d: 1\n", ("d",), "2"), lambda: without(text + "d: 1\n", ("d",))):
        with pytest.raises(InputError, match=r"aliases|deeper"):
            edit()
