"""Openings of a body: doors, windscreen, back light. SI."""

from __future__ import annotations

from framecheck.value_class import value_class


@value_class
class Opening:
    """An opening between four points, in order round it. gap: round the door in it, m; 0 where it is not said."""

    name: str
    corners: tuple[str, ...]
    gap: float = 0.0

    @property
    def diagonals(self) -> tuple[tuple[str, str], tuple[str, str]]:
        """Return its two diagonals by their points."""
        first, second, third, fourth = self.corners
        return (first, third), (second, fourth)
