"""JSON in pieces, the same text as json.dumps(..., indent=1) gives: a row is written when it is made, and none is kept."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from json import JSONEncoder
from typing import Any

PIECE = 64_000
"""Letters that are gathered before they are handed on."""
CONTAINERS = frozenset((dict, list, tuple))
ENCODER = JSONEncoder(ensure_ascii=False, allow_nan=False)


def written(record: Mapping[str, Any]) -> Iterator[str]:
    """Yield a record as JSON text, a line feed behind it. Its own values may be iterators: they are written as lists."""
    gathered: list[str] = []
    size = 0
    for part in _parts(record):
        gathered.append(part)
        size += len(part)
        if size > PIECE:
            yield "".join(gathered)
            gathered, size = [], 0
    yield "".join(gathered) + "\n"


def _parts(record: Mapping[str, Any]) -> Iterator[str]:
    """Yield the text of a record, entry by entry, and of an iterator among them row by row."""
    before = "{\n "
    for name, value in record.items():
        yield f"{before}{_quoted(name)}: "
        if isinstance(value, Iterator):
            yield from _rows(value)
        else:
            yield _text(value, 2)
        before = ",\n "
    yield "\n}" if record else "{}"


def _rows(rows: Iterator[Any]) -> Iterator[str]:
    """Yield the text of rows that stand in a list of the record."""
    before = "[\n  "
    for row in rows:
        yield before
        yield _text(row, 3)
        before = ",\n  "
    yield "[]" if before[0] == "[" else "\n ]"


def _text(value: Any, level: int) -> str:
    """Return the text of a value; level: how deep its own entries stand."""
    if isinstance(value, dict) and holds_containers(value.values()):
        return _between("{}", [f"{_quoted(name)}: {_text(each, level + 1)}" for name, each in value.items()], level)
    if isinstance(value, Iterator) or (isinstance(value, (list, tuple)) and holds_containers(value)):
        return _between("[]", [_text(each, level + 1) for each in value], level)
    return _plain(value, level)


def _between(brackets: str, entries: list[str], level: int) -> str:
    """Return entries between brackets, each on lines of its own; level: how deep they stand."""
    if not entries:
        return brackets
    line = "\n" + " " * level
    return f"{brackets[0]}{line}{f',{line}'.join(entries)}{line[:-1]}{brackets[1]}"


def holds_containers(values: Iterable[Any]) -> bool:
    """Return whether any of some values is itself a mapping or a list."""
    return not CONTAINERS.isdisjoint(map(type, values))


def _plain(value: Any, level: int) -> str:
    """Return a value that holds no container: a mapping in one go, many times quicker than entry by entry."""
    if isinstance(value, dict) and value:
        return _template(tuple(value), level) % tuple(map(_scalar, value.values()))
    if isinstance(value, (list, tuple)):
        return _between("[]", list(map(_scalar, value)), level)
    return _scalar(value)


def _scalar(value: Any) -> str:
    """Return a value that is no container, or an empty one."""
    if isinstance(value, float) and value - value == 0.0:
        return float.__repr__(value)
    return _quoted(value) if isinstance(value, str) else ENCODER.encode(value)


@lru_cache(maxsize=256)
def _template(keys: tuple[str, ...], level: int) -> str:
    """Return the text of mappings of some keys, with places for their values: rows are many, and their keys are the same."""
    entries = [f"{_quoted(name)}: ".replace("%", "%%") + "%s" for name in keys]
    return _between("{}", entries, level)


@lru_cache(maxsize=4096)
def _quoted(text: str) -> str:
    """Return words as JSON text."""
    return ENCODER.encode(text)
