"""Rows of shared/load_cases.yaml: kinds of load case with their factors, as forms that a case file may fill in."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from framecheck.errors import InputError
from framecheck.reading.blocks.common import SOURCE
from framecheck.reading.desk import Desk, Missing
from framecheck.reading.form import Field, Form, ListOf, Named, Record
from framecheck.reading.kinds import Amount, Choice, JsonSchema, Kind, NameOf, Number, Words, YesNo
from framecheck.reading.yamltext import Node, described, parse
from framecheck.value_class import value_class

WHEELS = ("front left", "front right", "rear left", "rear right", "front", "rear", "left", "right")
WORDS: Mapping[str, Kind] = {
    "wheel": Choice({word: word for word in WHEELS}),
    "side": Choice({"left": "left", "right": "right"}),
    "end": Choice({"front": "front", "rear": "rear"}),
    "toward": Choice({word: word for word in ("forward", "rearward", "left", "right")}),
}
QUANTITY_KINDS: Mapping[str, Kind] = {
    "ratio": Number(),
    "length": Amount("length"),
    "speed": Amount("speed"),
    "force": Amount("force"),
    "stiffness": Amount("stiffness"),
    "angle": Amount("angle"),
    "mass": Amount("mass"),
    "torque": Amount("moment"),
    "power": Amount("power"),
}
NEEDS: Mapping[str, Field] = {
    "point": Field("point", NameOf("point"), "the frame point"),
    "points": Field("points", ListOf(NameOf("point"), 1, 20, lone=True), "the frame points"),
}


@value_class
class Raw:
    """A value whose meaning is settled later."""

    def read(self, node: Node, subject: str, desk: Desk) -> Node:
        """Return the node itself."""
        del subject, desk
        return node

    def schema(self) -> JsonSchema:
        """Return anything."""
        return {}

    def words(self) -> str:
        """Return what to write."""
        return "a value"


FACTOR = Form(
    "factor",
    "A factor of a kind of load case.",
    (
        Field("value", Raw(), "what it is unless a case says otherwise"),
        Field("quantity", Choice({each: each for each in (*QUANTITY_KINDS, "word")}), "what it measures"),
        Field("about", Words("what it is", 400), "what it is"),
        Field("source", SOURCE, "where it comes from"),
    ),
)
ROW = Form(
    "load case kind",
    "A kind of load case that the vehicle makes.",
    (
        Field("kind", Words("a name"), "its name"),
        Field("about", Words("what happens", 400), "what happens"),
        Field("standard", YesNo(), "whether it runs where a case asks for none"),
        Field(
            "needs",
            ListOf(Choice({word: word for word in NEEDS}), 0, 2),
            "what a case file has to name for it",
            (),
            "nothing",
        ),
        Field("factors", Named(FACTOR, "the name of a factor"), "its factors"),
    ),
)
TABLE = Form("load case kinds", "", (Field("load cases", ListOf(ROW, 1, 200), "the kinds"),))


@value_class
class LoadKind:
    """A kind of load case: its form for a case file, and the sources of its defaults by factor."""

    name: str
    standard: bool
    form: Form
    sources: Mapping[str, str]


@cache
def load_kinds(text: str, name: str) -> Mapping[str, LoadKind]:
    """Return the kinds of load case by name, in the order of the table's text."""
    desk = Desk(name)
    table = TABLE.read(parse(text, name), "", desk)
    kinds = [] if isinstance(table, Missing) or not table.sound else [_kind(row, desk) for row in table["load cases"]]
    if desk.faults:
        raise InputError(desk.faults)
    return {kind.name: kind for kind in kinds}


def _kind(row: Record, desk: Desk) -> LoadKind:
    factors: Mapping[str, Record] = row["factors"]
    fields = [_field(key, factor, desk) for key, factor in factors.items()]
    form = Form(row["kind"], row["about"], (*(NEEDS[word] for word in row["needs"]), *fields))
    return LoadKind(row["kind"], row["standard"], form, {key: factor["source"] for key, factor in factors.items()})


def _field(key: str, factor: Record, desk: Desk) -> Field:
    quantity = factor["quantity"]
    kind: Kind = WORDS.get(key, Words("a word")) if quantity == "word" else QUANTITY_KINDS[quantity]
    value: Any = kind.read(factor["value"], f"{factor.subject} > value", desk)
    return Field(key, kind, f"{factor['about']} ({factor['source']})", value, described(factor["value"]).strip("'"))
