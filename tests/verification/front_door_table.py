"""Examples that go in as YAML and come out as JSON: the table of front_door/values.yaml, and what it covers.

Each entry of the table is one case file of front_door/ with its source and the values held: `at` is the way into the JSON (keys,
places in lists, and {key: value} for the first row that has them), `value` and `unit` as the source prints them, `within` the share
that ours may differ by, `times` what ours is multiplied by to be the printed number, and `because` why.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from math import isclose
from pathlib import Path
from typing import Any

import yaml

from framecheck.reading.blocks.joints import JOINT
from framecheck.reading.blocks.plates import PLATE_LOAD
from framecheck.reading.blocks.sections import SHAPES
from framecheck.results.row import Check, Mode
from framecheck.vehicle.load_cases import KINDS
from tests.verification.manual import Kind

FOLDER = Path(__file__).parent / "front_door"
INCH, POUND, GRAVITY = 0.0254, 0.45359237, 9.80665
UNITS = {
    "1": 1.0, "m": 1.0, "mm": 1e-3, "in": INCH, "mm2": 1e-6, "cm2": 1e-4, "in2": INCH**2,
    "mm4": 1e-12, "cm4": 1e-8, "in4": INCH**4,
    "cm3": 1e-6, "in3": INCH**3, "cm6": 1e-12, "in6": INCH**6, "N": 1.0, "kN": 1e3, "lb": POUND * GRAVITY,
    "kip": 1e3 * POUND * GRAVITY,
    "kgf": GRAVITY,
    "Nm": 1.0, "kNm": 1e3, "kip in": 1e3 * POUND * GRAVITY * INCH, "kip ft": 12e3 * POUND * GRAVITY * INCH,
    "lb in": POUND * GRAVITY * INCH, "MPa": 1e6, "ksi": 1e3 * POUND * GRAVITY / INCH**2, "psi": POUND * GRAVITY / INCH**2,
    "kN/m": 1e3, "kip/in": 1e3 * POUND * GRAVITY / INCH, "rad": 1.0, "deg": 0.017453292519943295, "kg": 1.0, "kg/m": 1.0,
    "lb/ft": POUND / (12 * INCH), "m/s2": 1.0, "J": 1.0,
}  # fmt: skip
"""Units as sources print them, in SI; typed here and not taken from the program."""


@dataclass(frozen=True, slots=True, eq=False)
class Value:
    """One number: the way to it in the JSON, what the source prints, and how near ours has to come."""

    at: Sequence[Any]
    value: float
    unit: str
    within: float
    kind: Kind
    times: float
    because: str

    @property
    def words(self) -> str:
        """Return the way to it, in words."""
        return " ".join(_step(each) for each in self.at)


def _step(step: Any) -> str:
    return " and ".join(str(each) for each in step.values()) if isinstance(step, dict) else str(step)


@dataclass(frozen=True, slots=True, eq=False)
class Example:
    """One case file and what it is held to. shows: kinds of load case, shapes, joints and plate loads that the values rest on."""

    case: str
    about: str
    source: str
    page: str
    seen: bool
    shows: tuple[str, ...]
    values: tuple[Value, ...]

    @property
    def path(self) -> Path:
        """Return where the case file is."""
        return FOLDER / self.case

    @property
    def is_section(self) -> bool:
        """Return whether it is a file of sections, for `framecheck section`."""
        return "\nframe:" not in self.path.read_text(encoding="utf-8")

    @property
    def reference(self) -> str:
        """Return the source as the manual prints it."""
        looked = "seen" if self.seen else "from memory"
        return f"{self.about} {self.source}, {self.page} ({looked}). Case file: front_door/{self.case}."


@cache
def examples() -> tuple[Example, ...]:
    """Return the table."""
    found = []
    for file in sorted(FOLDER.glob("values*.yaml")):
        found += [_example(row) for row in yaml.safe_load(file.read_text(encoding="utf-8"))]
    return tuple(found)


def _example(row: Mapping[str, Any]) -> Example:
    return Example(
        case=row["case"],
        about=row["about"],
        source=row["source"],
        page=row["page"],
        seen=row["looked up"] == "seen",
        shows=tuple(row.get("shows", ())),
        values=tuple(_value(each, row.get("proof", "printed")) for each in row["values"]),
    )


def _value(row: Mapping[str, Any], proof: str) -> Value:
    return Value(
        at=row["at"],
        value=float(row["value"]),
        unit=str(row["unit"]),
        within=float(row["within"]),
        kind=Kind(row.get("proof", proof)),
        times=float(row.get("times", 1.0)),
        because=row.get("because", ""),
    )


def found_at(data: Any, way: Sequence[Any]) -> Any:
    """Return what stands at the end of a way into the JSON; KeyError where there is nothing."""
    for step in way:
        if isinstance(step, dict):
            rows = [each for each in data if all(same(each[key], value) for key, value in step.items())]
            if not rows:
                raise KeyError(f"no row with {step}")
            data = rows[0]
        else:
            data = data[step]
    return data


def same(one: Any, other: Any) -> bool:
    """Return whether two values are the same, numbers within rounding."""
    return isclose(one, other, abs_tol=1e-9) if isinstance(other, float) else bool(one == other)


def row_of(data: Any, way: Sequence[Any]) -> Mapping[str, Any]:
    """Return the row of a check that a way leads to, empty where it leads to none."""
    if way[0] == "governing":
        return data["governing"]
    if way[0] == "checks":
        return found_at(data, way[:2])
    return {}


def all_things() -> Iterator[tuple[str, str]]:
    """Yield everything that needs an example: (what it is, its name)."""
    yield from (("check", each.words) for each in Check)
    yield from (("mode", each.name.lower()) for each in Mode)
    yield from (("load case", name) for name in KINDS)
    yield from (("shape", name) for name in SHAPES)
    yield from (("joint", name) for name in JOINT.forms)
    yield from (("plate load", name) for name in PLATE_LOAD.forms)


@dataclass(frozen=True, slots=True)
class Lacking:
    """Why some things have no printed example. is_held: whether a value by hand goes through the front door in its place."""

    reason: str
    names: tuple[str, ...]
    is_held: bool


@cache
def lacking() -> tuple[Lacking, ...]:
    """Return what has no printed example, with the reasons; names as 'what name'."""
    rows = yaml.safe_load((FOLDER / "not_found.yaml").read_text(encoding="utf-8"))
    return tuple(Lacking(row["reason"], tuple(row["names"]), part == "by hand") for part in rows for row in rows[part])


def names_of(things: Iterable[Lacking]) -> list[str]:
    """Return all names in a list of reasons."""
    return [name for each in things for name in each.names]
