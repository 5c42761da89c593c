"""Load cases with something pulling at the frame: tow, recovery, trailer, tie-down straps, a bouncing load, a slope."""

from __future__ import annotations

from collections.abc import Mapping
from math import atan, cos, sin, tan

import numpy as np

from framecheck.errors import Fault, InputError, UnsolvableError
from framecheck.model.arrays import Array, Vector
from framecheck.model.case import LoadCase
from framecheck.model.loads import PointLoad, StrapTension
from framecheck.model.said import SaidAmount, Words, said
from framecheck.model.vehicle import Strap
from framecheck.vehicle.balance import spread
from framecheck.vehicle.corners import AXES, unit
from framecheck.vehicle.driving import lift_notes, on_ground, upright
from framecheck.vehicle.lifting import OneWaySupport, settled
from framecheck.vehicle.masses import wheels_of
from framecheck.vehicle.runnable import (
    A_POINT,
    MASSES_AND_AXLES,
    SOME_POINT,
    KindOfLoadCase,
    NeededData,
    has_payload,
    has_straps,
)
from framecheck.vehicle.scene import ExternalForces, Scene, number, point, positive, vector, word, wrench
from framecheck.vehicle.wheels import WheelLoads, wheel_loads

TOWARD: dict[str, Vector] = {
    "forward": (1, 0, 0),
    "rearward": (-1, 0, 0),
    "left": (0, 1, 0),
    "right": (0, -1, 0),
    "upward": (0, 0, 1),
}


