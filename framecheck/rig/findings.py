"""What is odd in readings: not straight, not the same both ways, a loop, a set, a dial the wrong way round, a stand that moved. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum

import numpy as np

from framecheck.model.arrays import Array
from framecheck.rig.letters import letter
from framecheck.rig.record import ReadingsRecord
from framecheck.rig.setup import Dial, Rig
from framecheck.rig.sheet import Sheet
from framecheck.rig.slopes import Slope, slope_of
from framecheck.rig.targets import allowed_set
from framecheck.value_class import value_class

STRAIGHT, ALIKE = 0.03, 0.05
"""A reading is straight to this share of its greatest, both ways are alike to this share of the slope (common practice, no source)."""
ERRORS = 3.0
"""What is less than so many times a dial's error is its own."""
PAIRS = 0.25
"""A pair that turns within so much of the others, each by what is expected, has no dial that stands still or reads the wrong way: one
that does halves its pair's turn or takes it away."""
NOT_THIS_FRAME = (0.5, 2.0)
"""Measured over expected stiffness beyond which the test or the file is of something else (common practice, no source)."""


class Odd(Enum):
    """What is odd."""

    NO_ZERO = "no reading at zero load"
    SEATING = "the first step reads too stiff: something seats"
    BENT = "the readings are no straight line"
    ONE_WAY = "one way is softer than the other"
    LOOP = "unloading reads other than loading"
    SET = "it does not come back to zero"
    REVERSED = "the dial reads the wrong way round"
    SILENT = "the dial does not move"
    GIVES = "the stand gives"
    STAND_MOVED = "the stand moved by a jump"
    STANDS_NOT_READ = "what the stands give was not read"
    BEYOND_STOP = "a load beyond the stop load was put on"
    ANOTHER_FRAME = "the stiffness is not this frame's"


@value_class
class OddReading:
    """One odd thing. dial: its letter and name, "" of the whole; value: in m, N or as a share; limit: what it should keep to."""

    odd: Odd
    dial: str = ""
    value: float = 0.0
    limit: float = 0.0
    where: str = ""


def findings_of(
    sheet: Sheet, record: ReadingsRecord, raw: Array, values: Array, slopes: tuple[Slope | None, ...], turns: tuple[Slope | None, ...]
) -> Iterator[OddReading]:
    """Yield what is odd, of the whole first, then dial by dial."""
    yield from of_the_whole(sheet, record, raw)
    vouched = vouched_for(sheet, slopes)
    for row, (dial, slope) in enumerate(zip(sheet.rig.dials, slopes, strict=True)):
        if slope is None:
            continue
        name = called(row, dial)
        expected = float(sheet.dials.mid[row, -1] / sheet.loads[-1])
        found = of_dial(sheet, record, values[:, row], slope, (name, dial, expected))
        yield from (each for each in found if row not in vouched or each.odd not in (Odd.SILENT, Odd.REVERSED))
    first = turns[0] if turns else None
    if first is not None and first.value:
        ratio = abs(sheet.rig.torque / first.value) / float(sheet.stiffness.mid[0])
        if not NOT_THIS_FRAME[0] <= ratio <= NOT_THIS_FRAME[1]:
            yield OddReading(Odd.ANOTHER_FRAME, value=ratio, limit=NOT_THIS_FRAME[1])


def vouched_for(sheet: Sheet, slopes: Sequence[Slope | None]) -> frozenset[int]:
    """Return the numbers of dials whose pair turns as the other pairs do, two of them at least: on stands that tilt, one side may not
    move at all, or the other way, and no dial reads wrong for it.
    """
    ratios = {}
    for plane in sheet.rig.planes:
        left, right = slopes[plane.left], slopes[plane.right]
        expected = float(sheet.dials.mid[plane.left, -1] - sheet.dials.mid[plane.right, -1]) / sheet.loads[-1]
        if left is not None and right is not None and abs(expected * sheet.loads[-1]) > 2 * ERRORS * sheet.dial_error:
            ratios[plane.left, plane.right] = (left.value - right.value) / expected
    others = {pair: [ratio for other, ratio in ratios.items() if other != pair] for pair in ratios}
    middles = {pair: float(np.median(rest)) for pair, rest in others.items() if len(rest) > 1}
    alike = (pair for pair, middle in middles.items() if abs(ratios[pair] - middle) < PAIRS * abs(middle) and middle > 0)
    return frozenset(row for pair in alike for row in pair)


def called(row: int, dial: Dial) -> str:
    """Return what a dial is called: its letter, and its name where that is another."""
    return f"{letter(row)} ({dial.name})" if letter(row) != dial.name else dial.name


def wrong_dials(rig: Rig, found: Sequence[OddReading]) -> frozenset[int]:
    """Return the numbers of the dials that read the wrong way round, or not at all: they tell nothing of the frame."""
    said = {each.dial for each in found if each.odd in (Odd.REVERSED, Odd.SILENT)}
    return frozenset(row for row, dial in enumerate(rig.dials) if called(row, dial) in said)


def of_the_whole(sheet: Sheet, record: ReadingsRecord, raw: Array) -> Iterator[OddReading]:
    """Yield what is odd of loads and stands."""
    top = float(np.abs(record.loads).max())
    if not (np.abs(record.loads) <= 1e-9 * max(top, 1e-300)).any():
        yield OddReading(Odd.NO_ZERO)
    if sheet.stops and top > sheet.stops[0].load * (1 + 1e-9):
        yield OddReading(Odd.BEYOND_STOP, value=top, limit=sheet.stops[0].load)
    stands = [row for row, dial in enumerate(sheet.rig.dials) if dial.at_stand]
    if not stands or not np.isfinite(raw[:, stands]).any(axis=0).all():
        yield OddReading(Odd.STANDS_NOT_READ)


