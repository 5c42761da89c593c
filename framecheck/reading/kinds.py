"""What a single value may be: a quantity with its unit, a plain number, a word, a name, yes or no.

Each kind reads a node to its SI value (or MISSING, with the fault noted), and describes itself for the JSON Schema and the docs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from enum import Enum
from typing import Any, Protocol

from framecheck.errors import InputError
from framecheck.reading.diagnostics import (
    LARGEST_NUMBER,
    MISSING,
    Diagnostics,
    Missing,
    Reference,
    beyond,
    count_units,
    did_you_mean,
    listed,
)
from framecheck.reading.yamltext import EMPTY_WORDS, Node, Text, described, shortened
from framecheck.units import QUANTITIES, plain_number, to_si
from framecheck.value_class import value_class

YES = frozenset({"yes", "true", "on", "y"})
NO = frozenset({"no", "false", "off", "n"})
LONGEST_NAME = 100

JsonSchema = dict[str, Any]


class ValueKind(Protocol):
    """How a value is read and described."""

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> Any:
        """Return the value in SI, MISSING where it can't be read."""
        ...

    def schema(self) -> JsonSchema:
        """Return its JSON Schema."""
        ...

    def words(self) -> str:
        """Return what to write, in a few words."""
        ...


class AllowedSign(Enum):
    """Which numbers make sense."""

    ANY = "any"
    POSITIVE = "above zero"
    NOT_NEGATIVE = "zero or more"


def text_of(node: Node, subject: str, diagnostics: Diagnostics, due: str) -> str | None:
    """Return the text of a single value; None, with the fault noted, where there is a list, a block or nothing."""
    if isinstance(node, Text) and (node.quoted or node.text not in EMPTY_WORDS):
        return node.text
    diagnostics.refuse(node.line, subject, f"{described(node)} stands here", f"write {due}")
    return None


def signed(value: float, sign: AllowedSign, node: Node, subject: str, diagnostics: Diagnostics) -> float | Missing:
    """Return the value if its sign makes sense."""
    if value < 0 and sign is not AllowedSign.ANY:
        return diagnostics.refuse(node.line, subject, f"{described(node)} is negative", f"write a value {sign.value}")
    if value == 0 and sign is AllowedSign.POSITIVE:
        return diagnostics.refuse(node.line, subject, f"{described(node)} is zero", "write a value above zero")
    return value


@value_class
class QuantityKind:
    """A quantity with its unit; special: words that stand for a value ("rigid")."""

    quantity: str
    sign: AllowedSign = AllowedSign.ANY
    special: Mapping[str, float] = field(default_factory=dict)

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> float | Missing:
        """Return the amount in SI."""
        text = text_of(node, subject, diagnostics, self.words())
        if text is None:
            return MISSING
        if text in self.special:
            return self.special[text]
        try:
            value = to_si(shortened(text), self.quantity, diagnostics.gauges)
        except InputError as error:
            return diagnostics.refuse(node.line, subject, error.faults[0].fault, error.faults[0].remedy)
        count_units(diagnostics, text)
        strange = beyond(value, self.quantity, self.sign is AllowedSign.POSITIVE)
        if strange:
            return diagnostics.refuse(node.line, subject, f"{described(node)} {strange}", "check the number and its unit")
        return signed(value, self.sign, node, subject, diagnostics)

    def schema(self) -> JsonSchema:
        """Return a text with examples."""
        return {"type": "string", "description": self.words()}

    def words(self) -> str:
        """Return what to write."""
        kind = QUANTITIES[self.quantity]
        special = "".join(f", or {word}" for word in self.special)
        return f"{kind.words}, such as {kind.example}{special}"


@value_class
class Number:
    """A number without a unit, or a share in per cent; special: words that stand for a value ("none")."""

    sign: AllowedSign = AllowedSign.ANY
    most: float | None = None
    special: Mapping[str, float] = field(default_factory=dict)

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> float | Missing:
        """Return the number."""
        text = text_of(node, subject, diagnostics, self.words())
        if text is None:
            return MISSING
        if text in self.special:
            return self.special[text]
        try:
            value = plain_number(shortened(text))
        except InputError as error:
            return diagnostics.refuse(node.line, subject, error.faults[0].fault, error.faults[0].remedy)
        most = LARGEST_NUMBER if self.most is None else self.most
        if value > most or value < -LARGEST_NUMBER:
            return diagnostics.refuse(node.line, subject, f"{value:g} is more than {most:g}", f"write {most:g} or less")
        return signed(value, self.sign, node, subject, diagnostics)

    def schema(self) -> JsonSchema:
        """Return a number, or a text such as 80 %."""
        return {"type": ["number", "string"], "description": self.words()}

    def words(self) -> str:
        """Return what to write."""
        return f"a plain number{'' if self.sign is AllowedSign.ANY else ' ' + self.sign.value}"


