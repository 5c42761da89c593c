"""Draw the pictures of docs/input.md: axes, sides of a section, shapes with their sizes, ends, kinks, splices, a plate's axes.

Run: python docs/draw_pictures.py
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

import matplotlib

matplotlib.use("svg")
matplotlib.rcParams["svg.hashsalt"] = "framecheck"
matplotlib.rcParams["svg.fonttype"] = "path"
from matplotlib import pyplot  # noqa: E402
from matplotlib.axes import Axes  # noqa: E402
from matplotlib.patches import Arc, Circle, Polygon, Rectangle  # noqa: E402

HERE = Path(__file__).resolve().parent / "pictures"
STEEL, OTHER, INK, WELD = "#c9d3dc", "#e9dcc3", "#222222", "#9c2f1f"
Place = tuple[float, float]


def blank(axes: Axes, title: str, wide: float, high: float) -> None:
    """Prepare a drawing without frame or scale; `wide`, `high`: what is seen, about its middle."""
    axes.set_title(title, fontsize=9, color=INK)
    axes.set_xlim(-wide / 2, wide / 2)
    axes.set_ylim(-high / 2, high / 2)
    axes.set_aspect("equal")
    axes.axis("off")


def fill(axes: Axes, corners: Iterable[Place], colour: str = STEEL, **drawn: object) -> None:
    """Draw a solid part."""
    axes.add_patch(Polygon(list(corners), closed=True, facecolor=colour, edgecolor=INK, linewidth=0.8, **drawn))


def block(axes: Axes, left: float, bottom: float, wide: float, high: float, colour: str = STEEL, **drawn: object) -> None:
    """Draw a solid rectangle."""
    axes.add_patch(Rectangle((left, bottom), wide, high, facecolor=colour, edgecolor=INK, linewidth=0.8, **drawn))


def box(axes: Axes, left: float, bottom: float, wide: float, high: float, wall: float = 0.12) -> None:
    """Draw a box tube cut across."""
    block(axes, left, bottom, wide, high)
    block(axes, left + wall, bottom + wall, wide - 2 * wall, high - 2 * wall, "white")


def bead(axes: Axes, at: Place, across: float, up: float) -> None:
    """Draw a fillet weld: a small triangle with its square corner at a place."""
    axes.add_patch(Polygon([at, (at[0] + across, at[1]), (at[0], at[1] + up)], closed=True, facecolor=WELD, edgecolor=WELD))


def arrow(axes: Axes, start: Place, end: Place, words: str, aside: Place = (0.0, 0.0)) -> None:
    """Draw an arrow with words at its tip."""
    axes.annotate("", end, start, arrowprops={"arrowstyle": "-|>", "color": INK, "linewidth": 1.1})
    axes.text(end[0] + aside[0], end[1] + aside[1], words, ha="center", va="center", fontsize=8, color=INK)


def size(axes: Axes, start: Place, end: Place, words: str, aside: Place = (0.0, 0.0)) -> None:
    """Draw a dimension line with its key."""
    axes.annotate("", end, start, arrowprops={"arrowstyle": "<|-|>", "color": INK, "linewidth": 0.7, "shrinkA": 0, "shrinkB": 0})
    middle = ((start[0] + end[0]) / 2 + aside[0], (start[1] + end[1]) / 2 + aside[1])
    behind = {"facecolor": "white", "edgecolor": "none", "pad": 0.8}
    axes.text(*middle, words, ha="center", va="center", fontsize=8, color=INK, bbox=behind)


def note(axes: Axes, at: Place, words: str) -> None:
    """Write words at a place."""
    axes.text(*at, words, ha="center", va="center", fontsize=8, color=INK)


def draw(name: str, drawings: list[Callable[[Axes], None]], across: int, each: Place = (2.6, 2.4)) -> None:
    """Write one picture of several drawings side by side."""
    rows = -(-len(drawings) // across)
    figure, grid = pyplot.subplots(rows, across, figsize=(each[0] * across, each[1] * rows), squeeze=False)
    for axes in grid.flat:
        axes.axis("off")
    for axes, drawing in zip(grid.flat, drawings, strict=False):
        drawing(axes)
    figure.tight_layout()
    figure.savefig(HERE / f"{name}.svg", metadata={"Date": None, "Creator": None})
    pyplot.close(figure)


def from_above(axes: Axes) -> None:
    blank(axes, "from above", 10, 6)
    for y in (1.2, -1.5):
        block(axes, -4, y, 8, 0.3)
    for x in (-3.4, 0.0, 3.1):
        block(axes, x, -1.2, 0.3, 2.4)
    arrow(axes, (0.15, 0), (2.5, 0), "x, forward", (0.2, -0.45))
    arrow(axes, (0.15, 0), (0.15, 2.3), "y, to the left", (0, 0.3))
    note(axes, (-2.2, 1.85), "left rail")
    note(axes, (-2.2, -1.9), "right rail")


def from_the_left(axes: Axes) -> None:
    blank(axes, "from the left", 10, 6)
    fill(axes, [(-4, 1.3), (-2.6, 1.3), (-1.4, 0.3), (4, 0.3), (4, 0.6), (-1.3, 0.6), (-2.5, 1.6), (-4, 1.6)])
    for x in (-2.8, 2.6):
        axes.add_patch(Circle((x, -1), 1.0, facecolor="white", edgecolor=INK, linewidth=0.8))
    axes.plot((-5, 5), (-2, -2), color=INK, linewidth=0.8)
    arrow(axes, (0, -1.2), (1.9, -1.2), "x, forward", (0.1, -0.4))
    arrow(axes, (0, -1.2), (0, 2.2), "z, up", (0, 0.3))
    note(axes, (-3.4, 2.0), "rear")
    note(axes, (3.7, 1.0), "front")


def turning(axes: Axes) -> None:
    blank(axes, "moments: right-handed", 10, 6)
    arrow(axes, (-4, -0.5), (3.4, -0.5), "the axis", (0.3, -0.45))
    axes.add_patch(Arc((-0.4, -0.5), 1.4, 3.0, theta1=-90, theta2=90, color=INK, linestyle=":", linewidth=1.0))
    axes.add_patch(Arc((-0.4, -0.5), 1.4, 3.0, theta1=90, theta2=270, color=INK, linewidth=1.5))
    arrow(axes, (-0.8, -1.75), (-0.3, -2.02), "")
    note(axes, (0.2, 2.0), "right thumb along the axis,\nfingers the way it turns")
    note(axes, (-2.4, -1.6), "the near side\ngoes down")


def sides_of_a_box(axes: Axes) -> None:
    blank(axes, "seen looking along the member,\nfrom its first point to its last", 6, 6)
    box(axes, -1, -1.4, 2, 2.8)
    for at, words in (((0, 1.8), "top"), ((0, -1.8), "bottom"), ((-1.8, 0), "left"), ((1.8, 0), "right")):
        note(axes, at, words)


def sides_of_a_rail(axes: Axes) -> None:
    blank(axes, "rails of a ladder, from behind", 9, 6)
    for left in (-3.2, 1.8):
        box(axes, left, -1, 1.4, 2)
    note(axes, (-2.5, 1.5), "left rail")
    note(axes, (2.5, 1.5), "right rail")
    note(axes, (0, 0.3), "inboard of both")
    arrow(axes, (-0.4, 0), (-1.6, 0), "")
    arrow(axes, (0.4, 0), (1.6, 0), "")
    note(axes, (-3.4, -1.6), "outboard")
    note(axes, (3.4, -1.6), "outboard")


def open_side(axes: Axes) -> None:
    blank(axes, "a channel as drawn:\nits open side is to the right", 6, 6)
    fill(axes, [(-0.9, -1.4), (0.9, -1.4), (0.9, -1.2), (-0.7, -1.2), (-0.7, 1.2), (0.9, 1.2), (0.9, 1.4), (-0.9, 1.4)])
    arrow(axes, (0, 0), (1.9, 0), "open side", (0, 0.4))
    note(axes, (-1.5, 0), "web")


def tube_sizes(axes: Axes) -> None:
    blank(axes, "rectangular tube", 6, 6)
    box(axes, -1, -1.5, 2, 3, 0.25)
    size(axes, (-1.6, -1.5), (-1.6, 1.5), "height")
    size(axes, (-1, -2.1), (1, -2.1), "width")
    arrow(axes, (2.2, 0.5), (1, 0.5), "")
    note(axes, (2.4, 0.8), "wall")


def channel_sizes(axes: Axes) -> None:
    blank(axes, "channel", 6, 6)
    lower = [(-0.9, -1.5), (0.9, -1.5), (0.9, -0.9), (0.7, -0.9), (0.7, -1.3), (-0.7, -1.3)]
    fill(axes, [*lower, *((y, -z) for y, z in reversed(lower))])
    size(axes, (-1.5, -1.5), (-1.5, 1.5), "height")
    size(axes, (-0.9, -2.1), (0.9, -2.1), "flange")
    size(axes, (1.4, 0.9), (1.4, 1.5), "lip", (0.5, 0))


def hat_sizes(axes: Axes) -> None:
    blank(axes, "hat", 7, 6)
    right = [(0.9, 1.0), (0.9, -1.2), (2, -1.2), (2, -1.0), (1.1, -1.0), (1.1, 1.2)]
    fill(axes, [*right, *((-y, z) for y, z in reversed(right))])
    size(axes, (-2.6, -1.2), (-2.6, 1.2), "height")
    size(axes, (-1.1, 1.7), (1.1, 1.7), "crown")
    size(axes, (1.1, -1.7), (2, -1.7), "brim")


def angle_sizes(axes: Axes) -> None:
    blank(axes, "angle", 6, 6)
    fill(axes, [(-1, -1.3), (1, -1.3), (1, -1.05), (-0.75, -1.05), (-0.75, 1.3), (-1, 1.3)])
    size(axes, (-1.6, -1.3), (-1.6, 1.3), "height")
    size(axes, (-1, -1.9), (1, -1.9), "width")


def z_sizes(axes: Axes) -> None:
    blank(axes, "Z", 6, 6)
    fill(axes, [(-1, 1.4), (0.1, 1.4), (0.1, -1.2), (1, -1.2), (1, -1.4), (-0.1, -1.4), (-0.1, 1.2), (-1, 1.2)])
    size(axes, (-1.7, -1.4), (-1.7, 1.4), "height")
    size(axes, (-0.1, -2.0), (1, -2.0), "flange")


def i_sizes(axes: Axes) -> None:
    blank(axes, "I", 6, 6)
    fill(axes, [(-1, -1.4), (1, -1.4), (1, -1.15), (0.1, -1.15), (0.1, 1.15), (1, 1.15), (1, 1.4), (-1, 1.4), (-1, 1.15), (-0.1, 1.15),
                (-0.1, -1.15), (-1, -1.15)])  # fmt: skip
    size(axes, (-1.7, -1.4), (-1.7, 1.4), "height")
    size(axes, (-1, -2.0), (1, -2.0), "width")
    note(axes, (0.7, 0), "web")
    note(axes, (1.75, 1.3), "flange")


def boxed(axes: Axes) -> None:
    blank(axes, "boxed channel", 6, 6)
    fill(axes, [(-0.9, -1.4), (0.9, -1.4), (0.9, -1.2), (-0.7, -1.2), (-0.7, 1.2), (0.9, 1.2), (0.9, 1.4), (-0.9, 1.4)])
    block(axes, 0.9, -1.4, 0.2, 2.8, OTHER)
    note(axes, (1.8, 0), "plate")
    note(axes, (-1.8, 0), "channel")


def sleeve(axes: Axes) -> None:
    blank(axes, "sleeve", 6, 6)
    box(axes, -1.2, -1.6, 2.4, 3.2, 0.18)
    block(axes, -0.95, -1.35, 1.9, 2.7, OTHER)
    block(axes, -0.8, -1.2, 1.6, 2.4, "white")
    note(axes, (2.0, 0.6), "outer")
    note(axes, (0, 0), "core")


def plated(axes: Axes) -> None:
    blank(axes, "plated", 6, 6)
    box(axes, -0.9, -1.3, 1.8, 2.6, 0.16)
    block(axes, -0.7, -1.55, 1.4, 0.25, OTHER)
    note(axes, (0, -2.0), "plate, side: bottom")
    note(axes, (0, 0), "base")


def rail_cut(axes: Axes) -> None:
    """Draw a rail cut across, its inboard face to the right."""
    box(axes, -2.2, -1.2, 1.6, 2.4, 0.14)
    note(axes, (-1.4, -1.7), "rail")


def end_butt(axes: Axes) -> None:
    blank(axes, "butt on one face", 7, 5)
    rail_cut(axes)
    block(axes, -0.6, -0.6, 3.6, 1.2, OTHER)
    bead(axes, (-0.6, 0.6), 0.3, 0.3)
    bead(axes, (-0.6, -0.6), 0.3, -0.3)


def end_through_both(axes: Axes) -> None:
    blank(axes, "through both faces", 7, 5)
    rail_cut(axes)
    block(axes, -2.5, -0.6, 5.5, 1.2, OTHER)
    for at, across in ((-0.6, 0.3), (-2.2, -0.3)):
        bead(axes, (at, 0.6), across, 0.3)
        bead(axes, (at, -0.6), across, -0.3)


def end_through_one(axes: Axes) -> None:
    blank(axes, "through one face", 7, 5)
    rail_cut(axes)
    block(axes, -2.06, -0.6, 5.06, 1.2, OTHER)
    bead(axes, (-0.6, 0.6), 0.3, 0.3)
    bead(axes, (-0.6, -0.6), 0.3, -0.3)


def end_in_a_channel(axes: Axes) -> None:
    blank(axes, "on the web and both flanges", 7, 5)
    fill(axes, [(-2.2, -1.2), (-0.6, -1.2), (-0.6, -1.06), (-2.06, -1.06), (-2.06, 1.06), (-0.6, 1.06), (-0.6, 1.2), (-2.2, 1.2)])
    block(axes, -2.06, -1.06, 5.06, 2.12, OTHER)
    note(axes, (-1.4, -1.7), "channel rail")
    bead(axes, (-0.6, 1.06), 0.3, 0.14)
    bead(axes, (-0.6, -1.06), 0.3, -0.14)


def end_on_top(axes: Axes) -> None:
    blank(axes, "laid on top", 7, 5)
    rail_cut(axes)
    block(axes, -2.6, 1.2, 5.6, 0.9, OTHER)
    bead(axes, (-2.2, 1.2), -0.3, -0.3)
    bead(axes, (-0.6, 1.2), 0.3, -0.3)


def end_underneath(axes: Axes) -> None:
    blank(axes, "slung underneath", 7, 5)
    box(axes, -2.2, -0.8, 1.6, 2.4, 0.14)
    block(axes, -2.6, -1.7, 5.6, 0.9, OTHER)
    bead(axes, (-2.2, -0.8), -0.3, 0.3)
    bead(axes, (-0.6, -0.8), 0.3, 0.3)


def end_on_a_plate(axes: Axes) -> None:
    blank(axes, "on a plate between", 7, 5)
    rail_cut(axes)
    block(axes, -0.6, -1.0, 0.2, 2.0, "#b9b9b9")
    block(axes, -0.4, -0.6, 3.4, 1.2, OTHER)
    bead(axes, (-0.4, 0.6), 0.25, 0.25)
    bead(axes, (-0.4, -0.6), 0.25, -0.25)


def end_bolted(axes: Axes) -> None:
    blank(axes, "bolted flange", 7, 5)
    rail_cut(axes)
    block(axes, -0.6, -1.1, 0.25, 2.2, "#b9b9b9")
    block(axes, -0.35, -0.6, 3.35, 1.2, OTHER)
    for y in (0.85, -0.85):
        block(axes, -0.85, y - 0.08, 0.75, 0.16, INK)


def end_gusseted(axes: Axes) -> None:
    blank(axes, "gusseted (seen from above)", 7, 5)
    block(axes, -2.2, -2.3, 1.2, 4.6)
    block(axes, -1.0, -0.5, 4.0, 1.0, OTHER)
    fill(axes, [(-1.0, 0.5), (0.3, 0.5), (-1.0, 1.8)], "#b9b9b9")
    fill(axes, [(-1.0, -0.5), (0.3, -0.5), (-1.0, -1.8)], "#b9b9b9")
    size(axes, (-1.0, 2.0), (0.3, 2.0), "along member", (1.0, 0.4))
    size(axes, (0.9, 0.5), (0.9, 1.8), "along rail", (0.9, 0))


def kink(axes: Axes, title: str) -> None:
    blank(axes, title, 8, 4.8)


def kink_mitred(axes: Axes) -> None:
    kink(axes, "mitred")
    fill(axes, [(-3.4, -0.9), (0.2, -0.9), (-0.2, 0.1), (-3.4, 0.1)])
    fill(axes, [(0.2, -0.9), (3.2, 0.6), (2.8, 1.6), (-0.2, 0.1)], OTHER)
    axes.plot((0.2, -0.2), (-0.9, 0.1), color=WELD, linewidth=2.4)


def kink_with_plate(axes: Axes) -> None:
    kink(axes, "mitred with an inner plate")
    fill(axes, [(-3.4, -0.9), (0.2, -0.9), (-0.2, 0.1), (-3.4, 0.1)])
    fill(axes, [(0.2, -0.9), (3.2, 0.6), (2.8, 1.6), (-0.2, 0.1)], OTHER)
    axes.plot((0.28, -0.28), (-1.1, 0.3), color=INK, linewidth=4)
    note(axes, (0.4, -1.5), "plate")


def kink_bent(axes: Axes) -> None:
    kink(axes, "bent")
    lower = [(-3.4, -0.9), (-1.0, -0.9), (0.1, -0.75), (1.0, -0.4), (3.2, 0.7)]
    upper = [(2.8, 1.7), (0.6, 0.6), (-0.1, 0.28), (-1.0, 0.1), (-3.4, 0.1)]
    fill(axes, [*lower, *upper])
    arrow(axes, (-1.4, 1.5), (-0.35, -0.25), "")
    note(axes, (-2.0, 1.75), "bend radius,\nto the middle line")


def splice_butt(axes: Axes) -> None:
    blank(axes, "end to end: welded all round", 9, 3.6)
    block(axes, -3.8, -0.5, 3.8, 1.0)
    block(axes, 0, -0.5, 3.8, 1.0, OTHER)
    axes.plot((0, 0), (-0.5, 0.5), color=WELD, linewidth=2.6)


def splice_plates(axes: Axes) -> None:
    blank(axes, "under fish plates", 9, 3.6)
    block(axes, -3.8, -0.6, 3.8, 1.2)
    block(axes, 0, -0.6, 3.8, 1.2, OTHER)
    fill(axes, [(-2.4, 0), (-1.4, 0.4), (1.4, 0.4), (2.4, 0), (1.4, -0.4), (-1.4, -0.4)], "#b9b9b9")
    size(axes, (-2.4, -1.1), (2.4, -1.1), "length")
    size(axes, (1.4, 1.0), (2.4, 1.0), "taper")


def splice_lap(axes: Axes) -> None:
    blank(axes, "lapped side by side", 9, 3.6)
    block(axes, -3.8, 0, 5.0, 0.9)
    block(axes, -1.2, -0.9, 5.0, 0.9, OTHER)
    size(axes, (-1.2, 1.3), (1.2, 1.3), "lap")
    bead(axes, (-1.2, 0), -0.3, -0.3)
    bead(axes, (1.2, 0), 0.3, 0.3)


def splice_sleeve(axes: Axes) -> None:
    blank(axes, "one in the other", 9, 3.6)
    block(axes, -3.8, -0.7, 5.0, 1.4)
    block(axes, -1.2, -0.5, 2.4, 1.0, OTHER, linestyle="--")
    block(axes, 1.2, -0.5, 2.6, 1.0, OTHER)
    bead(axes, (1.2, 0.5), 0.3, 0.2)
    bead(axes, (1.2, -0.5), 0.3, -0.2)
    note(axes, (2.4, 1.0), "round the mouth")


def plate_axes(axes: Axes) -> None:
    blank(axes, "a skid plate from above", 9, 6)
    block(axes, -3, -2, 6, 4)
    for x in (-2.6, 2.6):
        for y in (-1.6, 1.6):
            axes.add_patch(Circle((x, y), 0.16, facecolor="white", edgecolor=INK))
    arrow(axes, (-3, -2), (0.2, -2), "x, forward", (0.2, -0.35))
    arrow(axes, (-3, -2), (-3, 0.2), "y, to\nthe left", (-0.8, 0.2))
    note(axes, (-3.2, -2.5), "0, 0: rear right corner")
    size(axes, (-3, 2.4), (3, 2.4), "length")
    size(axes, (3.5, -2), (3.5, 2), "width")
    note(axes, (0, 1.7), "left edge")
    note(axes, (0.9, -1.7), "right edge")
    note(axes, (2.1, 0), "front\nedge")
    note(axes, (-2.2, 0.8), "rear\nedge")


def patterns(axes: Axes) -> None:
    blank(axes, "a pattern, facing you", 8, 6)
    block(axes, -2.4, -1.9, 4.8, 3.8, OTHER)
    for x in (-1.4, 1.4):
        for y in (-1.1, 1.1):
            axes.add_patch(Circle((x, y), 0.2, facecolor="white", edgecolor=INK))
    arrow(axes, (0, 0), (0, 1.6), "along", (0.7, 0))
    arrow(axes, (0, 0), (-1.7, 0), "across", (0, 0.35))
    size(axes, (-1.4, -2.3), (1.4, -2.3), "pitch across")
    size(axes, (2.9, -1.1), (2.9, 1.1), "pitch\nalong", (0.3, 0))


def main() -> None:
    """Draw all of them."""
    draw("axes", [from_above, from_the_left, turning], 3, (3.2, 2.2))
    draw("sides", [sides_of_a_box, sides_of_a_rail, open_side], 3, (3.0, 2.6))
    draw("shapes", [tube_sizes, channel_sizes, hat_sizes, angle_sizes, z_sizes, i_sizes, boxed, sleeve, plated], 5, (2.2, 2.2))
    ends = [end_butt, end_through_both, end_through_one, end_in_a_channel, end_on_top, end_underneath, end_on_a_plate, end_bolted]
    draw("ends", [*ends, end_gusseted], 3, (3.0, 2.2))
    draw("kinks", [kink_mitred, kink_with_plate, kink_bent], 3, (3.0, 1.9))
    draw("splices", [splice_butt, splice_plates, splice_lap, splice_sleeve], 2, (3.6, 1.7))
    draw("skid_plate", [plate_axes], 1, (4.2, 3.0))
    draw("pattern", [patterns], 1, (3.6, 3.0))


if __name__ == "__main__":
    main()
