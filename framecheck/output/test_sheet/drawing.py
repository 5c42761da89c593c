"""The rig as a drawing: the frame, its stands, the load, and the dials by their letters; and the twist that is expected along it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.model.arrays import Array, Vector
from framecheck.output.charts.chart import (
    INK,
    LINE,
    QUIET,
    WARN,
    Area,
    Chart,
    ChartLine,
    Dots,
    Drawn,
    Mark,
    Note,
    PointMark,
    Stroke,
    TextSide,
    level,
    span,
)
from framecheck.output.charts.frame_chart import compass, flat
from framecheck.output.display import Units, shown_unit
from framecheck.output.test_sheet.wording import letter
from framecheck.rig.setup import Rig, Stand
from framecheck.rig.sheet import Sheet

SIZE = 0.035
"""How large a stand is drawn, as a share of the frame's length; an arrow is three times as long."""


def rig_chart(rig: Rig) -> Chart:
    """Return the frame on its rig as seen from the left, ahead and above."""
    every = np.array(list(rig.frame.points.values()))
    size = SIZE * float(np.ptp(every, axis=0).max())
    lines = [np.array([rig.frame.points[name] for name in member.points]) for member in rig.frame.members]
    marks: list[Drawn] = [polyline(each, INK, 2.4) for each in lines]
    for number, stand in enumerate(rig.stands):
        marks += stand_marks(stand, size, "stand" if number == 0 else "")
    for number, part in enumerate(rig.arrows):
        if float(np.linalg.norm(part.force)) > 1e-9:
            marks += arrow(np.array(part.spot.at), part.force, size, "load" if number == 0 else "")
    marks += dial_marks(rig, size)
    stands = np.array([stand.at for stand in rig.stands])
    down, up = np.array([0, 0, 2 * size]), np.array([0, 0, 3 * size])
    around = np.concatenate([flat(every), flat(stands - down), flat(every - down), flat(every + up)])
    x, y = span(around[:, 0], room=0.06), span(around[:, 1], room=0.08)
    return Chart("", "", "", x, y, (*marks, *compass(x, y)), is_equal=True, has_axes=False)


def polyline(places: Array, colour: str, width: float) -> ChartLine:
    """Return a line through places (n, 3)."""
    seen = flat(places)
    return ChartLine(seen[:, 0], seen[:, 1], colour, width)


def stand_marks(stand: Stand, size: float, label: str) -> Iterator[Drawn]:
    """Yield a triangle under the stand's place, and the beam where several spots stand on it."""
    spots = np.array([part.spot.at for part in stand.parts])
    top = flat(np.array([stand.at]))[0]
    if len(spots) == 2:
        yield polyline(spots - np.array([0, 0, 0.3 * size]), LINE, 4.0)
    ring = top + size * np.array([[0.0, 0.0], [-0.7, -1.5], [0.7, -1.5], [0.0, 0.0]])
    yield Area((ring,), LINE, 0.8, label=label)


def arrow(at: Array, force: Vector, size: float, label: str) -> Iterator[Drawn]:
    """Yield an arrow that ends at a place where it pushes up or sideways, and begins there where it pulls down."""
    way = np.array(force) / np.linalg.norm(force)
    tail, tip = flat(np.array([at + 0.2 * size * way, at + 3.2 * size * way]))
    along = (tip - tail) / max(float(np.linalg.norm(tip - tail)), 1e-12)
    side = np.array([-along[1], along[0]])
    yield ChartLine(np.array([tail[0], tip[0]]), np.array([tail[1], tip[1]]), WARN, 2.6, label=label)
    head = np.array([tip, tip - size * (along - 0.5 * side), tip - size * (along + 0.5 * side), tip])
    yield Area((head,), WARN)


def dial_marks(rig: Rig, size: float) -> Iterator[Drawn]:
    """Yield each dial as a ring with its letter."""
    at = flat(np.array([dial.spot.at for dial in rig.dials]))
    yield Dots(at, (WARN,) * len(at), 5.0)
    for number, (x, y) in enumerate(at.tolist()):
        if number == 0:
            yield Mark((x, y), PointMark.RING, WARN, 9.0, "dial")
        else:
            yield Mark((x, y), PointMark.RING, WARN, 9.0)
        if rig.dials[number].spot.at[1] > 0:
            yield Note(letter(number), (x + 0.4 * size, y + 0.5 * size), TextSide.RIGHT)
        else:
            yield Note(letter(number), (x - 0.2 * size, y - 0.9 * size), TextSide.LEFT)


def twist_chart(sheet: Sheet, units: Units) -> Chart:
    """Return the turn of each pair of dials under the top load with its range; room for the readings to be drawn in by hand."""
    along, turn = shown_unit("length", units), shown_unit("angle", units)
    x = np.array([plane.x for plane in sheet.rig.planes]) / along.size
    low, mid, high = (each[:, -1] / turn.size for each in (sheet.turns.low, sheet.turns.mid, sheet.turns.high))
    ring = np.column_stack([np.concatenate([x, x[::-1], x[:1]]), np.concatenate([low, high[::-1], low[:1]])])
    rear, front = span(x, room=0.04)
    marks: tuple[Drawn, ...] = (
        Area((ring,), LINE, 0.2, label="range"),
        ChartLine(x, mid, label="expected"),
        *(ChartLine(x, mid * step, QUIET, 0.8, Stroke.DASHED) for step in (sheet.loads[:-1] / sheet.loads[-1]).tolist()),
        Dots(np.column_stack([x, mid]), (LINE,) * len(x), 5.0),
        level((front, rear), 0.0, QUIET),
    )
    title = "Twist along the frame at the top load (dashed: at the steps below)"
    return Chart(title, f"x, {along.label} (front at the left)", f"turn, {turn.label}", (front, rear), span(low, high, 0.0), marks)
