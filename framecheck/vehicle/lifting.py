"""Load cases in the shop: jacked at a point, on a two-post lift; supports that only push or only pull."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, Vector
from framecheck.model.case import LoadCase
from framecheck.model.loads import PointLoad
from framecheck.model.said import force, said
from framecheck.value_class import value_class
from framecheck.vehicle.driving import upright
from framecheck.vehicle.masses import wheels_of
from framecheck.vehicle.runnable import A_POINT, KindOfLoadCase, NeededData, no_vehicle
from framecheck.vehicle.scene import (
    ExternalForces,
    Scene,
    axle_x,
    axle_y,
    point,
    points,
    positive,
    track,
    wheel_numbers,
    word,
    wrench,
)
from framecheck.vehicle.statics import WAYS


@value_class
class OneWaySupport:
    """A support: the force on the vehicle along `direction` (unit) at a place; below zero only where `both_ways`.

    stiffness N/m; preload: its force before anything moves, N.
    """

    name: str
    at: Vector
    direction: Vector
    stiffness: float = 1.0
    preload: float = 0.0
    both_ways: bool = False


def settled(what: str, holds: tuple[OneWaySupport, ...], load: Array) -> Array:
    """Return the forces (n,) of the holds, N, that balance a load (6,) about the origin.

    The vehicle moves as one piece until the holds balance it: f_i = max(0, preload_i - k_i g_i . q). Repeated with
    the slack ones left out until the same ones carry; UnsolvableError where those that carry can't balance the load.
    """
    columns = np.stack([wrench(hold.direction, hold.at, (0.0, 0.0, 0.0)) for hold in holds], axis=1)
    stiffness = np.array([hold.stiffness for hold in holds])
    preload = np.array([hold.preload for hold in holds])
    always = np.array([hold.both_ways for hold in holds])
    tight = np.ones(len(holds), dtype=bool)
    for _ in range(100):
        active = columns[:, tight]
        missing = load + active @ preload[tight]
        moved = np.linalg.lstsq(active * stiffness[tight] @ active.T, missing, rcond=1e-9)[0]
        forces = preload - stiffness * (columns.T @ moved)
        now = always | (forces > -1e-9 * max(1.0, float(np.abs(load).max())))
        if bool(np.all(now == tight)):
            break
        tight = now
    carried = np.where(always, forces, np.where(tight, np.maximum(forces, 0.0), 0.0))
    if float(np.abs(load + columns @ carried).max()) > 1e-6 * max(float(np.abs(load).max()), 1.0):
        way = WAYS[int(np.argmax(np.abs(unheld(holds, load))))]
        raise UnsolvableError(f"{what}: nothing holds the vehicle against {way}; add or move what holds it")
    return np.asarray(carried, dtype=np.float64)


def unheld(holds: tuple[OneWaySupport, ...], load: Array) -> Array:
    """Return the part (6,) of a load about the origin that the holds can't carry, about the middle of the holds.

    The least that is left when every hold pushes as it may (non-negative least squares, Lawson and Hanson, by scipy).
    """
    from scipy.optimize import nnls

    middle = np.mean([hold.at for hold in holds], axis=0)
    ways = [(hold, sign) for hold in holds for sign in ((1.0, -1.0) if hold.both_ways else (1.0,))]
    columns = np.stack([sign * wrench(hold.direction, hold.at, middle) for hold, sign in ways], 1)
    there = np.concatenate([load[:3], load[3:] - np.cross(middle, load[:3])])
    return np.asarray(there + columns @ nnls(columns, -there)[0], dtype=np.float64)


def jacked(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return the vehicle jacked at a frame point until the named wheel (or axle, or side) just leaves the ground."""
    where, wheel = point(scene, load_case, "point"), word(load_case, "wheel")
    lifted = nearest_wheels(scene, where) if wheel == "nearest" else wheel_numbers(scene.vehicle, wheel)
    loads, jack = jack_force(scene, where, lifted)
    push = positive(load_case, "factor") * jack
    carries = said("the jack carries ", force(push), f", {100 * push / scene.weight:.0f} % of the weight")
    return ExternalForces(upright(scene, loads), outside=(PointLoad(where, (0.0, 0.0, push), because="jack"),), notes=(carries,))


