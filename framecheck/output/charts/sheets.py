"""Drawings of what is not a plain length of a member: a notch, a pattern of bolts, each with its sizes."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.bolts.group import all_bolt_forces
from framecheck.checks.joint_forces import pattern
from framecheck.model.arrays import Array
from framecheck.model.frame import Cut
from framecheck.model.joints import BoltGroup, JointLoad
from framecheck.output.charts.chart import (
    INK,
    LINE,
    Area,
    Chart,
    ChartLine,
    Drawn,
    Note,
    TextSide,
)
from framecheck.output.charts.drawings import METAL, dimension
from framecheck.output.charts.room import BESIDE, LETTER_HIGH, Pixels, Room, RoomForWords
from framecheck.output.charts.square_on import looking_along, overall, room_round, sides
from framecheck.output.display import Units, bare, shown_unit

NONE_BELOW = 1e-6
"""What is less than this share of the largest force on a bolt is the solution's rounding, and drawn as none."""


def notch_chart(cut: Cut, height: float, units: Units, is_below: bool, ends: tuple[str, str] = ("", "")) -> Chart:
    """Return a member's side with its notch. height: of the section that way, m; is_below: the cut is drawn below, else on top.

    ends: which way of the vehicle lies at the left and at the right.
    """
    size = shown_unit("size", units).size
    long, deep, r, high = (each / size for each in (cut.length, cut.depth, cut.corner_radius, height))
    reach, off, way = max(long, 1.4 * high), 0.16 * high, -1.0 if is_below else 1.0
    corner = rounded(long, deep, min(r, deep, long / 2))
    outline = np.array([(-reach, high), *[(x, high + y) for x, y in corner], (reach, high), (reach, 0.0), (-reach, 0.0)])
    marks: list[Drawn] = [Area((outline * (1.0, way),), METAL, edge=INK)]
    for start, end in (
        ((-long / 2, high + off), (long / 2, high + off)),
        ((long / 2 + off, high - deep), (long / 2 + off, high)),
        ((reach + off, 0.0), (reach + off, high)),
        ((-reach - off, 0.0), (-reach - off, high - deep)),
    ):
        marks += dimension((start[0], way * start[1]), (end[0], way * end[1]), off / 2)
    marks += [
        Note(bare(cut.length, "size", units), (0.0, way * (high + (2.2 if is_below else 1.0) * off)), TextSide.ABOVE),
        Note(bare(cut.depth, "size", units), (long / 2 + off, way * (high - deep / 2))),
        Note(bare(height, "size", units), (reach + off, way * high / 2)),
        Note(f"{bare(height - cut.depth, 'size', units)} remains", (-reach - off, way * (high - deep) / 2), TextSide.LEFT),
        Note(f"R {bare(cut.corner_radius, 'size', units)}", (-long / 2 + r, way * (high - deep - 0.06 * high)), TextSide.LEFT),
    ]
    room = 0.55 * high
    for x, side, said in ((-reach - off, TextSide.LEFT, ends[0]), (reach + off, TextSide.RIGHT, ends[1])):
        marks += [Note(said, (x, -0.16 * way * high), side, LINE)] if said else []
    up = sorted((-0.3 * way * high, way * (high + room)))
    return Chart("", "", "", (-reach - 2.6 * room, reach + room), (up[0], up[1]), tuple(marks), is_equal=True, has_axes=False)


def rounded(long: float, deep: float, r: float) -> list[tuple[float, float]]:
    """Return the line of a cut from its left edge down and up again, from the uncut face, with rounded corners."""
    turn = np.linspace(0.0, np.pi / 2, 9)
    left = [(-long / 2 + r - r * float(np.cos(a)), -deep + r - r * float(np.sin(a))) for a in turn]
    return [(-long / 2, 0.0), *left, *[(-x, y) for x, y in reversed(left)], (long / 2, 0.0)]


def bolts_chart(joint: BoltGroup, load: JointLoad, units: Units, size: Pixels) -> Chart:
    """Return a pattern of bolts seen square to its plane, with the shear and the pull on each. size: of the picture, pixels."""
    group, (forces,) = pattern(joint.plane, joint.positions), all_bolt_forces(joint, [load])
    unit, look = shown_unit("size", units).size, looking_along(group.axes[2])
    seen = np.column_stack([look.right, look.up])
    at, shear = group.positions @ seen / unit, forces.shear @ seen
    most = max(float(np.linalg.norm(shear, axis=1).max(initial=0.0)), float(forces.tension.max(initial=0.0)), 1e-9)
    room = room_round(at, 5 * joint.bolt.hole / unit, size.plot(BESIDE))
    marks: list[Drawn] = []
    for place, push in zip(at, shear, strict=True):
        x, y = place.tolist()
        marks.append(Area((circle(x, y, joint.bolt.hole / 2 / unit),), METAL, edge=INK))
        if np.linalg.norm(push) > NONE_BELOW * most:
            marks += arrow(place, place + 42 * room.pixel * push / most)
    marks += [*overall(at, room, units), *sides(look, room)]
    words = RoomForWords(room, [each for each in marks if isinstance(each, Note)])
    for number, (place, push, pull) in enumerate(zip(at, shear, forces.tension, strict=True), 1):
        told = (float(np.linalg.norm(push)), float(pull))
        said = (bare(each if each > NONE_BELOW * most else 0.0, "force", units) for each in told)
        marks += told_beside(words, f"{number}: {' / '.join(said)}", place, joint.bolt.hole / 2 / unit, room)
    return Chart("", "", "", room.x, room.y, tuple(marks), is_equal=True, has_axes=False)


def told_beside(words: RoomForWords, text: str, at: Array, radius: float, room: Room) -> Iterator[Note]:
    """Yield words below or above a bolt where there is room."""
    high = LETTER_HIGH * room.pixel
    for lift in (-radius - 1.5 * high, radius + 0.5 * high, -radius - 2.6 * high, radius + 1.6 * high):
        if note := words.free(text, at + np.array([0.0, lift])):
            yield note
            return


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
