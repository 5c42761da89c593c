"""Results as CSV texts, one tidy table a subject, SI, the unit in each heading."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping, Sequence
from io import StringIO

import numpy as np

from framecheck.model.case import Case, Reading
from framecheck.model.frame import Frame
from framecheck.output.json_rows import Record, check, sizing
from framecheck.output.json_text import reading, record
from framecheck.results.readings import ReadAt
from framecheck.results.row import Check, CheckResult, Mode, Sizing
from framecheck.results.subjects import Subject, Thing
from framecheck.results.tables import (
    ResultTable,
    checks_table,
    clearances_table,
    kinds_table,
    load_cases_table,
    members_table,
)
from framecheck.run import Results
from framecheck.versions import UNKNOWN, Origin

MADE_FROM = ("input_sha256", "program_version", "schema_version")
"""The last columns of every table: a table alone still says what it belongs to."""
RISKY = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""A text cell that begins so would be run as a formula by a spreadsheet, with wide signs too (OWASP, CSV injection, from memory)."""


def as_csv(results: Results, caution: str, origin: Origin = UNKNOWN) -> dict[str, str]:
    """Return file names and their texts: checks, member forces, point movements, reactions, sections, gaps ..."""
    found = tables(results, caution, origin)
    made = {key: found["verdict"][0][key] for key in MADE_FROM}
    return {f"{name}.csv": text([row | made for row in rows], (*HEADS.get(name, ()), *made)) for name, rows in found.items()}


def tables(results: Results, caution: str, origin: Origin = UNKNOWN) -> dict[str, Sequence[Record]]:
    """Return tidy tables by subject, each a list of rows."""
    whole = record(results, caution, origin)
    return {
        "verdict": verdict_rows(whole),
        "open": [row | {key: "; ".join(row[key]) for key in ("where", "why")} for row in whole["verdict"]["open"]],
        "accepted": whole["verdict"]["accepted"],
        "checks": [flat(row) for row in whole["checks"]],
        **{f"worst_{name}": [flat(row) for row in rows] for name, rows in whole["tables"].items()},
        "member_forces": whole["member_forces"],
        "movements": movements(whole["load_cases"]),
        "reactions": reactions(whole["load_cases"]),
        "readings": [spread(row) for row in whole["readings"]],
        "balance": balance(whole["load_cases"]),
        "sections": sections(whole["sections"]),
        "sizings": whole["sizings"],
        "clearances": whole["clearances"],
        "remarks": [{"remark": line} for line in (caution, *whole["remarks"])],
    }


def verdict_rows(whole: Record) -> list[Record]:
    """Return the verdict in one row, with the file and the version that it belongs to."""
    found = whole["verdict"]
    counts = {key: len(found[key]) for key in ("missed", "open", "accepted")}
    about = {key: whole[key] for key in ("file", "input_sha256", "program_version", "schema_version")}
    return [{"state": found["state"], "judged": found["judged"], **counts, "because": found["because"], **about}]


def flat(row: Record) -> Record:
    """Return a row whose place and subject stand in columns of their own."""
    found: Record = {}
    for key, value in row.items():
        if key == "near":
            found |= {f"near_{name}": None if value is None else value[name] for name in ("point", "distance_m", "way")}
        elif key == "subject":
            found |= {f"subject_{name}": each for name, each in value.items()}
        elif key == "from_memory":
            found[key] = "; ".join(value)
        else:
            found[key] = " ".join(value) if isinstance(value, list) else value
    return found


def text(rows: Sequence[Record], heads: Iterable[str] = ()) -> str:
    """Return rows as CSV; heads: the columns where there are no rows."""
    buffer = StringIO()
    writer = csv.DictWriter(buffer, fieldnames=list(rows[0]) if rows else list(heads), lineterminator="\n")
    writer.writeheader()
    writer.writerows({key: safe(value) for key, value in row.items()} for row in rows)
    return buffer.getvalue()


