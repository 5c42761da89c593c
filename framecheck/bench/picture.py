"""The frame on the page: in space as the report draws it, from above and from the side; each thing in it leads to its fields."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import isinf

import numpy as np

from framecheck.bench.handles import Handle, Written, handles_of
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame
from framecheck.output.charts.chart import (
    INK,
    LINE,
    QUIET,
    WARN,
    Chart,
    Drawn,
    DrawnThing,
    Group,
    Mark,
    Note,
    PointMark,
    Range,
    Scale,
    Strokes,
    TextSide,
)
from framecheck.output.charts.forces_chart import tipped
from framecheck.output.charts.frame_chart import Pictured, ends_of, flat, frame_chart, line, strokes
from framecheck.output.charts.room import BESIDE, Pixels
from framecheck.output.charts.svg import SvgSheet, as_svg, view_of
from framecheck.output.display import Units
from framecheck.output.wording import ringed_words
from framecheck.results.free_body import free_body
from framecheck.results.places import found_at
from framecheck.results.summary import drawn_row, governing_bound
from framecheck.run import Results
from framecheck.value_class import value_class

SPACE = Pixels(640.0, 320.0)
WIDE, MARGINS = 640.0, 32.0
"""How wide a flat view is, and what its margins take of both sides, pixels."""
LONGEST, LEAST = 0.16, 0.06
"""How long the largest force is drawn, as a share of the picture's width; and which share of it the least that is drawn is."""


@value_class
class Plan:
    """A flat view. rows: which of x, y, z lie across and up; sides: what lies at the left, right, below, above."""

    title: str
    rows: tuple[int, int]
    sides: tuple[str, str, str, str]

    def of(self, places: Array) -> Array:
        """Return places (n, 3) as seen here (n, 2)."""
        return places[:, list(self.rows)]


PLANS = (
    Plan("from above", (0, 1), ("rear", "front", "right", "left")),
    Plan("from the right", (0, 2), ("rear", "front", "", "")),
)


def picture_of(results: Results, written: Written, units: Units) -> str:
    """Return the pictures of a case that was judged, as SVG elements."""
    outcome, frame = results.outcome, results.outcome.case.frame
    if not outcome.loads or not frame.members:
        return built_picture(frame, written)
    row = drawn_row(outcome, results.rows)
    bound = governing_bound(outcome, row)
    case = next((number for number, loads in enumerate(outcome.loads) if row is not None and loads.name == row.load_case), 0)
    worst = found_at(outcome, row, bound, case)
    said = "" if row is None else ringed_words(row, units)
    chart = frame_chart(outcome, Pictured(bound, case, None, worst, said), units, SPACE)
    marks = (*things(chart.marks, frame), *arrows(results, bound, case, chart))
    shown = replace(chart, marks=marks, scale=Scale("used, %", 100.0))
    said = "Darker: more of what is allowed on yield is used; red, hatched: more than all of it. Blue arrows: loads; dark: supports."
    sheet = SvgSheet((shown,), 1, SPACE.wide, SPACE.high)
    space = as_svg(sheet, "space", f"The frame as it moves in '{outcome.loads[case].name}'", said, "group")
    coloured = [strokes(outcome, stress, case, 0.0) for stress in outcome.stresses[bound]]
    lines = [(stress.forces.places, each.colours) for stress, each in zip(outcome.stresses[bound], coloured, strict=True)]
    return space + plans(frame, written, lines)


def built_picture(frame: Frame, written: Written) -> str:
    """Return the pictures of a frame that is not solved."""
    if not frame.members:
        return ""
    paths = [np.array([frame.points[name] for name in member.points]) for member in frame.members]
    room = ends_of([flat(path) for path in paths], SPACE.plot(BESIDE))
    marks = tuple(
        DrawnThing((Strokes(flat(path), (QUIET,) * (len(path) - 1), 3.0),), member.name, member.name)
        for member, path in zip(frame.members, paths, strict=True)
    )
    chart = Chart("", "", "", room.x, room.y, marks, is_equal=True, has_axes=False)
    sheet = SvgSheet((chart,), 1, SPACE.wide, SPACE.high)
    space = as_svg(sheet, "space", "The frame as built", "It is not solved: it has no colours.", "group")
    return space + plans(frame, written, [(path, (QUIET,) * (len(path) - 1)) for path in paths])


def things(marks: Sequence[Drawn], frame: Frame) -> Iterator[Drawn]:
    """Yield marks, each line that is a member as a thing that can be chosen."""
    names = {member.name for member in frame.members}
    for group in marks:
        for mark in group.marks if isinstance(group, Group) else (group,):
            is_member = isinstance(mark, Strokes) and mark.name in names
            yield DrawnThing((mark,), mark.name, mark.name) if is_member and isinstance(mark, Strokes) else mark


def arrows(results: Results, bound: int, case: int, chart: Chart) -> Iterator[Drawn]:
    """Yield what acts on the frame: loads, and what the supports do."""
    pushes = free_body(results.outcome, bound, case).pushes
    most = max((each.size for each in pushes), default=0.0)
    wide = chart.x[1] - chart.x[0]
    for push in pushes:
        if push.size > LEAST * most > 0:
            points = flat(np.array([push.at - push.force / most * LONGEST * wide, push.at]))
            yield from tipped(points, INK if push.is_reaction else LINE, 0.012 * wide)


