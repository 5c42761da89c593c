"""What readings say: stiffness with its uncertainty, the twist along the frame beside the predicted one. SI."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array
from framecheck.model.case import Case
from framecheck.rig.findings import OddReading, findings_of, wrong_dials
from framecheck.rig.letters import letter
from framecheck.rig.places import runs_across
from framecheck.rig.record import ReadingsRecord
from framecheck.rig.response import ends_at_stands
from framecheck.rig.setup import FORCE_ERRORS, Rig
from framecheck.rig.sheet import ARM_ERROR, Sheet, sheet_for
from framecheck.rig.slopes import Slope, slope_of
from framecheck.rig.targets import TestTarget
from framecheck.section.store import SectionStore
from framecheck.value_class import array_class, value_class

SPAN_ERROR = 2e-3
"""m; how far off the distance between two dials is measured (common practice, no source)."""


@value_class
class Amount:
    """A measured number with its standard deviation: scatter, from the readings alone; sigma, with force, arm and distances too."""

    value: float
    scatter: float
    sigma: float


@value_class
class Bay:
    """The frame between two pairs of dials: its twist per newton as measured over what is expected, and the range of that.

    crossmembers: that meet the rails there.
    """

    first: str
    second: str
    ratio: Amount
    low: float
    high: float
    crossmembers: tuple[str, ...]

    @property
    def is_off(self) -> bool:
        """Return whether the measured twist lies outside the range by more than two standard deviations."""
        return self.ratio.value + 2 * self.ratio.sigma < self.low or self.ratio.value - 2 * self.ratio.sigma > self.high


@array_class
class MeasuredTest:
    """Readings worked out. values (n, n_dial): by the sheet's dials, zero taken off, the stands' give taken out; raw: as read.

    turns (n, n_plane): rad, from the last pair where that is at stands. slopes, turn_slopes: per newton, None where not read.
    stiffness: Nm/rad or N/m; pairs: of each pair of dials, torque over its turn. bays: between pairs.
    """

    sheet: Sheet
    record: ReadingsRecord
    raw: Array
    values: Array
    turns: Array
    slopes: tuple[Slope | None, ...]
    turn_slopes: tuple[Slope | None, ...]
    stiffness: Amount | None
    pairs: tuple[Amount | None, ...]
    bays: tuple[Bay, ...]
    findings: tuple[OddReading, ...]

    @property
    def wrong(self) -> frozenset[int]:
        """Return the numbers of the dials that read the wrong way round, or not at all."""
        return wrong_dials(self.sheet.rig, self.findings)

    @property
    def ratio(self) -> float | None:
        """Return the measured stiffness over the expected one."""
        return None if self.stiffness is None else self.stiffness.value / float(self.sheet.stiffness.mid[0])


def measured(case: Case, record: ReadingsRecord, store: SectionStore | None = None, target: TestTarget | None = None) -> MeasuredTest:
    """Return what readings of a case say. InputError: a dial that is none, two at one place, no reading at two loads."""
    sheet = sheet_for(case, record, store, target)
    rig = sheet.rig
    raw = by_dial(rig, record)
    levelled = raw - zero_of(record, raw)
    values = levelled if rig.planes else without_give(rig, levelled)
    turns = turns_read(rig, levelled)
    slopes = tuple(slope_of(record.loads, column, sheet.dial_error) for column in values.T)
    spans = np.array([plane.span for plane in rig.planes])
    turn_slopes = tuple(
        slope_of(record.loads, column, sheet.dial_error * 2**0.5 / span) for column, span in zip(turns.T, spans, strict=True)
    )
    if all(each is None for each in slopes):
        fault = "no dial is read under two loads, so there is no slope"
        raise InputError([Fault(f"{record.file}:{record.lines[0]}", "readings", fault, "write the readings of every step")])
    own = tuple(findings_of(sheet, record, levelled, values, slopes, turn_slopes))
    wrong = wrong_dials(rig, own)
    told = tuple(
        None if {plane.left, plane.right} & wrong else slope for plane, slope in zip(rig.planes, turn_slopes, strict=True)
    )
    by_pair = zip(turn_slopes, rig.planes, strict=True)
    pairs = tuple(None if each is None else inverse(rig.torque, each, share_of(rig, plane.span)) for each, plane in by_pair)
    whole = finite(pairs[0] if rig.planes else sag_stiffness(rig, slopes))
    return MeasuredTest(
        sheet,
        record,
        raw,
        values,
        turns,
        slopes,
        turn_slopes,
        whole,
        pairs,
        tuple(bays(sheet, told)),
        own,
    )


def finite(of: Amount | None) -> Amount | None:
    """Return a measured number, None where the dials that tell it did not move."""
    return None if of is None or not isfinite(of.value) else of


def by_dial(rig: Rig, record: ReadingsRecord) -> Array:
    """Return readings (n, n_dial) in the order of the rig's dials, by letter or name. InputError: one that is none, or named twice."""
    found = np.full((len(record.loads), len(rig.dials)), np.nan)
    names = {dial.name: row for row, dial in enumerate(rig.dials)} | {letter(row): row for row in range(len(rig.dials))}
    names |= {dial.name: row for row, dial in enumerate(rig.dials)}
    faults: list[Fault] = []
    place, seen = f"{record.file}:{record.lines[0]}", dict[int, str]()
    for column, name in enumerate(record.names):
        row = names.get(name)
        if row is None:
            known = ", ".join(f"{letter(number)} ({dial.name})" for number, dial in enumerate(rig.dials))
            faults.append(Fault(place, name, "there is no such dial on the sheet", f"dials are: {known}"))
        elif row in seen:
            fault = f"'{name}' and '{seen[row]}' are one dial: two dials at one place"
            faults.append(Fault(place, name, fault, "keep one of the two names"))
        else:
            found[:, row], seen[row] = record.values[:, column], name
    if faults:
        raise InputError(faults)
    return found


