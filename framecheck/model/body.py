"""A body told by its stiffness alone: a shell that stands beside the drawn members. SI; vehicle axes."""

from __future__ import annotations

from framecheck.value_class import value_class

Range = tuple[float, float]


@value_class
class StatedBody:
    """A body between four points, left front, right front, left rear, right rear, and two midway, left and right, or none.

    torsion: least and most couple per angle between front and rear, Nm/rad; bending: least and most force, shared by both midway
    points, per how far these go from the line between front and rear, N/m; (0, 0) where it is not stated. source: where it comes from.
    """

    corners: tuple[str, str, str, str]
    torsion: Range
    source: str
    middle: tuple[str, ...] = ()
    bending: Range = (0.0, 0.0)

    @property
    def is_range(self) -> bool:
        """Return whether any stiffness is told as a range."""
        return self.torsion[0] != self.torsion[1] or self.bending[0] != self.bending[1]
