"""Rows of shared/load_cases.yaml: kinds of load case with their factors, as forms that a case file may fill in."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from framecheck.errors import InputError
from framecheck.model.case import Basis, Confidence, VehicleSide
from framecheck.model.vehicle import Use
from framecheck.reading.blocks.common import SEEN, SOURCE
from framecheck.reading.diagnostics import Diagnostics, Missing
from framecheck.reading.form import Field, Form, ListOf, Named, Record
from framecheck.reading.kinds import Choice, JsonSchema, NameOf, Number, QuantityKind, TextKind, ValueKind
from framecheck.reading.yamltext import Node, described, parse
from framecheck.value_class import value_class

FOUR = ("front left", "front right", "rear left", "rear right")
LEFT, RIGHT = VehicleSide.LEFT, VehicleSide.RIGHT


@value_class
class Turn:
    """One of the ways in which a load case is run: the word for the factor, what the name gets, and its side if it has one."""

    word: str
    suffix: str
    side: VehicleSide | None = None


EACH: Mapping[str, tuple[Turn, ...]] = {
    "each front wheel": (Turn("front left", "left", LEFT), Turn("front right", "right", RIGHT)),
    "each rear wheel": (Turn("rear left", "left", LEFT), Turn("rear right", "right", RIGHT)),
    "each side": (Turn("left", "left", LEFT), Turn("right", "right", RIGHT)),
    "each direction": (
        Turn("forward", "forward"), Turn("rearward", "rearward"), Turn("left", "left", LEFT), Turn("right", "right", RIGHT)
    ),
    "each way": tuple(Turn(word, word) for word in ("pulling down", "pulling up", "pushing down", "pushing up")),
}
"""Words for a factor that run a load case once for each of several others."""
ONE_SIDE: Mapping[str, VehicleSide] = {
    "front left": LEFT, "rear left": LEFT, "left": LEFT, "front right": RIGHT, "rear right": RIGHT, "right": RIGHT
}  # fmt: skip
"""Words for a factor that say one side."""
WORDS: Mapping[str, tuple[str, ...]] = {
    "one wheel": (*FOUR, "each front wheel", "each rear wheel"),
    "wheels": (*FOUR, "front", "rear", "left", "right", "all", "nearest", "each front wheel", "each rear wheel"),
    "side": ("left", "right", "each side"),
    "end": ("front", "rear"),
    "toward": ("forward", "rearward", "left", "right", "upward", "each side", "each direction"),
    "way": (*(turn.word for turn in EACH["each way"]), "each way"),
}
"""Words that a factor may be, by its quantity."""
QUANTITY_KINDS: Mapping[str, ValueKind] = {
    "ratio": Number(),
    "length": QuantityKind("length"),
    "speed": QuantityKind("speed"),
    "acceleration": QuantityKind("acceleration"),
    "force": QuantityKind("force"),
    "stiffness": QuantityKind("stiffness"),
    "angle": QuantityKind("angle"),
    "mass": QuantityKind("mass"),
    "torque": QuantityKind("moment"),
    "power": QuantityKind("power"),
}
NEEDS: Mapping[str, Field] = {
    "point": Field("point", NameOf("point"), "the frame point"),
    "points": Field("points", ListOf(NameOf("point"), 1, 20, lone=True), "the frame points"),
}


def choice_of_confidence() -> ValueKind:
    """Return the words for how well a factor is known."""
    return Choice({each.name.lower(): each for each in Confidence if each is not Confidence.STATED})


@value_class
class Raw:
    """A value whose meaning is settled later."""

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> Node:
        """Return the node itself."""
        del subject, diagnostics
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
        Field("on a track", Raw(), "what it is where the vehicle is said to be used on a track", None, "as `value`"),
        Field("off road", Raw(), "what it is where the vehicle is said to leave the road", None, "as `value`"),
        Field("for", Named(Raw(), "a word of another factor"), "what it is for some words of another factor", {}, "as `value`"),
        Field("quantity", Choice({each: each for each in (*QUANTITY_KINDS, *WORDS)}), "what it measures"),
        Field("about", TextKind("what it is", 400), "what it is"),
        Field("range", TextKind("a range", 400), "what is in use", "", "a choice, not a size"),
        Field("reason", TextKind("a reason", 400), "why this value of the range", "", "a choice, not a size"),
        Field("confidence", choice_of_confidence(), "how well it is known", Confidence.HIGH, "high"),
        Field("source", SOURCE, "where it comes from"),
        SEEN,
    ),
)
ROW = Form(
    "load case kind",
    "A kind of load case that the vehicle makes.",
    (
        Field("kind", TextKind("a name"), "its name"),
        Field("about", TextKind("what happens", 400), "what happens"),
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
    """A kind of load case: its form for a case file, what its defaults rest on by factor, and those of a use or a word of their own.

    by_use: factors by the vehicle's use; by_word: by factor, its value for some words of another factor (tie-down: left, right ...).
    """

    name: str
    form: Form
    basis: Mapping[str, Basis]
    by_use: Mapping[Use, Mapping[str, Any]]
    by_word: Mapping[str, Mapping[str, Any]]

    def default(self, key: str, use: Use | None) -> Any:
        """Return what a factor is where the file does not give it."""
        own = {} if use is None else self.by_use.get(use, {})
        return own.get(key, next(each.default for each in self.form.fields if each.key == key))


@cache
def load_kinds(text: str, name: str) -> Mapping[str, LoadKind]:
    """Return the kinds of load case by name, in the order of the table's text."""
    diagnostics = Diagnostics(name)
    table = TABLE.read(parse(text, name), "", diagnostics)
    kinds = [] if isinstance(table, Missing) or not table.sound else [_kind(row, diagnostics) for row in table["load cases"]]
    if diagnostics.faults:
        raise InputError(diagnostics.faults)
    return {kind.name: kind for kind in kinds}


