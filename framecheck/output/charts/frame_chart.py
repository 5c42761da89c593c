"""The frame in space as a chart: moved and coloured by what it uses, the worst place ringed; or as built, with all that acts on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, floor, log10, sin

import numpy as np

from framecheck.frame.panel.results import PanelForces
from framecheck.model.arrays import Array
from framecheck.output.charts.chart import (
    ABOVE,
    INK,
    LINE,
    QUIET,
    Area,
    Chart,
    ChartLine,
    Drawn,
    Group,
    Mark,
    Note,
    PointMark,
    Range,
    Scale,
    Strokes,
    TextSide,
    colours_of,
    letters_wide,
    span,
)
from framecheck.output.charts.room import BESIDE_SCALE, LETTER_HIGH, Pixels, Room, RoomForWords
from framecheck.output.display import Units, shown_unit
from framecheck.results.places import FoundPlace, plate_at
from framecheck.stress import MemberStress, SolvedCase
from framecheck.value_class import array_class

NEAR = 1e-6
YAW, PITCH = -0.5, 0.42
"""From where the frame is seen, here and where the report's view begins (templates/view.js), rad."""
DIRECTIONS = {"x forward": (1.0, 0.0, 0.0), "y left": (0.0, 1.0, 0.0), "z up": (0.0, 0.0, 1.0)}
MOVED_SHARE = 0.06
"""The largest movement is drawn as this share of the frame's length unless a scale is asked for."""
STILL = 1e-9
"""A movement of less, m, is rounding: nothing moves."""
ALLOWED = "share of what is allowed on yield, %"


@array_class
class Pictured:
    """What a picture of the frame shows: the bound and the load case by number, how many times movements are drawn (None: so that
    they can be seen), the worst place with words for it.
    """

    bound: int
    case: int
    times: float | None = None
    worst: FoundPlace | None = None
    said: str = ""


def used(stress: MemberStress, case: int) -> Array:
    """Return the share of the yield strength used at each station (n,), 0 where no stress is known."""
    return np.asarray(stress.nominal[:, case] / stress.strength[:, case], dtype=np.float64)


def allowed_used(outcome: SolvedCase, stress: MemberStress, case: int) -> Array:
    """Return the share of what is allowed on yield that is used at each station (n,): with the target of the load case."""
    return used(stress, case) * outcome.case.targets.of(outcome.loads[case].name)


def own_scale(outcome: SolvedCase, bound: int, case: int) -> float:
    """Return the scale at which the largest movement is MOVED_SHARE of the frame's extent; 1 where nothing moves."""
    members = outcome.solutions[bound].members
    moved = max(float(np.linalg.norm(member.displacements[:, case], axis=1).max()) for member in members)
    places = np.concatenate([member.places for member in members])
    extent = float(np.ptp(places, axis=0).max())
    return MOVED_SHARE * extent / moved if moved > STILL else 1.0


ARM_WORDS = "links to ends (no parts)"


def arms(outcome: SolvedCase, bound: int, case: int) -> list[tuple[Array, Array]]:
    """Return the stiff arms from frame points to member ends beside them, and panels' rims: places and movements (n, 3), m."""
    solution, frame = outcome.solutions[bound], outcome.case.frame
    number = {name: i for i, name in enumerate(solution.points)}
    found = []
    for member, forces in zip(frame.members, solution.members, strict=True):
        for point, end in ((member.points[0], 0), (member.points[-1], -1)):
            places = np.array([frame.points[point], forces.places[end]])
            if np.ptp(places, axis=0).max() > NEAR:
                moved = solution.displacements[number[point], case, :3]
                found.append((places, np.array([moved, forces.displacements[end, case]])))
    return [*found, *(rim(panel, case) for panel in solution.panels.values())]


def rim(panel: PanelForces, case: int) -> tuple[Array, Array]:
    """Return the line round a panel: places (n, 3) and movements (n, 3), m."""
    ends = [-1, *range(len(panel.rim))]
    return panel.rim[ends], panel.rim_moves[ends, case]


