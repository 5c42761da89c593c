"""Statics of a wheel carrier in three dimensions: the forces in its joints and at the frame brackets.

A mechanism is a carrier (body 0: upright, axle housing) and hinged arms (bodies 1, 2 ...). The carrier gives six
equations, each arm one: no moment about its hinge. Each joint is one unknown force along a line.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, Vector, frozen
from framecheck.value_class import value_class
from framecheck.vehicle.scene import BracketForce, Foot, cross, vector, wrench
from framecheck.vehicle.sharing import shared

MOTIONS = ("moving along x (fore and aft)", "moving along y (sideways)", "moving along z (up and down)")
TURNS = ("turning about x", "turning about y", "turning about z")
WAYS = MOTIONS + TURNS
Loads = tuple[tuple[int, Array, Vector], ...]
"""(body, force (3,) N, place): what acts on the bodies of a mechanism beside the wheel."""


@value_class
class Joint:
    """One force: along `direction` (unit) on `body` at a place, the opposite on another body or on the frame."""

    name: str
    body: int
    at: Vector
    direction: Vector
    other: int | Foot
    stiffness: float = 1e7


@value_class
class Mechanism:
    """A carrier with its joints; hinges: the two feet of each arm. centre: where the carrier's moments are taken."""

    name: str
    centre: Vector
    joints: tuple[Joint, ...]
    hinges: tuple[tuple[Foot, Foot], ...] = ()


def load_rows(mechanism: Mechanism, body: int, force: Array, at: Vector) -> Array:
    """Return (6 + n_arms,) what a force (3,) on a body at a place adds to the equations."""
    rows = np.zeros(6 + len(mechanism.hinges))
    if body == 0:
        rows[:6] = wrench(force, np.array(at), np.array(mechanism.centre))
        return rows
    first, second = (np.array(foot.at) for foot in mechanism.hinges[body - 1])
    axis = (second - first) / np.linalg.norm(second - first)
    rows[5 + body] = axis @ cross(np.array(at) - first, force)
    return rows


@lru_cache(maxsize=256)
def influence(mechanism: Mechanism) -> Array:
    """Return (6 + n_arms, n_joints): what each joint's unit force adds to the equations; read-only."""
    columns = []
    for joint in mechanism.joints:
        force = np.array(joint.direction)
        column = load_rows(mechanism, joint.body, force, joint.at)
        if isinstance(joint.other, int):
            column = column - load_rows(mechanism, joint.other, force, joint.at)
        columns.append(column)
    return frozen(np.stack(columns, axis=1))


def joint_forces(mechanism: Mechanism, load: Array, given: dict[int, float]) -> Array:
    """Return the joint forces (n_joints,), N, that balance a load (6 + n_arms,); given: joints whose force is known.

    With as many unknowns as equations the answer is statics alone. With more, the spare ones share by stiffness.
    """
    matrix, answers = _answers(mechanism, tuple(given))
    forces = np.zeros(len(mechanism.joints))
    for n, value in given.items():
        forces[n] = value
    return np.asarray(forces + answers @ (load + matrix @ forces), dtype=np.float64)


def compliance(mechanism: Mechanism) -> Array:
    """Return (6, 6) movement of the carrier per force and moment at its centre, m/N and rad/Nm; no arms."""
    held = influence(mechanism)
    _refuse_loose(mechanism, held)
    stiffness = np.array([joint.stiffness for joint in mechanism.joints])
    return np.asarray(np.linalg.inv(held * stiffness @ held.T), dtype=np.float64)


@lru_cache(maxsize=256)
def _answers(mechanism: Mechanism, given: tuple[int, ...]) -> tuple[Array, Array]:
    """Return the influence and (n_joints, 6 + n_arms) joint forces per load, in which rows of given joints are zero; read-only."""
    matrix = influence(mechanism)
    free = [n for n in range(len(mechanism.joints)) if n not in given]
    held = matrix[:, free]
    _refuse_loose(mechanism, held)
    found = np.zeros(matrix.T.shape)
    if held.shape[0] == held.shape[1]:
        found[free] = -np.linalg.inv(held)
        return matrix, frozen(found)
    stiffness = np.array([mechanism.joints[n].stiffness for n in free])
    found[free] = -stiffness[:, None] * (held.T @ np.linalg.inv(held * stiffness @ held.T))
    return matrix, frozen(found)


def bracket_forces(mechanism: Mechanism, forces: Array, loads: Loads) -> Iterator[BracketForce]:
    """Yield what the mechanism does to the frame; loads: what else acts on its arms."""
    for joint, size in zip(mechanism.joints, forces, strict=True):
        if isinstance(joint.other, Foot):
            yield BracketForce(joint.other, vector(-size * np.array(joint.direction)))
    for number, feet in enumerate(mechanism.hinges, start=1):
        total = _on_arm(mechanism, number, forces, loads)
        rows = shared(total, feet[0].at, (feet[0].at, feet[1].at))
        yield from (BracketForce(foot, vector(row[:3])) for foot, row in zip(feet, rows, strict=True))


def _on_arm(mechanism: Mechanism, number: int, forces: Array, loads: Loads) -> Array:
    """Return all force and moment (6,) on an arm about its first foot."""
    about = np.array(mechanism.hinges[number - 1][0].at)
    total = np.zeros(6)
    for joint, size in zip(mechanism.joints, forces, strict=True):
        sign = (joint.body == number) - (joint.other == number)
        if sign:
            total += wrench(sign * size * np.array(joint.direction), np.array(joint.at), about)
    for body, force, at in loads:
        if body == number:
            total += wrench(force, np.array(at), about)
    return total


def _refuse_loose(mechanism: Mechanism, held: Array) -> None:
    """Raise UnsolvableError naming the direction in which nothing holds the carrier."""
    vectors, values, _ = np.linalg.svd(held)
    least = float(values[-1]) if held.shape[1] >= held.shape[0] else 0.0
    if least > 1e-6 * float(values[0]):
        return
    loose = np.abs(vectors[:, -1])
    way = WAYS[int(np.argmax(loose[:6]))] if loose[:6].max() > 1e-6 else "an arm swinging"
    raise UnsolvableError(
        f"{mechanism.name}: its links can't carry every direction: nothing holds it against {way}; "
        "move a pivot so that no two links act in one line, or add the link that is missing"
    )
