"""What holds a frame: supports to the ground, springs between points. SI, vehicle axes."""

from __future__ import annotations

from framecheck.value_class import value_class


@value_class
class Support:
    """A point held to the ground: per direction (x, y, z, turn about x, y, z) inf = held, 0 = free, else a spring, N/m or Nm/rad."""

    point: str
    stiffness: tuple[float, float, float, float, float, float]


@value_class
class Spring:
    """A spring between two points, stiffness along and about the vehicle axes, N/m and Nm/rad."""

    name: str
    points: tuple[str, str]
    stiffness: tuple[float, float, float, float, float, float]