def key_words(outcome: SolvedCase, bound: int) -> str:
    """Return what the lines of a frame's picture are that no scale of colours tells: not every line drawn is a part."""
    has_arms = any(len(places) == 2 for places, _ in arms(outcome, bound, 0))  # a rim has its corners, and the first again
    has_panels = bool(outcome.solutions[bound].panels)
    thin = [words for words, is_drawn in ((ARM_WORDS, has_arms), ("rims of panels", has_panels)) if is_drawn]
    black = f"; thin black: {', '.join(thin)}" if thin else ""
    is_plate_drawn = any(True for _ in plate_rims(outcome, bound, 0, 0.0))
    return f"thin grey: as built{black}{'; blue: plate' if is_plate_drawn else ''}"


def flat(places: Array) -> Array:
    """Return places (n, 3) as seen from where the view begins: right and up (n, 2), m."""
    x, y, z = places.T
    depth = x * sin(YAW) + y * cos(YAW)
    return np.column_stack([x * cos(YAW) - y * sin(YAW), z * cos(PITCH) + depth * sin(PITCH)])


def line(points: Array, colour: str, width: float) -> ChartLine:
    """Return a plain line through points (n, 2)."""
    return ChartLine(points[:, 0], points[:, 1], colour, width)


def frame_chart(outcome: SolvedCase, shown: Pictured, units: Units, size: Pixels) -> Chart:
    """Return the frame moved in one load case and, thin, as built; colour: the share of what is allowed on yield that is used.

    size: of the picture, for which its words find room.
    """
    bound, case = shown.bound, shown.case
    times = own_scale(outcome, bound, case) if shown.times is None else shown.times
    stresses = outcome.stresses[bound]
    built = [flat(stress.forces.places) for stress in stresses]
    stiff = [flat(places + times * moved) for places, moved in arms(outcome, bound, case)]
    moved = [strokes(outcome, stress, case, times) for stress in stresses]
    plates = plate_rims(outcome, bound, case, times)
    frame = Group((one_line(built, QUIET, 0.7), *([one_line(stiff, INK, 1.2)] if stiff else []), *plates, *moved))
    room = ends_of([*built, *(each.points for each in moved)], size.plot(BESIDE_SCALE))
    measured = list(measures(room, times, units))
    ring = [] if shown.worst is None else ringed(shown.worst, times, shown.said, room)
    words = RoomForWords(room, (each for each in (*ring, *measured) if isinstance(each, Note)))
    named = sorted(zip(stresses, moved, strict=True), key=lambda each: -float(allowed_used(outcome, each[0], case).max()))
    names = words.names((each.forces.member, at.points) for each, at in named[:MOST_NAMES]) if size.wide >= SMALL else ()
    scale = Scale(ALLOWED if size.wide >= SMALL else "used, %", 100.0)
    return Chart("", "", "", room.x, room.y, (frame, *ring, *names, *measured), scale=scale, is_equal=True, has_axes=False)


def one_line(lines: Sequence[Array], colour: str, width: float) -> ChartLine:
    """Return plain lines (n, 2) as one with gaps."""
    gap = np.full((1, 2), np.nan)
    return line(np.concatenate([each for points in lines for each in (points, gap)]), colour, width)


def plate_rims(outcome: SolvedCase, bound: int, case: int, times: float) -> Iterator[Area]:
    """Yield the rim of each plate that hangs on the frame, where it is carried by the points that it is bolted to."""
    for plate in outcome.case.plates:
        lies = plate_at(outcome, plate, bound, case)
        if lies is not None:
            ring = flat(lies.corners[[0, 1, 2, 3, 0]] + times * lies.moved)
            yield Area((ring,), LINE, 0.18, edge=LINE)


WORDS_WIDE = 200.0
"""Pixels beside the frame in which directions and measures have room; where there are fewer, they stand under it."""


def ends_of(points: Sequence[Array], plot: Pixels) -> Room:
    """Return the room of a picture that fills its plot, with the frame in its middle, and directions and measures at its foot."""
    every = np.concatenate(points)
    x, y = span(every[:, 0], room=0.04), span(every[:, 1], room=0.08)
    high = max(y[1] - y[0], 0.12 * (x[1] - x[0]))
    is_narrow = plot.wide - (x[1] - x[0]) / (1.18 * high) * plot.high < 2 * WORDS_WIDE
    y = (y[0] - (0.3 if is_narrow else 0.06) * high, y[0] + 1.12 * high)
    pixel = max((x[1] - x[0]) / plot.wide, (y[1] - y[0]) / plot.high)
    beside, below = pixel * plot.wide - (x[1] - x[0]), pixel * plot.high - (y[1] - y[0])
    return Room((x[0] - beside / 2, x[1] + beside / 2), (y[0] - below / 2, y[1] + below / 2), pixel)


