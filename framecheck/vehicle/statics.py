"""Statics of a wheel carrier in space, of any number of axles and a coupling, and of a force shared by the points that carry it.
SI.

A mechanism is a carrier (body 0: upright, axle housing) and hinged arms (bodies 1, 2 ...). The carrier gives six
equations, each arm one: no moment about its hinge. Each joint is one unknown force along a line.

Three supports and more are statically indeterminate. They share as the body settles on its springs, which all touch when it stands
level and unloaded (N = k (a + b x)); a spring can't pull. What holds it at the coupling does not give way.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import combinations

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, Vector, frozen
from framecheck.model.vehicle import RunningGear
from framecheck.value_class import array_class, value_class
from framecheck.vehicle.scene import Attachment, BracketForce, axle_x, axle_y, cross, track, vector, wrench

LEAST_ARM = 0.01
"""Points closer to one line than this part of their spread carry no moment about that line by forces."""


@lru_cache(maxsize=1024)
def sharing(points: tuple[Vector, ...], at: Vector) -> Array:
    """Return (6 n, 6): force and moment on each of n points per unit force and moment acting at `at`; read-only.

    The smallest forces that are statically equivalent: each is the force's n-th part plus w x d, d from the points'
    middle, as in the elastic method for a bolt group (mechanics texts, from memory). A moment about a line through all
    points can't be carried by forces on them; it is left as equal moments.
    """
    places = np.array(points, dtype=np.float64)
    middle = places.mean(axis=0)
    to_middle = np.eye(6)
    to_middle[3:, :3] = skew(np.array(at) - middle)
    return frozen(np.concatenate([_one_point(arm, places - middle) for arm in places - middle]) @ to_middle)


def shared(wrench: Array, at: Vector, points: tuple[Vector, ...]) -> Array:
    """Return force and moment (n, 6) on n points equivalent to a force and moment (6,) acting at `at`."""
    return np.asarray((sharing(points, at) @ wrench).reshape(-1, 6), dtype=np.float64)


def skew(arm: Array) -> Array:
    """Return the matrix (3, 3) that makes arm x v of v."""
    x, y, z = arm.tolist()
    return np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]], dtype=np.float64)


def _one_point(arm: Array, arms: Array) -> Array:
    """Return (6, 6) for one point: its force and moment per force and moment about the middle."""
    turn, left = _turning(arms)
    row = np.zeros((6, 6))
    row[:3, :3] = np.eye(3) / len(arms)
    row[:3, 3:] = -skew(arm) @ turn
    row[3:, 3:] = left / len(arms)
    return row


def _turning(arms: Array) -> tuple[Array, Array]:
    """Return (3, 3) w per moment, where forces w x d carry it, and (3, 3) what is left for moments."""
    polar = np.eye(3) * np.sum(arms**2) - arms.T @ arms
    values, axes = np.linalg.eigh(polar)
    held = values > max(LEAST_ARM**2 * float(values[-1]), 1e-12)
    loose = axes[:, ~held]
    return np.asarray(axes[:, held] / values[held] @ axes[:, held].T), np.asarray(loose @ loose.T)


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
    other: int | Attachment
    stiffness: float = 1e7


@array_class
class Mechanism:
    """A carrier with its joints; hinges: the two feet of each arm. centre: where the carrier's moments are taken."""

    name: str
    centre: Vector
    joints: tuple[Joint, ...]
    hinges: tuple[tuple[Attachment, Attachment], ...] = ()


def load_rows(mechanism: Mechanism, body: int, force: Array, at: Vector) -> Array:
    """Return (6 + n_arms,) what a force (3,) on a body at a place adds to the equations."""
    rows = np.zeros(6 + len(mechanism.hinges))
    if body == 0:
        rows[:6] = wrench(force, at, mechanism.centre)
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
    for joint, size in zip(mechanism.joints, forces.tolist(), strict=True):
        if isinstance(joint.other, Attachment):
            x, y, z = joint.direction
            yield BracketForce(joint.other, (-size * x, -size * y, -size * z))
    for number, feet in enumerate(mechanism.hinges, start=1):
        total = _on_arm(mechanism, number, forces, loads)
        rows = shared(total, feet[0].at, (feet[0].at, feet[1].at))
        yield from (BracketForce(foot, vector(row[:3])) for foot, row in zip(feet, rows, strict=True))


def _on_arm(mechanism: Mechanism, number: int, forces: Array, loads: Loads) -> Array:
    """Return all force and moment (6,) on an arm about its first foot."""
    about, sizes, total = mechanism.hinges[number - 1][0].at, forces.tolist(), np.zeros(6)
    for joint, row in _per_unit_on_arm(mechanism, number):
        total += sizes[joint] * row
    for body, force, at in loads:
        if body == number:
            total += wrench(force, at, about)
    return total