def zero_of(record: ReadingsRecord, raw: Array) -> Array:
    """Return what each dial (n_dial,) read before the test began: under the first sitting without load, else nothing."""
    still = np.flatnonzero(np.abs(record.loads) <= 1e-9 * max(float(np.abs(record.loads).max()), 1e-300))
    return np.nan_to_num(raw[still[0]]) if len(still) else np.zeros(raw.shape[1])


def without_give(rig: Rig, read: Array) -> Array:
    """Return readings (n, n_dial) less the plane through what the stands' dials read; as they are where fewer than three are read.

    Dials that do not read upwards keep what they read.
    """
    stands = [row for row, dial in enumerate(rig.dials) if dial.at_stand and np.isfinite(read[:, row]).all()]
    if len(stands) < 3:
        return read
    at = np.array([dial.spot.at for dial in rig.dials])
    columns = np.column_stack((np.ones(len(at)), at[:, 0] - at[:, 0].mean(), at[:, 1] - at[:, 1].mean()))
    planes = np.linalg.lstsq(columns[stands], read[:, stands].T, rcond=1e-9)[0]
    upward = np.array([abs(dial.direction[2]) > 0.99 for dial in rig.dials])
    sign = np.array([dial.direction[2] for dial in rig.dials])
    return np.where(upward & ~np.isin(np.arange(len(at)), stands), read - sign * (columns @ planes).T, read)


def turns_read(rig: Rig, read: Array) -> Array:
    """Return the turn (n, n_plane) of each pair: atan of the difference over the distance, less the last's where that is at stands."""
    if not rig.planes:
        return np.zeros((len(read), 0))
    turns = np.stack([np.arctan((read[:, each.left] - read[:, each.right]) / each.span) for each in rig.planes], axis=1)
    last = turns[:, -1:]
    return turns - last if ends_at_stands(rig) and np.isfinite(last).all() else turns


def share_of(rig: Rig, span: float | None) -> float:
    """Return how far off a stiffness is because of force, arm and distance of dials, as a share (root of the sum of squares).

    Each is taken as evenly spread between its limits: GUM, JCGM 100:2008, 4.3.7.
    """
    arm = ARM_ERROR / abs(rig.torque) if rig.torque else 0.0
    apart = SPAN_ERROR / span if span else 0.0
    return float(np.sqrt((FORCE_ERRORS[rig.asked.force_by] ** 2 + arm**2 + apart**2) / 3))


def inverse(per_newton: float, slope: Slope, share: float) -> Amount:
    """Return per_newton over a slope, with its standard deviations."""
    value = abs(per_newton / slope.value) if slope.value else float("inf")
    scatter = value * abs(slope.sigma / slope.value) if slope.value else float("inf")
    return Amount(value, scatter, float(np.hypot(scatter, value * share)))


def sag_stiffness(rig: Rig, slopes: tuple[Slope | None, ...]) -> Amount | None:
    """Return load over the mean of the dials of the sag, N/m; None where one is not read."""
    found = [each for row in rig.sag if (each := slopes[row]) is not None]
    if len(found) < len(rig.sag) or not found:
        return None
    mean, sigma = float(np.mean([each.value for each in found])), float(np.sqrt(sum(each.sigma**2 for each in found))) / len(found)
    return inverse(1.0, Slope(mean, sigma, found[0].left, found[0].loop, found[0].count), share_of(rig, None))


def bays(sheet: Sheet, turns: tuple[Slope | None, ...]) -> Iterator[Bay]:
    """Yield each stretch between two pairs of dials that were both read and do not stand at one place."""
    rig = sheet.rig
    for number, (ahead, behind) in enumerate(zip(rig.planes, rig.planes[1:], strict=False)):
        first, second = turns[number], turns[number + 1]
        expected = float(sheet.bays.mid[number])
        if first is None or second is None or ahead.x - behind.x < 1e-3 or not expected:
            continue
        last = number + 2 == len(rig.planes) and ends_at_stands(rig)
        value = (first.value - (0.0 if last else second.value)) / expected
        scatter = float(np.hypot(first.sigma, 0.0 if last else second.sigma)) / abs(expected)
        ends = sorted((float(sheet.bays.low[number]) / expected, float(sheet.bays.high[number]) / expected))
        amount = Amount(value, scatter, float(np.hypot(scatter, abs(value) * share_of(rig, ahead.span))))
        yield Bay(ahead.name, behind.name, amount, ends[0], ends[1], crossmembers_in(rig, behind.x, ahead.x))


def crossmembers_in(rig: Rig, low: float, high: float) -> tuple[str, ...]:
    """Return the crossmembers whose ends lie between two places along the frame."""
    points = rig.frame.points
    return tuple(
        each.name
        for each in rig.frame.members
        if each.role != "rail" and runs_across(rig.frame, each)
        if low - 1e-9 <= (points[each.points[0]][0] + points[each.points[-1]][0]) / 2 <= high + 1e-9
    )
