"""Every error framecheck raises on purpose.

FramecheckError
├── InputError       what was written can't be used; carries every fault at once     exit code 2
└── UnsolvableError  what was written can be used but has no answer                  exit code 3
    ├── MechanismError   something is free to move; says which point, which way
    └── MeshError        a section's mesh could not be made
Anything else that escapes is our own fault: exit code 4.
"""

from __future__ import annotations

from collections.abc import Sequence

from framecheck.value_class import value_class


@value_class
class Fault:
    """One thing wrong with the input.

    place: "file:line" or "" where there is none; subject: the object at fault, as the user named it;
    fault: what is wrong; remedy: what would do.
    """

    place: str
    subject: str
    fault: str
    remedy: str

    def __str__(self) -> str:
        parts = [part for part in (self.place, self.subject) if part]
        return ": ".join([*parts, f"{self.fault}; {self.remedy}"])


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
