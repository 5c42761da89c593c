"""A skid plate square to it: lines of equal movement with their values, what of the gap they use, bolts, stiffeners, the rock."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from framecheck.checks.plate.answer import LoadAnswer, PlateAnswer
from framecheck.checks.plate.bending import patch_of
from framecheck.model.arrays import Array
from framecheck.model.plate import ASKED, BoltedPlate, PlateLoad, Rib, StiffenerRun
from framecheck.output.charts.chart import (
    ABOVE,
    INK,
    LINE,
    QUIET,
    WORSE,
    Area,
    Chart,
    ChartLine,
    Drawn,
    Mark,
    Note,
    PointMark,
    Range,
    Scale,
    Stroke,
    TextSide,
    colour_of,
)
from framecheck.output.charts.drawings import METAL, dimension
from framecheck.output.charts.room import BESIDE, BESIDE_SCALE, Pixels, Room, RoomForWords
from framecheck.output.charts.sheets import circle
from framecheck.output.charts.ticks import step_for, tick_text
from framecheck.output.display import Units, bare, shown_unit, with_unit
from framecheck.value_class import array_class

MOST_LINES = 6
"""So many lines of equal movement are drawn at most."""
BANDS = 10
"""Steps of colour from no movement to all that is allowed."""
FINE = 61
"""Places along each side at which the movement is read for its lines."""


@array_class
class DrawnMovement:
    """A plate's movement as drawn: x (n,) and y (m,) in shown sizes; up: (m, n), toward the pan, in shown movements.

    allowed: all that it may move toward the pan, in shown movements; None: the gap is unknown.
    """

    x: Array
    y: Array
    up: Array
    allowed: float | None


def plate_chart(answer: PlateAnswer, load: LoadAnswer, units: Units, size: Pixels) -> Chart:
    """Return the chart. size: of the picture, pixels."""
    plate, moved = answer.plate, moved_of(answer, load, units)
    is_coloured = moved is not None and moved.allowed is not None
    room = room_of(plate, units, size.plot(BESIDE_SCALE if is_coloured else BESIDE))
    unit = shown_unit("size", units).size
    length, width = plate.length / unit, plate.width / unit
    ring = np.array([(0.0, 0.0), (length, 0.0), (length, width), (0.0, width), (0.0, 0.0)])
    marks: list[Drawn] = [] if moved is None else list(bands(moved))
    marks += [Area((ring,), "none", edge=INK), *stiffeners(plate, unit), *patch(load.load, unit, room.pixel), *bolts(plate, unit)]
    marks += [*measured(plate, room, units), *edges_named(plate, room, unit)]
    if moved is not None:
        words = RoomForWords(room, [each for each in marks if isinstance(each, Note)])
        marks += peak(answer, moved, words, units, room)
        marks += lines(moved, words)
    scale = Scale("toward the pan, % of what is allowed", 100.0) if is_coloured else None
    return Chart("", "", "", room.x, room.y, tuple(marks), scale=scale, is_equal=True, has_axes=False)


def moved_of(answer: PlateAnswer, load: LoadAnswer, units: Units) -> DrawnMovement | None:
    """Return the movement under a load in fine steps; None where nothing stops the plate."""
    if load.moved is None:
        return None
    unit, by = shown_unit("size", units).size, shown_unit("deflection", units).size
    x, y = (np.linspace(float(each[0]), float(each[-1]), FINE) for each in (load.moved.x, load.moved.y))
    along = np.array([np.interp(x, load.moved.x, row) for row in load.moved.up.T])
    up = np.array([np.interp(y, load.moved.y, column) for column in along.T]).T
    allowed = None if answer.clearance is None else answer.clearance / ASKED.gap / by
    return DrawnMovement(x / unit, y / unit, up / by, allowed)


def room_of(plate: BoltedPlate, units: Units, plot: Pixels) -> Room:
    """Return the picture's room, with the plate in the middle of it and words round it."""
    unit = shown_unit("size", units).size
    length, width = plate.length / unit, plate.width / unit
    pixel = max(length / (plot.wide - 170.0), width / (plot.high - 64.0))
    beside, below = plot.wide * pixel - length, plot.high * pixel - width
    return Room((-beside / 2, length + beside / 2), (-below * 0.4, width + below * 0.6), pixel)


def bands(moved: DrawnMovement) -> Iterator[Area]:
    """Yield what lies between steps of the movement toward the pan, each in its colour; nothing where the gap is unknown."""
    if moved.allowed is None:
        return
    from contourpy import FillType, contour_generator

    share = np.clip(moved.up / moved.allowed, 0.0, None)
    filled = contour_generator(moved.x, moved.y, share, fill_type=FillType.OuterOffset)
    levels = [*np.linspace(0.0, 1.0, BANDS + 1).tolist(), max(float(share.max()), 1.0) + 1.0]
    for low, high in pairwise(levels):
        is_over = low >= 1.0
        colour = ABOVE if is_over else colour_of(high)
        points, offsets, *_ = filled.filled(low if low > 0 else -1.0, high)
        for outline, ends in zip(points, offsets or (), strict=True):
            if outline is not None and ends is not None:
                yield Area(tuple(np.asarray(outline[a:b]) for a, b in pairwise(ends)), colour, is_hatched=is_over)


