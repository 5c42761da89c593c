"""Limits that a test may be asked to reach: rows of shared/test_targets.yaml."""

from __future__ import annotations

from framecheck.errors import Fault, InputError
from framecheck.reading.blocks.common import NAME, SOURCE
from framecheck.reading.diagnostics import Diagnostics, did_you_mean
from framecheck.reading.form import Field, Form
from framecheck.reading.kinds import AllowedSign, QuantityKind, TextKind
from framecheck.reading.library import Library, filled, named_rows
from framecheck.rig.targets import TestTarget

TABLE = "test_targets"
TARGET = Form(
    "test target",
    "What a test is asked to reach.",
    (
        Field("name", NAME, "as --target calls it"),
        Field("stiffness", QuantityKind("turning stiffness", AllowedSign.POSITIVE), "least torsional stiffness", None, "none asked"),
        Field("sag", QuantityKind("length", AllowedSign.POSITIVE), "most sag under the code's load", None, "none asked"),
        Field("source", SOURCE, "where the numbers come from"),
        Field("note", TextKind("a text", 300), "what the numbers leave out", "", "nothing"),
    ),
)


def target_named(library: Library, name: str) -> TestTarget:
    """Return a limit by name. InputError: there is none of that name."""
    rows = named_rows(*library.table(TABLE), "targets")
    if name not in rows:
        remedy = did_you_mean(name, rows, f"write one of: {'; '.join(rows)}")
        raise InputError([Fault("", "--target", f"there is no limit '{name}'", remedy)])
    row = filled(TARGET.read, rows[name], name, Diagnostics(f"shared/{TABLE}.yaml"))
    return TestTarget(name, row["stiffness"], row["sag"], row["source"], row["note"])
