"""The test sheet: what to load, in which steps, what each dial should read and how far off it may be, when to stop. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor, log10, radians

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Array
from framecheck.model.case import Case
from framecheck.rig.record import ReadingsRecord, with_own_dials
from framecheck.rig.response import Response, responses
from framecheck.rig.rigs import PIVOT_NAME as PIVOT
from framecheck.rig.rigs import rig_of
from framecheck.rig.setup import FORCE_ERRORS, AskedTest, Rig
from framecheck.rig.stop import Stop, both_ways, on_the_rig, resting, stops_of
from framecheck.rig.targets import TestTarget, allowed_set
from framecheck.rig.variants import MODULUS_BAND, WALL_BAND, ChangeOfFrame, structures_of
from framecheck.run import Prepared, prepare
from framecheck.section.store import SectionStore
from framecheck.units import GRAVITY, POUND_FORCE, Units
from framecheck.value_class import array_class, value_class

WANTED_TURN, WANTED_MOVE = radians(1.0), 3e-3
"""The largest load that is proposed turns the front by so much, or moves the first dial of `sag` by so much, m: enough for a dial."""
ARM_ERROR, PLACE_ERROR = 3e-3, 5e-3
"""m; how far off a weight may hang, and a dial may stand along the frame (common practice, no source)."""
DIAL_ERROR = 1.5e-5
"""m; permissible error of a dial of 10 mm range, JIS B 7503:2011 as a vendor prints it."""
NICE = (5.0, 2.5, 2.0, 1.0)
SOFTER = 2.0


@array_class
class ExpectedRange:
    """What is expected, and the least and the most that it may be; arrays of one shape."""

    low: Array
    mid: Array
    high: Array

    def times(self, loads: Array) -> ExpectedRange:
        """Return the band (n, n_load) under loads (n_load,), N, of a band (n,) per newton; + loads."""
        return ExpectedRange(np.outer(self.low, loads), np.outer(self.mid, loads), np.outer(self.high, loads))


@value_class
class Meaning:
    """What the readings would be if something were not as drawn. stiffness: SI, of the whole; ahead: the share of the twist that lies
    in the front half, None where nothing twists."""

    what: str
    stiffness: float
    ahead: float | None


@array_class
class Sheet:
    """A test sheet. loads (n_step,): N, the top one last. dials: (n_dial, n_step) m; turns: (n_plane, n_step) rad from the last plane;
    bays: (n_plane - 1,) rad/N from each plane to the next.

    stiffness: (1,) Nm/rad of a rig that twists, else N/m of what `sag` reads. rest, at_top, most: what each stand carries, N,
    before, and the least and the most at the top load whichever way, a weight that hangs over it with it. stops: the lowest first.
    """

    case: Case
    rig: Rig
    loads: Array
    dials: ExpectedRange
    turns: ExpectedRange
    bays: ExpectedRange
    stiffness: ExpectedRange
    dial_error: float
    rest: tuple[float, ...]
    at_top: tuple[float, ...]
    most: tuple[float, ...]
    stops: tuple[Stop, ...]
    meanings: tuple[Meaning, ...]
    target: TestTarget | None
    bounds: tuple[str, ...]

    @property
    def set_allowed(self) -> Array:
        """Return how far each dial (n_dial,) may stay off zero after unloading, m."""
        return np.array([allowed_set(float(each), self.dial_error) for each in self.dials.mid[:, -1]])


@array_class
class RigTrials:
    """A rig's response as drawn under each bound, and with walls thinner and thicker, joints softer."""

    drawn: tuple[Response, ...]
    thin: tuple[Response, ...]
    thick: tuple[Response, ...]
    soft: tuple[Response, ...]

    @property
    def every(self) -> tuple[Response, ...]:
        """Return those between which the frame may lie: joints twice as soft tell what a result would mean, and are not expected."""
        return (*self.drawn, *self.thin, *self.thick)


def sheet_of(case: Case, asked: AskedTest, store: SectionStore | None = None, target: TestTarget | None = None) -> Sheet:
    """Return the test sheet of a case. InputError: the rig can't stand, or the load that is asked for is beyond the stop load."""
    rig = rig_of(case, asked)
    prepared = prepare(on_the_rig(case, rig, ()), store)
    trials = trials_of(rig, prepared, store)
    stops = stops_of(case, prepared, rig, trials.drawn)
    loads = steps_of(rig, trials.drawn, stops, case.written_in)
    return filled_in(case, rig, (prepared, trials), stops, loads, target)


