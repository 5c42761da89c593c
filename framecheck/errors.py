"""Every error framecheck raises on purpose.

FramecheckError
├── InputError       what was written can't be used; carries every fault at once     exit code 2
└── UnsolvableError  what was written can be used but has no answer                  exit code 3
    ├── MechanismError   something is free to move; says which point, which way
    └── MeshError        a section's mesh could not be made
Anything else that escapes is our own fault: exit code 4.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from framecheck.value_class import value_class


@value_class
class Fault:
    """One thing wrong with the input.

    place: "file:line" or "" where there is none; subject: the object at fault, as the user named it;
    fault: what is wrong; remedy: what would do. about: the keys and names that lead to it in the file, where whoever finds it
    knows no lines: ("vehicle", "masses", "engine").
    """

    place: str
    subject: str
    fault: str
    remedy: str
    about: tuple[str, ...] = ()

    def __str__(self) -> str:
        parts = [part for part in (self.place, self.subject) if part]
        line = ": ".join([*parts, f"{self.fault}; {self.remedy}"])
        return line.replace("\n", "\\n").replace("\r", "\\r").replace("\t", "\\t")  # a name must not write a line of its own


def standing(faults: Iterable[Fault], *about: str) -> tuple[Fault, ...]:
    """Return faults, those that don't know where they stand in the file standing where keys and names lead to."""
    return tuple(each if each.about or each.place else replace(each, about=about) for each in faults)


def line_number(place: str) -> int:
    """Return the line in a place "file:line", 0 where it has none."""
    tail = place.rpartition(":")[2]
    return int(tail) if tail.isdigit() else 0


class FramecheckError(Exception):
    """Base of every error that is not a bug."""


class InputError(FramecheckError):
    """Input that can't be used; `faults` holds every fault found, in file order."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class UnsolvableError(FramecheckError):
    """A well-formed problem that has no answer."""


class MechanismError(UnsolvableError):
    """Something can move freely; the message says which point, in which direction, and what would hold it."""


class MeshError(UnsolvableError):
    """A section could not be meshed."""


def was_interrupted(error: BaseException | None) -> bool:
    """Return whether an error was made of a Ctrl-C: a library that is being loaded calls it a failed import."""
    while error is not None and not isinstance(error, KeyboardInterrupt):
        error = error.__cause__ or error.__context__
    return error is not None
