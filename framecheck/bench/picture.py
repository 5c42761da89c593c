"""The frame as one SVG: in space, from above, from the side; members coloured by what they use, the governing loads as arrows."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from html import escape
from itertools import accumulate, pairwise
from math import cos, dist, hypot, radians, sin

from framecheck.model.arrays import Vector
from framecheck.model.frame import Frame
from framecheck.model.loads import PointLoad
from framecheck.output.charts.chart import colour_of
from framecheck.value_class import value_class

WIDE, HIGH = 640.0, 420.0
"""The picture's size; its lower third holds the two flat views."""
MARGIN = 34.0
TURN, TILT = radians(-35.0), radians(22.0)
LEAST = 0.08
"""Forces under this share of the largest are not drawn."""
UNUSED = "#8a8f98"
Shown = tuple[float, float]
Projection = Callable[[Vector], Shown]


@value_class
class Scene:
    """What is drawn. used: share of what is allowed by member; loads: on points, in the load case that governs; said: its name."""

    frame: Frame
    used: Mapping[str, float]
    loads: Sequence[PointLoad] = ()
    said: str = ""


def in_space(place: Vector) -> Shown:
    """Return a place as seen from the front left, a little from above; up is up, the front is to the right."""
    x, y, z = place
    across, depth = x * cos(TURN) - y * sin(TURN), x * sin(TURN) + y * cos(TURN)
    return across, z * cos(TILT) + depth * sin(TILT)


def from_above(place: Vector) -> Shown:
    """Return a place as seen from above: the front to the right, left on top."""
    return place[0], place[1]


def from_the_left(place: Vector) -> Shown:
    """Return a place as seen from the right-hand side of the page: the front to the right, up on top."""
    return place[0], place[2]


VIEWS = (
    ("in space", in_space, (0.0, 0.0, WIDE, 0.62 * HIGH)),
    ("from above", from_above, (0.0, 0.62 * HIGH, WIDE / 2, 0.38 * HIGH)),
    ("from the side", from_the_left, (WIDE / 2, 0.62 * HIGH, WIDE / 2, 0.38 * HIGH)),
)


def picture_of(scene: Scene) -> str:
    """Return the SVG element of a frame."""
    views = "".join(view(scene, title, shown, box) for title, shown, box in VIEWS)
    said = f" Loads of {escape(scene.said)}." if scene.said else ""
    return (
        f'<svg viewBox="0 0 {WIDE:g} {HIGH:g}" role="group" '
        f'aria-label="The frame in three views: members coloured by the share used.{said}">'
        f'<defs><marker id="tip" viewBox="0 0 8 8" refX="7" refY="4" markerWidth="6" markerHeight="6" orient="auto">'
        f'<path d="M0 0L8 4L0 8z" fill="#b3261e"/></marker></defs>{views}</svg>'
    )


def view(scene: Scene, title: str, shown: Projection, box: tuple[float, float, float, float]) -> str:
    """Return one view in its box of the sheet (left, top, wide, high)."""
    flat = {name: shown(place) for name, place in scene.frame.points.items()}
    placed = to_sheet(flat, box)
    is_large = title == "in space"
    parts = [f'<text x="{box[0] + 8:g}" y="{box[1] + 15:g}" class="said">{escape(title)}</text>']
    parts += members(scene, placed, is_large)
    parts += points(placed, is_large)
    if is_large:
        parts += (*arrows(scene, placed, shown), *cuts(scene, placed))
        parts += key(scene)
    return f"<g>{''.join(parts)}</g>"


