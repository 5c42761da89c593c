"""Bolts that loads pull and shear again and again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import pi

import numpy as np

from framecheck.checks.bolt_strength import BoltLoads
from framecheck.checks.fatigue.joints import Finding, row
from framecheck.checks.fatigue.sn import damage_together
from framecheck.checks.fatigue.swings import SwingBlock, at, ranges, vector_ranges
from framecheck.checks.joint_rows import Line
from framecheck.model.arrays import Array
from framecheck.model.duty import BoltDetail, Duty
from framecheck.model.joints import ASKED, BoltGroup, Prying, Threads
from framecheck.model.said import joined
from framecheck.results.subjects import Open, Question, Subject, Thing, left_open

THICK = 30e-3
SIZE_SOURCE = "EN 1993-1-9:2005, table 8.1, detail 14, from memory: (30 mm / d)^0.25 above 30 mm"
PRYING_SOURCE = "prying by the AISC Steel Construction Manual, part 9, at its most: 1 + delta rho"


def bolt_lines(detail: BoltDetail, loads: BoltLoads | None, blocks: Sequence[SwingBlock], duty: Duty) -> Iterator[Line]:
    """Yield the row of a group's worst bolt, and what of it could not be judged.

    Tension on the stress area and shear on the shank wear together (EN 1993-1-9:2005, 8(3)). The whole swing of the load counts, as if
    nothing were clamped (unfavourable).
    """
    if loads is None:
        yield unjudged(detail, "the loads of its bolts are not known in the duty's load cases")
        return
    group, factor = loads.group, duty.factors.load * duty.factors.strength
    pulled, sheared = stresses(loads)
    tension, shear = ranges(pulled[None], blocks)[:, 0], vector_ranges(sheared[None], blocks)[:, 0]
    cycles = np.array([block.cycles for block in blocks])
    parts = ((factor * tension / size_factor(group.bolt.thread.diameter), detail.tension), (factor * shear, detail.shear))
    total = float(damage_together(parts, cycles).max())
    sources = joined(detail.tension.source, SIZE_SOURCE, "" if group.prying is None else PRYING_SOURCE)
    words = f"classes {detail.tension.name}, {detail.shear.name}; all of the load's swing counted, whatever the clamp"
    yield row(Finding("", detail.joint, None, total, words, sources, subject=Subject(Thing.JOINT, detail.joint)), duty)
    if group.prying is None and tension.max() > 0.0:
        reason = "prying adds to the swing of its bolts, and the flange's sizes are not given"
        yield unjudged(detail, reason, "write the group's `prying`")
    yield from without_class(detail, loads, blocks)


def unjudged(detail: BoltDetail, reason: str, remedy: str = "") -> Open:
    """Return what was not judged of a group's bolts."""
    return left_open(Thing.JOINT, detail.joint, Question.FATIGUE, reason, remedy=remedy)


def stresses(loads: BoltLoads) -> tuple[Array, Array]:
    """Return the stress of every bolt in every load case, Pa: of tension (n_case, n_bolt), of shear (n_case, n_bolt, 3)."""
    bolt = loads.group.bolt
    pulled = loads.tension * prying_factor(loads.group.prying, loads.group) / bolt.thread.stress_area
    return pulled, loads.shear / (bolt.shear_planes * pi * bolt.thread.diameter**2 / 4)


def prying_factor(plate: Prying | None, group: BoltGroup) -> float:
    """Return by how much prying raises a bolt's tension at most, 1 where the flange is not known: 1 + delta rho.

    AISC Steel Construction Manual, part 9: delta = 1 - d' / p, rho = b' / a', the flange bent as much at the bolts as at its stem.
    """
    if plate is None:
        return 1.0
    half = group.bolt.thread.diameter / 2
    offset, edge = max(plate.offset - half, 0.0), min(plate.edge, 1.25 * plate.offset) + half
    return 1.0 + (1.0 - group.bolt.hole / plate.pitch) * offset / edge


def size_factor(diameter: float) -> float:
    """Return how much less a thick bolt bears in tension, 1 up to 30 mm. EN 1993-1-9:2005, table 8.1, detail 14: (30 / d)^0.25."""
    return min(1.0, float((THICK / diameter) ** 0.25))


def without_class(detail: BoltDetail, loads: BoltLoads, blocks: Sequence[SwingBlock]) -> Iterator[Open]:
    """Yield why the class for shear does not hold: the faces slip, and the threads are sheared or the load turns round.

    EN 1993-1-9:2005, table 8.1, detail 15, from memory: threads out of the plane, no reversal unless the bolts are fitted.
    """
    ends = dict.fromkeys((block.high, block.low) for block in blocks)
    if all(is_held(loads, each) for each in ends):
        return
    if loads.group.bolt.threads is Threads.IN:
        reason = "its faces may slip, and there is no class for threads in the plane that is sheared"
        remedy = "tighten the bolts until the faces hold, or put the shanks into the plane"
        yield unjudged(detail, reason, remedy)
    if any(turns_round(loads, each, blocks) for each in ends):
        reason = "its faces may slip, the shear turns round, and there is no class for that in holes with play"
        yield unjudged(detail, reason, "tighten the bolts until the faces hold")


Ends = tuple[int | None, int | None]
"""The load cases at the high and the low end of swings."""


def is_held(loads: BoltLoads, ends: Ends) -> bool:
    """Return whether friction holds every bolt at both ends of a swing, with the factor asked against slip, or nothing shears it."""
    sheared = np.stack([at(loads.shear[None], case)[0] for case in ends])
    held = np.stack([at(loads.held[None], case)[0] for case in ends if case is not None])
    demand = np.linalg.norm(sheared, axis=-1).max(axis=0)
    return bool(np.all(ASKED.slip * demand <= held.min(axis=0)) or demand.max() == 0.0)


def turns_round(loads: BoltLoads, ends: Ends, blocks: Sequence[SwingBlock]) -> bool:
    """Return whether the shear on any bolt points against itself at the two ends of any swing between two load cases."""
    high, low = (at(loads.shear[None], case)[0] for case in ends)
    swings = [(each.middle, each.spread) for each in blocks if (each.high, each.low) == ends]
    middle, spread = (np.array(each)[:, None, None] for each in zip(*swings, strict=True))
    first = low + (middle - spread / 2) * (high - low)
    last = first + spread * (high - low)
    return bool((np.sum(first * last, axis=-1) < 0.0).any())
