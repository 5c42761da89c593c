"""How much a frame can take: the largest value of one load that still meets the targets, and the largest before yield.

Everything else of the load case stays as it is. To add a load: one row in RATED.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache

from framecheck.errors import Fault, InputError, UnsolvableError
from framecheck.model.case import Case, LoadCase
from framecheck.model.said import Words
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.run import Prepared, Results, solved
from framecheck.study.limit_search import NEVER_SLIDES, RateLimit, largest, point
from framecheck.value_class import value_class
from framecheck.vehicle.driveline import drive_torque, engine_side
from framecheck.vehicle.masses import scaled_payload
from framecheck.vehicle.obstacles import underbody_strike
from framecheck.vehicle.scene import number
from framecheck.vehicle.scene_builder import scene_of
from framecheck.vehicle.wheels import static_loads
from framecheck.work import LOADS, START, Work, work_of

TRIALS, TRIAL = 15, 0.05
"""Trials of one rating, as a rule (215 for the 15 of the demonstration), and what each takes whatever the frame, s."""

SHARE = "weight share"
Vary = Callable[[Case, LoadCase, float], Case]


def by_factor(name: str) -> Vary:
    """Return what sets one factor of the load case."""

    def vary(case: Case, load_case: LoadCase, value: float) -> Case:
        changed = (replace(each, factors={**each.factors, name: value}) for each in runs_of(case, load_case))
        return replace(case, load_cases=tuple(changed), written_loads=(), sums=())

    return vary


def by_strike(case: Case, load_case: LoadCase, value: float) -> Case:
    """Return the case with a blow from below of so many times the front axle's load, whatever share of the weight that is."""
    varied = by_factor("factor")(case, load_case, value)
    return replace(varied, load_cases=tuple(replace(each, factors={**each.factors, SHARE: 0.0}) for each in varied.load_cases))


def runs_of(case: Case, load_case: LoadCase) -> tuple[LoadCase, ...]:
    """Return every run of a load case: those of both sides, where the file leaves the side open."""
    return tuple(each for each in case.load_cases if each.in_file == load_case.in_file and each.kind == load_case.kind)


def by_engine_torque(case: Case, load_case: LoadCase, value: float) -> Case:
    """Return the case with another engine torque, Nm, on tyres that hold whatever it is: their limit is said beside it."""
    vehicle = case.vehicle
    if vehicle is None or vehicle.driveline is None:
        return case
    driven = replace(vehicle, driveline=replace(vehicle.driveline, engine_torque=value), friction=NEVER_SLIDES)
    return replace(case, vehicle=driven, load_cases=runs_of(case, load_case), written_loads=(), sums=())


def tyre_limit(prepared: Prepared, case: Case) -> float | None:
    """Return the engine torque at which the tyres let go, Nm; None where no driveline is described."""
    driveline = case.vehicle.driveline if case.vehicle is not None else None
    if driveline is None:
        return None
    return drive_torque(scene_of(case, prepared.frame)).tyres / (engine_side(driveline) / driveline.engine_torque)


def by_payload(case: Case, load_case: LoadCase, value: float) -> Case:
    """Return the case with its payload scaled to another mass, kg."""
    if case.vehicle is None:
        return case
    loaded = replace(case.vehicle, masses=scaled_payload(case.vehicle.masses, value / payload(case)))
    return replace(case, vehicle=loaded, load_cases=runs_of(case, load_case), written_loads=(), sums=())


def payload(case: Case) -> float:
    """Return the payload's mass, kg."""
    masses = () if case.vehicle is None else case.vehicle.masses
    return sum(part.mass for part in masses if part.kind == "payload")


@value_class
class RatedLoad:
    """A load that can be rated in one kind of load case. quantity: as in output/display; factor: of the load case.

    holds: what else limits it, in words, where the vehicle and not the frame lets go first.
    """

    name: str
    kind: str
    quantity: str
    vary: Vary
    factor: str = ""
    holds: str = ""


TORQUE = RatedLoad("engine torque", "drive torque", "moment", by_engine_torque, holds="the front wheels lift off")
RATED = (
    TORQUE,
    RatedLoad("vertical bump, times the static load", "vertical bump", "number", by_factor("factor"), "factor"),
    RatedLoad("braking, g", "braking", "number", by_factor("deceleration"), "deceleration", "the tyres slide"),
    RatedLoad("reverse braking, g", "reverse braking", "number", by_factor("deceleration"), "deceleration",
              "the tyres slide"),
    RatedLoad("cornering left, g", "cornering left", "number", by_factor("acceleration"), "acceleration",
              "the tyres slide or the vehicle rolls over"),
    RatedLoad("cornering right, g", "cornering right", "number", by_factor("acceleration"), "acceleration",
              "the tyres slide or the vehicle rolls over"),
    RatedLoad("diagonal twist, obstacle height", "diagonal twist", "length", by_factor("height"), "height",
              "a wheel lifts off"),
    RatedLoad("sideways curb strike, times the static load", "curb strike sideways", "number", by_factor("factor"),
              "factor"),
    RatedLoad("head-on curb strike, times the static load", "curb strike head-on", "number", by_factor("factor"),
              "factor"),
    RatedLoad("sideways curb speed", "curb strike sideways at speed", "speed", by_factor("speed"), "speed"),
    RatedLoad("drop height on one wheel", "drop on one wheel", "length", by_factor("height"), "height"),
    RatedLoad("fall height of a landing", "airborne landing", "length", by_factor("height"), "height"),
    RatedLoad("underbody strike, times the front axle load", "underbody strike", "number", by_strike, "factor"),
    RatedLoad("jack load, times the force that lifts", "jacked at a point", "number", by_factor("factor"), "factor"),
    RatedLoad("pull on the weight of the vehicle", "tow or recovery pull", "number", by_factor("factor"), "factor"),
    RatedLoad("tie-down, g", "tie-down", "number", by_factor("acceleration"), "acceleration"),
)  # fmt: skip
PAYLOAD = RatedLoad("payload in a vertical bump", "vertical bump", "mass", by_payload)


