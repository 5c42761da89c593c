"""The frame as built with all that acts on it: forces as arrows, moments as turning arrows, the largest with their values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import pi

import numpy as np

from framecheck.model.arrays import Array
from framecheck.output.charts.chart import INK, LINE, QUIET, Chart, Drawn, Group, Note, letters_wide
from framecheck.output.charts.frame_chart import ends_of, flat, line, measures, one_line
from framecheck.output.charts.room import BESIDE, LETTER_HIGH, Pixels, Room, RoomForWords
from framecheck.output.display import Units, with_unit
from framecheck.results.free_body import FreeBody, Push
from framecheck.stress import SolvedCase
from framecheck.value_class import array_class

LONGEST = 0.2
"""How long the largest force is drawn, as a share of the picture's width."""
LEAST, LEAST_TURN = 0.03, 0.1
"""A force of less than this share of the largest is not drawn, nor a moment of less than that of what turns the whole most."""
MOST_VALUES = 9
"""So many forces and moments have their value beside them, the largest."""
ROUND = 11.0
"""Pixels from the middle of a turning arrow to it."""
TURN = np.linspace(0.0, 1.6 * pi, 25)
"""How far a turning arrow goes round."""


@array_class
class Arrow:
    """A force or a moment as drawn, flat: its line (n, 2), the last point its tip; where its value stands beside; its value."""

    points: Array
    said: str
    colour: str
    share: float


def forces_chart(outcome: SolvedCase, bound: int, body: FreeBody, units: Units, size: Pixels) -> Chart:
    """Return the frame as built with all that acts on it: loads blue, supports dark; the largest in numbers."""
    built = [flat(stress.forces.places) for stress in outcome.stresses[bound]]
    every = np.concatenate(built)
    long = LONGEST * float(np.ptp(every[:, 0]) or np.ptp(every[:, 1]))
    straight = list(forces(body, long, units))
    room = ends_of([every, *(each.points for each in straight)], size.plot(BESIDE))
    arrows = sorted([*straight, *moments(body, ROUND * room.pixel, units)], key=lambda each: -each.share)
    measured = list(measures(room, None, units))
    words = RoomForWords(room, (each for each in measured if isinstance(each, Note)))
    marks: list[Drawn] = [Group((one_line(built, QUIET, 2.0),))]
    for number, each in enumerate(arrows):
        marks += tipped(each.points, each.colour, 7.0 * room.pixel)
        if number < MOST_VALUES and (note := value_beside(each, words, room)) is not None:
            marks.append(note)
    return Chart("", "", "", room.x, room.y, (*marks, *measured), is_equal=True, has_axes=False)


def forces(body: FreeBody, long: float, units: Units) -> Iterator[Arrow]:
    """Yield the forces as arrows, each with its tip where it acts. long: how long the largest is, m."""
    most = max((each.size for each in body.pushes), default=0.0)
    for each in body.pushes:
        if each.size > LEAST * most > 0:
            points = flat(np.array([each.at - each.force / most * long, each.at]))
            yield Arrow(points, with_unit(each.size, "force", units), tint(each), each.size / most)


def moments(body: FreeBody, radius: float, units: Units) -> Iterator[Arrow]:
    """Yield the moments as arrows that turn about where they act. radius: m."""
    most = body.turning
    for each in body.pushes:
        size = float(np.linalg.norm(each.moment))
        if size > LEAST_TURN * most > 0:
            points = flat(each.at + radius * round_about(each.moment / np.linalg.norm(each.moment)))
            yield Arrow(points, with_unit(size, "moment", units), tint(each), size / most)


def round_about(axis: Array) -> Array:
    """Return a turn (n, 3) about an axis (3,) of length 1, the way that its right hand closes."""
    least = np.eye(3)[int(np.argmin(np.abs(axis)))]
    first = np.cross(axis, least)
    first = first / np.linalg.norm(first)
    turn: Array = np.outer(np.cos(TURN), first) + np.outer(np.sin(TURN), np.cross(axis, first))
    return turn


def tint(push: Push) -> str:
    """Return the colour of what acts: dark what a support does."""
    return INK if push.is_reaction else LINE


def tipped(points: Array, colour: str, size: float) -> Sequence[Drawn]:
    """Return a line (n, 2) with a tip at its last point. size: of the tip, m."""
    drawn = [line(points, colour, 1.5)]
    back = points[-1] - points[-2]
    long = float(np.linalg.norm(back))
    if long > 0:
        way = back / long
        whole = float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())
        aside, foot = np.array([-way[1], way[0]]), points[-1] - min(size, 0.6 * whole) * way
        drawn.append(line(np.array([foot + 0.4 * size * aside, points[-1], foot - 0.4 * size * aside]), colour, 1.5))
    return drawn


def value_beside(arrow: Arrow, words: RoomForWords, room: Room) -> Note | None:
    """Return an arrow's value beside its tail, or else beside its middle, where there is room."""
    (left, low), (right, high) = arrow.points.min(axis=0).tolist(), arrow.points.max(axis=0).tolist()
    tail, tip = arrow.points[0], arrow.points[-1]
    middle, line_high = (left + right) / 2, LETTER_HIGH * room.pixel
    aside = (0.5 * letters_wide(arrow.said) + 6.0) * room.pixel
    beyond = [(tail[0], high + 0.2 * line_high), (tail[0], low - 1.2 * line_high)]
    beyond = beyond if tail[1] >= tip[1] else beyond[::-1]
    besides = [(x, y - 0.5 * line_high) for y in (tail[1], (low + high) / 2) for x in (right + aside, left - aside)]
    places = (*beyond, *besides, (middle, high + 0.2 * line_high), (middle, low - 1.2 * line_high))
    return next((found for at in places if (found := words.free(arrow.said, np.array(at))) is not None), None)
