"""Rows of the bolts that hold a plate: each bolt's tension, shear, both, slip, and what its hole and its seat do to the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, pi

from framecheck.checks.bolt_strength import (
    BOTH_SOURCE,
    SHEET,
    SOURCES,
    Strength,
    bearing_of_metal,
    shear_strength,
    slip_resistance,
    tension_strength,
    torn_out,
    used_by_both,
    weakest,
)
from framecheck.checks.joint_rows import Capacity, Judging, Line, judged
from framecheck.checks.plate.answer import LoadAnswer
from framecheck.model.joints import Bolt
from framecheck.model.plate import BoltedPlate, InPlane, Lies, Mounting, PlateBolt, PlateTargets
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Claim, Open, Question, Subject, Thing, asked, left_open

PULL_SOURCE = "AISI S100-16, J4.4.2, from memory, for screws: 1.5 t dw Fu, dw at most 3/4 in (ASD 3.00 to 3/16 in, 2.00 beyond)"
PUNCH_SOURCE = "punching in shear, pi dw t 0.6 Fu (statics)"


def pull_over(thickness: float, seat: float, ultimate: float) -> float:
    """Return the force at which sheet is pulled over a head or washer, N: 1.5 t d'w Fu, d'w at most 3/4 in.

    AISI S100-16, J4.4.2, from memory.
    """
    return 1.5 * thickness * min(seat, 0.75 * 0.0254) * ultimate


def punching(thickness: float, seat: float, ultimate: float) -> float:
    """Return the force at which a head or washer punches through, N: pi dw t 0.6 Fu in shear (statics)."""
    return pi * seat * thickness * 0.6 * ultimate


def pull_through(thickness: float, seat: float, ultimate: float) -> tuple[Strength, Strength]:
    """Return both rules for a head or washer that goes through the sheet, each with its own factor.

    AISI's 3.00 goes with AISI's strength up to 3/16 in, for which it is written; beyond, AISC's 2.00 is reached within a tenth more,
    so that no thickness makes it jump.
    """
    beyond = min(max((thickness / SHEET - 1.0) / 0.1, 0.0), 1.0)
    over = Strength(pull_over(thickness, seat, ultimate), 3.0 - beyond, PULL_SOURCE)
    return over, Strength(punching(thickness, seat, ultimate), 2.0, PUNCH_SOURCE)


def of_bolt(plate: BoltedPlate, bolt: PlateBolt) -> Judging:
    """Return that the check speaks of one of a plate's bolts."""
    return Judging(Check.PLATE, Subject(Thing.PLATE, plate.name, f"bolt {bolt.name}"))


def unjudged_bolt(plate: BoltedPlate, bolt: PlateBolt, reason: str) -> Open:
    """Return what was not judged of one of a plate's bolts."""
    return left_open(Thing.PLATE, plate.name, Question.PLATE, reason, f"bolt {bolt.name}")


def tension_of(plate: BoltedPlate, upward: float) -> float:
    """Return the tension in a bolt (N) from what the plate puts on it, upward: pressed against the frame it has none."""
    return max(-upward if plate.mounting is Mounting.UNDER else upward, 0.0)


def bolt_rows(plate: BoltedPlate, answer: LoadAnswer, targets: PlateTargets) -> Iterator[Line]:
    """Yield the rows of every bolt under one load."""
    for bolt, force, pried in zip(plate.bolts, answer.bolt_forces, answer.prying.tolist(), strict=True):
        tension, shear = max(tension_of(plate, float(force[2])), tension_of(plate, pried)), hypot(force[0], force[1])
        yield Claim(asked(Thing.PLATE, plate.name, Question.PLATE, f"bolt {bolt.name}"))
        lines = rows_of_bolt(plate, bolt, (answer.load.name, shear, tension), targets)
        yield from (each for each in lines if not isinstance(each, CheckResult) or each.demand > 0)
    if plate.in_plane is InPlane.HELD:
        reason = "the sheet is taken to be held from the first; where the bolts slip, it sags further"
        yield left_open(Thing.PLATE, plate.name, Question.PLATE, reason, "play of the bolts in their holes")