@value_class
class Rating:
    """A load's value in the case, the largest that meets every target, the largest before first yield.

    notes: what the load case says at the value that meets the target. tyres: the value at which the tyres let go, for torque and
    power; None where it is not known or not asked.
    """

    load: RatedLoad
    load_case: str
    now: float
    meets_target: RateLimit
    before_yield: RateLimit
    notes: tuple[Words, ...]
    tyres: float | None = None

    @property
    def misses(self) -> bool:
        """Return whether the target is missed at the value in the case, or at what the tyres hold of it."""
        asked = self.now if self.tyres is None else min(self.now, self.tyres)
        return self.meets_target.value is None or self.meets_target.value < asked


def ratings(prepared: Prepared, case: Case) -> Iterator[Rating]:
    """Yield a rating for every load of the case that can be rated, in the order of RATED, then the payload."""
    by_kind = {each.kind: each for each in reversed(case.load_cases)}
    for load in RATED:
        if load.kind in by_kind:
            found = rating(prepared, case, load, by_kind[load.kind])
            if load is TORQUE:
                found = replace(found, tyres=tyre_limit(prepared, case), notes=())
            yield found
            if load is TORQUE and engine_speed(case) > 0:
                yield as_power(found, engine_speed(case))
    if payload(case) > 0 and PAYLOAD.kind in by_kind:
        yield rating(prepared, case, PAYLOAD, by_kind[PAYLOAD.kind])


def refuse_long_ratings(most: Work, prepared: Prepared, case: Case) -> None:
    """Refuse, before the first trial, ratings that take more time than is allowed; InputError says how much that would be."""
    by_kind = {each.kind: each for each in reversed(case.load_cases)}
    loads = [each for each in RATED if each.kind in by_kind] + [PAYLOAD] * (payload(case) > 0 and PAYLOAD.kind in by_kind)
    trials = (load.vary(case, by_kind[load.kind], value_now(prepared, case, load, by_kind[load.kind])) for load in loads)
    seconds = TRIALS * sum(TRIAL + work_of(each, prepared.structures).seconds - START.seconds for each in trials)
    if seconds > most.seconds:
        fault = f"{len(loads)} loads to rate, some {TRIALS} trials each: that takes {Work(seconds, 0.0).time}"
        raise InputError([Fault(case.place_of(LOADS), "work", fault, "leave ratings out, or run it with --long", LOADS)])


def engine_speed(case: Case) -> float:
    """Return the speed at which the engine makes its torque, rad/s; 0 where it is not known."""
    driveline = case.vehicle.driveline if case.vehicle is not None else None
    return driveline.speed if driveline is not None else 0.0


def as_power(torque: Rating, speed: float) -> Rating:
    """Return a torque rating as the power at the stated engine speed: P = T w (mechanics), W."""
    load = replace(torque.load, name="engine power at its stated speed", quantity="power")
    meets, yields = (
        replace(limit, value=None if limit.value is None else limit.value * speed)
        for limit in (torque.meets_target, torque.before_yield)
    )
    tyres = None if torque.tyres is None else torque.tyres * speed
    return replace(torque, load=load, now=torque.now * speed, meets_target=meets, before_yield=yields, tyres=tyres)


def rating(prepared: Prepared, case: Case, load: RatedLoad, load_case: LoadCase) -> Rating:
    """Return the rating of one load in one load case."""
    now = value_now(prepared, case, load, load_case)

    @cache
    def results(value: float) -> Results | str:
        try:
            return solved(prepared, load.vary(case, load_case, value))
        except (InputError, UnsolvableError) as error:
            return str(error)

    meets = largest(lambda value: point(results(value), against_target), now, load.holds)
    yields = largest(lambda value: point(results(value), against_yield), now, load.holds)
    shown = results(now if meets.value is None else meets.value)
    notes = () if isinstance(shown, str) else shown.outcome.loads[0].notes
    return Rating(load, load_case.in_file, now, meets, yields, notes)


def value_now(prepared: Prepared, case: Case, load: RatedLoad, load_case: LoadCase) -> float:
    """Return the value that a load has in the case, SI; of a blow from below the one that is counted, by factor or by weight."""
    if load.vary is by_strike:
        scene = scene_of(case, prepared.frame)
        (blow,), front = underbody_strike(scene, load_case).outside, float(static_loads(scene).axles[0])
        return blow.force[2] / front if front > 0 else number(load_case, load.factor)
    if load is PAYLOAD:
        return payload(case)
    if load.factor:
        return number(load_case, load.factor)
    driveline = case.vehicle.driveline if case.vehicle is not None else None
    return driveline.engine_torque if driveline is not None else 0.0


def against_target(row: CheckResult) -> float:
    """Return what share of the allowed a row uses; sheet that comes near to waving limits nothing: beyond it carries as a diagonal."""
    return 0.0 if row.mode is Mode.SHEET_WAVES else row.used


def against_yield(row: CheckResult) -> float:
    """Return demand over yield, at most CAP where nothing may be asked at all; 0 for every other check."""
    return replace(row, target=1.0).used if row.check is Check.YIELD else 0.0
