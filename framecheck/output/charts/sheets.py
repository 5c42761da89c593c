"""Drawings of what is not a plain length of a member: a notch, a pattern of bolts, a weld, a skid plate, each with its sizes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.checks.bolts.group import all_bolt_forces
from framecheck.checks.joint_forces import pattern
from framecheck.checks.welds.fillet import THROAT, weld_forces
from framecheck.model.arrays import Array
from framecheck.model.frame import Cut
from framecheck.model.joints import BoltGroup, JointLoad
from framecheck.model.plate import BoltedPlate, Press, Rib, StiffenerRun, Strike
from framecheck.model.weld_joints import WeldGroup
from framecheck.output.charts.chart import (
    ABOVE,
    INK,
    LINE,
    QUIET,
    Area,
    Chart,
    ChartLine,
    Drawn,
    Mark,
    Note,
    PointMark,
    Stroke,
    TextSide,
    colour_of,
    span,
)
from framecheck.output.charts.drawings import METAL, dimension
from framecheck.output.display import Units, bare, shown_unit, with_unit


def notch_chart(cut: Cut, height: float, units: Units) -> Chart:
    """Return a member's side with its notch, the cut side drawn on top. height: of the section that way, m."""
    size = shown_unit("size", units).size
    long, deep, r, high = (each / size for each in (cut.length, cut.depth, cut.corner_radius, height))
    reach = max(long, 1.4 * high)
    corner = rounded(long, deep, min(r, deep, long / 2))
    outline = np.array([(-reach, high), *[(x, high + y) for x, y in corner], (reach, high), (reach, 0.0), (-reach, 0.0)])
    off = 0.16 * high
    marks: list[Drawn] = [Area((outline,), METAL, edge=INK)]
    marks += dimension((-long / 2, high + off), (long / 2, high + off), off / 2)
    marks += dimension((long / 2 + off, high - deep), (long / 2 + off, high), off / 2)
    marks += dimension((reach + off, 0.0), (reach + off, high), off / 2)
    marks += dimension((-reach - off, 0.0), (-reach - off, high - deep), off / 2)
    marks += [
        Note(bare(cut.length, "size", units), (0.0, high + off), TextSide.ABOVE),
        Note(bare(cut.depth, "size", units), (long / 2 + off, high - deep / 2)),
        Note(bare(height, "size", units), (reach + off, high / 2)),
        Note(f"left {bare(height - cut.depth, 'size', units)}", (-reach - off, (high - deep) / 2), TextSide.LEFT),
        Note(f"R {bare(cut.corner_radius, 'size', units)}", (-long / 2 + r, high - deep - 0.02 * high), TextSide.LEFT),
    ]
    room = 0.55 * high
    ends = (-reach - 2 * room, reach + room), (-0.2 * high, high + room)
    return Chart("", "", "", *ends, tuple(marks), is_equal=True, has_axes=False)


def rounded(long: float, deep: float, r: float) -> list[tuple[float, float]]:
    """Return the line of a cut from its left edge down and up again, from the uncut face, with rounded corners."""
    turn = np.linspace(0.0, np.pi / 2, 9)
    left = [(-long / 2 + r - r * float(np.cos(a)), -deep + r - r * float(np.sin(a))) for a in turn]
    return [(-long / 2, 0.0), *left, *[(-x, y) for x, y in reversed(left)], (long / 2, 0.0)]


def bolts_chart(joint: BoltGroup, load: JointLoad, units: Units) -> Chart:
    """Return a pattern of bolts seen square to its plane, with the shear and the pull on each."""
    group, (forces,) = pattern(joint.plane, joint.positions), all_bolt_forces(joint, [load])
    size, force = shown_unit("size", units).size, shown_unit("force", units)
    at = group.positions @ group.axes[:2].T / size
    shear = forces.shear @ group.axes[:2].T
    most = float(np.linalg.norm(shear, axis=1).max(initial=1e-9))
    reach = max(float(np.ptp(at, axis=0).max()), 3 * joint.bolt.hole / size)
    marks: list[Drawn] = []
    for number, (place, push, pull) in enumerate(zip(at, shear, forces.tension, strict=True)):
        x, y = place.tolist()
        ring = circle(x, y, joint.bolt.hole / 2 / size)
        marks += [Area((ring,), METAL, edge=INK), *arrow(place, place + 0.3 * reach * push / most)]
        sheared, pulled = (bare(float(each), "force", units) for each in (np.linalg.norm(push), pull))
        said = f"{number + 1}: shear {sheared}, pull {pulled} {force.label}"
        marks.append(Note(said, (x + 0.06 * reach, y - 0.09 * reach)))
    x, y = span(at[:, 0], room=0.0), span(at[:, 1], room=0.0)
    off = 0.3 * reach
    marks += pitches(at, units, off / 3)
    ends = (x[0] - 2 * off, x[1] + 4 * off), (y[0] - off, y[1] + 1.5 * off)
    return Chart("", "", "", *ends, tuple(marks), is_equal=True, has_axes=False)


def pitches(at: Array, units: Units, cap: float) -> Iterator[Drawn]:
    """Yield how far the bolts lie apart over all, across and along, beside the pattern."""
    size = shown_unit("size", units).size
    (left, low), (right, high) = at.min(axis=0).tolist(), at.max(axis=0).tolist()
    if right - left > 1e-9:
        yield from dimension((left, high + 2.2 * cap), (right, high + 2.2 * cap), cap)
        yield Note(bare((right - left) * size, "size", units), ((left + right) / 2, high + 2.2 * cap), TextSide.ABOVE)
    if high - low > 1e-9:
        yield from dimension((left - 2.2 * cap, low), (left - 2.2 * cap, high), cap)
        yield Note(bare((high - low) * size, "size", units), (left - 2.2 * cap, (low + high) / 2), TextSide.LEFT)