def to_sheet(flat: Mapping[str, Shown], box: tuple[float, float, float, float]) -> dict[str, Shown]:
    """Return points on the sheet, to one scale both ways, in the middle of their box."""
    left, top, wide, high = box
    xs, ys = [at[0] for at in flat.values()] or [0.0], [at[1] for at in flat.values()] or [0.0]
    scale = min((wide - 2 * MARGIN) / max(max(xs) - min(xs), 1e-6), (high - 2 * MARGIN) / max(max(ys) - min(ys), 1e-6))
    middle = (max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2
    return {
        name: (left + wide / 2 + (x - middle[0]) * scale, top + high / 2 - (y - middle[1]) * scale) for name, (x, y) in flat.items()
    }


def members(scene: Scene, placed: Mapping[str, Shown], named: bool) -> Iterator[str]:
    """Yield a line a member, with its name where there is room; a click on it leads to its fields."""
    for member in scene.frame.members:
        way = [placed[name] for name in member.points]
        line = " ".join(f"{x:.1f},{y:.1f}" for x, y in way)
        share = scene.used.get(member.name)
        colour = UNUSED if share is None else colour_of(share)
        told = escape(member.name if share is None else f"{member.name}: {100 * share:.0f} % of what is allowed")
        over = ' class="member over"' if share is not None and share > 1 else ' class="member"'
        yield (
            f'<polyline{over} data-name="{escape(member.name)}" points="{line}" fill="none" stroke="{colour}" '
            f'tabindex="0" role="button" aria-label="{told}"><title>{told}</title></polyline>'
        )
        if named:
            x, y = middle_of(way)
            yield f'<text x="{x:.1f}" y="{y - 5:.1f}" class="name" text-anchor="middle">{escape(member.name)}</text>'


def middle_of(way: Sequence[Shown]) -> Shown:
    """Return the middle of the longest part of a line."""
    pairs = list(pairwise(way))
    (a, b), (c, d) = max(pairs, key=lambda each: hypot(each[1][0] - each[0][0], each[1][1] - each[0][1]))
    return (a + c) / 2, (b + d) / 2


def points(placed: Mapping[str, Shown], is_large: bool) -> Iterator[str]:
    """Yield a dot a point, which tells its name."""
    for name, (x, y) in placed.items():
        told, size = escape(name), 3 if is_large else 2
        yield f'<circle class="point" data-name="{told}" cx="{x:.1f}" cy="{y:.1f}" r="{size}"><title>{told}</title></circle>'


def cuts(scene: Scene, placed: Mapping[str, Shown]) -> Iterator[str]:
    """Yield a white mark where a member is notched, with the notch's name."""
    for member, cut in ((each, cut) for each in scene.frame.members for cut in each.cuts):
        lengths = [dist(scene.frame.points[a], scene.frame.points[b]) for a, b in pairwise(member.points)]
        begun = [0.0, *accumulate(lengths)]
        number = max(count for count in range(len(lengths)) if begun[count] <= cut.at + 1e-9)
        share = (cut.at - begun[number]) / lengths[number]
        (ax, ay), (bx, by) = placed[member.points[number]], placed[member.points[number + 1]]
        x, y = ax + share * (bx - ax), ay + share * (by - ay)
        told = escape(cut.name)
        yield f'<circle class="cut" data-name="{told}" cx="{x:.1f}" cy="{y:.1f}" r="5"><title>{told}</title></circle>'
        yield f'<text x="{x:.1f}" y="{y + 18:.1f}" class="name" text-anchor="middle">{told}</text>'


def key(scene: Scene) -> Iterator[str]:
    """Yield what the colours and arrows mean."""
    words = "dark: most of what is allowed is used; dashed: more than that" if scene.used else "not solved: no colours"
    said = f"; arrows: the larger loads of '{scene.said}'" if scene.loads else ""
    yield f'<text x="8" y="{HIGH - 8:g}" class="said">{escape(words + said)}</text>'


def arrows(scene: Scene, placed: Mapping[str, Shown], shown: Projection) -> Iterator[str]:
    """Yield an arrow for each force on a point, the largest a fifth of the height long."""
    sizes = [hypot(*load.force) for load in scene.loads]
    largest = max(sizes, default=0.0)
    for load, size in zip(scene.loads, sizes, strict=True):
        if size < LEAST * largest or not largest or load.point not in placed:
            continue
        across, up = shown(load.force)
        long = 0.2 * HIGH / largest
        x, y = placed[load.point]
        ends = f'x1="{x - across * long:.1f}" y1="{y + up * long:.1f}" x2="{x:.1f}" y2="{y:.1f}"'
        yield f'<line class="load" {ends} marker-end="url(#tip)"><title>{escape(load.point)}</title></line>'