def lines(moved: DrawnMovement, words: RoomForWords) -> Iterator[Drawn]:
    """Yield lines of equal movement at round values, each with its value where there is room."""
    from contourpy import contour_generator

    low, high = float(moved.up.min()), float(moved.up.max())
    if high - low <= 0:
        return
    step = step_for(high - low, MOST_LINES)
    found = contour_generator(moved.x, moved.y, moved.up)
    for number in range(int(np.ceil(low / step)), int(np.floor(high / step)) + 1):
        value = number * step
        for line in found.lines(value):
            points = np.asarray(line)
            is_dark = moved.allowed is not None and value > 0.55 * moved.allowed
            colour, stroke = WORSE[0] if is_dark else INK, Stroke.SOLID if value >= 0 else Stroke.DASHED
            yield ChartLine(points[:, 0], points[:, 1], colour, 0.8, stroke)
            if note := labelled(points, tick_text(value, step), words):
                yield note


def labelled(points: Array, text: str, words: RoomForWords) -> Note | None:
    """Return a line's value at the first of some places on it that is free."""
    for share in (0.0, 0.25, 0.5, 0.75, 0.12, 0.62):
        if note := words.free(text, points[round(share * (len(points) - 1))]):
            return note
    return None


def peak(answer: PlateAnswer, moved: DrawnMovement, words: RoomForWords, units: Units, room: Room) -> Iterator[Drawn]:
    """Yield where the plate comes nearest to the pan, with what it moves there and what is left of the gap."""
    row, column = np.unravel_index(int(np.argmax(moved.up)), moved.up.shape)
    at, up = np.array([moved.x[column], moved.y[row]]), float(moved.up[row, column])
    yield Mark((float(at[0]), float(at[1])), PointMark.RING, ABOVE, 9.0)
    by = shown_unit("deflection", units)
    text = f"moves {with_unit(abs(up) * by.size, 'deflection', units)} {'up' if up >= 0 else 'down'}"
    if answer.clearance is not None:
        left = max(answer.clearance - max(up, 0.0) * by.size, 0.0)
        text += f", {bare(left, 'deflection', units)} left" if left > 0 else ", touches"
    for lift in (36.0, 10.0, -26.0, 52.0, -42.0):
        if note := words.free(text, at + np.array([0.0, lift * room.pixel])):
            yield note
            return


def stiffeners(plate: BoltedPlate, unit: float) -> Iterator[Drawn]:
    """Yield ribs as full lines, beads dashed."""
    for each in plate.stiffeners:
        a, b, at = each.start / unit, each.end / unit, each.at / unit
        line = ((a, b), (at, at)) if each.run is StiffenerRun.X else ((at, at), (a, b))
        yield ChartLine(np.array(line[0]), np.array(line[1]), LINE, 2.4, Stroke.SOLID if isinstance(each, Rib) else Stroke.DASHED)


def bolts(plate: BoltedPlate, unit: float) -> Iterator[Drawn]:
    """Yield each bolt's seat, to scale, with its name beside the plate's middle."""
    for bolt in plate.bolts:
        x, y = bolt.at[0] / unit, bolt.at[1] / unit
        is_right = x > 0.75 * plate.length / unit
        yield Area((circle(x, y, bolt.seat / 2 / unit),), METAL, edge=INK)
        yield Note(bolt.name, (x - 0.4 * bolt.seat / unit if is_right else x + 0.4 * bolt.seat / unit, y),
                   TextSide.LEFT if is_right else TextSide.RIGHT)  # fmt: skip


def patch(load: PlateLoad, unit: float, pixel: float) -> Iterator[Drawn]:
    """Yield where a load presses; nothing where it lies on the whole plate."""
    of = patch_of(load)
    if of is None:
        return
    (x, y), (wide, high) = ((each[0] / unit, each[1] / unit) for each in (of.at, of.size))
    corners = np.array(((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1)))
    ring = np.array([x, y]) + corners * np.array([wide, high]) / 2
    yield Area((ring,), QUIET, 0.35, edge=INK)
    yield Note("the rock", (x, y - high / 2 - 16 * pixel), TextSide.ABOVE)


def measured(plate: BoltedPlate, room: Room, units: Units) -> Iterator[Drawn]:
    """Yield the plate's length and width."""
    unit = shown_unit("size", units).size
    length, width, off, cap = plate.length / unit, plate.width / unit, 12 * room.pixel, 7 * room.pixel
    yield from dimension((0.0, width + off), (length, width + off), cap)
    yield from dimension((length + off, 0.0), (length + off, width), cap)
    yield Note(bare(plate.length, "size", units), (length / 2, width + off), TextSide.ABOVE)
    yield Note(bare(plate.width, "size", units), (length + off, width / 2))


def edges_named(plate: BoltedPlate, room: Room, unit: float) -> Iterator[Note]:
    """Yield the plate's edges by name."""
    length, width = plate.length / unit, plate.width / unit
    ends: Range = (-4 * room.pixel, length + 34 * room.pixel)
    yield Note("rear", (ends[0], width / 2), TextSide.LEFT, LINE)
    yield Note("front", (ends[1], width / 2 + 16 * room.pixel), TextSide.RIGHT, LINE)
    yield Note("left", (length * 0.2, width + 14 * room.pixel), TextSide.ABOVE, LINE)
    yield Note("right", (length * 0.2, -18 * room.pixel), TextSide.ABOVE, LINE)