@lru_cache(maxsize=256)
def _per_unit_on_arm(mechanism: Mechanism, number: int) -> tuple[tuple[int, Array], ...]:
    """Return the joints of an arm, by number, and what the unit force of each does to it about its first foot, (6,)."""
    about = mechanism.hinges[number - 1][0].at
    signs = [(joint.body == number) - (joint.other == number) for joint in mechanism.joints]
    joints = enumerate(zip(mechanism.joints, signs, strict=True))
    return tuple((n, frozen(sign * wrench(joint.direction, joint.at, about))) for n, (joint, sign) in joints if sign)


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


NONE = 1e-12


@array_class
class GearLoads:
    """axles (n,): load of each, N; coupling: its upward force on the frame, N, either way."""

    axles: Array
    coupling: float


@array_class
class Rows:
    """Supports that share by springs: x and rate (m,), and (m, n) how the load of each falls to the axles."""

    x: Array
    rate: Array
    falls: Array


def supports_of(gear: RunningGear) -> Rows:
    """Return the supports: axles with a share count as one, at the place where their loads balance. A rate not said is 1."""
    count, shared = len(gear.axles), [n for n, each in enumerate(gear.axles) if each.share is not None]
    alone = [n for n in range(count) if n not in shared]
    falls = [np.eye(count)[n] for n in alone]
    rates = [gear.axles[n].rate or 1.0 for n in alone]
    if shared:
        shares = np.array([each.share or 0.0 for each in gear.axles])
        falls.append(shares / shares.sum())
        rates.append(sum(gear.axles[n].rate or 1.0 for n in shared))
    rows = np.array(falls)
    return Rows(rows @ np.array([axle_x(each.axle) for each in gear.axles]), np.array(rates), rows)


def is_determinate(gear: RunningGear) -> bool:
    """Return whether statics alone gives every load: two supports in all, those with a share counting as one."""
    return len(supports_of(gear).x) + (gear.coupling is not None) <= 2


def axle_loads(gear: RunningGear, weight: float, pitch: float) -> GearLoads:
    """Return the loads that hold a weight, N, and its moment about x = 0, sum of x N, Nm. What can't be held by pushes is left."""
    rows = supports_of(gear)
    if gear.coupling is None:
        last = np.clip(pitch, weight * rows.x.min(), weight * rows.x.max())
        return GearLoads(_settled(rows, weight, float(last)) @ rows.falls, 0.0)
    arms = rows.x - gear.coupling.at[0]
    found = _about_coupling(arms, rows.rate, pitch - gear.coupling.at[0] * weight) @ rows.falls
    return GearLoads(found, weight - float(found.sum()))


def _about_coupling(arms: Array, rates: Array, moment: float) -> Array:
    """Return N = k b arm where it pushes: the body turns about the coupling, sum of N arm is the moment where it can be."""
    pushing = np.where(arms * np.sign(moment) > 0, rates * np.abs(arms), 0.0)
    size = float(pushing @ np.abs(arms))
    return np.asarray(pushing * abs(moment) / size if size > 0 else 0.0 * arms, dtype=np.float64)


def _settled(rows: Rows, weight: float, pitch: float) -> Array:
    """Return N = k max(a + b x, 0) with sum N = weight, sum N x = pitch: the largest set of supports that all push."""
    count, rates = len(rows.x), rows.rate / rows.rate.max()
    middle, reach = float(rows.x.mean()), max(float(np.ptp(rows.x)), NONE)
    at = (rows.x - middle) / reach
    right = np.array([weight, (pitch - middle * weight) / reach])
    for size in range(count, 1, -1):
        for chosen in map(list, combinations(range(count), size)):
            x, k = at[chosen], rates[chosen]
            sums = np.array([[k.sum(), k @ x], [k @ x, k @ x**2]])
            if np.linalg.det(sums) < NONE * k.sum() ** 2:
                continue
            a, b = np.linalg.solve(sums, right)
            loads = np.where(np.isin(np.arange(count), chosen), rates * (a + b * at), 0.0)
            others = [n for n in range(count) if n not in chosen]
            if loads.min() >= -NONE * weight and (a + b * at[others] <= NONE * weight).all():
                return np.maximum(loads, 0.0)
    return np.where(np.arange(count) == int(np.argmin(np.abs(at - right[1] / max(weight, NONE)))), weight, 0.0)


def wheel_loads(gear: RunningGear, found: GearLoads, roll: float) -> tuple[Array, float]:
    """Return the loads (n, 2) of left and right wheels that hold a roll moment, sum of y N, Nm, and how much of it they can't.

    By axle load, as where no roll stiffness is known; an axle whose inner wheel is off the ground leaves the rest to the others.
    """
    tracks = np.array([track(each.axle) for each in gear.axles])
    asked = roll - float(found.axles @ np.array([axle_y(each.axle) for each in gear.axles]))
    limits = found.axles * tracks / 2
    couples = np.clip(asked * found.axles / max(float(found.axles.sum()), NONE), -limits, limits)
    room = limits - couples * np.sign(asked)
    left = asked - float(couples.sum())
    couples += np.sign(asked) * room * min(abs(left) / max(float(room.sum()), NONE), 1.0)
    sides = found.axles[:, None] / 2 + couples[:, None] / tracks[:, None] * np.array([1.0, -1.0])
    return np.maximum(sides, 0.0), asked - float(couples.sum())