def _kind(row: Record, diagnostics: Diagnostics) -> LoadKind:
    factors: Mapping[str, Record] = row["factors"]
    fields = [_field(key, factor, diagnostics) for key, factor in factors.items()]
    form = Form(row["kind"], row["about"], (*(NEEDS[word] for word in row["needs"]), *fields))
    by_use = {
        use: {key: _value(each, word, diagnostics) for key, each in factors.items() if each[word] is not None}
        for use, word in ((Use.TRACK, "on a track"), (Use.OFF_ROAD, "off road"))
    }
    by_word = {key: _by_word(each, diagnostics) for key, each in factors.items() if each["for"]}
    return LoadKind(row["kind"], form, {key: _basis(each) for key, each in factors.items()}, by_use, by_word)


def _by_word(factor: Record, diagnostics: Diagnostics) -> Mapping[str, Any]:
    kind = _quantity(factor)
    return {word: kind.read(node, f"{factor.subject} > for > {word}", diagnostics) for word, node in factor["for"].items()}


def _basis(factor: Record) -> Basis:
    return Basis(factor["source"], factor["confidence"], factor["range"], factor["reason"], factor["seen"])


def _field(key: str, factor: Record, diagnostics: Diagnostics) -> Field:
    about = f"{factor['about']} ({factor['source']})"
    return Field(key, _quantity(factor), about, _value(factor, "value", diagnostics), _shown(factor))


def _shown(factor: Record) -> str:
    """Return the default in words, with those of other uses."""
    others = (f"{word} {described(factor[word])}" for word in ("on a track", "off road") if factor[word] is not None)
    words = (f"{word} {described(node)}" for word, node in factor["for"].items())
    return ", ".join(each.replace("'", "") for each in (described(factor["value"]), *others, *words))


def _quantity(factor: Record) -> ValueKind:
    quantity = factor["quantity"]
    return Choice({word: word for word in WORDS[quantity]}) if quantity in WORDS else QUANTITY_KINDS[quantity]


def _value(factor: Record, word: str, diagnostics: Diagnostics) -> Any:
    return _quantity(factor).read(factor[word], f"{factor.subject} > {word}", diagnostics)
