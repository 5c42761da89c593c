"""What a notebook takes: a case file read, solved, and shown as tables that can be looked at, sorted and plotted.

Loaded when `framecheck.read_case` or `framecheck.run(...)` is first used.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from html import escape
from os import PathLike, fspath
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from framecheck.cli.context import caution, read, section_store
from framecheck.frame.results import MemberForces
from framecheck.model.case import Case
from framecheck.output.csv_text import tables
from framecheck.output.display import Units
from framecheck.output.terminal import open_sentence
from framecheck.output.wording import answer, heading, texts
from framecheck.results.summary import governing_bound, load_case_rows
from framecheck.results.tables import load_cases_table
from framecheck.run import Results
from framecheck.run import run as solve
from framecheck.value_class import array_class, value_class
from framecheck.work import USUAL, Work

if TYPE_CHECKING:
    from pandas import DataFrame

MOST_ROWS = 20
"""Rows of a table that a notebook shows; all of them stand in its arrays."""


def read_case(path: str | PathLike[str]) -> Case:
    """Return the case in a file, built with the shop's tables; InputError with every fault at once."""
    return read(fspath(path))


def run(case: Case | str | PathLike[str], most: Work = USUAL) -> Answer:
    """Return the answer of a case, or of a case file by its name. most: the work that is allowed (framecheck.work.UNLIMITED: any)."""
    return Answer(solve(case if isinstance(case, Case) else read_case(case), section_store(), most))


@value_class
class Table:
    """A tidy table: one row a record, SI, the unit in each column's name."""

    name: str
    rows: Sequence[Mapping[str, Any]]

    def __len__(self) -> int:
        return len(self.rows)

    def __getitem__(self, column: str) -> NDArray[Any]:
        """Return a column as an array, (n_row,); what is missing is nan."""
        values = [row[column] for row in self.rows]
        if all(value is None or isinstance(value, (int, float)) for value in values):
            return np.array([np.nan if value is None else value for value in values])
        return np.array(values)

    def where(self, **columns: str) -> Table:
        """Return the rows whose columns hold these words: where(member="left rail")."""
        kept = [row for row in self.rows if all(row[key] == value for key, value in columns.items())]
        return Table(self.name, kept)

    def frame(self) -> DataFrame:
        """Return a pandas DataFrame, where pandas is installed."""
        try:
            from pandas import DataFrame
        except ImportError:
            raise ImportError(
                "pandas is not installed: pip install pandas, or use the table's columns as arrays"
            ) from None
        return DataFrame(list(self.rows))

    def _repr_html_(self) -> str:
        """Return the first rows as an HTML table."""
        head = list(self.rows[0]) if self.rows else []
        shown = ([cell(row[key]) for key in head] for row in self.rows[:MOST_ROWS])
        more = f"; the first {MOST_ROWS} of {len(self.rows)} rows" if len(self.rows) > MOST_ROWS else ""
        return html_table(f"{self.name.replace('_', ' ')}{more}", head, shown)


@array_class
class Answer:
    """All that follows from a case. results: as the core gives them, arrays and all."""

    results: Results

    @property
    def units(self) -> Units:
        """Return the units that the file is mostly written in: what is shown follows them, tables stay SI."""
        return self.results.outcome.case.written_in

    @property
    def sentence(self) -> str:
        """Return the verdict and what is worst, in a few sentences."""
        return answer(self.results, self.units)

    @property
    def tables(self) -> Mapping[str, Table]:
        """Return tidy tables by name, the same as `framecheck check --csv` writes."""
        return {name: Table(name, rows) for name, rows in tables(self.results, caution()).items()}

    def member(self, name: str) -> MemberForces:
        """Return section forces and movements along a member, under the bound that governs."""
        outcome = self.results.outcome
        members = outcome.solutions[governing_bound(outcome, self.results.governing)].members
        found = {each.member: each for each in members}
        if name not in found:
            raise KeyError(f"there is no member '{name}'; members are: {', '.join(found)}")
        return found[name]

    def __repr__(self) -> str:
        return f"{self.results.outcome.case.title}\n{self.sentence}\n{caution()}"

    def _repr_html_(self) -> str:
        """Return the title, the caution, what governs, and the load cases."""
        outcome = self.results.outcome
        parts = (caution(), self.sentence, open_sentence(outcome.solutions))
        said = "".join(f"<p>{escape(part)}</p>" for part in parts if part)
        shown = load_cases_table(outcome.case.frame, load_case_rows(outcome, self.results.rows))
        head = [heading(column, self.units) for column in shown.columns]
        return f"<h3>{escape(outcome.case.title)}</h3>{said}" + html_table(shown.caption, head, texts(shown, self.units))


def cell(value: object) -> str:
    """Return a value as a table shows it."""
    return f"{value:.5g}" if isinstance(value, float) else "" if value is None else str(value)


def html_table(caption: str, head: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    """Return an HTML table; every text is escaped."""
    top = "".join(f'<th scope="col">{escape(each)}</th>' for each in head)
    body = "".join("<tr>" + "".join(f"<td>{escape(each)}</td>" for each in row) + "</tr>" for row in rows)
    return f"<table><caption>{escape(caption)}</caption><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"
