"""The joint tables: text of shared/bolts.yaml, welds.yaml and web_crippling.yaml to frozen rows, SI."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

import yaml

from framecheck.errors import Fault, InputError
from framecheck.model.joint_tables import (
    BoltGrade,
    BoltTables,
    CripplingRow,
    EdgeDistance,
    Electrode,
    HoleSize,
    LeastLeg,
    SlipRule,
    Surface,
    Thread,
    TorqueFactor,
    WeldTables,
)
from framecheck.model.seen import Seen

INCH = 0.0254
UNITS = {"in": INCH, "mm": 1e-3, "in2": INCH**2, "mm2": 1e-6, "ksi": 6.894757293168e6, "MPa": 1e6}

LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

Row = Mapping[str, Any]


def amount(text: str) -> float:
    """Return a table entry such as "1 1/2 in" or "55 ksi" in SI."""
    *numbers, unit = text.split()
    return sum(map(ratio, numbers)) * UNITS[unit]


def ratio(text: str) -> float:
    """Return the number in "1/2" or "0.5"."""
    above, _, below = text.partition("/")
    return float(above) / float(below or 1)


@cache
def loaded(text: str) -> Any:
    """Return a table's text as plain values; read once for all its keys."""
    return yaml.load(text, Loader=LOADER)


@cache
def rows_of(text: str, name: str, key: str) -> tuple[Row, ...]:
    """Return the rows under a key of a table's text; a missing key or a row without a source is an input error."""
    found = loaded(text)
    rows = found.get(key) if isinstance(found, dict) else None
    if not isinstance(rows, list):
        raise InputError([Fault(name, key, "this table is missing", f"write a list under '{key}:'")])
    faults = [
        Fault(name, f"{key}, row {number}", "this row has no source", "add 'source:' and say where it comes from")
        for number, row in enumerate(rows, start=1)
        if not row.get("source")
    ]
    if faults:
        raise InputError(faults)
    return tuple(rows)


@cache
def bolt_tables(text: str, name: str = "bolts.yaml") -> BoltTables:
    """Return the bolt tables from the text of shared/bolts.yaml."""
    return BoltTables(
        threads=tuple(map(thread, rows_of(text, name, "threads"))),
        grades=tuple(map(grade, rows_of(text, name, "grades"))),
        torque_factors=tuple(
            TorqueFactor(row["name"], float(row["least"]), float(row["most"]), row["source"])
            for row in rows_of(text, name, "torque factors")
        ),
        surfaces=tuple(
            Surface(row["name"], SlipRule(row["rule"]), float(row["friction"]), row["source"], seen(row))
            for row in rows_of(text, name, "surfaces")
        ),
        holes=tuple(
            HoleSize(amount(row["diameter"]), amount(row["hole"]), row["source"])
            for row in rows_of(text, name, "holes")
        ),
        edges=tuple(
            EdgeDistance(amount(row["diameter"]), amount(row["least"]), row["source"], seen(row))
            for row in rows_of(text, name, "edges")
        ),
    )


def seen(row: Row) -> Seen:
    """Return how the source of a row was seen: opened where the row does not say."""
    return Seen(row.get("seen", Seen.OPENED.value))


def thread(row: Row) -> Thread:
    """Return one thread."""
    return Thread(str(row["name"]), amount(row["diameter"]), amount(row["stress area"]), row["source"])


def grade(row: Row) -> BoltGrade:
    """Return one grade for one range of sizes."""
    return BoltGrade(
        name=str(row["name"]),
        largest_diameter=amount(row["largest diameter"]),
        proof=amount(row["proof"]),
        yield_strength=amount(row["yield"]),
        tensile=amount(row["tensile"]),
        shear_factor=float(row["shear factor"]),
        source=row["source"],
        seen=seen(row),
    )


@cache
def weld_tables(text: str, name: str = "welds.yaml") -> WeldTables:
    """Return the weld tables from the text of shared/welds.yaml."""
    return WeldTables(
        electrodes=tuple(
            Electrode(
                row["name"], amount(row["strength"]), float(row["shear share"]), row["source"], row.get("metal", "steel"), seen(row)
            )
            for row in rows_of(text, name, "electrodes")
        ),
        least_legs=tuple(
            LeastLeg(amount(row["thickness"]), amount(row["leg"]), row["source"], seen(row))
            for row in rows_of(text, name, "least legs")
        ),
    )


@cache
def crippling_rows(text: str, name: str = "web_crippling.yaml") -> tuple[CripplingRow, ...]:
    """Return the web crippling coefficients from the text of shared/web_crippling.yaml."""
    return tuple(
        CripplingRow(
            fastened=row["fastened"],
            flanges=row["flanges"],
            loading=row["loading"],
            location=row["location"],
            c=float(row["c"]),
            c_radius=float(row["radius"]),
            c_bearing=float(row["bearing"]),
            c_slenderness=float(row["slenderness"]),
            safety=float(row["safety"]),
            largest_radius_ratio=float(row["radius ratio"]),
            source=row["source"],
            seen=seen(row),
        )
        for row in rows_of(text, name, "web crippling")
    )
