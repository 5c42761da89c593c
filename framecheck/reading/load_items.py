"""Load cases in a case file: the forms of forces and targets, and the list that names a kind, its factors, or a sum of others."""

from __future__ import annotations

from collections.abc import Mapping

from framecheck.reading.blocks.common import (
    FORCE,
    LENGTH,
    LENGTH_OR_ZERO,
    LOAD_PER_LENGTH,
    MOMENT,
    POSITIVE_LENGTH,
    RATIO,
)
from framecheck.reading.blocks.frame import DIRECTIONS, SUPPORT
from framecheck.reading.diagnostics import MISSING, Diagnostics, Missing, Taken, did_you_mean, listed
from framecheck.reading.form import Either, Field, Form, ListOf, Named, Record, below
from framecheck.reading.kinds import Choice, JsonSchema, NameOf, Number, QuantityKind, TextKind
from framecheck.reading.load_kinds import LoadKind
from framecheck.reading.yamltext import EMPTY_WORDS, Items, Node, Text, YamlBlock, YamlEntry, described
from framecheck.value_class import value_class

POINT_LOAD = Form(
    "point load",
    "What acts on a frame point.",
    (
        Field("point", NameOf("point"), "which point"),
        Field("force", FORCE, "along the vehicle's axes", None, "none"),
        Field("moment", MOMENT, "about the vehicle's axes", None, "none"),
    ),
)
MEMBER_LOAD = Form(
    "member load",
    "What acts along a member: a load per length between two places, or a force at one.",
    (
        Field("member", NameOf("member"), "which member"),
        Field("load", LOAD_PER_LENGTH, "per length", None, "none"),
        Field("load at the end", LOAD_PER_LENGTH, "where it changes along the way", None, "as `load`"),
        Field("from", LENGTH_OR_ZERO, "where it begins, along the member", 0.0, "the member's first point"),
        Field("to", POSITIVE_LENGTH, "where it ends", float("inf"), "the member's last point"),
        Field("force", FORCE, "one force, in place of a load per length", None, "none"),
        Field("at", LENGTH_OR_ZERO, "where that force acts, along the member", None, "none"),
    ),
)
WARMING = Form(
    "warming",
    "A member warmer than when it was built.",
    (Field("member", NameOf("member"), "which member"), Field("rise", QuantityKind("temperature difference"), "by how much")),
)
MOVED = Form(
    "moved support",
    "A held direction of a support that is moved by a known amount.",
    (
        Field("point", NameOf("point"), "which support"),
        Field("direction", Choice(DIRECTIONS), "x, y, z, turn x, turn y, turn z"),
        Field("amount", Either(QuantityKind("length"), LENGTH), "how far", None, "none"),
        Field("angle", QuantityKind("angle"), "how far, for a turn", None, "none"),
    ),
)
WRITTEN = Form(
    "written load case",
    "A load case force by force; the supports of the frame hold it, or its own.",
    (
        Field("forces", ListOf(POINT_LOAD, 1, 1000), "on points", (), "none"),
        Field("member loads", ListOf(MEMBER_LOAD, 1, 1000), "along members", (), "none"),
        Field("own weight", Number(), "how many g the frame's own mass is pulled down with", 0.0, "0, not counted"),
        Field("warmings", ListOf(WARMING, 1, 500), "members warmer than when built", (), "none"),
        Field("moved supports", ListOf(MOVED, 1, 200), "supports that give way or are jacked", (), "none"),
        Field("supports", ListOf(SUPPORT, 1, 200), "what holds the frame here, in place of its own", None, "the frame's own"),
    ),
)
SUM = Form(
    "sum of load cases",
    "Load cases of the vehicle added up, each times a factor.",
    (Field("sum of", Named(Number(), "the name of a load case"), "factors by load case"),),
)
TARGETS = Form(
    "targets",
    "The least safety factors that you ask for.",
    (
        Field("safety factor", RATIO, "on yield, in every load case", 1.5, "1.5"),
        Field("load cases", Named(RATIO, "the name of a load case"), "for a load case of its own", {}, "none"),
    ),
)


MOST = 200
ONE_KEY = {"minProperties": 1, "maxProperties": 1}


@value_class
class LoadItem:
    """One load case as written: of a kind (a row of the table), or None for forces of one's own and for sums."""

    name: str
    kind: LoadKind | None
    record: Record