def sheet_for(case: Case, record: ReadingsRecord, store: SectionStore | None = None, target: TestTarget | None = None) -> Sheet:
    """Return the sheet of a test that was made: its loads are those that were read. InputError: its dials stand nowhere."""
    rig = with_own_dials(rig_of(case, record.asked), record)
    prepared = prepare(on_the_rig(case, rig, ()), store)
    trials = trials_of(rig, prepared, store)
    stops = stops_of(case, prepared, rig, trials.drawn)
    sizes = np.unique(np.round(np.abs(record.loads), 6))
    loads: Array = np.asarray(sizes[sizes > 0], dtype=np.float64)
    if not len(loads):
        fault = "every reading is at zero load"
        raise InputError([Fault(f"{record.file}:{record.lines[0]}", "readings", fault, "write the loads of the steps")])
    return filled_in(case, rig, (prepared, trials), stops, loads, target)


def filled_in(
    case: Case, rig: Rig, of: tuple[Prepared, RigTrials], stops: tuple[Stop, ...], loads: Array, target: TestTarget | None
) -> Sheet:
    """Return the sheet of a rig under known loads."""
    prepared, trials = of
    error = max(DIAL_ERROR, rig.asked.resolution)
    rest = resting(case, prepared, rig).stands
    top = [carried(rest[n], [each.stands[n] * loads[-1] for each in trials.drawn], both_ways(rig)) for n in range(len(rest))]
    hung = [float(loads[-1]) if stand.name == PIVOT else 0.0 for stand in rig.stands]
    return Sheet(
        case=case,
        rig=rig,
        loads=loads,
        dials=dial_band(rig, trials, loads, error),
        turns=turn_band(rig, trials, loads, error),
        bays=bay_band(rig, trials),
        stiffness=stiffness_band(rig, trials),
        dial_error=error,
        rest=rest,
        at_top=tuple(least for least, _ in top),
        most=tuple(most + weight for (_, most), weight in zip(top, hung, strict=True)),
        stops=stops,
        meanings=tuple(meanings(rig, trials)),
        target=target,
        bounds=tuple(each.bound.name for each in trials.drawn if each.bound.name),
    )


def carried(rest: float, changes: Sequence[float], ways: Sequence[float]) -> tuple[float, float]:
    """Return the least and the most that a stand carries, + it presses up: at rest and with what the test adds, whichever way."""
    every = [rest + way * change for change in changes for way in ways]
    return min(every), max(every)


def trials_of(rig: Rig, prepared: Prepared, store: SectionStore | None) -> RigTrials:
    """Return the rig's response as drawn, and as the frame may be."""

    def changed(change: ChangeOfFrame) -> tuple[Response, ...]:
        return tuple(responses(rig, list(structures_of(rig.frame, change, store))))

    return RigTrials(
        tuple(responses(rig, prepared.structures)),
        changed(ChangeOfFrame(walls=1 - WALL_BAND)),
        changed(ChangeOfFrame(walls=1 + WALL_BAND)),
        changed(ChangeOfFrame(joints=SOFTER)),
    )


def nice_below(value: float) -> float:
    """Return the largest round number (1, 2, 2.5 or 5 times a power of ten) that is not above a value."""
    power = 10.0 ** floor(log10(value) + 1e-12)
    return next(each * power for each in NICE if each * power <= value * (1 + 1e-9))


def steps_of(rig: Rig, drawn: Sequence[Response], stops: Sequence[Stop], units: Units) -> Array:
    """Return the loads of the steps, N, each a round number of pounds or kilograms. InputError: beyond the stop load."""
    stop = stops[0].load if stops else float("inf")
    if stop <= 0.0:
        because = "a check misses its target under what the frame carries at rest"
        raise InputError([Fault("", "test", because, "see: framecheck check CASE; a frame that fails at rest is not tested")])
    count, asked = rig.asked.steps, rig.asked.top
    if asked is not None:
        if asked > stop:
            fault = f"{asked:.0f} N is beyond the stop load of {stop:.0f} N ({stop_words(stops[0])})"
            raise InputError([Fault("", "--load", fault, "ask for less")])
        return asked * np.arange(1, count + 1) / count
    wanted = WANTED_TURN / max(float(np.abs(each.turns[0])) for each in drawn) if rig.torque else WANTED_MOVE / reach(rig, drawn)
    unit = POUND_FORCE if units is Units.US else GRAVITY
    step = nice_below(min(wanted, stop) / count / unit) * unit
    return np.asarray(step * np.arange(1, count + 1))


