"""The verification manual: values that tests hold the program to, written down as the tests run.

A test says what kind of source it has, names the source in its docstring, and hands each pair of numbers to `held`:

    @proof(Kind.FORMULA)
    def test_simple_beam(held: Held, front_door: FrontDoor) -> None:
        "AISC Manual, table 3-23: P L3 / 48 E I; the table itself prints 4.17."
        written = front_door(CASE)
        held(sag(written), 4.166667, rel=1e-6)
        held(sag(written), 4.17, rel=2e-3, kind=Kind.PRINTED)

A test has one kind of proof; `kind=` names another one for a single value. What is held after `front_door(text)` was called counts as
read from the JSON of a case file.

`held` fails as an assertion would, and also where our number moved away from the one in docs/verification.md. The page is written by
`pytest tests/verification --manual docs/verification.md`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import framecheck
from tests.verification import constants, second_copy

PAGE = Path(__file__).parents[2] / "docs" / "verification.md"
COUNTS = Path(framecheck.__file__).parent / "cli" / "proof.yaml"
"""What `framecheck selfcheck --proof` shows, written with the page."""
MOST_ELEMENTS = 12
"""Of a longer array only the element that differs most is written down."""
NOISE = 1e-6


class Kind(StrEnum):
    """What kind of proof an expected value is."""

    PRINTED = "printed"
    FORMULA = "formula"
    LIBRARY = "library"
    SHELL = "shell"
    DERIVED = "derived"
    PRACTICE = "common practice"
    MEMORY = "from memory"


MEANING = {
    Kind.PRINTED: "the very number stands in an opened standard, handbook's table or worked example, or in a source that quotes one",
    Kind.FORMULA: "our arithmetic on a formula that a standard or a handbook prints",
    Kind.LIBRARY: "computed by an independent library, named with its version",
    Kind.SHELL: "a shell or plane-stress model that we made ourselves in a general finite-element library",
    Kind.DERIVED: "worked out in the test from equilibrium or a closed form, by hand or with a model of its own",
    Kind.PRACTICE: "trade practice, no source",
    Kind.MEMORY: "a named source, quoted from memory: nobody opened it for this",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One value: where in the test it stands, ours, the expected one, how far ours may move before somebody should look, its kind of
    proof (None: its test's), and whether a case file went in and JSON came out.
    """

    label: str
    ours: float
    value: float
    slack: float
    kind: Kind | None = None
    front_door: bool = False

    def cells(self) -> tuple[str, str, str, str]:
        """Return the cells of the page: label, ours, expected, difference."""
        return self.name(), shown(self.ours, self.slack), shown(self.value, 0.0), self.difference()

    def name(self) -> str:
        """Return the label as the page has it, with the kind of proof where it is not its test's."""
        return (self.label if self.kind is None else f"{self.label} ({self.kind})").replace("|", "/")

    def difference(self) -> str:
        """Return the difference in per cent, without the digits that a processor decides."""
        if abs(self.ours - self.value) <= max(NOISE * abs(self.value), 0.0 if self.value else 10 * self.slack):
            return "under 1e-6" if self.value else "within tolerance"
        return "-" if self.value == 0 else f"{100 * (self.ours - self.value) / abs(self.value):+.2g} %"


def shown(number: float, slack: float) -> str:
    """Return six digits, and 0 for what is nothing but rounding."""
    return "0" if abs(number) <= slack else f"{number:.6g}"