@value_class
class LoadItems:
    """Reads the list of load cases. kinds: the table's, by name."""

    kinds: Mapping[str, LoadKind]

    def read(self, node: Node, subject: str, diagnostics: Diagnostics) -> tuple[LoadItem, ...] | Missing:
        """Return the load cases that could be read."""
        if not isinstance(node, Items) or not 0 < len(node.items) <= MOST:
            return diagnostics.refuse(
                node.line, subject, f"{described(node)} stands here", f"write a list of 1 to {MOST} load cases"
            )
        found = [item for each in node.items if not isinstance(item := self._item(each, subject, diagnostics), Missing)]
        taken = Taken()
        for item in found:
            fault = taken.take(item.name, item.record.line, "load case")
            if fault:
                remedy = "name one of them: 'a name: {kind: ...}'"
                diagnostics.refuse(item.record.line, below(subject, item.name), fault, remedy)
        return tuple(found)

    def _item(self, node: Node, subject: str, diagnostics: Diagnostics) -> LoadItem | Missing:
        """Return one load case: "static", "vertical bump: {factor: 3}", "my own: {forces: [...]}"."""
        if isinstance(node, Text):
            name, inner = node.text, YamlBlock(node.line, {})
            if name not in self.kinds:
                return self._unknown(node.line, subject, name, diagnostics)
            return self._read(name, name, inner, below(subject, name), diagnostics)
        if not isinstance(node, YamlBlock) or len(node.entries) != 1:
            remedy = "write the name of a load case and, after a colon, its keys in braces or indented below it"
            return diagnostics.refuse(node.line, subject, f"{described(node)} is not a load case", remedy)
        name, entry = next(iter(node.entries.items()))
        if isinstance(TextKind("a name").read(Text(entry.line, name, quoted=True), subject, diagnostics), Missing):
            return MISSING
        return self._named(name, entry, below(subject, name), diagnostics)

    def _named(self, name: str, entry: YamlEntry, subject: str, diagnostics: Diagnostics) -> LoadItem | Missing:
        """Return a load case with keys of its own."""
        value = entry.value
        if isinstance(value, Text) and value.text in EMPTY_WORDS:
            value = YamlBlock(entry.line, {})
        if not isinstance(value, YamlBlock):
            return diagnostics.refuse(
                entry.line, subject, f"{described(value)} stands here", "write keys, such as {factor: 3}"
            )
        kind = value.entries.get("kind")
        if kind is not None:
            word = kind.value.text if isinstance(kind.value, Text) else described(kind.value)
            if word not in self.kinds:
                return self._unknown(kind.line, below(subject, "kind"), word, diagnostics)
            rest = {key: each for key, each in value.entries.items() if key != "kind"}
            return self._read(name, word, YamlBlock(entry.line, rest), subject, diagnostics)
        if name in self.kinds:
            return self._read(name, name, YamlBlock(entry.line, value.entries), subject, diagnostics)
        block = YamlBlock(entry.line, value.entries)
        form = SUM if "sum of" in block.entries else WRITTEN
        if not any(each.key in block.entries for each in form.fields):
            return self._unknown(block.line, subject, name, diagnostics)
        record = form.read(block, subject, diagnostics)
        return record if isinstance(record, Missing) else LoadItem(name, None, record)

    def _read(self, name: str, kind: str, block: YamlBlock, subject: str, diagnostics: Diagnostics) -> LoadItem | Missing:
        record = self.kinds[kind].form.read(block, subject, diagnostics)
        return record if isinstance(record, Missing) else LoadItem(name, self.kinds[kind], record)

    def _unknown(self, line: int, subject: str, name: str, diagnostics: Diagnostics) -> Missing:
        otherwise = f"kinds are: {listed(self.kinds, 40)}; or write its forces: {{forces: [...]}}"
        return diagnostics.refuse(
            line, subject, f"there is no kind of load case '{name}'", did_you_mean(name, self.kinds, otherwise)
        )

    def schema(self) -> JsonSchema:
        """Return a list of names and one-key blocks."""
        known = {name: {"anyOf": [kind.form.schema(), {"type": "null"}]} for name, kind in self.kinds.items()}
        named = {"anyOf": [WRITTEN.schema(), SUM.schema(), {"type": "object", "required": ["kind"]}]}
        block = {"type": "object", "properties": known, "additionalProperties": named, **ONE_KEY}
        items = {"anyOf": [{"enum": list(self.kinds)}, block]}
        return {"type": "array", "items": items, "minItems": 1, "maxItems": MOST}

    def words(self) -> str:
        """Return what to write."""
        return (
            "a list of load cases: a kind, 'kind: {factor: ...}', 'a name: {kind: ..., ...}', 'a name: {forces: [...]}'"
        )


def forms_of(items: LoadItems) -> tuple[Form, ...]:
    """Return every form that a load case may follow."""
    return (*(kind.form for kind in items.kinds.values()), WRITTEN, SUM)