@value_class
class Whole:
    """A whole number."""

    least: int = 0
    most: int = 1_000_000

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> int | Missing:
        """Return the number."""
        text = text_of(node, subject, diagnostics, self.words())
        if text is None:
            return MISSING
        plain = text.strip().removeprefix("+")
        if not plain.isascii() or not plain.isdigit() or not self.least <= int(plain[:12]) <= self.most:
            return diagnostics.refuse(node.line, subject, f"{described(node)} is not {self.words()}", f"write {self.words()}")
        return int(plain)

    def schema(self) -> JsonSchema:
        """Return an integer in its bounds."""
        return {"type": "integer", "minimum": self.least, "maximum": self.most}

    def words(self) -> str:
        """Return what to write."""
        return f"a whole number from {self.least} to {self.most}"


@value_class
class TextKind:
    """Free text: a title, a name, a source."""

    due: str = "a text"
    longest: int = LONGEST_NAME

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> str | Missing:
        """Return the text with its blanks evened out."""
        text = text_of(node, subject, diagnostics, self.due)
        if text is None:
            return MISSING
        assert isinstance(node, Text)
        if not node.quoted and text.lower() in YES | NO:
            return diagnostics.refuse(
                node.line, subject, f"'{text}' means yes or no, and {self.due} is due", f'put it in quotes: "{text}"'
            )
        plain = " ".join(text.split())
        if not plain or len(plain) > self.longest or not plain.isprintable():
            return diagnostics.refuse(
                node.line,
                subject,
                f"{described(node)} can't be used as {self.due}",
                f"write 1 to {self.longest} plain characters",
            )
        return plain

    def schema(self) -> JsonSchema:
        """Return a text of bounded length."""
        return {"type": "string", "maxLength": self.longest}

    def words(self) -> str:
        """Return what to write."""
        return self.due


@value_class
class NameOf:
    """The name of something defined elsewhere: of "point", "section", "material" ..."""

    of: str

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> str | Missing:
        """Return the name and note the reference, to be looked up when every name is known."""
        name = TextKind(self.words()).read(node, subject, diagnostics)
        if not isinstance(name, Missing):
            diagnostics.references.append(Reference(self.of, name, node.line, subject))
        return name

    def schema(self) -> JsonSchema:
        """Return a text."""
        return {"type": "string", "description": self.words()}

    def words(self) -> str:
        """Return what to write."""
        return f"the name of a {self.of}"


@value_class
class YesNo:
    """Yes or no."""

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> bool | Missing:
        """Return whether it says yes."""
        text = text_of(node, subject, diagnostics, self.words())
        if text is None:
            return MISSING
        if text.lower() in YES | NO:
            return text.lower() in YES
        return diagnostics.refuse(node.line, subject, f"{described(node)} is neither yes nor no", "write yes or no")

    def schema(self) -> JsonSchema:
        """Return true, false, yes or no."""
        return {"enum": [True, False, "yes", "no"]}

    def words(self) -> str:
        """Return what to write."""
        return "yes or no"


@value_class
class Choice:
    """One of some words, each with what it stands for."""

    meanings: Mapping[str, Any]

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> Any:
        """Return what the word stands for."""
        text = text_of(node, subject, diagnostics, self.words())
        if text is None:
            return MISSING
        plain = " ".join(text.split())
        if plain in self.meanings:
            return self.meanings[plain]
        remedy = did_you_mean(plain, self.meanings, f"write one of: {listed(self.meanings, 40)}")
        return diagnostics.refuse(node.line, subject, f"{described(node)} is not known here", remedy)

    def schema(self) -> JsonSchema:
        """Return the words."""
        return {"enum": list(self.meanings)}

    def words(self) -> str:
        """Return what to write."""
        return f"one of: {', '.join(self.meanings)}"


def choice_of(words: type[Enum], *without: Enum) -> Choice:
    """Return the choice of an enum's values."""
    return Choice({str(each.value): each for each in words if each not in without})