def pull(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return a rope pulling at a frame point with a multiple of the weight, the wheels stuck in the ground.

    end: front or rear; sideways, upward: angles of the rope, rad; side: where it leans (left out: + sideways is to the left).
    """
    where, size = point(scene, load_case, "point"), positive(load_case, "factor") * scene.weight
    ahead = 1.0 if word(load_case, "end") == "front" else -1.0
    sideways = number(load_case, "sideways")
    if "side" in load_case.factors:
        sideways = abs(sideways) if word(load_case, "side") == "left" else -abs(sideways)
    force = size * rope(ahead, sideways, number(load_case, "upward"))
    return _held_by_wheels(scene, (PointLoad(where, vector(force), because="rope"),))


def rope(ahead: float, sideways: float, upward: float) -> Array:
    """Return the unit direction of a rope: ahead +1 forward, -1 rearward; turned sideways, then up, rad (geometry)."""
    return np.array([ahead * cos(sideways) * cos(upward), sin(sideways) * cos(upward), sin(upward)])


WAYS: dict[str, tuple[float, float]] = {
    "pulling down": (-1.0, -1.0),
    "pulling up": (-1.0, 1.0),
    "pushing down": (1.0, -1.0),
    "pushing up": (1.0, 1.0),
}
"""What a trailer does to its coupling, along and upright: pulling is rearward."""


def coupling(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return a trailer at its coupling: D = g T R / (T + R) along, its static weight S on the ball and V beside it, up or down.

    UN R55 (as quoted by makers of couplings): D, S and V act together; `way`: pulling or pushing, V down or up.
    """
    where = point(scene, load_case, "point")
    trailer, tongue = positive(load_case, "trailer mass"), number(load_case, "tongue mass")
    along, upright_way = WAYS[word(load_case, "way")]
    size = coupling_force(scene.whole.mass, trailer, scene.vehicle.gravity)
    bounce = coupling_bounce(trailer - tongue, number(load_case, "vertical acceleration"), number(load_case, "leverage"))
    force = (along * size, 0.0, upright_way * bounce - tongue * scene.vehicle.gravity)
    load = PointLoad(where, force, because="coupling")
    down = _about_ground(scene, (PointLoad(where, (0.0, 0.0, force[2])),))
    found = wheel_loads(scene, (0.0, 0.0, -scene.vehicle.gravity), down)
    pulls, upright_force, rests = (SaidAmount(each, "force") for each in (size, force[2], tongue * scene.vehicle.gravity))
    note = said("along ", pulls, ", upright ", upright_force, " of which ", rests, " rest on the ball")
    return ExternalForces(upright(scene, found.loads), outside=(load,), notes=(note, *lift_notes(found)))


def coupling_bounce(axle_mass: float, acceleration: float, leverage: float) -> float:
    """Return the V value, N: a x2/l2 C (UN R55, as quoted); C: the mass on the trailer's axles, kg; x2/l2 at least 1.

    x: length of the loading platform, l: from the coupling to the trailer's axle.
    """
    return acceleration * max(leverage, 1.0) * axle_mass


def coupling_force(vehicle: float, trailer: float, gravity: float) -> float:
    """Return the D value, N: g T R / (T + R), masses in kg (UN R55, as quoted)."""
    return gravity * vehicle * trailer / (vehicle + trailer)


def bouncing_load(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return the payload pressing down with a multiple of its weight while the rest stands."""
    more = positive(load_case, "factor") - 1.0
    load = [part for part in scene.vehicle.masses if part.kind == "payload"]
    if not load:
        raise InputError([Fault("", load_case.name, "no mass is a payload", "say `kind: payload` on a mass")])
    extra = tuple(
        each
        for part in load
        for each in spread(
            scene, _down(more * part.mass * scene.vehicle.gravity), part.at, part.on, f"{part.name}, bouncing"
        )
    )
    found = wheel_loads(scene, (0.0, 0.0, -scene.vehicle.gravity), _about_ground(scene, extra))
    return ExternalForces(upright(scene, found.loads), outside=extra, notes=lift_notes(found))


def parked_on_slope(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return the vehicle held by its brakes on a slope (rise per run), nose up: needs friction tan(angle) (statics)."""
    slope = atan(positive(load_case, "grade"))
    if tan(slope) > scene.vehicle.friction + 1e-12:
        raise UnsolvableError(
            f"{load_case.name}: standing on this slope needs friction {tan(slope):.2f}, the tyres have "
            f"{scene.vehicle.friction:.2f}; ask for a gentler slope"
        )
    g = scene.vehicle.gravity
    tilted = (-g * sin(slope), 0.0, -g * cos(slope))
    found = wheel_loads(scene, tilted)
    wheels = on_ground(scene, found.loads, tan(slope) * found.loads, np.zeros(4))
    return ExternalForces(wheels, notes=lift_notes(found), gravity=tilted)


def tied_down(scene: Scene, load_case: LoadCase) -> ExternalForces:
    """Return the vehicle as cargo on a trailer, held by straps and standing on its tyres (49 CFR 393.102).

    The trailer slows or turns with `acceleration` g and the vehicle pushes `toward` a side; straps only pull. The tyres
    grip only as much as the straps can't hold, a thousandth as stiff; more than friction allows is refused.
    """
    if not scene.vehicle.straps:
        raise InputError([Fault("", load_case.name, "no straps are described", "describe straps under vehicle")])
    straps, tyres = _cargo_holds(scene, load_case)
    forces = settled(load_case.name, (*straps, *tyres), _cargo_push(scene, load_case))
    tension, ground = forces[: len(straps)], forces[len(straps) :].reshape(4, 3)
    _refuse_sliding(scene, load_case, ground)
    outside = tuple(
        PointLoad(strap.point, vector(size * np.array(hold.direction)), because=f"strap {strap.name}")
        for strap, hold, size in zip(scene.vehicle.straps, straps, tension, strict=True)
    )
    wheels = on_ground(scene, ground[:, 2], ground[:, 0], ground[:, 1])
    carried = tuple(StrapTension(s.name, float(size)) for s, size in zip(scene.vehicle.straps, tension, strict=True))
    return ExternalForces(wheels, outside=outside, notes=tuple(strap_notes(scene, tension)), straps=carried)


def strap_notes(scene: Scene, tension: Array) -> list[Words]:
    """Say what each strap carries, against its working load limit, and whether the limits add up to half the weight.

    393.106(d): the sum of limits at least half the article's weight, a strap from vehicle to article counted half.
    """
    straps = scene.vehicle.straps
    notes: list[Words] = [
        said(f"strap {s.name} carries ", SaidAmount(float(t), "force"), _limit(s, float(t)))
        for s, t in zip(straps, tension, strict=True)
    ]
    limits = [strap.working_load_limit for strap in straps if strap.working_load_limit is not None]
    if len(limits) == len(straps) and sum(limits) / 2 < scene.weight / 2:
        half, weight = SaidAmount(sum(limits) / 2, "force"), SaidAmount(scene.weight / 2, "force")
        notes.append(said("half the straps' working load limits, ", half, ", is below half the weight, ", weight))
    return notes


def _limit(strap: Strap, tension: float) -> Words:
    limit = strap.working_load_limit
    return said(", over its working load limit ", SaidAmount(limit, "force")) if limit is not None and tension > limit else ""


def _toward(load_case: LoadCase) -> Vector:
    toward = word(load_case, "toward")
    if toward not in TOWARD:
        raise InputError(
            [Fault("", f"{load_case.name}: toward", f"'{toward}' is no side", f"use one of {', '.join(TOWARD)}")]
        )
    return TOWARD[toward]


def _strap_hold(scene: Scene, strap: Strap, stiffness: float) -> OneWaySupport:
    start = scene.points[strap.point]
    return OneWaySupport(strap.name, start, unit(start, strap.anchor, strap.name), stiffness, strap.pretension)


def _cargo_holds(scene: Scene, load_case: LoadCase) -> tuple[tuple[OneWaySupport, ...], tuple[OneWaySupport, ...]]:
    """Return the straps, and the tyres along x, y, z each, loaded at rest by weight and pretension."""
    pull = positive(load_case, "strap stiffness")
    straps = tuple(_strap_hold(scene, strap, pull) for strap in scene.vehicle.straps)
    about = np.array([0.0, 0.0, scene.ground])
    pulls = [wrench(hold.preload * np.array(hold.direction), hold.at, about) for hold in straps]
    rest = wheel_loads(scene, (0.0, 0.0, -scene.vehicle.gravity), np.sum(pulls, axis=0)).loads
    stiffness = positive(load_case, "tyre stiffness")
    tyres: list[OneWaySupport] = []
    for wheel, load in zip(wheels_of(scene.vehicle), rest, strict=True):
        tyres += (OneWaySupport(wheel.name, wheel.contact, axis, pull / 1000, both_ways=True) for axis in AXES[:2])
        tyres.append(OneWaySupport(wheel.name, wheel.contact, AXES[2], stiffness, float(load)))
    return straps, tuple(tyres)


def _cargo_push(scene: Scene, load_case: LoadCase) -> Array:
    """Return force and moment (6,) of weight and inertia of the cargo about the origin."""
    push = positive(load_case, "acceleration") * scene.vehicle.gravity * np.array(_toward(load_case))
    apparent = push + np.array([0.0, 0.0, -scene.vehicle.gravity])
    return wrench(scene.whole.mass * apparent, scene.whole.cg, (0.0, 0.0, 0.0))


def _refuse_sliding(scene: Scene, load_case: LoadCase, ground: Array) -> None:
    """Raise UnsolvableError where the tyres would have to grip more than friction allows; ground (4, 3), N."""
    grip, load = float(np.linalg.norm(ground[:, :2].sum(axis=0))), float(ground[:, 2].sum())
    grip = max(grip, float(np.abs(ground[:, :2]).sum(axis=0).max()))
    if grip > scene.vehicle.friction * load:
        raise UnsolvableError(
            f"{load_case.name}: not friction enough to balance: the straps leave {grip:.0f} N to the tyres, "
            f"they hold {scene.vehicle.friction * load:.0f} N; add a strap that pulls against it, or pretension"
        )


def _held_by_wheels(scene: Scene, loads: tuple[PointLoad, ...]) -> ExternalForces:
    """Return wheels that hold loads on frame points: level forces alike but for the yaw couple, upright by statics."""
    total = _about_ground(scene, loads)
    found: WheelLoads = wheel_loads(scene, (0.0, 0.0, -scene.vehicle.gravity), total)
    places = np.array([wheel.contact[:2] for wheel in wheels_of(scene.vehicle)])
    arms = places - places.mean(axis=0)
    yaw = total[5] - (places.mean(axis=0)[0] * total[1] - places.mean(axis=0)[1] * total[0])
    turn = -yaw * np.stack([-arms[:, 1], arms[:, 0]], axis=1) / np.sum(arms**2)
    level = -total[:2] / 4 + turn
    return ExternalForces(on_ground(scene, found.loads, level[:, 0], level[:, 1]), outside=loads, notes=lift_notes(found))


def _about_ground(scene: Scene, loads: tuple[PointLoad, ...]) -> Array:
    about, total = np.array([0.0, 0.0, scene.ground]), np.zeros(6)
    for load in loads:
        total += wrench(load.force, scene.points[load.point], about)
        total[3:] += load.moment
    return total


def _down(force: float) -> Array:
    return np.array([0.0, 0.0, -force, 0.0, 0.0, 0.0])


KINDS: Mapping[str, KindOfLoadCase] = {
    "tow or recovery pull": KindOfLoadCase(pull, A_POINT),
    "tie-down": KindOfLoadCase(tied_down, NeededData(has_straps, "describe 'straps'")),
    "load bed": KindOfLoadCase(bouncing_load, NeededData(has_payload, "say 'kind: payload' on a mass", usual=False)),
    "trailer coupling": KindOfLoadCase(coupling, SOME_POINT),
    "parked on a slope": KindOfLoadCase(parked_on_slope, MASSES_AND_AXLES),
}
"""The kinds of load case that are worked out here, and what each needs."""