def of_dial(
    sheet: Sheet, record: ReadingsRecord, values: Array, slope: Slope, of: tuple[str, Dial, float]
) -> Iterator[OddReading]:
    """Yield what is odd of one dial. of: its name, itself, and what it should read per newton."""
    name, dial, expected = of
    error = sheet.dial_error
    greatest = float(np.nanmax(np.abs(values)))
    reach = abs(expected) * float(np.ptp(record.loads))
    if dial.at_stand:
        yield from of_stand(values, slope, error, name)
    elif reach > 2 * ERRORS * error and greatest <= error:
        yield OddReading(Odd.SILENT, name, greatest, reach)
    elif reach > 2 * ERRORS * error and slope.value * expected < 0 and abs(slope.value) > 0.3 * abs(expected):
        yield OddReading(Odd.REVERSED, name, slope.value, expected)
    limit = max(ERRORS * error, STRAIGHT * greatest)
    off = float(np.nanmax(np.abs(slope.left)))
    first = None if dial.at_stand else seating(record.loads, values)
    noise = max(error, noise_of(slope))
    if off > limit and not dial.at_stand:
        yield OddReading(Odd.BENT, name, off, limit)
    if first is not None and first < 1 - STRAIGHT * 3 and (1 - first) * greatest * first_share(record.loads) > ERRORS * noise:
        yield OddReading(Odd.SEATING, name, first, 1.0)
    if np.isfinite(slope.loop) and abs(slope.loop) > max(2 * error, STRAIGHT * greatest):
        yield OddReading(Odd.LOOP, name, slope.loop, max(2 * error, STRAIGHT * greatest))
    yield from of_set(record.loads, values, error, name)
    yield from of_both_ways(record.loads, values, error, name)


def noise_of(slope: Slope) -> float:
    """Return the scatter of readings about a smooth curve, one standard deviation: 1.48 medians of second differences / sqrt 6."""
    left = slope.left[np.isfinite(slope.left)]
    return 1.48 * float(np.median(np.abs(np.diff(left, 2)))) / 6**0.5 if len(left) > 3 else 0.0


def of_stand(values: Array, slope: Slope, error: float, name: str) -> Iterator[OddReading]:
    """Yield what a stand gives, and whether it jumped."""
    known = values[np.isfinite(values)]
    jump = float(np.abs(np.diff(slope.left[np.isfinite(slope.left)])).max(initial=0.0))
    if jump > 2 * ERRORS * error:
        yield OddReading(Odd.STAND_MOVED, name, jump, 2 * ERRORS * error)
    elif len(known) and float(np.abs(known).max()) > ERRORS * error:
        yield OddReading(Odd.GIVES, name, float(np.abs(known).max()), ERRORS * error)


def seating(loads: Array, values: Array) -> float | None:
    """Return the first step's reading per load over that of all the others, None where it can't be told."""
    known = np.flatnonzero(np.isfinite(values))
    if len(known) < 4 or abs(loads[known[0]]) > 1e-9 * np.abs(loads).max() or loads[known[1]] == 0:
        return None
    up = known[1:][: int(np.argmax(np.abs(loads[known[1:]]))) + 1]
    if len(up) < 3 or loads[up[-1]] == loads[up[0]]:
        return None
    later = (values[up[-1]] - values[up[0]]) / (loads[up[-1]] - loads[up[0]])
    first = (values[known[1]] - values[known[0]]) / loads[known[1]]
    return float(first / later) if later else None


def first_share(loads: Array) -> float:
    """Return the first load above zero as a share of the largest."""
    sizes = np.abs(loads)
    loaded = sizes[sizes > 1e-9 * sizes.max()]
    return float(loaded[0] / sizes.max()) if len(loaded) else 0.0


def of_set(loads: Array, values: Array, error: float, name: str) -> Iterator[OddReading]:
    """Yield how far off its first zero a dial stays, where that is more than is allowed."""
    still = [row for row in np.flatnonzero(np.abs(loads) <= 1e-9 * np.abs(loads).max()).tolist() if np.isfinite(values[row])]
    if len(still) > 1:
        off, limit = float(values[still[-1]] - values[still[0]]), allowed_set(float(np.nanmax(np.abs(values))), error)
        if abs(off) > limit:
            yield OddReading(Odd.SET, name, off, limit)


def of_both_ways(loads: Array, values: Array, error: float, name: str) -> Iterator[OddReading]:
    """Yield by how much one way is softer than the other, where both were loaded."""
    top = np.abs(loads).max()
    ways = [slope_of(loads[at], values[at], error) for at in (loads >= -1e-9 * top, loads <= 1e-9 * top)]
    one, other = ways
    if one is None or other is None or (loads > 0).sum() < 2 or (loads < 0).sum() < 2:
        return
    mean = (abs(one.value) + abs(other.value)) / 2
    apart = abs(abs(one.value) - abs(other.value))
    if mean and apart > max(ALIKE * mean, 2 * float(np.hypot(one.sigma, other.sigma))):
        yield OddReading(Odd.ONE_WAY, name, apart / mean, ALIKE)
