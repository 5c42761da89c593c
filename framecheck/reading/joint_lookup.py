"""The joint tables of a library."""

from __future__ import annotations

from framecheck.model.joint_tables import BoltTables, JointTables, WeldTables
from framecheck.reading.library import Library
from framecheck.reading.tables import bolt_tables, crippling_rows, weld_tables


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
