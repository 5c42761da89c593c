"""docs/fatigue_classes.md, what stands behind each fatigue class: `python -m tests.verification.class_page`."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "fatigue_classes.md"
EN = "EN 1993-1-9"


@dataclass(frozen=True, slots=True)
class Quote:
    """A class as an opened source quotes it, MPa.

    source: what the page calls it; detail: how it names the place; not_followed: why ours is not that, "" where it is.
    """

    row: str
    value: float
    standard: str
    source: str
    detail: str
    not_followed: str


@cache
def quotes() -> tuple[Quote, ...]:
    """Return every quotation of fatigue_classes_quoted.yaml."""
    standards = {name: each["standard"] for name, each in read()["sources"].items()}
    return tuple(
        Quote(each["row"], float(each["class"]), standards[each["by"]], each["by"], each["as"], each.get("because", ""))
        for each in read()["quotes"]
    )


@cache
def read() -> dict[str, Any]:
    """Return fatigue_classes_quoted.yaml as it stands."""
    return dict(yaml.safe_load((Path(__file__).parent / "fatigue_classes_quoted.yaml").read_text(encoding="utf-8")))


@cache
def rows() -> tuple[dict[str, Any], ...]:
    """Return the rows of shared/fatigue_classes.yaml."""
    return tuple(yaml.safe_load((ROOT / "shared" / "fatigue_classes.yaml").read_text(encoding="utf-8"))["fatigue classes"])


HEAD = """# What stands behind each fatigue class

Written by `python -m tests.verification.class_page` from `shared/fatigue_classes.yaml` and
`tests/verification/fatigue_classes_quoted.yaml`. Nobody could open the tables of EN 1993-1-9 or of IIW's recommendations
themselves: the copies that we found end before them. *Quoted* means that a source which quotes the row's own standard was opened
and has this class for this detail. *From memory* means that nobody opened one; the program says so where such a class governs.
*Read before*: in a copy that nobody opened again. Look a class up before a life hangs on it.

The sources:
"""
TABLE = """| class | MPa | detail | seen | stands in |
| --- | --- | --- | --- | --- |"""


def page() -> str:
    """Return the page."""
    quoted = sum(is_quoted(row) for row in rows())
    memory = [row for row in rows() if seen(row) == "from memory"]
    beside = sum(bool(behind(row)) for row in memory)
    before = len(rows()) - quoted - len(memory)
    count = (
        f"{len(rows())} classes: {quoted} quoted, {before} read before, {len(memory)} from memory. {beside} of those from memory "
        "stand in AS 4100 or elsewhere for the same detail with the same class or a better one."
    )
    sources = (f"- *{name}*: {each['words']}" for name, each in read()["sources"].items())
    refused = (f"- **{each.row}**: {each.value:g} in *{each.source}*: {each.not_followed}." for each in quotes() if each.not_followed)
    less = "## Sources that have less, and why they are not followed"
    return "\n".join((HEAD, *sources, "", count, "", TABLE, *map(line, rows()), "", less, "", *refused, ""))


def seen(row: dict[str, Any]) -> str:
    """Return how a row was seen, in a word or two."""
    return "quoted" if is_quoted(row) else str(row.get("seen", "read before"))


def is_quoted(row: dict[str, Any]) -> bool:
    """Return whether an opened source that quotes the row's own standard has its very class, and none less."""
    own = [each for each in quotes() if each.row == row["name"] and each.standard == row["standard"]]
    return bool(own) and min(each.value for each in own) == megapascals(row)


def behind(row: dict[str, Any]) -> tuple[Quote, ...]:
    """Return what was opened of a row and is followed."""
    return tuple(each for each in quotes() if each.row == row["name"] and not each.not_followed)


def megapascals(row: dict[str, Any]) -> float:
    """Return a row's class, MPa."""
    return float(row["class"].split()[0])


def line(row: dict[str, Any]) -> str:
    """Return a row's line of the table."""
    stands = "; ".join(f"*{each.source}* {each.value:g} ({each.detail})" for each in behind(row)) or "nowhere that we could open"
    cells = (row["name"], f"{megapascals(row):g}", row["detail"], seen(row), stands)
    return "| " + " | ".join(cells) + " |"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
