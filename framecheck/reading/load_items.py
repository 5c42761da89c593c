"""The list of load cases in a case file: a kind's name alone, a kind with factors, forces of one's own, or a sum of others."""

from __future__ import annotations

from collections.abc import Mapping

from framecheck.reading.blocks.loads import SUM, WRITTEN
from framecheck.reading.desk import MISSING, Desk, Missing, Taken, did_you_mean, listed
from framecheck.reading.form import Form, Record, below
from framecheck.reading.kinds import JsonSchema, Words
from framecheck.reading.load_kinds import LoadKind
from framecheck.reading.yamltext import EMPTY_WORDS, Block, Entry, Items, Node, Text, described
from framecheck.value_class import value_class

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

    def read(self, node: Node, subject: str, desk: Desk) -> tuple[LoadItem, ...] | Missing:
        """Return the load cases that could be read."""
        if not isinstance(node, Items) or not 0 < len(node.items) <= MOST:
            return desk.refuse(
                node.line, subject, f"{described(node)} stands here", f"write a list of 1 to {MOST} load cases"
            )
        found = [item for each in node.items if not isinstance(item := self._item(each, subject, desk), Missing)]
        taken = Taken()
        for item in found:
            fault = taken.take(item.name, item.record.line, "load case")
            if fault:
                remedy = "name one of them: 'a name: {kind: ...}'"
                desk.refuse(item.record.line, below(subject, item.name), fault, remedy)
        return tuple(found)

    def _item(self, node: Node, subject: str, desk: Desk) -> LoadItem | Missing:
        """Return one load case: "static", "vertical bump: {factor: 3}", "my own: {forces: [...]}"."""
        if isinstance(node, Text):
            name, inner = node.text, Block(node.line, {})
            if name not in self.kinds:
                return self._unknown(node.line, subject, name, desk)
            return self._read(name, name, inner, below(subject, name), desk)
        if not isinstance(node, Block) or len(node.entries) != 1:
            remedy = "write the name of a load case and, after a colon, its keys in braces or indented below it"
            return desk.refuse(node.line, subject, f"{described(node)} is not a load case", remedy)
        name, entry = next(iter(node.entries.items()))
        if isinstance(Words("a name").read(Text(entry.line, name, quoted=True), subject, desk), Missing):
            return MISSING
        return self._named(name, entry, below(subject, name), desk)

    def _named(self, name: str, entry: Entry, subject: str, desk: Desk) -> LoadItem | Missing:
        """Return a load case with keys of its own."""
        value = entry.value
        if isinstance(value, Text) and value.text in EMPTY_WORDS:
            value = Block(entry.line, {})
        if not isinstance(value, Block):
            return desk.refuse(
                entry.line, subject, f"{described(value)} stands here", "write keys, such as {factor: 3}"
            )
        kind = value.entries.get("kind")
        if kind is not None:
            word = kind.value.text if isinstance(kind.value, Text) else described(kind.value)
            if word not in self.kinds:
                return self._unknown(kind.line, below(subject, "kind"), word, desk)
            rest = {key: each for key, each in value.entries.items() if key != "kind"}
            return self._read(name, word, Block(entry.line, rest), subject, desk)
        if name in self.kinds:
            return self._read(name, name, Block(entry.line, value.entries), subject, desk)
        return self._written(name, Block(entry.line, value.entries), subject, desk)

    def _written(self, name: str, block: Block, subject: str, desk: Desk) -> LoadItem | Missing:
        """Return a load case of forces, or a sum of others."""
        form = SUM if "sum of" in block.entries else WRITTEN
        if not any(each.key in block.entries for each in form.fields):
            return self._unknown(block.line, subject, name, desk)
        record = form.read(block, subject, desk)
        return record if isinstance(record, Missing) else LoadItem(name, None, record)

    def _read(self, name: str, kind: str, block: Block, subject: str, desk: Desk) -> LoadItem | Missing:
        record = self.kinds[kind].form.read(block, subject, desk)
        return record if isinstance(record, Missing) else LoadItem(name, self.kinds[kind], record)

    def _unknown(self, line: int, subject: str, name: str, desk: Desk) -> Missing:
        otherwise = f"kinds are: {listed(self.kinds, 40)}; or write its forces: {{forces: [...]}}"
        return desk.refuse(
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