def circle(x: float, y: float, r: float) -> Array:
    """Return a circle's line (33, 2)."""
    turn = np.linspace(0.0, 2 * np.pi, 33)
    return np.column_stack([x + r * np.cos(turn), y + r * np.sin(turn)])


def arrow(tail: Array, tip: Array) -> Iterator[Drawn]:
    """Yield an arrow from a place."""
    way = tip - tail
    aside = np.array([-way[1], way[0]])
    for line in (np.array([tail, tip]), np.array([tip - 0.3 * way + 0.15 * aside, tip, tip - 0.3 * way - 0.15 * aside])):
        yield ChartLine(line[:, 0], line[:, 1], LINE, 1.8)


def weld_chart(joint: WeldGroup, load: JointLoad, units: Units) -> Chart:
    """Return the runs of a weld as they lie, each with its leg and the stress on its throat at the end that bears more."""
    (forces,) = weld_forces(joint.runs, [load])
    legs = np.array([run.leg for run in joint.runs])
    stress = np.linalg.norm(forces.per_length, axis=2).max(axis=1) / (THROAT * legs)
    ends = np.array([(run.start, run.end) for run in joint.runs])
    flat, size = in_plane(ends), shown_unit("size", units).size
    most = float(stress.max(initial=1e-9))
    marks: list[Drawn] = []
    for run, line, each in zip(joint.runs, flat / size, stress, strict=True):
        colour = ABOVE if each >= most * (1 - 1e-9) else INK
        marks.append(ChartLine(line[:, 0], line[:, 1], colour, 3.0))
        said = f"leg {bare(run.leg, 'size', units)}: {with_unit(float(each), 'stress', units)} on the throat"
        marks.append(Note(said, (float(line[:, 0].mean()), float(line[:, 1].mean())), TextSide.ABOVE, colour))
    every = flat.reshape(-1, 2) / size
    room = 0.45 * max(float(np.ptp(every, axis=0).max()), 1e-9)
    x, y = (every[:, 0].min() - room, every[:, 0].max() + room), (every[:, 1].min() - room / 2, every[:, 1].max() + room / 2)
    return Chart("", "", "", x, y, tuple(marks), is_equal=True, has_axes=False)


def in_plane(ends: Array) -> Array:
    """Return places (n, 2, 3) as seen square to the plane in which they lie best, (n, 2, 2)."""
    every = ends.reshape(-1, 3)
    _, _, axes = np.linalg.svd(every - every.mean(axis=0))
    seen: Array = (every @ axes[:2].T).reshape(*ends.shape[:2], 2)
    return seen


def plate_chart(plate: BoltedPlate, load: str, used: float, units: Units) -> Chart:
    """Return a skid plate square to it, its x to the right: sizes, bolts, stiffeners and where a load of it by name presses."""
    size = shown_unit("size", units).size
    length, width = plate.length / size, plate.width / size
    ring = np.array([(0.0, 0.0), (length, 0.0), (length, width), (0.0, width), (0.0, 0.0)])
    marks: list[Drawn] = [Area((ring,), colour_of(min(used, 1.0)) if used <= 1 else ABOVE, 0.25, edge=INK, is_hatched=used > 1)]
    for bolt in plate.bolts:
        x, y = bolt.at[0] / size, bolt.at[1] / size
        marks += [Area((circle(x, y, bolt.seat / 2 / size),), METAL, edge=INK), Note(bolt.name, (x, y), TextSide.ABOVE)]
    for each in plate.stiffeners:
        a, b, at = each.start / size, each.end / size, each.at / size
        line = ((a, b), (at, at)) if each.run is StiffenerRun.X else ((at, at), (a, b))
        stroke = Stroke.SOLID if isinstance(each, Rib) else Stroke.DASHED
        marks.append(ChartLine(np.array(line[0]), np.array(line[1]), LINE, 2.4, stroke))
    marks += rock(plate, load, size)
    off = 0.06 * max(length, width)
    marks += [
        *dimension((0.0, width + off), (length, width + off), off / 2),
        *dimension((length + off, 0.0), (length + off, width), off / 2),
        Note(bare(plate.length, "size", units), (length / 2, width + off), TextSide.ABOVE),
        Note(bare(plate.width, "size", units), (length + off, width / 2)),
    ]
    room = 3 * off
    return Chart("", "", "", (-room, length + 2 * room), (-room, width + room), tuple(marks), is_equal=True, has_axes=False)


def rock(plate: BoltedPlate, load: str, size: float) -> Sequence[Drawn]:
    """Return where a load of a plate presses, marked."""
    of = next((each for each in plate.loads if each.name == load and isinstance(each, Press | Strike)), None)
    if not isinstance(of, Press | Strike):
        return ()
    (x, y), (wide, high) = ((each[0] / size, each[1] / size) for each in (of.patch.at, of.patch.size))
    corners = ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1))
    ring = np.array([(x + side * wide / 2, y + end * high / 2) for side, end in corners])
    return (Area((ring,), QUIET, 0.7, edge=INK), Mark((x, y), PointMark.CROSS, ABOVE, 9.0), Note("the rock", (x, y)))
