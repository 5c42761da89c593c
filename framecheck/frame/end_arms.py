"""How far an end that stands on a rail lies from its frame point. SI."""

from __future__ import annotations

from framecheck.model.arrays import Array

Wall = tuple[Array, Array]
"""The arm (3,) from the frame point to the middle plane of the wall that an end meets, and the way (3,) that the wall looks."""


def arm_to_face(wall: Wall, said: Array) -> Array:
    """Return the arm (3,) from the frame point to the middle plane of the face, or beyond it; said (3,): what the file gives.

    What is said moves the member's line; where it ends within the rail the member is cut at the face all the same. So nothing said is
    the arm to the face, one along the face moves the end there, and one that reaches out of the rail is taken as it is. Where the face
    lies behind the point, as a channel's web does that is met from inside, out of the rail begins as far before the point, and what is
    said goes over evenly: nothing jumps.
    """
    deep, out = depth_of(wall), float(said @ wall[1])
    if deep == 0.0:
        return said
    share = out / deep if deep > 0.0 else abs(out / deep)
    return said + wall[0] * max(0.0, 1.0 - share)


def foot_on_face(wall: Wall, said: Array) -> Array:
    """Return the arm (3,) from the frame point to where the member's line meets the middle plane of the face, square to it."""
    arm, out = arm_to_face(wall, said), wall[1]
    foot: Array = arm - out * (float(arm @ out) - depth_of(wall))
    return foot


def depth_of(wall: Wall) -> float:
    """Return how far the face's middle plane lies before the frame point, m, negative behind it; 0 where a seat has none."""
    return float(wall[0] @ wall[1])
