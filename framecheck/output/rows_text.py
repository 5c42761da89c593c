"""Variants as rows of text, JSON lines or CSV, in SI, and back; and the optimum between the sizes of a study, in words."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator, Sequence
from io import StringIO
from typing import Any

from framecheck import __version__
from framecheck.model.study import Study
from framecheck.output.csv_text import safe
from framecheck.output.display import Units, with_unit
from framecheck.output.study_text import shortened
from framecheck.results.verdict import State
from framecheck.study.engines import Optimum
from framecheck.study.measure import MeasuredAim, VariantRow
from framecheck.study.sweep import Shortlist
from framecheck.value_class import value_class
from framecheck.versions import SCHEMA


def optimum_lines(study: Study, found: Optimum | None, listed: Shortlist, units: Units = Units.SI) -> Iterator[str]:
    """Yield the lightest sizes between those of the ranges, and what they save over the ranked variants."""
    if found is None:
        yield "Nothing to look for: no field is varied by a range (from and to)."
        return
    row = found.row
    sizes = ", ".join(f"{each.field} {shortened(text)}" for each, text in zip(study.varied, row.values, strict=True))
    if not row.passes or row.mass is None:
        yield f"{found.runs} further variants were solved and each misses a target; the nearest: {sizes}."
        return
    yield f"The lightest that misses no target: {sizes}: {with_unit(row.mass, 'mass', units)} ({found.runs} variants solved)."
    best = listed.winners[0].mass if listed.winners else None
    if best is not None:
        saved = best - row.mass
        yield (
            f"It saves {with_unit(saved, 'mass', units)} over the lightest ranked; a shop can buy the ranked one."
            if saved > 0
            else ("Nothing lighter than the lightest ranked was found between the sizes.")
        )


Record = dict[str, Any]

NUMBERS = {
    "mass_kg": "mass",
    "safety_factor": "safety_factor",
    "largest_deflection_m": "deflection",
    "torsional_stiffness_Nm_per_rad": "torsional_stiffness",
    "lowest_frequency_Hz": "frequency",
}
GOVERNS = {
    "governs": "aim",
    "value_SI": "value",
    "asked_SI": "asked",
    "ratio": "ratio",
    "check": "check",
    "where": "where",
    "load_case": "load_case",
    "station_m": "station",
}
WORDS = frozenset({"aim", "check", "where", "load_case"})


@value_class
class RowForm:
    """How rows of one study are written. key: of the study and its case; fields: the varied ones, in order; sha256: of the
    files they came from, one after another.
    """

    key: str
    fields: tuple[str, ...]
    sha256: str = ""

    def record(self, row: VariantRow) -> Record:
        """Return a row as plain values."""
        governs = row.governs
        return {
            "study": self.key,
            "variant": row.number + 1,
            **dict(zip(self.fields, row.values, strict=True)),
            "engine": row.engine,
            **{name: getattr(row, key) for name, key in NUMBERS.items()},
            "passes": "yes" if row.passes else "no",
            "verdict": None if row.state is None else row.state.value,
            "open": row.open,
            **{name: None if governs is None else getattr(governs, key) for name, key in GOVERNS.items()},
            "fault": row.fault,
            **self.origin,
        }

    @property
    def origin(self) -> Record:
        """Return what made a row, and from what."""
        return {"input_sha256": self.sha256, "program_version": __version__, "schema_version": SCHEMA}

    def row(self, record: Record) -> VariantRow:
        """Return the row of plain values; ValueError, KeyError or TypeError where they are none."""
        governs = None
        if record["governs"]:
            parts = {key: record[name] for name, key in GOVERNS.items()}
            governs = MeasuredAim(**{key: part if key in WORDS else number(part) for key, part in parts.items()})  # type: ignore[arg-type]
        return VariantRow(
            number=int(record["variant"]) - 1,
            values=tuple(str(record[each]) for each in self.fields),
            engine=str(record["engine"]),
            **{key: number(record[name]) for name, key in NUMBERS.items()},
            governs=governs,
            fault=str(record["fault"]),
            state=State(record["verdict"]) if record["verdict"] else None,
            open=int(record["open"]) if record["open"] not in (None, "") else None,
        )


@value_class
class JsonLines:
    """One JSON object a line."""

    form: RowForm

    def head(self) -> str:
        """Return what stands above the rows: nothing."""
        return ""

    def start(self) -> str:
        """Return how a file of this study begins."""
        return f'{{"study": {json.dumps(self.form.key)}, '

    def line(self, row: VariantRow) -> str:
        """Return a row's line."""
        return json.dumps(self.form.record(row), ensure_ascii=False, allow_nan=False) + "\n"

    def record(self, line: str) -> Record:
        """Return the plain values of a line; ValueError where it is damaged."""
        found = json.loads(line)
        if not isinstance(found, dict):
            raise ValueError(line)
        return found


@value_class
class CsvLines:
    """A heading, then a line a row."""

    form: RowForm

    def head(self) -> str:
        """Return the heading's line."""
        return csv_line([safe(name) for name in self.names()])

    def start(self) -> str:
        """Return how a file of this study begins."""
        return f"{self.head()}{self.form.key},"

    def line(self, row: VariantRow) -> str:
        """Return a row's line."""
        return csv_line([blank(safe(value)) for value in self.form.record(row).values()])

    def record(self, line: str) -> Record:
        """Return the plain values of a line; ValueError where it is damaged."""
        cells = next(csv.reader([line]))
        return dict(zip(self.names(), map(unsafe, cells), strict=True))

    def names(self) -> tuple[str, ...]:
        """Return the columns."""
        own = ("study", "variant", *self.form.fields, "engine", *NUMBERS, "passes", "verdict", "open", *GOVERNS, "fault")
        return (*own, *self.form.origin)


RowLines = JsonLines | CsvLines


def csv_line(cells: Iterable[object]) -> str:
    """Return cells as one line of CSV."""
    buffer = StringIO()
    csv.writer(buffer, lineterminator="\n").writerow(cells)
    return buffer.getvalue()


def blank(value: object) -> object:
    """Return an empty cell for None, a number so that it can be read back whole, a text on one line."""
    if value is None:
        return ""
    return repr(value) if isinstance(value, float) else " ".join(str(value).split())


def unsafe(cell: str) -> str:
    """Return a cell without the mark that keeps spreadsheets from running it."""
    return cell[1:] if cell[:1] == "'" and safe(cell[1:]) != cell[1:] else cell


def number(value: object) -> float | None:
    """Return a number read back, None for nothing."""
    return None if value is None or value == "" else float(str(value))


def rows_of(lines: RowLines, texts: Sequence[str]) -> tuple[VariantRow, ...]:
    """Return the rows of whole lines without their heading, up to the first that is damaged or out of its order."""
    found: list[VariantRow] = []
    for text in texts:
        try:
            row = lines.form.row(lines.record(text))
        except (ValueError, KeyError, TypeError, StopIteration):
            break
        if row.number != len(found):
            break
        found.append(row)
    return tuple(found)
