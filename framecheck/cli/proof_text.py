"""How the program's numbers are proved, by kind: what the tests counted when this version was made."""

from __future__ import annotations

from importlib.resources import files
from typing import Any

from framecheck.output.text_table import Column, table, wrapped

FILE = "proof.yaml"


def as_text(width: int) -> str:
    """Return the counts of values by kind of proof, then those of the tables' numbers by how their source was seen."""
    counts = read()
    values = counts["values"]
    rows = [(kind, str(each["values"]), str(each["front door"]), each["about"]) for kind, each in values.items()]
    total, door = (sum(each[key] for each in values.values()) for key in ("values", "front door"))
    tables = counts["tables"]
    seen = ", ".join(f"{count} {how}" for how, count in tables.items())
    heads = (Column("kind of proof"), Column("values", True), Column("front\ndoor", True), Column("what it means"))
    return "\n\n".join((
        wrapped(f"{total} values that the tests hold this version to, {door} of them through the front door: a case file goes in, "
                "JSON comes out.", width),
        table(heads, rows, width),
        wrapped(f"{sum(tables.values())} numbers of tables and checks stand twice, the second time from their source: {seen}.", width),
    ))  # fmt: skip


def read() -> Any:
    """Return the counts as they were written with the verification manual."""
    import yaml

    return yaml.safe_load((files("framecheck.cli") / FILE).read_text(encoding="utf-8"))
