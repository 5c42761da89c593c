"""What a second opinion is: pairs of numbers, the largest differences first."""

from __future__ import annotations

from collections.abc import Iterable
from importlib.metadata import PackageNotFoundError, version

from framecheck.value_class import value_class

NEAR = 2e-3
"""Numbers nearer than this share of the largest of their kind agree."""


@value_class
class Difference:
    """One number found twice. kind: of its unit, as tables show it; size: what the difference is measured by, in the same unit.

    where: what it is of, and in which load case.
    """

    quantity: str
    where: str
    kind: str
    ours: float
    theirs: float
    size: float

    @property
    def share(self) -> float:
        """Return how far theirs is from ours, of the size."""
        return 0.0 if self.theirs == self.ours else (self.theirs - self.ours) / self.size


@value_class
class SecondOpinion:
    """What a library makes of a section or a frame. subject: which; compared: what was compared, in words.

    differences: one a quantity, the largest of it, largest first. left_out: what was not compared, in words. note: what else to know.
    """

    library: str
    version: str
    subject: str
    compared: str
    differences: tuple[Difference, ...]
    left_out: tuple[str, ...] = ()
    note: str = ""

    @property
    def agrees(self) -> bool:
        """Return whether every number agrees."""
        return all(abs(each.share) <= NEAR for each in self.differences)


def version_of(library: str) -> str:
    """Return the version of an installed library, "" where it is not installed."""
    try:
        return version(library)
    except PackageNotFoundError:
        return ""


def largest_first(found: Iterable[Difference]) -> tuple[Difference, ...]:
    """Return the largest difference of each quantity, the largest first."""
    worst: dict[str, Difference] = {}
    for each in found:
        if each.quantity not in worst or abs(each.share) > abs(worst[each.quantity].share):
            worst[each.quantity] = each
    return tuple(sorted(worst.values(), key=lambda each: -abs(each.share)))
