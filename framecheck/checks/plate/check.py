"""The check of a plate: every load, worst first in each mode, and what could not be checked."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite, isinf, pi

from framecheck.checks.joint_rows import Capacity, Judging, Line, governing_first, judged
from framecheck.checks.plate.answer import EnergyAnswer, LoadAnswer, PlateAnswer, solve
from framecheck.checks.plate.bending import patch_of
from framecheck.checks.plate.bolt_rows import bolt_rows
from framecheck.checks.plate.folds import point_load
from framecheck.model.plate import ASKED, BoltedPlate, InPlane, PlateTargets, Rib, Strike
from framecheck.results.row import Check, Mode
from framecheck.results.subjects import Open, Question, Remark, Subject, Thing, left_open

BENDING_SOURCE = "Kirchhoff plate, bicubic rectangles (Bogner, Fox and Schmit), von Mises; target: common practice, no source"
MEMBRANE_SOURCE = f"{BENDING_SOURCE}; stretching by von Karman's strains, Ritz's method in one shape"
STIFFENER_SOURCE = "eccentric beam with its strip of sheet (EN 1993-1-5:2006, table 3.1, shear lag, from memory)"
BUCKLING_SOURCE = "EN 1993-1-5:2006, 4.4, tables 4.1, 4.2: rho fy of a rib's free edge (k 0.43, its turning over too), a bead's flats"
FOLD_SOURCE = (
    "limit analysis by von Mises, upper bound (linear matching: Ponter and Carter, from memory); membrane action left out; "
    "target: ANSI/AISC 360-22, F1 (ASD 1.67)"
)
ENERGY_SOURCE = "energy balance (statics): elastic to the collapse load, then folding at it"
PUNCH_SOURCE = "pi d t 0.6 Fu (statics; 0.6: ANSI/AISC 360-22, J4.2); target: J4.2 (ASD 2.00)"
DENT_SOURCE = "point load on a sheet of von Mises metal, 4 pi / sqrt 3 Mp (H. G. Hopkins and A. J. Wang, from memory)"


def check(plate: BoltedPlate, targets: PlateTargets = ASKED) -> tuple[Line, ...]:
    """Return a row a mode of the plate and of each of its bolts (worst load), least margin first, then what could not be checked.

    Raises InputError where the plate can't be as written, MechanismError where it is free to tip.
    """
    return judge(solve(plate), targets)


def judge(answer: PlateAnswer, targets: PlateTargets = ASKED) -> tuple[Line, ...]:
    """Return the rows of a plate already solved."""
    return governing_first(row for load in answer.loads for row in rows_of(answer, load, targets))


def rows_of(answer: PlateAnswer, load: LoadAnswer, targets: PlateTargets) -> Iterator[Line]:
    """Yield every row of one load."""
    if load.energy is None or answer.clearance is None:
        yield from stress_rows(answer.plate, load, targets)
    else:
        yield from permanent_set(answer.plate, load.load.name, load.energy)
    yield from stiffener_rows(answer.plate, load, targets)
    yield from gap_rows(answer, load, targets)
    yield from rock_rows(answer.plate, load, targets)
    yield from bolt_rows(answer.plate, load, targets)
    patch = patch_of(load.load)
    if patch is not None and patch.drag and not answer.plate.bolts:
        yield unjudged(answer.plate, "drag", "no bolts are given to carry it; what holds the edges must")
    if answer.plate.in_plane is InPlane.FREE and load.deflection > answer.plate.thickness / 2:
        reason = "it sags more than half its thickness; stretching, left out here, would make it stiffer"
        yield unjudged(answer.plate, "large deflection", reason)


def of_plate(plate: BoltedPlate) -> Judging:
    """Return that the check speaks of the plate as a whole."""
    return Judging(Check.PLATE, Subject(Thing.PLATE, plate.name))


def unjudged(plate: BoltedPlate, part: str, reason: str) -> Open:
    """Return what was not judged of a plate."""
    return left_open(Thing.PLATE, plate.name, Question.PLATE, reason, part)


def stress_rows(plate: BoltedPlate, load: LoadAnswer, targets: PlateTargets) -> Iterator[Line]:
    """Yield first yield of the sheet and of each stiffener, and collapse."""
    subject, case = of_plate(plate), load.load.name
    stretched = plate.in_plane is InPlane.HELD
    mode = Mode.PLATE_STRETCHES if stretched else Mode.PLATE_BENDS
    source = MEMBRANE_SOURCE if stretched else BENDING_SOURCE
    yield judged(subject, case, load.stress.stress,
                 Capacity(mode, load.stress.yield_strength, targets.yielding, source, "Pa"))  # fmt: skip
    if isinf(load.collapse):
        yield Remark(f"{plate.name}: collapse", "no pattern of folds gives way: what holds it does so everywhere")
        return
    yield judged(subject, case, abs(load.force), Capacity(Mode.PLATE_FOLDS, load.collapse, targets.collapse, FOLD_SOURCE))


def stiffener_rows(plate: BoltedPlate, load: LoadAnswer, targets: PlateTargets) -> Iterator[Line]:
    """Yield first yield and buckling of each stiffener, and what was not judged of it. A strike: were the plate elastic to its end."""
    subject, case = of_plate(plate), load.load.name
    for each in load.stiffeners:
        yields_ = Capacity(Mode.STIFFENER_YIELDS, each.yield_strength, targets.yielding, STIFFENER_SOURCE, "Pa", each.name)
        yield judged(subject, case, each.stress, yields_)
        buckles = Capacity(Mode.STIFFENER_BUCKLES, each.buckling, targets.yielding, BUCKLING_SOURCE, "Pa", each.name)
        if each.compression > 0:
            yield judged(subject, case, each.compression, buckles)
    for stiffener in plate.stiffeners:
        if isinstance(stiffener, Rib):
            yield unjudged(plate, f"weld of rib {stiffener.name}", "the leg of its weld to the sheet is not part of the file")


def permanent_set(plate: BoltedPlate, case: str, energy: EnergyAnswer) -> Iterator[Line]:
    """Yield a word on a strike that bends the plate for good: it is judged by its energy up to the pan, not by yield."""
    if energy.asked > energy.to_yield:
        share = f"{energy.to_yield:.3g} J of {energy.asked:.3g} J" if isfinite(energy.asked) else f"{energy.to_yield:.3g} J"
        reason = f"{case} leaves a bend: the plate takes {share} before it yields; give the strike as a press to ask for none"
        yield Remark(f"{plate.name}: permanent set", reason)


def gap_rows(answer: PlateAnswer, load: LoadAnswer, targets: PlateTargets) -> Iterator[Line]:
    """Yield the deflection against the gap, or a strike's energy against what the plate takes until it touches."""
    subject, case = of_plate(answer.plate), load.load.name
    if answer.clearance is None:
        yield unjudged(answer.plate, "touching the pan", "the gap above the plate is not given")
    elif load.energy is not None and isinstance(load.load, Strike):
        taken, brought = load.energy.to_contact or 0.0, load.energy.asked_at_contact or 0.0
        yield judged(subject, case, brought, Capacity(Mode.STRIKE_ENERGY, taken, targets.energy, ENERGY_SOURCE, "J"))
    else:
        capacity = Capacity(Mode.TOUCHES_PAN, answer.clearance, targets.gap, "elastic plate as above", "m")
        yield judged(subject, case, load.upward, capacity)


def rock_rows(plate: BoltedPlate, load: LoadAnswer, targets: PlateTargets) -> Iterator[Line]:
    """Yield punching and denting by a sharp rock."""
    patch = patch_of(load.load)
    if patch is None:
        return
    if patch.rock is None:
        yield unjudged(plate, "punching and denting by a sharp rock", "the rock's sharp end is not given")
        return
    subject, case, material = of_plate(plate), load.load.name, plate.material
    punch = punching_load(patch.rock, plate.thickness, material.ultimate_strength)
    through = Capacity(Mode.ROCK_PUNCHES, punch, targets.strength, PUNCH_SOURCE)
    yield judged(subject, case, abs(load.for_bolts), through)
    dented = Capacity(Mode.ROCK_DENTS, point_load(plate), targets.gap, DENT_SOURCE)
    yield judged(subject, case, abs(load.for_bolts), dented)


def punching_load(rock: float, thickness: float, ultimate: float) -> float:
    """Return the force at which a blunt end of a diameter (m) shears through the sheet, N: pi d t 0.6 Fu (statics)."""
    return pi * rock * thickness * 0.6 * ultimate