@dataclass(slots=True)
class Held:
    """Holds numbers to expected ones, as the `held` fixture of one test. page: our numbers that stand, by label; None: PAGE's."""

    test: str
    variant: str
    rows: list[Row] = field(default_factory=list)
    calls: int = 0
    front_door: bool = False
    page: Mapping[str, float] | None = None

    def __call__(
        self, ours: Any, value: Any, rel: float | None = None, abs: float | None = None, kind: Kind | None = None
    ) -> None:
        """Fail unless ours is the expected value; numbers, sequences or arrays. rel, abs: as in pytest.approx, not looser.

        kind: of proof, where it is another one than the test's.
        """
        self.calls += 1
        found = [replace(row, kind=kind, front_door=self.front_door) for row in self._rows(ours, value, rel, abs)]
        assert ours == pytest.approx(value, rel=rel, abs=abs)
        known = written().get(self.test, {}) if self.page is None else self.page
        for row in found:
            standing = known.get(row.name())
            if standing is not None:
                drifted = f"{self.test} {row.name()}: the manual says {standing}; if {row.ours} is right, write it again"
                assert np.abs(row.ours - standing) <= 1.5 * np.maximum(row.slack, 1e-5 * np.abs(standing)), drifted
        self.rows += found

    def _rows(self, ours: Any, value: Any, rel: float | None, absolute: float | None) -> Iterator[Row]:
        """Yield the rows of one call: each element of a short sequence, the worst of a long one."""
        mine, theirs = (np.ravel(np.asarray(each, dtype=float)) for each in (ours, value))
        mine, theirs = np.broadcast_arrays(mine, theirs)
        name = f"{self.variant}: {self.calls}" if self.variant else str(self.calls)
        allowed = np.maximum(
            (1e-6 if rel is None and absolute is None else rel or 0.0) * np.abs(theirs), absolute or 0.0
        )
        if len(mine) > MOST_ELEMENTS:
            worst = int(np.argmax(np.abs(mine - theirs) / np.maximum(allowed, 1e-300)))
            yield Row(
                f"{name}, worst of {len(mine)}", float(mine[worst]), float(theirs[worst]), float(allowed[worst]) / 10
            )
            return
        for number, (one, other, slack) in enumerate(zip(mine, theirs, allowed, strict=True), 1):
            label = name if len(mine) == 1 else f"{name}.{number}"
            yield Row(label, float(one), float(other), float(slack) / 10)


def proof(kind: Kind, source: str = "") -> pytest.MarkDecorator:
    """Mark a test whose values go into the manual; source: left out where the docstring names it."""
    return pytest.mark.proof(kind, source)


FrontDoor = Callable[[str], Mapping[str, Any]]
"""Solves the text of a case file and returns its JSON (the fixture `front_door`)."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A test of the manual: its file, its file's first line, its function, kind of proof, source, and values."""

    file: str
    chapter: str
    function: str
    kind: Kind
    source: str
    rows: tuple[Row, ...]


def page(entries: Iterable[Entry]) -> str:
    """Return the whole page, in an order of its own and not that of the run."""
    merged = merge(entries)
    lines = [
        "# Verification manual", "",
        "Written by the tests as they run (`pytest tests/verification --manual docs/verification.md`); a test fails where a number",
        "drifts from this page. Numbers are in the unit of the source line, SI where it names none. What a test holds beyond values",
        "(equilibrium, superposition, bounds) is not listed here.", "",
        *count_lines(counted(merged), len(merged)), "",
    ]  # fmt: skip
    for file in sorted({each.file for each in merged}):
        here = [each for each in merged if each.file == file]
        lines += [f"## {here[0].chapter.rstrip('.')}", ""]
        lines += [line for each in here for line in entry_lines(each)]
    return "\n".join(lines).rstrip() + "\n"


@dataclass(frozen=True, slots=True)
class Count:
    """How many values one kind of proof has, and how many of them go in as a case file and come out as JSON."""

    values: int
    front_door: int


def counted(entries: Sequence[Entry]) -> Mapping[Kind, Count]:
    """Return the values of each kind of proof; the expected zeros of one test count once together."""
    found = {kind: [0, 0] for kind in Kind}
    for entry in entries:
        for kind in Kind:
            rows = [row for row in entry.rows if (row.kind or entry.kind) is kind]
            for place, some in enumerate((rows, [row for row in rows if row.front_door])):
                found[kind][place] += sum(row.value != 0 for row in some) + any(row.value == 0 for row in some)
    return {kind: Count(*both) for kind, both in found.items()}