def plans(frame: Frame, written: Written, lines: Sequence[tuple[Array, tuple[str, ...]]]) -> str:
    """Return the frame from above and from the side; lines: of each member its places (n, 3) and the colours of its pieces."""
    handles = handles_of(frame, written)
    return "".join(plan(frame, each, number, lines, handles) for number, each in enumerate(PLANS))


def plan(
    frame: Frame, seen: Plan, number: int, lines: Sequence[tuple[Array, tuple[str, ...]]], handles: Sequence[Handle]
) -> str:  # fmt: skip
    """Return one flat view."""
    x, y, high = paper([seen.of(places) for places, _ in lines])
    empty = Chart("", "", "", x, y, (), is_equal=True, has_axes=False)
    pixels = view_of(empty, WIDE, high).across / (x[1] - x[0])
    dragged = {each.name: each for each in handles}
    marks: list[Drawn] = []
    for member, (places, colours) in zip(frame.members, lines, strict=True):
        handle = dragged.get(member.name)
        how = () if handle is None else facts(handle, seen, pixels)
        said = member.name if handle is None else handle.said
        marks.append(DrawnThing((Strokes(seen.of(places), colours, 4.0),), member.name, said, how))
        marks += ends(member.name, seen.of(places), 9.0 / pixels)
    marks += (dot(name, seen.of(np.array([place]))[0]) for name, place in frame.points.items())
    marks += (notch(each, seen, pixels) for each in handles if each.is_cut)
    marks += sides(seen, x, y)
    chart = replace(empty, marks=tuple(marks))
    said = "Each member, end, point and notch leads to its fields; crossmembers and notches can be dragged."
    return as_svg(SvgSheet((chart,), 1, WIDE, high), f"plan{number}", f"The frame {seen.title}", said, "group")


def paper(points: Sequence[Array]) -> tuple[Range, Range, float]:
    """Return the ends of a flat view of points (n, 2), and how high its paper is: no higher than the frame needs."""
    every = np.concatenate(points)
    (left, low), (right, top) = every.min(axis=0).tolist(), every.max(axis=0).tolist()
    wide = max(right - left, (top - low) * 2.0, 1e-3)
    middle, room = (left + right) / 2, 0.06 * wide
    high = max(top - low, 0.02 * wide)
    x, y = (middle - wide / 2 - room, middle + wide / 2 + room), (low - 1.4 * room, low + high + room)
    return x, y, (y[1] - y[0]) / (x[1] - x[0]) * (WIDE - MARGINS) + MARGINS


def facts(handle: Handle, seen: Plan, pixels: float) -> tuple[tuple[str, str], ...]:
    """Return what the page needs to drag a thing: the numbers that change, how many pixels it goes as the first grows by a metre, how
    far back and forward, m; or why it stays.
    """
    if handle.held:
        return (("held", handle.said),)
    across, up = (pixels * seen.of(handle.way[None])[0]).tolist()
    if abs(across) + abs(up) <= 1.0:
        return ()
    reach = () if isinf(handle.reach[1]) else (("reach", "{:.4f} {:.4f}".format(*handle.reach)),)
    return (("moves", json.dumps(handle.moves)), ("way", f"{across:.3f} {-up:.3f}"), *reach)


def notch(handle: Handle, seen: Plan, pixels: float) -> DrawnThing:
    """Return a notch as a ring that can be dragged."""
    x, y = seen.of(handle.places)[0].tolist()
    mark, note = Mark((x, y), PointMark.RING, WARN, 12.0), Note(handle.name, (x, y - 22.0 / pixels), TextSide.MIDDLE, WARN)
    return DrawnThing((mark, note), handle.name, handle.said, facts(handle, seen, pixels))


def dot(name: str, at: Array) -> DrawnThing:
    """Return a frame point."""
    x, y = at.tolist()
    return DrawnThing((Mark((x, y), PointMark.RING, INK, 3.0),), name, f"point {name}")


def ends(name: str, points: Array, inset: float) -> Iterator[DrawnThing]:
    """Yield the two ends of a member (n, 2), short strokes across it a little within."""
    for run in (points, points[::-1]):
        away = np.linalg.norm(run - run[0], axis=1)
        far = int(np.argmax(away > 4 * inset))
        if away[far] > 4 * inset:
            first, way = run[0], (run[far] - run[0]) / away[far]
            at, aside = first + 2 * inset * way, 0.7 * inset * np.array([-way[1], way[0]])
            yield DrawnThing((line(np.array([at - aside, at + aside]), INK, 3.0),), name, f"how {name} ends", (("field", "ends"),))


def sides(seen: Plan, x: Range, y: Range) -> Iterator[Drawn]:
    """Yield what lies on each side, along the edges."""
    mid_x, mid_y = sum(x) / 2, sum(y) / 2
    wide, high = x[1] - x[0], y[1] - y[0]
    left, right, below, above = seen.sides
    yield Note(left, (x[0] + 0.005 * wide, mid_y), TextSide.MIDDLE, QUIET, is_turned=True)
    yield Note(right, (x[1] - 0.005 * wide, mid_y), TextSide.MIDDLE, QUIET, is_turned=True)
    yield Note(f"{seen.title}{f': {below} side' if below else ''}", (mid_x, y[0] + 0.02 * high), TextSide.MIDDLE, INK)
    if above:
        yield Note(f"{above} side", (mid_x, y[1] - 0.04 * high), TextSide.MIDDLE, INK)


