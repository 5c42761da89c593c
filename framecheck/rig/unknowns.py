"""What a fit may find: joints, walls, modulus, body, force, the stands' give; each with what is known of it before the test. SI."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum
from math import hypot

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.body import Range, StatedBody
from framecheck.model.frame import Frame, Kinks, Make
from framecheck.rig.variants import MODULUS_BAND, WALL_BAND, is_made_of_walls, kinds_of_ends, kinds_of_kinks
from framecheck.value_class import value_class

JOINT_PRIOR = float(np.log(2.0))
"""One standard deviation of the natural logarithm of how soft joints, kinks and splices are, and how stiff sheet is: half to double
(rigid joints were found 60 to 70 % too stiff in a body paper of 2022, first part read; common practice beyond that).
"""
GIVE_PRIOR = 1e-2
"""One standard deviation of what stands may do at the largest load: 10 mm up, 10 mm per metre of tilt (common practice, no source)."""


class Sort(Enum):
    """What an unknown is of. All but give are factors, found by their logarithm."""

    JOINTS = "softness of joints"
    KINKS = "softness of kinks"
    SPLICES = "softness of splices"
    WALLS = "walls"
    PANELS = "sheet of panels"
    TORSION = "torsional stiffness of the stated body"
    BENDING = "bending stiffness of the stated body"
    MODULUS = "modulus"
    FORCE = "force"
    GIVE = "give of the stands"


OF_THE_TEST = (Sort.FORCE, Sort.GIVE)
"""Unknowns that are of one test, not of the frame."""
UNSAID = "not said how they are made"


@value_class
class Unknown:
    """One unknown. make: of which kind of end, for Sort.JOINTS; kinks: of which kind, for Sort.KINKS; section: whose walls, for
    Sort.WALLS; way: 0 up, 1 and 2 tilt, for Sort.GIVE; test: the number of the test that it is of, and of how many. prior: one
    standard deviation of its logarithm, or of its amount per newton.
    """

    sort: Sort
    prior: float
    section: str = ""
    way: int = 0
    make: Make | None = None
    kinks: Kinks | None = None
    test: tuple[int, int] = (0, 1)

    @property
    def name(self) -> str:
        """Return what it is called."""
        of_which = f" in test {self.test[0] + 1}" if self.test[1] > 1 else ""
        if self.sort is Sort.WALLS:
            return f"walls of {self.section}"
        kind = self.make or self.kinks
        if kind is not None:
            return f"{self.sort.value} ({UNSAID if kind in (Make.UNSAID, Kinks.UNSAID) else kind.value})"
        if self.sort is Sort.GIVE:
            return f"{self.sort.value}, {('up', 'along', 'across')[self.way]}{of_which}"
        return f"{self.sort.value}{of_which}"


def unknowns_of(frame: Frame, asked: Sequence[Sort], tests: Sequence[tuple[float, float]]) -> tuple[Unknown, ...]:
    """Return the unknowns of a frame and of the tests made on it. tests: of each, how far off force and arm are, one standard
    deviation, and the largest load, N.
    """
    return (*of_the_frame(frame, asked), *of_the_tests(tests))


def of_the_frame(frame: Frame, asked: Sequence[Sort]) -> Iterator[Unknown]:
    """Yield the unknowns of a frame: those that are asked for and that it has."""
    if Sort.JOINTS in asked:
        yield from (Unknown(Sort.JOINTS, JOINT_PRIOR, make=make) for make in kinds_of_ends(frame))
    if Sort.KINKS in asked:
        yield from (Unknown(Sort.KINKS, JOINT_PRIOR, kinks=made) for made in kinds_of_kinks(frame))
    if Sort.SPLICES in asked and frame.splices:
        yield Unknown(Sort.SPLICES, JOINT_PRIOR)
    if Sort.WALLS in asked:
        used = {stretch.section for member in frame.members for stretch in member.stretches}
        names = [name for name in frame.sections if name in used and is_made_of_walls(frame.sections[name].shape)]
        yield from (Unknown(Sort.WALLS, WALL_BAND / 2, name) for name in names)
    if Sort.PANELS in asked and frame.panels:
        yield Unknown(Sort.PANELS, JOINT_PRIOR)
    if frame.body is not None:
        yield from (Unknown(sort, body_prior(of)) for sort, of in stated(frame.body) if sort in asked and of[1] > 0.0)
    if Sort.MODULUS in asked:
        yield Unknown(Sort.MODULUS, MODULUS_BAND)


def stated(body: StatedBody) -> tuple[tuple[Sort, Range], ...]:
    """Return what is stated of a body."""
    return (Sort.TORSION, body.torsion), (Sort.BENDING, body.bending)


def body_prior(of: Range) -> float:
    """Return one standard deviation of the logarithm of a stated stiffness about the middle of its range.

    Half to double where one number is stated; with the range's own width beside that (common practice, no source).
    """
    return hypot(JOINT_PRIOR, 2 * (of[1] - of[0]) / (of[1] + of[0]))


def of_the_tests(tests: Sequence[tuple[float, float]]) -> Iterator[Unknown]:
    """Yield what each test is off by: its force, and what its stands give."""
    for number, (force_share, top) in enumerate(tests):
        test = (number, len(tests))
        yield Unknown(Sort.FORCE, force_share, test=test)
        yield from (Unknown(Sort.GIVE, GIVE_PRIOR / top, way=way, test=test) for way in range(3))


def priors(unknowns: Sequence[Unknown]) -> Array:
    """Return the prior standard deviation (n,) of each."""
    return np.array([each.prior for each in unknowns])


def of_frame(unknowns: Sequence[Unknown]) -> list[int]:
    """Return the numbers of those that are of the frame, not of the test."""
    return [row for row, each in enumerate(unknowns) if each.sort not in OF_THE_TEST]