def reach(rig: Rig, drawn: Sequence[Response]) -> float:
    """Return how far the dial that tells the sag moves per newton, m."""
    return max(float(np.abs(each.moves[list(rig.sag)]).max()) for each in drawn)


def stop_words(stop: Stop) -> str:
    """Return what sets a stop load, in a few words."""
    where = stop.where or ("" if stop.row is None else f"{stop.row.check.words}, {stop.row.where}")
    return f"{stop.by.value}: {where}" if where else stop.by.value


def share_error(rig: Rig) -> float:
    """Return how far a reading may be off because of force, arm and modulus, as a share of it (root of the sum of squares)."""
    arm = ARM_ERROR / abs(rig.torque) if rig.torque else 0.0
    return float(np.sqrt(FORCE_ERRORS[rig.asked.force_by] ** 2 + arm**2 + MODULUS_BAND**2))


def spread(values: Array, drawn: Array, share: float) -> tuple[Array, Array, Array]:
    """Return least, middle and most of values (k, n), each a share off; the middle is that of the bounds as drawn (b, n)."""
    low, high = values.min(axis=0), values.max(axis=0)
    mid = (drawn.min(axis=0) + drawn.max(axis=0)) / 2
    return low - share * np.abs(low), mid, high + share * np.abs(high)


def dial_band(rig: Rig, trials: RigTrials, loads: Array, error: float) -> ExpectedRange:
    """Return what each dial (n_dial, n_step) should read."""
    values, drawn = (np.array([each.moves for each in some]) for some in (trials.every, trials.drawn))
    low, mid, high = spread(values, drawn, share_error(rig))
    aside = PLACE_ERROR * np.max([np.abs(each.aside) for each in trials.drawn], axis=0)
    found = ExpectedRange(low - aside, mid, high + aside).times(loads)
    return ExpectedRange(found.low - error, found.mid, found.high + error)


def turn_band(rig: Rig, trials: RigTrials, loads: Array, error: float) -> ExpectedRange:
    """Return the turn of each plane (n_plane, n_step) less that of the last."""
    values, drawn = (np.array([each.turns for each in some]) for some in (trials.every, trials.drawn))
    found = ExpectedRange(*spread(values, drawn, share_error(rig))).times(loads)
    spans = np.array([plane.span for plane in rig.planes])
    read = 2 * error / spans if len(spans) else np.zeros(0)  # two pairs of dials: sqrt(4) times one over the span
    return ExpectedRange(found.low - read[:, None], found.mid, found.high + read[:, None])


def bay_band(rig: Rig, trials: RigTrials) -> ExpectedRange:
    """Return how much each bay between two planes twists, rad/N."""
    values, drawn = (np.array([-np.diff(each.turns) for each in some]) for some in (trials.every, trials.drawn))
    return ExpectedRange(*spread(values, drawn, share_error(rig)))


def stiffness_of(rig: Rig, found: Response) -> float:
    """Return the whole's stiffness: torque over the turn between the end planes, Nm/rad, else load over the mean sag, N/m."""
    if rig.torque:
        return abs(rig.torque / float(found.turns[0]))
    return 1.0 / abs(float(np.mean(found.moves[list(rig.sag)])))


def stiffness_band(rig: Rig, trials: RigTrials) -> ExpectedRange:
    """Return the stiffness (1,)."""
    every, drawn = (np.array([[stiffness_of(rig, each)] for each in some]) for some in (trials.every, trials.drawn))
    return ExpectedRange(*spread(every, drawn, MODULUS_BAND))


def meanings(rig: Rig, trials: RigTrials) -> Iterator[Meaning]:
    """Yield what the whole would be as drawn, with softer joints, with thinner and thicker walls: of the bounds, the softest."""
    rows = (
        ("as drawn", trials.drawn),
        (f"every joint {SOFTER:g} times as soft", trials.soft),
        (f"every wall {WALL_BAND:.0%} thinner", trials.thin),
        (f"every wall {WALL_BAND:.0%} thicker", trials.thick),
    )
    for words, found in rows:
        softest = min(found, key=lambda each: stiffness_of(rig, each))
        yield Meaning(words, stiffness_of(rig, softest), ahead_of(rig, softest))


def ahead_of(rig: Rig, found: Response) -> float | None:
    """Return the share of the twist between the end planes that lies ahead of the middle plane."""
    if len(rig.planes) < 3:
        return None
    return float(1.0 - found.turns[len(rig.planes) // 2] / found.turns[0])


