"""A field of a case file by its path ("sections.front rail.wall"), and the file's tree with another text in that field."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from framecheck.errors import Fault, InputError
from framecheck.reading.desk import did_you_mean, listed
from framecheck.reading.yamltext import Block, Entry, Items, Node, Text
from framecheck.value_class import value_class

NAMES = ("name", "point", "member", "title")


@value_class
class FieldPath:
    """Where a field stands: keys of blocks and numbers in lists, from the top. words: as the user writes it."""

    words: str
    steps: tuple[str | int, ...]


def field_path(tree: Block, words: str) -> FieldPath:
    """Return the place of a field; InputError (without its file) where there is none.

    The last key may be one that the case leaves out: it is written in.
    """
    node: Node = tree
    steps: list[str | int] = []
    rest = words
    while rest:
        key, rest = taken(node, rest, words)
        step, node = entered(node, key)
        steps.append(step)
    if not isinstance(node, Text):
        raise refusal(words, "this is not one value", f"go on to one of: {listed(offered(node), 20)}")
    return FieldPath(words, tuple(steps))


def taken(node: Node, rest: str, words: str) -> tuple[str, str]:
    """Return the next key of a path and what follows it; the longest key that fits, for names may hold points."""
    keys = list(offered(node))
    fits = [key for key in keys if rest == key or rest.startswith(f"{key}.")]
    if fits:
        key = max(fits, key=len)
        return key, rest[len(key) + 1 :]
    if isinstance(node, Block) and "." not in rest and not did_you_mean(rest, keys, ""):
        return rest, ""
    unknown = rest.partition(".")[0]
    raise refusal(words, f"'{unknown}' is not in the case there", did_you_mean(unknown, keys, offer(keys)))


def offer(keys: list[str]) -> str:
    """Return what may be written in place of a key that is not known."""
    return f"there are: {listed(keys, 20)}" if keys else "the path ends one step earlier"


def refusal(words: str, fault: str, remedy: str) -> InputError:
    """Return an input error about a path; whoever reads the study adds the line."""
    return InputError([Fault("", words, fault, remedy)])


def offered(node: Node) -> Iterator[str]:
    """Yield the keys by which one may go on from a node."""
    if isinstance(node, Block):
        yield from node.entries
    if isinstance(node, Items):
        yield from (title(item, number) for number, item in enumerate(node.items, 1))


def title(item: Node, number: int) -> str:
    """Return how an entry of a list is called in a path: by its name, by its only key (a load case), else by its number from 1."""
    if isinstance(item, Block):
        for key in NAMES:
            named = item.entries.get(key)
            if named is not None and isinstance(named.value, Text):
                return named.value.text
        if len(item.entries) == 1:
            return next(iter(item.entries))
    return str(number)


def entered(node: Node, key: str) -> tuple[str | int, Node]:
    """Return the step that a key stands for, and the node there; a text of nothing where the key is left out."""
    if isinstance(node, Items):
        number = list(offered(node)).index(key)
        return number, inner(node.items[number])
    assert isinstance(node, Block)
    entry = node.entries.get(key)
    return key, Text(node.line, "") if entry is None else entry.value


def inner(item: Node) -> Node:
    """Return what a load case's only key holds, any other entry of a list as it is."""
    if isinstance(item, Block) and len(item.entries) == 1:
        value = next(iter(item.entries.values())).value
        return value if isinstance(value, Block) else item
    return item


def written(tree: Block, path: FieldPath) -> Text:
    """Return what the case holds in a field; an empty text where it is left out."""
    node: Node = tree
    for step in path.steps:
        if isinstance(node, Items):
            assert isinstance(step, int)
            node = inner(node.items[step])
        else:
            assert isinstance(node, Block)
            entry = node.entries.get(str(step))
            node = Text(node.line, "") if entry is None else entry.value
    assert isinstance(node, Text)
    return node


def with_fields(tree: Block, texts: Mapping[FieldPath, str]) -> Block:
    """Return the tree with other texts in some fields; what a field shares by an alias with another place stays there as it was."""
    node: Node = tree
    for path, text in texts.items():
        node = changed(node, path.steps, text)
    assert isinstance(node, Block)
    return node


def changed(node: Node, steps: tuple[str | int, ...], text: str) -> Node:
    """Return a node with another text at the end of some steps."""
    if not steps:
        return Text(node.line, text, quoted=True)
    step, rest = steps[0], steps[1:]
    if isinstance(node, Items):
        assert isinstance(step, int)
        items = list(node.items)
        items[step] = changed_item(items[step], rest, text)
        return replace(node, items=tuple(items))
    assert isinstance(node, Block)
    key = str(step)
    old = node.entries.get(key, Entry(node.line, Text(node.line, "")))
    new = Entry(old.line, changed(old.value, rest, text))
    return replace(node, entries={**node.entries, key: new})


def changed_item(item: Node, steps: tuple[str | int, ...], text: str) -> Node:
    """Return an entry of a list with another text within it."""
    held = inner(item)
    if held is item:
        return changed(item, steps, text)
    assert isinstance(item, Block)
    ((key, entry),) = item.entries.items()
    return replace(item, entries={key: Entry(entry.line, changed(held, steps, text))})
