"""What a fit may find: joints, walls, modulus, force, the stands' give; each with what is known of it before the test. SI."""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum

import numpy as np

from framecheck.model.arrays import Array
from framecheck.model.frame import Frame
from framecheck.rig.variants import MODULUS_BAND, WALL_BAND, is_made_of_walls
from framecheck.value_class import value_class

JOINT_PRIOR = float(np.log(2.0))
"""One standard deviation of the natural logarithm of how soft joints are, and how stiff sheet is: half to double (rigid joints were
found 60 to 70 % too stiff in a body paper of 2022, first part read; common practice beyond that).
"""
GIVE_PRIOR = 1e-2
"""One standard deviation of what stands may do at the largest load: 10 mm up, 10 mm per metre of tilt (common practice, no source)."""


class Sort(Enum):
    """What an unknown is of. All but give are factors, found by their logarithm."""

    JOINTS = "softness of joints"
    WALLS = "walls"
    PANELS = "sheet of panels"
    MODULUS = "modulus"
    FORCE = "force"
    GIVE = "give of the stands"


@value_class
class Unknown:
    """One unknown. section: whose walls, for Sort.WALLS; way: 0 up, 1 and 2 tilt, for Sort.GIVE. prior: one standard deviation of its
    logarithm, or of its amount per newton.
    """

    sort: Sort
    prior: float
    section: str = ""
    way: int = 0

    @property
    def name(self) -> str:
        """Return what it is called."""
        if self.sort is Sort.WALLS:
            return f"walls of {self.section}"
        return self.sort.value if self.sort is not Sort.GIVE else f"{self.sort.value}, {('up', 'along', 'across')[self.way]}"


def unknowns_of(frame: Frame, asked: Sequence[Sort], force_share: float, top: float) -> tuple[Unknown, ...]:
    """Return the unknowns of a frame. force_share: how far off force and arm are, one standard deviation; top: the largest load, N."""
    found: list[Unknown] = []
    if Sort.JOINTS in asked:
        found.append(Unknown(Sort.JOINTS, JOINT_PRIOR))
    if Sort.WALLS in asked:
        used = {stretch.section for member in frame.members for stretch in member.stretches}
        names = [name for name in frame.sections if name in used and is_made_of_walls(frame.sections[name].shape)]
        found += [Unknown(Sort.WALLS, WALL_BAND / 2, name) for name in names]
    if Sort.PANELS in asked and frame.panels:
        found.append(Unknown(Sort.PANELS, JOINT_PRIOR))
    if Sort.MODULUS in asked:
        found.append(Unknown(Sort.MODULUS, MODULUS_BAND))
    found.append(Unknown(Sort.FORCE, force_share))
    found += [Unknown(Sort.GIVE, GIVE_PRIOR / top, way=way) for way in range(3)]
    return tuple(found)


def priors(unknowns: Sequence[Unknown]) -> Array:
    """Return the prior standard deviation (n,) of each."""
    return np.array([each.prior for each in unknowns])


def of_frame(unknowns: Sequence[Unknown]) -> list[int]:
    """Return the numbers of those that are of the frame, not of the test."""
    return [row for row, each in enumerate(unknowns) if each.sort in (Sort.JOINTS, Sort.WALLS, Sort.PANELS, Sort.MODULUS)]
