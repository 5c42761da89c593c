"""Rows of shared/fatigue_classes.yaml: detail classes of welded frames, surfaces of unwelded metal."""

from __future__ import annotations

from collections.abc import Mapping
from math import inf

from framecheck.model.duty import DetailClass, Finish, StressKind
from framecheck.reading.blocks.common import NAME, POSITIVE_LENGTH, RATIO, SEEN, SOURCE
from framecheck.reading.blocks.materials import METAL
from framecheck.reading.desk import Desk
from framecheck.reading.form import Field, Form, Record
from framecheck.reading.kinds import Amount, Number, Sign, Words, choice_of
from framecheck.reading.library import Library, filled, named_rows
from framecheck.reading.yamltext import Node

COUNT = Number(Sign.POSITIVE)
CLASS = Form(
    "fatigue class",
    "A detail class.",
    (
        Field("name", NAME, "its name"),
        Field("metal", METAL, "what metal it holds for", "steel", "steel"),
        Field("standard", NAME, "where it is published"),
        Field("class", Amount("stress", Sign.POSITIVE), "stress range borne 2e6 times"),
        Field("detail", Words("a text", 400), "what it is"),
        Field("on", NAME, "what it sits on"),
        Field("least wall", POSITIVE_LENGTH, "the thinnest wall that it holds for", 0.0, "any"),
        Field("stress", choice_of(StressKind), "range it is read with"),
        Field("with", NAME, "the row for the other stress of the same place"),
        Field("slope", RATIO, "up to the knee"),
        Field("knee", COUNT, "cycles"),
        Field("slope beyond", RATIO, "from there on"),
        Field("cut-off", Number(Sign.POSITIVE, special={"none": inf}), "cycles"),
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
    return class_of(filled(CLASS.read, class_rows(library)[name], name, Desk("shared/fatigue_classes.yaml")))


def class_beside(library: Library, name: str) -> DetailClass:
    """Return the detail class for the stress that a class isn't read with, at the same place; its name is in `class_rows`."""
    row = filled(CLASS.read, class_rows(library)[name], name, Desk("shared/fatigue_classes.yaml"))
    return fatigue_class(library, row["with"])


def finish_rows(library: Library) -> Mapping[str, Node]:
    """Return rows of surfaces of unwelded metal by name, unread."""
    return named_rows(*library.table("fatigue_classes"), "finishes")


def finish(library: Library, name: str) -> Finish:
    """Return a surface; its name is in `finish_rows`."""
    return finish_of(filled(FINISH.read, finish_rows(library)[name], name, Desk("shared/fatigue_classes.yaml")))


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
    )


def finish_of(row: Record) -> Finish:
    """Return a surface of unwelded metal."""
    return Finish(row["name"], row["a"], row["b"], row["source"], row["seen"])
