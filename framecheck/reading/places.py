"""Where things stand in a file, by the keys and names that lead to them."""

from __future__ import annotations

from framecheck.reading.yamltext import Block, Entry, Items, Node, Text
from framecheck.value_class import value_class

NAMES = ("name", "point", "member", "edge")
"""Keys by which an entry of a list is known."""


@value_class
class FilePlaces:
    """Gives "file:line" of what keys and names lead to; of the nearest thing round it that there is."""

    file: str
    tree: Block

    def __call__(self, about: tuple[str, ...]) -> str:
        line, node = self.tree.line, self.tree
        for key in about:
            found = within(node, key)
            if found is None:
                break
            line, node = found.line, found.value  # type: ignore[assignment]
        return f"{self.file}:{line}"


def within(node: Node, key: str) -> Entry | None:
    """Return the entry of a key in a block, or of a name in a list; None where there is none."""
    if isinstance(node, Block):
        return node.entries.get(key)
    if not isinstance(node, Items):
        return None
    return next((found for item in node.items if (found := named(item, key)) is not None), None)


def named(item: Node, name: str) -> Entry | None:
    """Return a list's item as an entry if it goes by a name: "static", {static: ...}, {name: static, ...}."""
    if isinstance(item, Text):
        return Entry(item.line, item) if item.text == name else None
    if not isinstance(item, Block):
        return None
    if len(item.entries) == 1 and name in item.entries:
        return item.entries[name]
    texts = (item.entries[key].value for key in NAMES if key in item.entries)
    return Entry(item.line, item) if any(isinstance(each, Text) and each.text == name for each in texts) else None
