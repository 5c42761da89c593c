"""What a block or list of values may be: forms of fields, lists, named entries, one form out of several."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import Enum
from importlib import import_module
from typing import Any

from framecheck.reading.diagnostics import MISSING, RENAME, Diagnostics, Missing, Taken, did_you_mean, listed
from framecheck.reading.diagnostics import Record as Record
from framecheck.reading.diagnostics import below as below
from framecheck.reading.diagnostics import refuse_second as refuse_second
from framecheck.reading.kinds import JsonSchema, TextKind, ValueKind, text_of
from framecheck.reading.yamltext import EMPTY_WORDS, Items, Node, Text, YamlBlock, YamlEntry, described
from framecheck.value_class import value_class


class Due(Enum):
    """A default of its own kind: the key has to be written."""

    REQUIRED = "required"


REQUIRED = Due.REQUIRED


@value_class
class Field:
    """A key of a form: what its value is, what it means, and the value (SI) where the key is left out.

    shown: the default in words, for the docs.
    """

    key: str
    kind: ValueKind
    about: str
    default: Any = REQUIRED
    shown: str = ""


def slug(name: str) -> str:
    """Return a form's name as it stands in a JSON Schema reference."""
    return "".join(letter if letter.isalnum() else "_" for letter in name)


@value_class
class Form:
    """A block with known keys."""

    name: str
    about: str
    fields: tuple[Field, ...]

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> Record | Missing:
        """Return the record; faults of all keys are noted at once."""
        if not isinstance(node, YamlBlock):
            return diagnostics.refuse(node.line, subject, f"{described(node)} stands here", f"write keys: {self._keys()}")
        known = {each.key: each for each in self.fields}
        before = len(diagnostics.faults)
        for key, entry in node.entries.items():
            if key not in known:
                self._refuse_key(key, entry, subject, diagnostics)
        values = {each.key: self._value(each, node, subject, diagnostics) for each in self.fields}
        lines = {key: entry.line for key, entry in node.entries.items()}
        return Record(node.line, subject, values, lines, len(diagnostics.faults) == before)

    def _refuse_key(self, key: str, entry: YamlEntry, subject: str, diagnostics: Diagnostics) -> None:
        """Note a key that is not known; half a number after a comma within braces is told as such."""
        if key[:1].isdigit() and isinstance(entry.value, Text) and entry.value.text in EMPTY_WORDS:
            fault = f"'{key}' stands alone: inside braces a comma ends a value"
            diagnostics.refuse(entry.line, subject, fault, "write decimals with a point, such as 4.5 in")
            return
        remedy = did_you_mean(key, (each.key for each in self.fields), f"keys are: {self._keys()}")
        diagnostics.refuse(entry.line, below(subject, key), "this key is not known here", remedy)

    def _value(self, each: Field, node: YamlBlock, subject: str, diagnostics: Diagnostics) -> Any:
        entry = node.entries.get(each.key)
        if entry is not None:
            return each.kind.read(entry.value, below(subject, each.key), diagnostics)
        if each.default is REQUIRED:
            return diagnostics.refuse(node.line, subject, f"'{each.key}' is missing", f"write {each.key}: {each.kind.words()}")
        return each.default

    def _keys(self) -> str:
        return listed((each.key for each in self.fields), 40)

    def schema(self) -> JsonSchema:
        """Return a reference; `definitions` gives what it refers to."""
        return {"$ref": f"#/$defs/{slug(self.name)}"}

    def words(self) -> str:
        """Return what to write."""
        return f"a block ({self.name}), its keys indented below it"


@value_class
class ListOf:
    """A list of one kind; lone: a single value may stand without its list.

    alike: entries that nothing refers to by name, which may share one (the plies of a joint).
    """

    kind: ValueKind
    least: int = 1
    most: int = 1000
    lone: bool = False
    alike: bool = False

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> Any:
        """Return a tuple of the values that could be read."""
        if not isinstance(node, Items):
            if self.lone and not (isinstance(node, Text) and not node.text):
                value = self.kind.read(node, subject, diagnostics)
                return MISSING if value is MISSING else (value,)
            return diagnostics.refuse(
                node.line, subject, f"{described(node)} stands here", "write a list: lines that begin with '- '"
            )
        if not self.least <= len(node.items) <= self.most:
            return diagnostics.refuse(
                node.line, subject, f"{len(node.items)} entries stand here", f"write {self.least} to {self.most}"
            )
        read = (
            self.kind.read(item, below(subject, _title(item, number)), diagnostics)
            for number, item in enumerate(node.items, 1)
        )
        found = tuple(value for value in read if value is not MISSING)
        if not self.alike:
            refuse_second(diagnostics, found, getattr(self.kind, "name", "part"))
        return found

    def schema(self) -> JsonSchema:
        """Return an array, or one value alone where that may stand."""
        array = {"type": "array", "items": self.kind.schema(), "minItems": self.least, "maxItems": self.most}
        return {"anyOf": [array, self.kind.schema()]} if self.lone else array

    def words(self) -> str:
        """Return what to write."""
        return f"a list; each: {self.kind.words()}"


