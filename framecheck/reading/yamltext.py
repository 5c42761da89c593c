"""YAML text to a tree of plain texts that know their lines, and where things stand in a file. Nothing is guessed.

PyYAML's own types are not used: it reads 29e6 and 1e-3 as text, `no` as a truth value, and keeps the last of two equal keys.
Everything is bounded: size, depth, number of values after aliases are written out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from framecheck.errors import Fault, InputError
from framecheck.value_class import value_class

LARGEST_TEXT = 1_000_000
DEEPEST = 16
MOST_VALUES = 50_000
MOST_IN_A_LIST = 5_000
EMPTY_WORDS = frozenset({"", "~", "null", "Null", "NULL"})

PARSER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@value_class
class Text:
    """A single value as written. quoted: it stood in quotes, so that `no` and `14` are meant as words."""

    line: int
    text: str
    quoted: bool = False
    size: int = 1


@value_class
class Items:
    """A list."""

    line: int
    items: tuple[Node, ...]
    size: int = 1


@value_class
class YamlEntry:
    """A key's line and its value."""

    line: int
    value: Node


@value_class
class YamlBlock:
    """Keys and values in the order written."""

    line: int
    entries: dict[str, YamlEntry]
    size: int = 1


Node = Text | Items | YamlBlock


def described(node: Node) -> str:
    """Return what a value is, for messages."""
    match node:
        case Items():
            return "a list"
        case YamlBlock():
            return "a block of keys"
        case Text(text=text):
            return f"'{shortened(text)}'" if text else "nothing"


def shortened(text: str, most: int = 60) -> str:
    """Return a text on one line, cut where it is long."""
    line = " ".join(text.split())
    return line if len(line) <= most else f"{line[: most - 3]}..."


def parse(text: str, name: str) -> YamlBlock:
    """Return the tree of a YAML document whose top is a block of keys; InputError with every duplicate key at once."""
    if len(text) > LARGEST_TEXT:
        raise _refusal(name, 1, f"is larger than {LARGEST_TEXT // 1000} kB", "a case is a few pages; check the file")
    try:
        top, faults = _Composer(name).compose(yaml.parse(text, Loader=PARSER))
    except yaml.YAMLError as error:
        raise _broken_yaml(error, name, text) from None
    if faults:
        raise InputError(faults)
    if top is None or (isinstance(top, Text) and not top.quoted and top.text in EMPTY_WORDS):
        raise _refusal(name, 1, "the file is empty", "write a case, or copy one from the cases folder")
    if not isinstance(top, YamlBlock):
        raise _refusal(name, top.line, f"{described(top)} is not a case", "start with keys, such as 'title: my truck'")
    return top


def _refusal(name: str, line: int, fault: str, remedy: str) -> InputError:
    return InputError([Fault(f"{name}:{line}", "", fault, remedy)])


def _broken_yaml(error: yaml.YAMLError, name: str, text: str) -> InputError:
    """Return PyYAML's complaint in the house form."""
    mark = getattr(error, "problem_mark", None)
    problem = shortened(str(getattr(error, "problem", None) or error), 100)
    line = 1 if mark is None else mark.line + 1
    if "\t" in "".join(text.splitlines()[line - 1 : line]):
        return _refusal(name, line, "a tab stands in the margin", "indent with spaces")
    return _refusal(
        name, line, f"can't be read as YAML ({problem})", "check the indent, colons, quotes and brackets here and on the line before"
    )