NEAR_THE_MIDDLE = 0.25
"""A jack nearer to the middle line than this part of half the track lifts the axle, not a wheel (common practice, no source)."""


def nearest_wheels(scene: Scene, where: str) -> tuple[int, ...]:
    """Return the wheel that a jack at a frame point lifts: the nearest, or both of the nearest axle from near the middle line."""
    x, y, _ = scene.points[where]
    number = min((0, 1), key=lambda n: abs(axle_x(scene.vehicle.axles[n]) - x))
    axle = scene.vehicle.axles[number]
    if abs(y - axle_y(axle)) < NEAR_THE_MIDDLE * track(axle) / 2:
        return (2 * number, 2 * number + 1)
    return (2 * number,) if y > axle_y(axle) else (2 * number + 1,)


def jack_force(scene: Scene, where: str, lifted: tuple[int, ...]) -> tuple[Array, float]:
    """Return wheel loads (4,) and the jack's force, N, with some wheels just off the ground.

    Statics where two wheels are left. Where three are left, the body stays a plane on equal springs (stated sharing)
    that passes the lifted wheel at no load; a wheel that would pull is let go.
    """
    resting = [n for n in range(4) if n not in lifted]
    for _ in range(3):
        found = _on_jack(scene, where, lifted, resting)
        if found is not None and min(found) >= -1e-9 * scene.weight:
            loads = np.zeros(4)
            loads[resting] = np.maximum(found[:-1], 0.0)
            return loads, float(found[-1])
        if found is None or len(resting) < 3:
            break
        resting.remove(resting[int(np.argmin(found[:-1]))])
    names = " and ".join(wheels_of(scene.vehicle)[n].name for n in lifted)
    raise UnsolvableError(f"a jack at {where} can't lift the {names} wheel; jack nearer to it")


def lifted_on_posts(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return the vehicle on the pads of a two-post lift; its wheels hang. Pads share like equal springs."""
    where = points(scene, load_case, "points")
    holds = tuple(OneWaySupport(name, scene.points[name], (0.0, 0.0, 1.0)) for name in where)
    weight = wrench((0.0, 0.0, -scene.weight), scene.whole.cg, (0.0, 0.0, 0.0))
    forces = positive(load_case, "factor") * settled(load_case.name, holds, weight)
    pads = tuple(
        PointLoad(name, (0.0, 0.0, float(f)), because="lift pad") for name, f in zip(where, forces, strict=True)
    )
    idle = tuple(f"the pad at {name} carries nothing" for name, f in zip(where, forces, strict=True) if f == 0.0)
    return ExternalForces(outside=pads, notes=idle)


def _on_jack(scene: Scene, where: str, lifted: tuple[int, ...], resting: list[int]) -> Array | None:
    """Return the forces of the resting wheels and of the jack (last), or None where they can't balance."""
    places = [wheel.contact for wheel in wheels_of(scene.vehicle)]
    rows = np.array([[1.0, places[n][1], -places[n][0]] for n in resting])
    jack = np.array([1.0, scene.points[where][1], -scene.points[where][0]])
    load = scene.weight * np.array([1.0, scene.whole.cg[1], -scene.whole.cg[0]])
    if len(resting) == 2:
        matrix = np.column_stack([*rows, jack])
        return None if abs(np.linalg.det(matrix)) < 1e-9 else np.linalg.solve(matrix, load)
    if len(resting) != 3:
        return None
    off = np.array([[1.0, places[lifted[0]][1], -places[lifted[0]][0]]])
    matrix = np.block([[rows.T @ rows, jack[:, None]], [off, np.zeros((1, 1))]])
    if abs(np.linalg.det(matrix)) < 1e-9:
        return None
    plane = np.linalg.solve(matrix, np.append(load, 0.0))
    return np.append(rows @ plane[:3], plane[3])


KINDS: Mapping[str, KindOfLoadCase] = {
    "jacked at a point": KindOfLoadCase(jacked, A_POINT),
    "two-post lift": KindOfLoadCase(lifted_on_posts, NeededData(no_vehicle, "name its 'points' under 'load cases'", usual=False)),
}
"""The kinds of load case that are worked out here, and what each needs."""
