"""Throat stress of a case's weld groups in every load case, for the fatigue check."""

from __future__ import annotations

from collections.abc import Container

import numpy as np

from framecheck.checks.joint_forces import every_case_by_bound
from framecheck.checks.throats import ThroatStress, throat_stress
from framecheck.checks.welds.lines import weld_forces
from framecheck.model.arrays import frozen
from framecheck.model.weld_joints import WeldGroup
from framecheck.stress import Outcome


def throat_stresses(outcome: Outcome, names: Container[str]) -> dict[str, ThroatStress]:
    """Return the throat stress of the weld groups of some names whose loads are known in all load cases."""
    groups = [joint for joint in outcome.case.joints if isinstance(joint, WeldGroup) and joint.name in names]
    found = ((group.name, of_group(outcome, group)) for group in groups)
    return {name: stress for name, stress in found if stress is not None}


def of_group(outcome: Outcome, group: WeldGroup) -> ThroatStress | None:
    """Return the throat stress of a weld group, its points once a bound; None where a load case is missing."""
    bounds = every_case_by_bound(outcome, group.place)
    if bounds is None:
        return None
    forces = [np.stack([each.per_length for each in weld_forces(group.runs, bound)]) for bound in bounds]
    each = [throat_stress(group.runs, per_length) for per_length in forces]
    across = np.concatenate([stress.across for stress in each], axis=1)
    return ThroatStress(frozen(across), frozen(np.concatenate([stress.along for stress in each], axis=1)))
