"""The tables of joints and of fatigue: bolts, welds, web crippling, detail classes and surfaces, as frozen rows. SI."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from math import inf
from typing import Any

import yaml

from framecheck.errors import Fault, InputError
from framecheck.model.duty import DetailClass, StressKind, SurfaceFinish
from framecheck.model.shop_tables import (
    BoltGrade,
    BoltTables,
    CripplingRow,
    EdgeDistance,
    Electrode,
    HoleSize,
    JointTables,
    LeastLeg,
    Seen,
    SlipRule,
    Surface,
    Thread,
    TorqueFactor,
    WeldTables,
)
from framecheck.reading.blocks.common import METAL, NAME, POSITIVE_LENGTH, RATIO, SEEN, SOURCE
from framecheck.reading.diagnostics import Diagnostics
from framecheck.reading.form import Field, Form, Record
from framecheck.reading.kinds import AllowedSign, Number, QuantityKind, TextKind, YesNo, choice_of
from framecheck.reading.library import Library, filled, named_rows
from framecheck.reading.yamltext import Node

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
        like=row.get("like", ""),
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


def bolts_of(library: Library) -> BoltTables:
    """Return the tables of bolts."""
    return bolt_tables(*library.table("bolts"))


def welds_of(library: Library) -> WeldTables:
    """Return the tables of welds."""
    return weld_tables(*library.table("welds"))


def joint_tables(library: Library) -> JointTables:
    """Return what the joint checks look up."""
    return JointTables(
        edges=bolts_of(library).edges,
        least_legs=welds_of(library).least_legs,
        crippling=crippling_rows(*library.table("web_crippling")),
    )


COUNT = Number(AllowedSign.POSITIVE)
CLASS = Form(
    "fatigue class",
    "A detail class.",
    (
        Field("name", NAME, "its name"),
        Field("metal", METAL, "what metal it holds for", "steel", "steel"),
        Field("standard", NAME, "where it is published"),
        Field("class", QuantityKind("stress", AllowedSign.POSITIVE), "stress range borne 2e6 times"),
        Field("detail", TextKind("a text", 400), "what it is"),
        Field("on", NAME, "what it sits on"),
        Field("least wall", POSITIVE_LENGTH, "the thinnest wall that it holds for", 0.0, "any"),
        Field("stress", choice_of(StressKind), "range it is read with"),
        Field("net section", YesNo(), "whether that stress is of what a hole leaves", False, "no"),
        Field("with", NAME, "the row for the other stress of the same place"),
        Field("slope", RATIO, "up to the knee"),
        Field("knee", COUNT, "cycles"),
        Field("slope beyond", RATIO, "from there on"),
        Field("cut-off", Number(AllowedSign.POSITIVE, special={"none": inf}), "cycles"),
        Field("source", SOURCE, "where it comes from"),
        SEEN,
    ),
)
FINISH = Form(
    "finish",
    "A surface.",
    (
        Field("name", NAME, "its name"),
        Field("a", RATIO, "a of a Su^b, Su in MPa"),
        Field("b", Number(), "b of a Su^b"),
        Field("source", SOURCE, "where it comes from"),
        SEEN,
    ),
)


def class_rows(library: Library) -> Mapping[str, Node]:
    """Return rows of detail classes by name, unread."""
    return named_rows(*library.table("fatigue_classes"), "fatigue classes")


def fatigue_class(library: Library, name: str) -> DetailClass:
    """Return a detail class; its name is in `class_rows`."""
    return class_of(class_row(*library.table("fatigue_classes"), name))


def class_beside(library: Library, name: str) -> DetailClass:
    """Return the detail class for the stress that a class isn't read with, at the same place; its name is in `class_rows`."""
    return fatigue_class(library, class_row(*library.table("fatigue_classes"), name)["with"])


@cache
def class_row(text: str, file: str, name: str) -> Record:
    """Return a row of detail classes, read."""
    return filled(CLASS.read, named_rows(text, file, "fatigue classes")[name], name, Diagnostics(file))


def finish_rows(library: Library) -> Mapping[str, Node]:
    """Return rows of surfaces of unwelded metal by name, unread."""
    return named_rows(*library.table("fatigue_classes"), "finishes")


def finish(library: Library, name: str) -> SurfaceFinish:
    """Return a surface; its name is in `finish_rows`."""
    return finish_of(filled(FINISH.read, finish_rows(library)[name], name, Diagnostics("shared/fatigue_classes.yaml")))


def class_of(row: Record) -> DetailClass:
    """Return a detail class."""
    return DetailClass(
        name=row["name"],
        standard=row["standard"],
        detail=row["detail"],
        reference=row["class"],
        source=row["source"],
        stress=row["stress"],
        slope=row["slope"],
        knee=row["knee"],
        slope_beyond=row["slope beyond"],
        cut_off=row["cut-off"],
        metal=row["metal"],
        seen=row["seen"],
        least_wall=row["least wall"],
        on_net_section=row["net section"],
    )


def finish_of(row: Record) -> SurfaceFinish:
    """Return a surface of unwelded metal."""
    return SurfaceFinish(row["name"], row["a"], row["b"], row["source"], row["seen"])