def strokes(outcome: SolvedCase, stress: MemberStress, case: int, times: float) -> Strokes:
    """Return a member moved, coloured by the share of what is allowed on yield, %."""
    share = 100 * allowed_used(outcome, stress, case)
    moved = stress.forces.places + times * stress.forces.displacements[:, case]
    return Strokes(flat(moved), colours_of(np.maximum(share[:-1], share[1:]), 100.0), 3.2, stress.forces.member)


def ringed(worst: FoundPlace, times: float, said: str, room: Room) -> list[Drawn]:
    """Return the ring round the worst place and the words for it, on a line that leads away from the frame."""
    at = flat((worst.place + times * worst.moved)[None])[0]
    up = room.y[1] - 1.4 * LETTER_HIGH * room.pixel
    half = 0.5 * letters_wide(said) * room.pixel
    aside = float(min(max(at[0], room.x[0] + half), room.x[1] - half))
    lead = line(np.array([at, (aside, up)]), ABOVE, 1.0)
    return [lead, Mark((float(at[0]), float(at[1])), PointMark.RING, ABOVE, 15.0), Note(said, (aside, up), TextSide.ABOVE, ABOVE)]


MOST_NAMES = 10
"""So many members are named in a picture, those first that use most."""
SMALL = 600.0
"""A picture of fewer pixels has no room for names."""
def round_below(value: float) -> float:
    """Return the largest of 1, 2, 5 times a power of ten that is at most a value."""
    power = 10.0 ** floor(log10(value))
    return next(step * power for step in (5.0, 2.0, 1.0) if step * power <= value * (1 + 1e-9))


DIRECTIONS_LONG = 60.0
"""Pixels that the drawn directions are long at most."""


def measures(room: Room, times: float | None, units: Units) -> Iterator[Drawn]:
    """Yield the vehicle's directions with a bar of known length, and how long a known movement is drawn. None: nothing moves."""
    length, moved = shown_unit("length", units), shown_unit("deflection", units)
    x, y = room.x, room.y
    known = round_below(DIRECTIONS_LONG * room.pixel / length.size)
    corner = np.array([x[0] + 0.05 * (x[1] - x[0]), y[0] + 0.08 * (y[1] - y[0])])
    yield from directions(corner, known * length.size, f"x forward, {known:g} {length.label}")
    if times is not None:
        bar = round_below(0.22 * (y[1] - y[0]) / (times * cos(PITCH)) / moved.size)
        foot = np.array([x[1] - 0.02 * (x[1] - x[0]), corner[1]])
        top = foot + np.array([0.0, bar * moved.size * times * cos(PITCH)])
        cap = np.array([0.006 * (x[1] - x[0]), 0.0])
        yield line(np.array([foot, top]), LINE, 2.4)
        for end in (foot, top):
            yield line(np.array([end - cap, end + cap]), LINE, 1.6)
        said = f"{bar:g} {moved.label} of movement, drawn {times:.3g} times"
        yield Note(said, (float(foot[0]), float(foot[1] + top[1]) / 2), TextSide.LEFT, LINE)


def directions(corner: Array, known: float, forward: str = "x forward") -> Iterator[Drawn]:
    """Yield the vehicle's directions from a corner, each as long as a known length in space. forward: what the first is called."""
    for name, direction in DIRECTIONS.items():
        tip = corner + known * flat(np.array([direction]))[0]
        yield line(np.array([corner, tip]), INK, 1.4)
        is_forward = name == "x forward"
        said = forward if is_forward else name
        yield Note(said, (float(tip[0]), float(tip[1])), TextSide.RIGHT if is_forward else TextSide.ABOVE)


def compass(x: Range, y: Range) -> list[Drawn]:
    """Return the vehicle's directions in the lower left corner."""
    size = 0.09 * (x[1] - x[0])
    return list(directions(np.array([x[0] + 0.8 * size, y[0] + 1.2 * size]), size))
