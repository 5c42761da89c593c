"""The verification manual: values that tests hold the program to, written down as the tests run.

A test says what kind of source it has, names the source in its docstring, and hands each pair of numbers to `held`:

    @proof(Status.PUBLISHED)
    def test_simple_beam(held: Held) -> None:
        "AISC Manual, table 3-23: P L3 / 48 E I."
        held(sag, 4.166667, rel=1e-6)

`held` fails as an assertion would, and also where our number moved away from the one in docs/verification.md. The page is written by
`pytest tests/verification --manual docs/verification.md`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

PAGE = Path(__file__).parents[2] / "docs" / "verification.md"
MOST_ELEMENTS = 12
"""Of a longer array only the element that differs most is written down."""
NOISE = 1e-6


class Status(StrEnum):
    """What kind of value the expected one is."""

    PUBLISHED = "published"
    DERIVED = "derived"
    PRACTICE = "common practice"
    MEMORY = "from memory"
    LIBRARY = "reference library"
    DATA = "published data shipped here"


MEANING = {
    Status.PUBLISHED: "printed in a standard, a handbook or a worked example",
    Status.DERIVED: "worked out in the test from a closed form or from equilibrium, by hand or with a model of its own",
    Status.PRACTICE: "trade practice, no source",
    Status.MEMORY: "a named source, quoted from memory: nobody opened it for this",
    Status.LIBRARY: "computed by an independent library, in the same run or stored with its version",
    Status.DATA: "a row of a published table that stands beside the tests",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One value: where in the test it stands, ours, the expected one, and how far ours may move before somebody should look."""

    label: str
    ours: float
    value: float
    slack: float

    def cells(self) -> tuple[str, str, str, str]:
        """Return the cells of the page: label, ours, expected, difference."""
        return self.label.replace("|", "/"), shown(self.ours, self.slack), shown(self.value, 0.0), self.difference()

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
    """Holds numbers to expected ones, as the `held` fixture of one test."""

    test: str
    variant: str
    rows: list[Row] = field(default_factory=list)
    calls: int = 0

    def __call__(self, ours: Any, value: Any, rel: float | None = None, abs: float | None = None) -> None:
        """Fail unless ours is the expected value; numbers, sequences or arrays. rel, abs: as in pytest.approx, not looser."""
        self.calls += 1
        found = list(self._rows(ours, value, rel, abs))
        assert ours == pytest.approx(value, rel=rel, abs=abs)
        known = written()
        for row in found:
            standing = known.get(self.test, {}).get(row.label.replace("|", "/"))
            if standing is not None:
                drifted = f"{self.test} {row.label}: the manual says {standing}; if {row.ours} is right, write it again"
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


def proof(status: Status, source: str = "") -> pytest.MarkDecorator:
    """Mark a test whose values go into the manual; source: left out where the docstring names it."""
    return pytest.mark.proof(status, source)


@dataclass(frozen=True, slots=True)
class Entry:
    """A test of the manual: its file, its file's first line, its function, status, source, and values."""

    file: str
    chapter: str
    function: str
    status: Status
    source: str
    rows: tuple[Row, ...]


def page(entries: Iterable[Entry]) -> str:
    """Return the whole page, in an order of its own and not that of the run."""
    merged = merge(entries)
    values = {status: sum(len(each.rows) for each in merged if each.status is status) for status in Status}
    outside = values[Status.LIBRARY] + values[Status.DATA]
    lines = [
        "# Verification manual", "",
        "Written by the tests as they run (`pytest tests/verification --manual docs/verification.md`); a test fails where a number",
        "drifts from this page. Numbers are in the unit of the source line, SI where it names none. What a test holds beyond values",
        "(equilibrium, superposition, bounds) is not listed here.", "",
        f"{sum(values.values())} values in {len(merged)} checks, {outside} of them from reference libraries or published data", "",
        "| status | what it means | values |", "| --- | --- | --- |",
        *(f"| {status} | {MEANING[status]} | {values[status]} |" for status in Status), "",
    ]  # fmt: skip
    for file in sorted({each.file for each in merged}):
        here = [each for each in merged if each.file == file]
        lines += [f"## {here[0].chapter.rstrip('.')}", ""]
        lines += [line for each in here for line in entry_lines(each)]
    return "\n".join(lines).rstrip() + "\n"


def merge(entries: Iterable[Entry]) -> list[Entry]:
    """Return one entry a test, with the values of all its variants."""
    found: dict[tuple[str, str], Entry] = {}
    for each in entries:
        key = (each.file, each.function)
        before = found[key].rows if key in found else ()
        found[key] = Entry(each.file, each.chapter, each.function, each.status, each.source, (*before, *each.rows))
    return [found[key] for key in sorted(found)]


def entry_lines(entry: Entry) -> list[str]:
    """Return the lines of one test."""
    subject = entry.function.removeprefix("test_").replace("_", " ")
    return [
        f"**{subject[:1].upper()}{subject[1:]}** ({entry.status}). {escaped(entry.source)}", "",
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
    mine = {row.label.replace("|", "/") for row in held.rows}
    start = f"{held.variant}: ".replace("|", "/") if held.variant else ""
    theirs = {label for label in written().get(held.test, {}) if label.startswith(start)}
    return sorted(mine ^ theirs)