def _title(item: Node, number: int) -> str:
    """Return how an entry of a list is called in messages: by its name, else by its number."""
    if isinstance(item, YamlBlock):
        for key in ("name", "point", "member"):
            named = item.entries.get(key)
            if named is not None and isinstance(named.value, Text) and named.value.text:
                return named.value.text
    return f"entry {number}"


@value_class
class Named:
    """A block whose keys are names that the user gives. Returns values by name."""

    kind: ValueKind
    of: str
    most: int = 500

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> Any:
        """Return the values that could be read, by name."""
        if not isinstance(node, YamlBlock):
            return diagnostics.refuse(node.line, subject, f"{described(node)} stands here", f"write '{self.of}: ...' lines")
        if len(node.entries) > self.most:
            return diagnostics.refuse(
                node.line, subject, f"{len(node.entries)} entries stand here", f"write at most {self.most}"
            )
        return dict(self._entries(node, subject, diagnostics))

    def _entries(self, node: YamlBlock, subject: str, diagnostics: Diagnostics) -> Iterator[tuple[str, Any]]:
        taken = Taken()
        for key, entry in node.entries.items():
            name = TextKind(self.of).read(Text(entry.line, key, quoted=True), subject, diagnostics)
            value = self.kind.read(entry.value, below(subject, key), diagnostics)
            if isinstance(name, Missing):
                continue
            fault = taken.take(name, entry.line, "name")
            if fault:
                diagnostics.refuse(entry.line, below(subject, key), fault, RENAME)
            yield name, value

    def schema(self) -> JsonSchema:
        """Return an object with free keys."""
        return {"type": "object", "additionalProperties": self.kind.schema()}

    def words(self) -> str:
        """Return what to write."""
        return f"{self.of} and, after the colon, {self.kind.words()}"


@value_class
class OneForm:
    """A block whose key (`shape`, `kind` ...) says which form it follows. Returns a Record whose values hold that word too."""

    key: str
    forms: Mapping[str, Form]

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> Record | Missing:
        """Return the record of the form named."""
        if not isinstance(node, YamlBlock):
            return diagnostics.refuse(node.line, subject, f"{described(node)} stands here", f"write keys, first '{self.key}'")
        entry = node.entries.get(self.key)
        if entry is None:
            return diagnostics.refuse(
                node.line, subject, f"'{self.key}' is missing", f"write {self.key}: {listed(self.forms, 40)}"
            )
        word = text_of(entry.value, below(subject, self.key), diagnostics, f"one of: {', '.join(self.forms)}")
        if word is None:
            return MISSING
        if word not in self.forms:
            remedy = did_you_mean(word, self.forms, f"write one of: {listed(self.forms, 40)}")
            return diagnostics.refuse(entry.line, below(subject, self.key), f"'{word}' is not known here", remedy)
        rest = YamlBlock(node.line, {key: each for key, each in node.entries.items() if key != self.key})
        record = self.forms[word].read(rest, subject, diagnostics)
        if isinstance(record, Missing):
            return record
        return Record(record.line, subject, {**record.values, self.key: word}, record.lines, record.sound)

    def schema(self) -> JsonSchema:
        """Return the forms as alternatives."""
        return {"anyOf": [form.schema() for form in self.forms.values()]}

    def words(self) -> str:
        """Return what to write."""
        return f"a block with {self.key}: {', '.join(self.forms)}"


@value_class
class Either:
    """A single value in short, or a block (or list) in full."""

    short: ValueKind
    full: ValueKind

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> Any:
        """Return the value of whichever form was written."""
        return (self.short if isinstance(node, Text) else self.full).read(node, subject, diagnostics)

    def schema(self) -> JsonSchema:
        """Return the two alternatives."""
        return {"anyOf": [self.short.schema(), self.full.schema()]}

    def words(self) -> str:
        """Return what to write."""
        return f"{self.short.words()}; or {self.full.words()}"


@value_class
class LazyForm:
    """A kind that stands in a room of its own, entered only when a case holds it: a run starts the sooner."""

    room: str
    name: str

    def kind(self) -> ValueKind:
        """Return the kind itself."""
        found: ValueKind = getattr(import_module(f"framecheck.reading.blocks.{self.room}"), self.name)
        return found

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> Any:
        """Return the value as its kind reads it."""
        return self.kind().read(node, subject, diagnostics)

    def schema(self) -> JsonSchema:
        """Return the schema of its kind."""
        return self.kind().schema()

    def words(self) -> str:
        """Return what to write."""
        return self.kind().words()