@dataclass(slots=True)
class _Composer:
    """Builds the tree from parser events; bounded at every step."""

    name: str
    anchors: dict[str, Node] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    count: int = 0

    def compose(self, events: Iterator[Any]) -> tuple[Node | None, list[Fault]]:
        """Return the tree of the only document and the duplicate keys found in it."""
        top: Node | None = None
        documents = 0
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    line: int = event.start_mark.line + 1  # type: ignore[union-attr]
                    raise _refusal(self.name, line, "a second document begins", "remove the '---'")
                top = self.node(next(events), events, 1)
        return top, self.faults

    def node(self, event: Any, events: Iterator[Any], depth: int) -> Node:
        """Return the node that an event starts."""
        line = event.start_mark.line + 1
        if isinstance(event, yaml.AliasEvent):
            return self._aliased(event.anchor, line)
        if event.tag is not None and event.tag != "!":
            raise _refusal(self.name, line, f"the tag '{event.tag}' has no meaning here", "remove it")
        if depth > DEEPEST:
            raise _refusal(
                self.name, line, f"is nested deeper than {DEEPEST} levels", "a case needs no such depth; check brackets"
            )
        made = self._made(event, events, depth, line)
        self._counted(1, line)
        if event.anchor is not None:
            self.anchors[event.anchor] = made
        return made

    def _made(self, event: Any, events: Iterator[Any], depth: int, line: int) -> Node:
        if isinstance(event, yaml.ScalarEvent):
            return Text(line, event.value, event.style is not None and event.style != "")
        if isinstance(event, yaml.SequenceStartEvent):
            return self._items(events, depth, line)
        return self._block(events, depth, line)

    def _aliased(self, anchor: Any, line: int) -> Node:
        found = self.anchors.get(anchor)
        if found is None:
            raise _refusal(
                self.name, line, f"'*{anchor}' names nothing above it", f"write '&{anchor}' where it is defined"
            )
        self._counted(found.size, line)
        return found

    def _counted(self, more: int, line: int) -> None:
        self.count += more
        if self.count > MOST_VALUES:
            fault = f"holds more than {MOST_VALUES} values once its aliases are written out"
            raise _refusal(self.name, line, fault, "remove the repeats ('*name') or split the case")

    def _items(self, events: Iterator[Any], depth: int, line: int) -> Items:
        items: list[Node] = []
        size = 1
        for event in events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            items.append(self.node(event, events, depth + 1))
            size += items[-1].size
            if len(items) > MOST_IN_A_LIST:
                raise _refusal(self.name, line, f"this list is longer than {MOST_IN_A_LIST}", "shorten it")
        return Items(line, tuple(items), size)

    def _block(self, events: Iterator[Any], depth: int, line: int) -> YamlBlock:
        entries: dict[str, YamlEntry] = {}
        size = 1
        for event in events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            at: int = event.start_mark.line + 1
            key = self._key(self.node(event, events, depth + 1), at)
            value = self.node(next(events), events, depth + 1)
            size += value.size
            if key in entries:
                first = f"it stands on line {entries[key].line} already"
                self.faults.append(
                    Fault(f"{self.name}:{at}", key, f"this key is given twice ({first})", "keep one of the two")
                )
            entries.setdefault(key, YamlEntry(at, value))
        return YamlBlock(line, entries, size)

    def _key(self, key: Node, line: int) -> str:
        if not isinstance(key, Text):
            raise _refusal(self.name, line, f"{described(key)} can't be a key", "write a plain word before the colon")
        if key.text == "<<":
            raise _refusal(
                self.name, line, "'<<' (a merge) is not read", "write the keys out, or use '*name' for a whole value"
            )
        return key.text


NAMES = ("name", "point", "member", "edge")
"""Keys by which an entry of a list is known."""


@value_class
class FilePlaces:
    """Gives "file:line" of what keys and names lead to; of the nearest thing round it that there is."""

    file: str
    tree: YamlBlock

    def __call__(self, about: tuple[str, ...]) -> str:
        line, node = self.tree.line, self.tree
        for key in about:
            found = within(node, key)
            if found is None:
                break
            line, node = found.line, found.value  # type: ignore[assignment]
        return f"{self.file}:{line}"


def within(node: Node, key: str) -> YamlEntry | None:
    """Return the entry of a key in a block, or of a name in a list; None where there is none."""
    if isinstance(node, YamlBlock):
        return node.entries.get(key)
    if not isinstance(node, Items):
        return None
    return next((found for item in node.items if (found := named(item, key)) is not None), None)


def named(item: Node, name: str) -> YamlEntry | None:
    """Return a list's item as an entry if it goes by a name: "static", {static: ...}, {name: static, ...}."""
    if isinstance(item, Text):
        return YamlEntry(item.line, item) if item.text == name else None
    if not isinstance(item, YamlBlock):
        return None
    if len(item.entries) == 1 and name in item.entries:
        return item.entries[name]
    texts = (item.entries[key].value for key in NAMES if key in item.entries)
    return YamlEntry(item.line, item) if any(isinstance(each, Text) and each.text == name for each in texts) else None
