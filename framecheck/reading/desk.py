"""What a reader keeps at hand: the file's name, the gauges, every fault found so far and every name referred to."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Final
from unicodedata import normalize

from framecheck.errors import Fault
from framecheck.model.case import Doubt
from framecheck.units import INCH, Gauges, Units, units_of
from framecheck.value_class import value_class


class Missing:
    """Stands for a value that could not be read; its fault is on the desk already."""


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
class Desk:
    """The only thing in reading that grows: faults, doubts and references in file order, and how many amounts are in which units."""

    file: str
    gauges: Gauges = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    references: list[Reference] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    amounts: dict[Units, int] = field(default_factory=lambda: dict.fromkeys(Units, 0))

    def refuse(self, line: int, subject: str, fault: str, remedy: str) -> Missing:
        """Note a fault and return what stands for the value that wasn't read."""
        self.faults.append(Fault(f"{self.file}:{line}", subject, fault, remedy))
        return MISSING

    def doubt(self, line: int, subject: str, what: str, remedy: str) -> None:
        """Note what may not be meant: it is told with the answer, and leaves the verdict open."""
        self.doubts.append(Doubt(f"{self.file}:{line}", subject, what, remedy))

    def take(self, line: int, subject: str, what: str, remedy: str) -> None:
        """Note what was taken for something that is not written: it is told with the answer, and leaves the verdict open."""
        self.doubts.append(Doubt(f"{self.file}:{line}", subject, what, remedy, is_default=True))


def count_units(desk: Desk, text: str) -> None:
    """Note the units that an amount is written in."""
    found = units_of(text)
    if found is not None:
        desk.amounts[found] += 1


def units_written(desk: Desk) -> Units:
    """Return the units that most amounts of a file are written in; SI where there are as many of both."""
    return Units.US if desk.amounts[Units.US] > desk.amounts[Units.SI] else Units.SI


def did_you_mean(word: str, offered: Iterable[str], otherwise: str) -> str:
    """Return "did you mean ...?" where something offered is near, else the other remedy."""
    by_lower = {each.lower(): each for each in offered}
    near = get_close_matches(word.lower(), by_lower, n=1, cutoff=0.6)
    return f"did you mean '{by_lower[near[0]]}'?" if near else otherwise


def length(metres: float) -> str:
    """Return a length for messages, as both kinds of shop say it."""
    return f"{metres / INCH:.4g} in ({metres * 1000:.4g} mm)"


def listed(words: Iterable[str], most: int = 12) -> str:
    """Return words in a row, cut where there are many."""
    every = list(words)
    return ", ".join(every[:most]) + (f" ... ({len(every)} in all)" if len(every) > most else "")
