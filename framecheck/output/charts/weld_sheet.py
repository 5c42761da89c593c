"""A weld square to the plane of its runs: each leg to scale, the stress on its throat along it, the worst end ringed."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.welds.check import run_strength
from framecheck.checks.welds.fillet import THROAT, allowed_factor, angles, ends_of, weld_forces
from framecheck.model.arrays import Array
from framecheck.model.joints import ASKED, JointLoad
from framecheck.model.weld_joints import WeldGroup, WeldRun
from framecheck.output.charts.chart import (
    ABOVE,
    INK,
    Area,
    Chart,
    Drawn,
    Mark,
    Note,
    PointMark,
    Scale,
    colour_of,
    is_above,
    letters_wide,
)
from framecheck.output.charts.room import BESIDE_SCALE, Pixels, Room, RoomForWords
from framecheck.output.charts.square_on import looking_at, overall, room_round, sides
from framecheck.output.display import Units, bare, shown_unit
from framecheck.value_class import array_class

NONE_BELOW = 1e-3
"""What is less than this share of a run's largest stress is rounding beside it, and told as none."""
PIECES = 24
"""Pieces of a run, each in one colour."""


@array_class
class Stressed:
    """A run's throat at even places along it: where (k, 3) m, the stress Pa, and the share of what the weld metal may bear, (k,)."""

    run: WeldRun
    places: Array
    stress: Array
    share: Array


def stressed_runs(joint: WeldGroup, load: JointLoad) -> list[Stressed]:
    """Return every run of a weld under a load; a run's force per length goes straight from end to end (weld_forces)."""
    (forces,) = weld_forces(joint.runs, [load])
    along = np.linspace(0.0, 1.0, PIECES + 1)[:, None]
    every = np.stack([(1 - along) * ends[0] + along * ends[1] for ends in forces.per_length])
    size, turned = np.linalg.norm(every, axis=2), angles(joint.runs, every)
    found = []
    for run, ends, force, angle in zip(joint.runs, ends_of(joint.runs), size, turned, strict=True):
        factors = [allowed_factor(float(each), joint.ends_a_tube, joint.direction) for each in angle]
        allowed = run_strength(joint, run) * np.array(factors) / ASKED.strength
        found.append(Stressed(run, (1 - along) * ends[0] + along * ends[1], force / (THROAT * run.leg), force / allowed))
    return found


def weld_chart(joint: WeldGroup, load: JointLoad, units: Units, size: Pixels) -> Chart:
    """Return the chart. size: of the picture, pixels."""
    runs = stressed_runs(joint, load)
    look, unit = looking_at(ends_of(joint.runs).reshape(-1, 3)), shown_unit("size", units).size
    axes = np.column_stack([look.right, look.up]) / unit
    lines = [each.places @ axes for each in runs]
    room = room_round(np.concatenate(lines), 4 * max(run.leg for run in joint.runs) / unit, size.plot(BESIDE_SCALE))
    marks: list[Drawn] = [piece for each, line in zip(runs, lines, strict=True) for piece in band(each, line, unit)]
    worst = max(range(len(runs)), key=lambda number: float(runs[number].share.max()))
    at = lines[worst][int(np.argmax(runs[worst].share))].tolist()
    marks += [Mark((at[0], at[1]), PointMark.RING, ABOVE, 13.0), *overall(np.concatenate(lines), room, units), *sides(look, room)]
    words = RoomForWords(room, [each for each in marks if isinstance(each, Note)])
    for line in lines:
        words.keep_off(line, 4.0 * room.pixel)
    for number in sorted(range(len(runs)), key=lambda each: -float(runs[each].share.max())):
        note = beside(words, said(runs[number], units), lines[number], room)
        marks += [] if note is None else [note]
    scale = Scale("weld metal, % of what is allowed", 100.0)
    return Chart("", "", "", room.x, room.y, tuple(marks), scale=scale, is_equal=True, has_axes=False)


def band(of: Stressed, line: Array, unit: float) -> Iterator[Area]:
    """Yield a run as wide as its leg, each piece in the colour of the more stressed of its ends; line (k, 2): on the paper."""
    way = line[-1] - line[0]
    long = float(np.linalg.norm(way))
    aside = np.array([-way[1], way[0]]) / long * of.run.leg / unit / 2 if long > 0 else np.array([of.run.leg / unit / 2, 0.0])
    shares = np.maximum(of.share[:-1], of.share[1:])
    colours = [colour_of(float(each)) for each in shares]
    first = 0
    for number in range(1, len(colours) + 1):
        if number == len(colours) or colours[number] != colours[first]:
            start, end = line[first], line[number]
            ring = np.array([start - aside, end - aside, end + aside, start + aside, start - aside])
            yield Area((ring,), colours[first], is_hatched=is_above(float(shares[first])))
            first = number
    start, end = line[0], line[-1]
    yield Area((np.array([start - aside, end - aside, end + aside, start + aside, start - aside]),), "none", edge=INK)


def said(of: Stressed, units: Units) -> str:
    """Return a run's leg and the stress on its throat, the least and the most along it."""
    unit = shown_unit("stress", units)
    most = float(of.stress.max())
    ends = [bare(each if each > NONE_BELOW * most else 0.0, "stress", units) for each in (float(of.stress.min()), most)]
    return f"leg {bare(of.run.leg, 'size', units)}: {' to '.join(dict.fromkeys(ends))} {unit.label}"


def beside(words: RoomForWords, text: str, line: Array, room: Room) -> Note | None:
    """Return a run's words where there is room, None where there is none: over or under a level run, at the side of an upright one."""
    wide, high = (line.max(axis=0) - line.min(axis=0)).tolist()
    aside = 0.5 * letters_wide(text) + 12.0
    ways = ((aside, 0.0), (-aside, 0.0)) if high > wide else ((0.0, 8.0), (0.0, -24.0), (0.0, 26.0), (0.0, -42.0))
    for share in (0.5, 0.25, 0.75):
        for way in ways:
            if note := words.free(text, line[round(share * (len(line) - 1))] + np.array(way) * room.pixel):
                return note
    return None
