"""What a fit foretells of a test that was not made: its stiffness, the spread of the fit, and what a beam frame misses of it. SI."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import replace

import numpy as np

from framecheck.errors import InputError
from framecheck.frame.structure import Structure
from framecheck.model.arrays import Array
from framecheck.model.case import Case
from framecheck.rig.fit import STEP, FitOfReadings, parts
from framecheck.rig.measured import MeasuredTest
from framecheck.rig.response import responses
from framecheck.rig.rigs import rig_of
from framecheck.rig.setup import AskedTest, Rig, RigKind
from framecheck.rig.sheet import stiffness_of
from framecheck.rig.variants import FoundFactors, Springy, kinds_of_ends
from framecheck.value_class import value_class

SPRINGS_OFF = 0.076
MEMBERS_OFF = 0.0018
"""One standard deviation of what a frame of closed members, fitted to a twist, misses of another load, as a share: of the part of the
movement that joints, kinks and splices give, and of the part that members give by bending. From 23 shell ladders of random sizes,
pushed sideways and bent (tests/unit/rig/shell-ladders.yaml, benchmarks/rig_bands.py), times Student's t of 23 over 1.96.
"""
ELSE_OFF = 0.018
"""The same of twist, and of open members, notches and sheet: a frame predicted before its shells were run missed seven movements by
1.8 % (root of the mean square, 0.4 to 2.8 %; docs/theory/whole_frame.md).
"""


@value_class
class Foretold:
    """A test that was not made: its stiffness as drawn and as fitted, Nm/rad or N/m, and standard deviation, model's error in it."""

    kind: RigKind
    is_twist: bool
    drawn: float
    stiffness: float
    sigma: float


def rigs_not_made(case: Case, tests: Sequence[MeasuredTest]) -> Iterator[Rig]:
    """Yield the torsion and the beaming test that were not made, where they can stand."""
    made = {each.sheet.rig.asked.kind for each in tests}
    for kind in (RigKind.TORSION, RigKind.BEAMING):
        if kind not in made:
            with suppress(InputError):
                yield rig_of(case, AskedTest(kind=kind, front=tests[0].record.asked.front, rear=tests[0].record.asked.rear))


def stiffness_on(rig: Rig, structure: Structure) -> float:
    """Return the stiffness of a frame on a rig."""
    return stiffness_of(rig, next(iter(responses(rig, (structure,)))))


def foretold(rigs: Sequence[Rig], fit: FitOfReadings, as_drawn: Array, soft: Array, sigma: Array) -> Iterator[Foretold]:
    """Yield what tests not made would give. as_drawn (n,): stiffness; soft, sigma (n,): one over it as fitted, its spread."""
    def give(structure: Structure) -> Array:
        return np.array([1.0 / stiffness_on(rig, structure) for rig in rigs])

    off = missed(fit, give) if rigs else np.zeros(0)
    for rig, drawn, one, spread, own in zip(rigs, as_drawn.tolist(), soft.tolist(), sigma.tolist(), off.tolist(), strict=True):
        model = max(own, ELSE_OFF) if rig.torque else own
        yield Foretold(rig.asked.kind, bool(rig.torque), drawn, 1.0 / one, float(np.hypot(spread / one, model)) / one)


def missed(fit: FitOfReadings, of: Callable[[Structure], Array]) -> Array:
    """Return one standard deviation (m,) of what the fitted frame misses of movements (m,) under another load, as a share of each."""
    share = springs_share(fit, of)
    own = np.hypot(SPRINGS_OFF * share, MEMBERS_OFF * (1.0 - share))
    return np.asarray(own if is_closed(fit.springy) else np.maximum(own, ELSE_OFF))


def springs_share(fit: FitOfReadings, of: Callable[[Structure], Array]) -> Array:
    """Return the share (m,) of movements that joints, kinks and splices give: the derivative of its logarithm by that of the softness
    of all springs together (Castigliano).
    """
    found = parts(fit.unknowns, fit.values).frame
    frames = (softer(found, fit.springy, factor) for factor in (1.0, np.exp(STEP), np.exp(-STEP)))
    at, up, down = (of(fit.springy.structure(frame, fit.bound)) for frame in frames)
    return np.asarray((up - down) / (2 * STEP * at))


def softer(found: FoundFactors, springy: Springy, factor: float) -> FoundFactors:
    """Return factors with every joint, kink and splice so many times as soft."""
    ends = dict(found.ends)
    kinks = dict(found.kinks)
    return replace(
        found,
        ends=tuple((make, ends.get(make, 1.0) * factor) for make in kinds_of_ends(springy.frame)),
        kinks=tuple((made, kinks.get(made, 1.0) * factor) for made in springy.kinks),
        splices=found.splices * factor,
    )


def is_closed(springy: Springy) -> bool:
    """Return whether a frame is of closed members alone, none of them notched, without sheet or a stated body."""
    frame = springy.frame
    used = {stretch.section for member in frame.members for stretch in member.stretches}
    whole = not any(member.cuts for member in frame.members) and not frame.panels and frame.body is None
    return whole and all(springy.nodes[name][1].closed for name in used)