def rows_of_bolt(
    plate: BoltedPlate, bolt: PlateBolt, acting: tuple[str, float, float], targets: PlateTargets
) -> Iterator[Line]:
    """Yield the rows of one bolt. acting: load case, shear and tension, N."""
    case, shear, tension = acting
    through = weakest(pull_through(plate.thickness, bolt.seat, plate.material.ultimate_strength), targets.strength)
    yield judged(of_bolt(plate, bolt), case, tension, Capacity(Mode.PULLS_THROUGH, through.value, through.asked, through.source))
    if bolt.bolt is None:
        yield unjudged_bolt(plate, bolt, "strength, bearing, tear-out: its size and grade are not given")
        return
    yield from strength_rows(plate, bolt, bolt.bolt, acting, targets)
    yield from hole_rows(plate, bolt, bolt.bolt, (case, shear), targets)
    yield from slip_rows(plate, bolt, bolt.bolt, acting, targets)


def strength_rows(
    plate: BoltedPlate, held: PlateBolt, bolt: Bolt, acting: tuple[str, float, float], targets: PlateTargets
) -> Iterator[Line]:
    """Yield shear, tension and both of one bolt. acting: load case, shear and tension, N."""
    subject, (case, shear, tension) = of_bolt(plate, held), acting
    pulled = Mode.BOLT_TENSION if plate.lies is Lies.SPACERS else Mode.BOLT_TENSION_PRYING
    in_shear, in_tension = shear_strength(bolt), tension_strength(bolt)
    sheared = Capacity(Mode.BOLT_SHEAR, in_shear.value, targets.strength, in_shear.source, part=bolt.threads.value)
    yield judged(subject, case, shear, sheared)
    capacity = Capacity(pulled, in_tension.value, targets.strength, in_tension.source)
    yield judged(subject, case, tension, capacity)
    used = used_by_both(shear / in_shear.value, tension / in_tension.value)
    yield judged(subject, case, used, Capacity(Mode.BOLT_BOTH, 1.0, targets.strength, BOTH_SOURCE, "1"))


def hole_rows(
    plate: BoltedPlate, held: PlateBolt, bolt: Bolt, acting: tuple[str, float], targets: PlateTargets
) -> Iterator[Line]:
    """Yield bearing and tear-out of the sheet at one bolt. acting: load case and shear, N."""
    subject, (case, shear) = of_bolt(plate, held), acting
    size, t, ultimate = bolt.thread.diameter, plate.thickness, plate.material.ultimate_strength
    bears = bearing_of_metal(size, t, ultimate, targets.strength)
    yield judged(subject, case, shear, Capacity(Mode.BEARS_ON_SHEET, bears.value, bears.asked, bears.source))
    clear = clear_of_edge(plate, held) - bolt.hole / 2
    if clear <= 0:
        yield unjudged_bolt(plate, held, "tear-out: its hole breaks the plate's edge as drawn: give its true place")
        return
    least = torn_out(clear, t, ultimate, targets.strength)
    yield judged(subject, case, shear, Capacity(Mode.TEARS_SHEET, least.value, least.asked, least.source))


def clear_of_edge(plate: BoltedPlate, bolt: PlateBolt) -> float:
    """Return the distance from a bolt's centre to the nearest edge, m."""
    x, y = bolt.at
    return min(x, plate.length - x, y, plate.width - y)


def slip_rows(
    plate: BoltedPlate, held: PlateBolt, bolt: Bolt, acting: tuple[str, float, float], targets: PlateTargets
) -> Iterator[Line]:
    """Yield slip of one bolt where it must hold the sheet from drawing in. acting: load case, shear and tension, N."""
    case, shear, tension = acting
    if plate.in_plane is InPlane.FREE:
        return
    resistance = slip_resistance(bolt, tension)
    if resistance is None or bolt.surface is None:
        yield unjudged_bolt(plate, held, "slip: clamp force or friction of the faces is not known")
        return
    source = f"{SOURCES[bolt.surface.rule]}; friction: {bolt.surface.source}"
    capacity = Capacity(Mode.SLIP_DRAWS_IN, resistance, targets.slip, source, part=bolt.surface.name)
    yield judged(of_bolt(plate, held), case, shear, capacity)
