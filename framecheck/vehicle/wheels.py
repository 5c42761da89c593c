"""Wheel loads: what each tyre carries, with transfer between axles and sides, lift-off respected.

The vehicle stands still as seen from itself: a uniform apparent acceleration acts on its mass, the ground answers.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.model.arrays import Array, Vector, frozen
from framecheck.value_class import array_class
from framecheck.vehicle.masses import wheels_of
from framecheck.vehicle.scene import Scene, axle_x, axle_y, track, wrench


@array_class
class WheelLoads:
    """Vertical forces on the tyres, N: loads (4,) front left, front right, rear left, rear right; read-only.

    lifted: wheels that would have to pull on the ground and were let go.
    unbalanced: (roll, pitch) moment that the ground can't answer, Nm; not zero when the vehicle goes over.
    """

    loads: Array
    lifted: tuple[str, ...] = ()
    unbalanced: tuple[float, float] = (0.0, 0.0)

    @property
    def axles(self) -> tuple[float, float]:
        """Return the front and rear axle loads, N."""
        return float(self.loads[:2].sum()), float(self.loads[2:].sum())


def wheel_loads(scene: Scene, apparent: Vector, extra: Array | None = None, couples: Array | None = None) -> WheelLoads:
    """Return the wheel loads under an apparent acceleration (m/s2) of all mass.

    extra: (6,) further force and moment about (0, 0, ground), N and Nm; couples: (2,) roll moments put on the axles by
    the driveline, of no sum, Nm. Equilibrium of the whole vehicle; roll is shared between the axles by `roll_couples` after the
    part that goes through the roll centres.
    """
    load = wrench(scene.whole.mass * np.array(apparent), scene.whole.cg, (0.0, 0.0, scene.ground))
    total = load if extra is None else load + extra
    axles, pitch = _axle_loads(scene, total)
    middles = [axle_y(axle) for axle in scene.vehicle.axles]
    roll = -float(total[3]) - float(axles @ middles)
    direct = roll_centre_moments(scene, apparent)
    return _across(scene, axles, roll, pitch, direct if couples is None else direct + couples)


@lru_cache(maxsize=8)
def static_loads(scene: Scene) -> WheelLoads:
    """Return the wheel loads at rest, W_f = m g b / L (statics); UnsolvableError where the vehicle can't stand."""
    found = wheel_loads(scene, (0.0, 0.0, -scene.vehicle.gravity))
    if max(abs(part) for part in found.unbalanced) > 1e-9 * scene.weight:
        x, y = float(scene.whole.cg[0]), float(scene.whole.cg[1])
        raise UnsolvableError(
            f"vehicle: can't stand on its wheels, the centre of gravity (x {x:.3f} m, y {y:.3f} m) lies outside them; "
            "correct the places of the masses or of the axles"
        )
    return found


def couple_limits(scene: Scene, axles: Array) -> Array:
    """Return the roll moment (2,) of each axle at which one of its wheels leaves the ground, N t / 2, Nm."""
    tracks = np.array([track(axle) for axle in scene.vehicle.axles])
    return np.asarray(axles * tracks / 2, dtype=np.float64)


def loads_from_couples(scene: Scene, axles: Array, couples: Array) -> Array:
    """Return wheel loads (4,) from axle loads (2,) and roll moments (2,), + on the left wheel, N."""
    tracks = np.array([track(axle) for axle in scene.vehicle.axles])
    step = couples / tracks
    return np.array([axles[0] / 2 + step[0], axles[0] / 2 - step[0], axles[1] / 2 + step[1], axles[1] / 2 - step[1]])


@lru_cache(maxsize=8)
def roll_shares(scene: Scene) -> Array:
    """Return the share (2,) of each axle in the roll moment: by roll stiffness where known, else by axle load; read-only."""
    stiffness = tuple(roll.stiffness for roll in scene.rolls)
    if stiffness[0] is not None and stiffness[1] is not None and stiffness[0] + stiffness[1] > 0:
        return frozen(np.array(stiffness) / (stiffness[0] + stiffness[1]))
    still = wrench((0.0, 0.0, -scene.weight), scene.whole.cg, (0.0, 0.0, scene.ground))
    axles, _ = _axle_loads(scene, still)
    return frozen(axles / scene.weight)


def roll_couples(scene: Scene, moment: float) -> Array:
    """Return each axle's part (2,) of a roll moment, Nm: the body rolls both by one angle, until the travel of either is used up.

    Where a roll stiffness is not known, by axle load.
    """
    first, second = scene.laws
    if first is None or second is None or scene.body_roll is None:
        return np.asarray(roll_shares(scene) * moment, dtype=np.float64)
    roll = scene.body_roll.angle(moment)
    return np.array([first.moment(roll), second.moment(roll)])


def roll_centre_moments(scene: Scene, apparent: Vector) -> Array:
    """Return the roll moment (2,) that each axle takes directly under a sideways acceleration, Nm.

    The sprung part at its roll centre and the unsprung part at its own height:
    a_y (m_s b/L z_rc + m_u z_u) (from memory, vehicle dynamics texts).
    """
    return np.asarray(apparent[1] * _masses_times_heights(scene), dtype=np.float64)


@lru_cache(maxsize=8)
def _masses_times_heights(scene: Scene) -> Array:
    wheels = wheels_of(scene.vehicle)
    unsprung = np.array([wheel.unsprung_mass for wheel in wheels])
    radii = np.array([wheel.radius for wheel in wheels])
    sprung = _sprung_by_axle(scene, unsprung)
    centres = (roll.centre for roll in scene.rolls)
    heights = np.array([0.0 if centre is None else centre - scene.ground for centre in centres])
    return frozen(sprung * heights + (unsprung * radii).reshape(2, 2).sum(axis=1))


def _sprung_by_axle(scene: Scene, unsprung: Array) -> Array:
    """Return the sprung mass (2,) over each axle, kg."""
    still = wrench((0.0, 0.0, -scene.weight), scene.whole.cg, (0.0, 0.0, scene.ground))
    axles, _ = _axle_loads(scene, still)
    return np.asarray(axles / scene.vehicle.gravity - unsprung.reshape(2, 2).sum(axis=1), dtype=np.float64)


def _axle_loads(scene: Scene, total: Array) -> tuple[Array, float]:
    """Return axle loads (2,) from the whole load about (0, 0, ground), and the pitch moment left when an axle lifts."""
    front, rear = axle_x(scene.vehicle.front), axle_x(scene.vehicle.rear)
    weight, pitch = -float(total[2]), float(total[4])
    on_front = (pitch - rear * weight) / (front - rear)
    held = min(max(on_front, 0.0), max(weight, 0.0))
    return np.array([held, max(weight, 0.0) - held]), (on_front - held) * (front - rear)


def _across(scene: Scene, axles: Array, roll: float, pitch: float, direct: Array) -> WheelLoads:
    """Share the roll moment between the axles; a wheel at zero takes no more and the other axle takes the rest."""
    limits = couple_limits(scene, axles)
    couples = np.minimum(np.maximum(direct + roll_couples(scene, roll - float(direct.sum())), -limits), limits)
    for axle in (0, 1):
        couples[axle] = min(max(couples[axle] + roll - couples.sum(), -limits[axle]), limits[axle])
    loads = loads_from_couples(scene, axles, couples)
    lifted = tuple(
        wheel.name for wheel, load in zip(wheels_of(scene.vehicle), loads, strict=True) if load <= 1e-9 * scene.weight
    )
    return WheelLoads(frozen(np.maximum(loads, 0.0)), lifted, (roll - float(couples.sum()), pitch))
