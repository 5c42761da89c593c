"""Forces on the bolts of a case's groups in every load case, for the fatigue check."""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import replace

import numpy as np

from framecheck.checks.bolt_slip import slip_resistance
from framecheck.checks.bolt_swings import BoltLoads
from framecheck.checks.bolts.crossings import Through, crossing_forces, through
from framecheck.checks.bolts.group import BoltForces, all_bolt_forces
from framecheck.checks.bolts.sleeve import face_resistance, one_face
from framecheck.checks.joint_forces import every_case_by_bound
from framecheck.model.arrays import Array, frozen
from framecheck.model.joints import Bolt, BoltGroup, JointLoad
from framecheck.stress import Outcome


def bolt_loads(outcome: Outcome, names: Container[str]) -> dict[str, BoltLoads]:
    """Return the forces on the bolts of the groups of some names whose loads are known in all load cases."""
    groups = [joint for joint in outcome.case.joints if isinstance(joint, BoltGroup) and joint.name in names]
    found = ((group.name, of_group(outcome, group)) for group in groups)
    return {name: loads for name, loads in found if loads is not None}


def of_group(outcome: Outcome, group: BoltGroup) -> BoltLoads | None:
    """Return the forces on a group's bolts, once a bound; None where a load case is missing or its moment finds no lever."""
    bounds = every_case_by_bound(outcome, group.place)
    if bounds is None:
        return None
    sleeve = through(outcome.case.joints, group)
    if sleeve is not None:
        return of_crossings(sleeve, bounds)
    forces = [all_bolt_forces(group, bound) for bound in bounds]
    if any(is_left_over(each) for bound in forces for each in bound):
        return None
    tension = np.concatenate([np.stack([each.tension for each in bound]) for bound in forces], axis=1)
    shear = np.concatenate([np.stack([each.shear for each in bound]) for bound in forces], axis=1)
    return BoltLoads(group, frozen(tension), frozen(shear), frozen(friction(group.bolt, tension)))


def of_crossings(sleeve: Through, bounds: Sequence[Sequence[JointLoad]]) -> BoltLoads | None:
    """Return what the crossings of bolts through one tube in another carry, each in one plane; None where a moment finds no lever."""
    forces = [[crossing_forces(sleeve, load) for load in bound] for bound in bounds]
    if any(each.left > SMALL_SHARE * float(np.linalg.norm(each.moment)) for bound in forces for each in bound):
        return None
    shear = np.concatenate([np.stack([each.forces.reshape(-1, 3) for each in bound]) for bound in forces], axis=1)
    held = [[face_resistance(sleeve.group, each) or 0.0 for each in bound] for bound in forces]
    friction = np.repeat(np.array(held).T, len(sleeve.group.positions) * 2, axis=1)
    group = replace(sleeve.group, bolt=one_face(sleeve.group.bolt))
    return BoltLoads(group, frozen(np.zeros(shear.shape[:2])), frozen(shear), frozen(friction))


SMALL_SHARE = 1e-9
"""Share of a moment below which what finds no lever is rounding."""


def is_left_over(forces: BoltForces) -> bool:
    """Return whether the pattern has no lever for a part of the moment."""
    scale = 1e-9 * (float(np.abs(forces.shear).sum() + forces.tension.sum()) + 1.0)
    return max(abs(forces.twist_left), forces.bending_left) > scale


def friction(bolt: Bolt, tension: Array) -> Array:
    """Return the slip resistance of bolts under tension (n_case, n_bolt), N; 0 where it is not known."""
    found = [slip_resistance(bolt, float(each)) or 0.0 for each in tension.ravel()]
    return np.array(found, dtype=np.float64).reshape(tension.shape)
