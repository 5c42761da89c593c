"""A form as filled in, and what is said of two with one name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field
from typing import Any

from framecheck.reading.desk import RENAME, Desk, Taken
from framecheck.value_class import value_class


@value_class
class Record:
    """A form as filled in: values in SI by key, with the defaults of keys left out; sound: nothing in it was refused."""

    line: int
    subject: str
    values: Mapping[str, Any]
    lines: Mapping[str, int] = field(default_factory=dict)
    sound: bool = True

    def __getitem__(self, key: str) -> Any:
        return self.values[key]

    def given(self, key: str) -> bool:
        """Return whether the key was written."""
        return key in self.lines

    def line_of(self, key: str) -> int:
        """Return the line of a key, that of the form where the key was left out."""
        return self.lines.get(key, self.line)


def below(subject: str, key: str) -> str:
    """Return the subject of a key within a subject."""
    return f"{subject} > {key}" if subject else key


def refuse_second(desk: Desk, records: Iterable[Any], kind: str) -> None:
    """Note every record whose name another one has already; kind: what they are, for the message."""
    taken = Taken()
    for record in records:
        name = record.values.get("name") if isinstance(record, Record) else None
        if isinstance(name, str):
            fault = taken.take(name, record.line_of("name"), kind)
            if fault:
                desk.refuse(record.line_of("name"), record.subject, fault, RENAME)
