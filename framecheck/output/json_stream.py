"""JSON in pieces, the same text as json.dumps(..., indent=1) gives: a row is written when it is made, and none is kept."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from json import JSONEncoder
from typing import Any

PIECE = 64_000
"""Letters that are gathered before they are handed on."""
CONTAINERS = (dict, list, tuple)


def written(record: Mapping[str, Any]) -> Iterator[str]:
    """Yield a record as JSON text, a line feed behind it. Its own values may be iterators: they are written as lists."""
    gathered: list[str] = []
    size = 0
    for part in _mapping(record.items(), 1):
        gathered.append(part)
        size += len(part)
        if size > PIECE:
            yield "".join(gathered)
            gathered, size = [], 0
    yield "".join(gathered) + "\n"


def _value(value: Any, level: int) -> Iterator[str]:
    """Yield the text of a value; level: how deep its own entries stand."""
    if isinstance(value, dict) and holds_containers(value.values()):
        yield from _mapping(value.items(), level)
    elif isinstance(value, Iterator) or (isinstance(value, (list, tuple)) and holds_containers(value)):
        yield from _entries((_value(each, level + 1) for each in value), level, "[]")
    else:
        yield _plain(value, level)


def _mapping(items: Iterable[tuple[str, Any]], level: int) -> Iterator[str]:
    named = ((name, _value(value, level + 1)) for name, value in items)
    yield from _entries((_named(name, text) for name, text in named), level, "{}")


def _named(name: str, text: Iterator[str]) -> Iterator[str]:
    yield f"{_encoder(0).encode(name)}: "
    yield from text


def _entries(entries: Iterable[Iterator[str]], level: int, brackets: str) -> Iterator[str]:
    """Yield entries between brackets, each on lines of its own; level: how deep they stand."""
    before = brackets[0] + "\n" + " " * level
    begun = False
    for entry in entries:
        yield before
        yield from entry
        before, begun = ",\n" + " " * level, True
    yield f"\n{' ' * (level - 1)}{brackets[1]}" if begun else brackets


def holds_containers(values: Iterable[Any]) -> bool:
    """Return whether any of some values is itself a mapping or a list."""
    return any(isinstance(value, CONTAINERS) for value in values)


def _plain(value: Any, level: int) -> str:
    """Return a value that holds no container: written in one go, many times quicker than entry by entry."""
    text = _encoder(level).encode(value)
    if not isinstance(value, CONTAINERS) or not value:
        return text
    return f"{text[0]}\n{' ' * level}{text[1:-1]}\n{' ' * (level - 1)}{text[-1]}"


@cache
def _encoder(level: int) -> JSONEncoder:
    return JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",\n" + " " * level, ": "))
