"""What a reader keeps at hand: the file's name, faults and names found so far, records as filled in, the bounds of sizes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any, Final
from unicodedata import normalize

from framecheck.errors import Fault, InputError, line_number
from framecheck.model.case import Doubt
from framecheck.units import INCH, Gauges, Units, units_of
from framecheck.value_class import value_class


class Missing:
    """Stands for a value that could not be read; its fault is noted already."""


MISSING: Final = Missing()


def folded(name: str) -> str:
    """Return a name with what people overlook evened out: capitals, blanks, letters written in two ways (Unicode NFKC)."""
    return " ".join(normalize("NFKC", name).casefold().split())


@dataclass(slots=True)
class Taken:
    """Names of one kind that are taken: what they look like to a person, how they are written, on which line."""

    names: dict[str, tuple[str, int]] = field(default_factory=dict)

    def take(self, name: str, line: int, kind: str) -> str:
        """Take a name, or return what is wrong with it: one name stands for one thing."""
        seen = folded(name)
        if seen not in self.names:
            self.names[seen] = (name, line)
            return ""
        written, first = self.names[seen]
        if written == name:
            return f"a {kind} '{name}' stands on line {first} already"
        return f"'{name}' and '{written}' on line {first} differ in capitals or blanks only"


RENAME = "give one of them another name"


@value_class
class Reference:
    """A place in the file that names something: of ("point", "section" ...), the name, where."""

    of: str
    name: str
    line: int
    subject: str


@dataclass(slots=True)
class Diagnostics:
    """The only thing in reading that grows: faults, doubts and references in file order, and how many amounts are in which units."""

    file: str
    gauges: Gauges = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    references: list[Reference] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    amounts: dict[Units, int] = field(default_factory=lambda: dict.fromkeys(Units, 0))

    def refuse(self, line: int, subject: str, fault: str, remedy: str) -> Missing:
        """Note a fault and return what stands for the value that wasn't read; an answer that stands in no file has no place."""
        self.faults.append(Fault(f"{self.file}:{line}" if self.file else "", subject, fault, remedy))
        return MISSING

    def doubt(self, line: int, subject: str, what: str, remedy: str) -> None:
        """Note what may not be meant: it is told with the answer, and leaves the verdict open."""
        self.doubts.append(Doubt(f"{self.file}:{line}", subject, what, remedy))

    def take(self, line: int, subject: str, what: str, remedy: str) -> None:
        """Note what was taken for something that is not written: it is told with the answer, and leaves the verdict open."""
        self.doubts.append(Doubt(f"{self.file}:{line}", subject, what, remedy, is_default=True))


def refuse_faults(diagnostics: Diagnostics) -> None:
    """Raise every fault found so far, in file order."""
    if diagnostics.faults:
        raise InputError(sorted(dict.fromkeys(diagnostics.faults), key=lambda fault: line_number(fault.place)))


def count_units(diagnostics: Diagnostics, text: str) -> None:
    """Note the units that an amount is written in."""
    found = units_of(text)
    if found is not None:
        diagnostics.amounts[found] += 1


def units_written(diagnostics: Diagnostics) -> Units:
    """Return the units that most amounts of a file are written in; SI where there are as many of both."""
    return Units.US if diagnostics.amounts[Units.US] > diagnostics.amounts[Units.SI] else Units.SI


def did_you_mean(word: str, offered: Iterable[str], otherwise: str) -> str:
    """Return "did you mean ...?" where something offered is near, else the other remedy. Blanks count only where they decide.

    A name with a comma is told with the quotes that it needs: between braces a comma would end it.
    """
    every = list(offered)
    for blank in (" ", ""):
        by_lower = {each.lower().replace(" ", blank): each for each in every}
        near = get_close_matches(word.lower().replace(" ", blank), by_lower, n=1, cutoff=0.6)
        if near:
            found = by_lower[near[0]]
            return f'did you mean "{found}", with these quotes?' if "," in found else f"did you mean '{found}'?"
    return otherwise


def length(metres: float) -> str:
    """Return a length for messages, as both kinds of shop say it."""
    return f"{metres / INCH:.4g} in ({metres * 1000:.4g} mm)"


def listed(words: Iterable[str], most: int = 12) -> str:
    """Return words in a row, cut where there are many."""
    every = list(words)
    return ", ".join(every[:most]) + (f" ... ({len(every)} in all)" if len(every) > most else "")


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


def refuse_second(diagnostics: Diagnostics, records: Iterable[Any], kind: str) -> None:
    """Note every record whose name another one has already; kind: what they are, for the message."""
    taken = Taken()
    for record in records:
        name = record.values.get("name") if isinstance(record, Record) else None
        if isinstance(name, str):
            fault = taken.take(name, record.line_of("name"), kind)
            if fault:
                diagnostics.refuse(record.line_of("name"), record.subject, fault, RENAME)


BOUNDS: Mapping[str, tuple[float, float]] = {
    "length": (1e-6, 1e3),
    "thickness": (1e-6, 10.0),
    "distance": (1.0, 1e12),
    "area": (1e-10, 1e2),
    "volume": (1e-14, 1e2),
    "second moment": (1e-16, 1e2),
    "warping": (1e-26, 1e2),
    "mass": (1e-6, 1e6),
    "force": (1e-6, 1e9),
    "weight": (1e-6, 1e9),
    "stress": (1.0, 1e13),
    "moment": (1e-9, 1e9),
    "stiffness": (1e-6, 1e12),
    "turning stiffness": (1e-9, 1e12),
    "warping stiffness": (1e-12, 1e12),
    "density": (1e-3, 1e6),
    "angle": (1e-9, 1e3),
    "speed": (1e-6, 1e3),
    "turning speed": (1e-6, 1e6),
    "acceleration": (1e-6, 1e5),
    "temperature difference": (1e-6, 1e4),
    "expansion": (1e-12, 1e-2),
}
"""Least size of what must be above zero, and greatest size, by quantity, SI."""
OTHERS = (1e-12, 1e12)
LARGEST_NUMBER = 1e12
"""Greatest plain number."""


def beyond(value: float, quantity: str, positive: bool) -> str:
    """Return why a size can't be meant, "" where it can. positive: it must be above zero, so that a hair's breadth is a slip too."""
    least, most = BOUNDS.get(quantity, OTHERS)
    if abs(value) > most:
        return "is larger than anything on a vehicle"
    return "is smaller than anything that can be made or weighed" if positive and 0 < value < least else ""
