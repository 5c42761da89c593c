"""Rows of shared/fatigue_classes.yaml: detail classes of welded frames, surfaces of unwelded metal."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from math import inf

from framecheck.errors import Fault, InputError
from framecheck.model.duty import DetailClass, Finish, StressKind
from framecheck.reading.blocks.common import NAME, RATIO, SOURCE
from framecheck.reading.desk import Desk
from framecheck.reading.form import Field, Form, ListOf, Record
from framecheck.reading.kinds import Amount, Number, Sign, Words, choice_of
from framecheck.reading.yamltext import parse

COUNT = Number(Sign.POSITIVE)
CLASS = Form(
    "fatigue class",
    "A detail class.",
    (
        Field("name", NAME, "its name"),
        Field("standard", NAME, "where it is published"),
        Field("class", Amount("stress", Sign.POSITIVE), "stress range borne 2e6 times"),
        Field("detail", Words("a text", 400), "what it is"),
        Field("on", NAME, "what it sits on"),
        Field("stress", choice_of(StressKind), "range it is read with"),
        Field("slope", RATIO, "up to the knee"),
        Field("knee", COUNT, "cycles"),
        Field("slope beyond", RATIO, "from there on"),
        Field("cut-off", Number(Sign.POSITIVE, special={"none": inf}), "cycles"),
        Field("source", SOURCE, "where it comes from"),
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
    ),
)


def rows_of(text: str, file: str, key: str, form: Form) -> tuple[Record, ...]:
    """Return the rows of a table; InputError with all its faults."""
    desk = Desk(file)
    entry = parse(text, file).entries.get(key)
    if entry is None:
        raise InputError([Fault(file, key, "this table is missing", f"write it under '{key}:'")])
    rows: tuple[Record, ...] = ListOf(form, 0, 2000).read(entry.value, key, desk)
    if desk.faults:
        raise InputError(desk.faults)
    return rows


@cache
def classes_of(text: str, file: str) -> Mapping[str, DetailClass]:
    """Return detail classes by name."""
    return {
        row["name"]: DetailClass(
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
        )
        for row in rows_of(text, file, "fatigue classes", CLASS)
    }


@cache
def finishes_of(text: str, file: str) -> Mapping[str, Finish]:
    """Return surfaces by name."""
    rows = rows_of(text, file, "finishes", FINISH)
    return {row["name"]: Finish(row["name"], row["a"], row["b"], row["source"]) for row in rows}