def safe(value: object) -> object:
    """Return a cell that no spreadsheet takes for a formula; numbers stay numbers."""
    return f"'{value}" if isinstance(value, str) and value.startswith(RISKY) else value


def movements(cases: Sequence[Record]) -> list[Record]:
    """Return one row a bound, load case and point."""
    return [
        {"bound": case["bound"], "load_case": case["name"], "point": point, **axes("displacement", "m", moved["displacement_m"]),
         **axes("rotation", "rad", moved["rotation_rad"])}
        for case in cases
        for point, moved in case["points"].items()
    ]  # fmt: skip


def balance(cases: Sequence[Record]) -> list[Record]:
    """Return the residual of the six equations, one row a bound and load case."""
    return [{"bound": c["bound"], "load_case": c["name"], "balance_residual": c["balance_residual"]} for c in cases]


def reactions(cases: Sequence[Record]) -> list[Record]:
    """Return one row a bound, load case and held point."""
    return [
        {
            "bound": case["bound"],
            "load_case": case["name"],
            "point": point,
            **axes("force", "n", held["force_n"]),
            **axes("moment", "nm", held["moment_nm"]),
        }
        for case in cases
        for point, held in case["reactions"].items()
    ]


def sections(found: Mapping[str, Record]) -> list[Record]:
    """Return one row a section; pairs of coordinates become two columns."""
    rows = []
    for name, values in found.items():
        row: Record = {"section": name}
        for key, value in values.items():
            if isinstance(value, list):
                row |= {key.replace("_m", "_y_m"): value[0], key.replace("_m", "_z_m"): value[1]}
            else:
                row[key] = value
        rows.append(row)
    return rows


def spread(row: Record) -> Record:
    """Return a row whose vectors become three columns each, as in "force_x_n"."""
    found: Record = {}
    for key, value in row.items():
        if isinstance(value, list):
            name, _, unit = key.rpartition("_")
            found |= axes(name, unit, value)
        else:
            found[key] = value
    return found


def axes(name: str, unit: str, values: Sequence[float]) -> Record:
    """Return three columns of a vector, vehicle axes."""
    return {f"{name}_{axis}_{unit}": value for axis, value in zip("xyz", values, strict=True)}


# what stands above a table that has no rows ---------------------------------------------------------------------------

NO_FRAME = Frame({}, (), {})
SOME_ROW = CheckResult(Check.YIELD, Mode.FIRST_YIELD, Subject(Thing.FRAME, ""), None, 0.0, 1.0, "", 1.0, "")
SOME_SIZE = Sizing(Check.WELDS, "", "", 0.0, "", None, "")
NOTHING = np.zeros((1, 9))
SOME_READING = ReadAt(
    Reading("", "", 0.0), "", "", False, NOTHING, NOTHING[:, :6], NOTHING[:, :3], None, NOTHING[:, 0], NOTHING[:, :2]
)
SOME_LOAD_CASE: Record = {
    "bound": "",
    "name": "",
    "reactions": {"": {"force_n": (0.0,) * 3, "moment_nm": (0.0,) * 3}},
}


def heads_of(table: ResultTable) -> tuple[str, ...]:
    """Return the columns of a table of results."""
    return tuple(flat({column.key: None for column in table.columns}))


HEADS: Mapping[str, tuple[str, ...]] = {
    "open": ("what", "where", "why", "remedy"),
    "accepted": ("what", "where", "because"),
    "checks": tuple(flat(check(SOME_ROW, Case("", NO_FRAME)))),
    "reactions": tuple(reactions([SOME_LOAD_CASE])[0]),
    "readings": tuple(spread(next(reading(SOME_READING, ("",))))),
    "sizings": tuple(sizing(SOME_SIZE)),
    "clearances": heads_of(clearances_table(())),
    "worst_kinds": heads_of(kinds_table(NO_FRAME, ())),
    "worst_load_cases": heads_of(load_cases_table(NO_FRAME, ())),
    "worst_members": heads_of(members_table(NO_FRAME, ())),
    "worst_checks": heads_of(checks_table(NO_FRAME, ())),
}
