"""The leg that the loads ask of a fillet group, and the leg beyond which its walls decide."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from framecheck.checks.welds.check import length_of
from framecheck.checks.welds.fillet import METAL_SOURCE, leg_required, weld_metal
from framecheck.checks.welds.lines import weld_forces
from framecheck.checks.welds.walls import wall_capacities
from framecheck.model.joints import ASKED, JointLoad, JointTargets
from framecheck.model.weld_joints import WeldedPart, WeldGroup, WeldRun
from framecheck.results.row import Check, Sizing


def shop_lines(group: WeldGroup, loads: Sequence[JointLoad], targets: JointTargets = ASKED) -> Iterator[Sizing]:
    """Yield the leg that the weld metal needs, and what leg each wall can use: more weld than that is no help."""
    if not loads:
        return
    thinnest, thickest = min(run.leg for run in group.runs), max(run.leg for run in group.runs)
    needed = required_leg(group, loads, targets)
    yield Sizing(Check.WELDS, group.name, "leg that the loads ask of the weld metal", needed, "m", thinnest, METAL_SOURCE)
    for part in group.parts:
        leg, source = useful_leg(group, part, targets)
        yield Sizing(Check.WELDS, group.name, f"largest leg that the wall of {part.name} can use", leg, "m", thickest, source)


def required_leg(group: WeldGroup, loads: Sequence[JointLoad], targets: JointTargets = ASKED) -> float:
    """Return the leg, m, equal on all runs, at which the weld metal meets its target in every load case.

    The increase for direction is not counted. The walls may still be too thin for it: no leg mends that.
    """
    even = tuple(WeldRun(run.start, run.end, 1.0) for run in group.runs)
    largest = np.max([np.linalg.norm(each.per_length, axis=2).max(axis=1) for each in weld_forces(even, loads)], axis=0)
    return max(
        leg_required(float(size), group.electrode.shear, targets.strength, length_of(run))
        for run, size in zip(group.runs, largest, strict=True)
    )


def useful_leg(group: WeldGroup, part: WeldedPart, targets: JointTargets = ASKED) -> tuple[float, str]:
    """Return the leg, m, beyond which a part's wall and no longer the weld metal decides, and the wall's rule."""
    per_leg = weld_metal(group.electrode.shear, 1.0) / targets.strength
    longest = max(length_of(run) for run in group.runs)
    least = min(wall_capacities(part, longest, targets), key=lambda each: each.value / each.target)
    return least.value / least.target / per_leg, least.source
