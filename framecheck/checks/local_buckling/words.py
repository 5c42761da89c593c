"""What a row says of the wall that buckles."""

from __future__ import annotations

from framecheck.model.shapes import RoundBar, RoundTube, Shape
from framecheck.section.properties import Wall


def round_words(shape: Shape | None, rank: int) -> str:
    """Return the class of a round section in words: "round tube, D/t 20.0, class 1"."""
    if isinstance(shape, RoundTube):
        return f"round tube, D/t {shape.diameter / shape.wall:.1f}, class {rank}"
    return "round bar" if isinstance(shape, RoundBar) else ""


def wall_name(wall: Wall) -> str:
    """Return where a wall lies in its section and how it is held, in words."""
    across, up = wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]
    y, z = (wall.start[0] + wall.end[0]) / 2, (wall.start[1] + wall.end[1]) / 2
    web, flange = "left web" if y > 0 else "right web", "top flange" if z > 0 else "bottom flange"
    place = web if abs(up) > abs(across) else flange
    return f"{place} with a free edge" if wall.free_start or wall.free_end else place


def wall_words(wall: Wall, rank: int, share_left: float) -> str:
    """Return the class of a wall in words: "left web, b/t 33.0, class 4, 82 % effective"."""
    ratio = f"{wall_name(wall)}, b/t {wall.width / wall.thickness:.1f}"
    if rank == 0:
        return "no wall that compression could buckle"
    left = f", {100 * share_left:.0f} % of its compressed width effective" if share_left < 1 else ""
    return f"{ratio}, class {rank}{left}"