def count_lines(counts: Mapping[Kind, Count], checks: int) -> list[str]:
    """Return the lines that say how many values there are, by kind."""
    values, door = sum(each.values for each in counts.values()), sum(each.front_door for each in counts.values())
    return [
        f"{values} values in {checks} checks, {door} of them through the front door: a case file goes in, JSON comes out.",
        "The expected zeros of a check count once together.", "",
        "| kind of proof | what it means | values | through the front door |", "| --- | --- | --- | --- |",
        *(f"| {kind} | {MEANING[kind]} | {each.values} | {each.front_door} |" for kind, each in counts.items()),
    ]  # fmt: skip


def counts_file(entries: Iterable[Entry]) -> str:
    """Return the text of COUNTS."""
    counts = counted(merge(entries))
    held = [*second_copy.second_copy().values(), *(held for _, held in constants.second_constants().values())]
    return "\n".join([
        "# How the numbers are proved. Written by the tests with docs/verification.md: see tests/verification/manual.py.",
        "values:",
        *(f"  {kind}: {{about: {MEANING[kind]!r}, values: {n.values}, front door: {n.front_door}}}" for kind, n in counts.items()),
        "tables:",
        *(f"  {seen.value}: {sum(each.seen is seen for each in held)}" for seen in second_copy.Seen), "",
    ])  # fmt: skip


def merge(entries: Iterable[Entry]) -> list[Entry]:
    """Return one entry a test, with the values of all its variants."""
    found: dict[tuple[str, str], Entry] = {}
    for each in entries:
        key = (each.file, each.function)
        before = found[key].rows if key in found else ()
        found[key] = Entry(each.file, each.chapter, each.function, each.kind, each.source, (*before, *each.rows))
    return [found[key] for key in sorted(found)]


def entry_lines(entry: Entry) -> list[str]:
    """Return the lines of one test."""
    subject = entry.function.removeprefix("test_").replace("_", " ")
    door = ", through the front door" if any(row.front_door for row in entry.rows) else ""
    return [
        f"**{subject[:1].upper()}{subject[1:]}** ({entry.kind}{door}). {escaped(entry.source)}", "",
        f"`{entry.file}::{entry.function}`", "",
        "| value | ours | expected | difference |", "| --- | --- | --- | --- |",
        *("| " + " | ".join(row.cells()) + " |" for row in entry.rows), "",
    ]  # fmt: skip


def escaped(text: str) -> str:
    """Return plain text that Markdown shows as it is."""
    return re.sub(r"([\\*_`$<>\[\]^~#|{}])", r"\\\1", text)


@cache
def written() -> Mapping[str, Mapping[str, float]]:
    """Return our numbers as they stand on the committed page: by test, then by label."""
    text = PAGE.read_text(encoding="utf-8") if PAGE.exists() else ""
    found: dict[str, dict[str, float]] = {}
    test = ""
    for line in text.splitlines():
        named = re.fullmatch(r"`(test_\w+\.py::\w+)`", line)
        if named:
            test = named[1]
        cells = [cell.strip() for cell in line.strip("|").split(" | ")]
        if test and len(cells) == 4 and re.fullmatch(r"[-+0-9.einf]+", cells[1]) and cells[1] != "---":
            found.setdefault(test, {})[cells[0]] = float(cells[1])
    return found


def strays(held: Held) -> Sequence[str]:
    """Return what differs between the labels of a test and those of the page: values new or gone."""
    mine = {row.name() for row in held.rows}
    start = f"{held.variant}: ".replace("|", "/") if held.variant else ""
    theirs = {label for label in written().get(held.test, {}) if label.startswith(start)}
    return sorted(mine ^ theirs)
