"""First natural frequencies of the frame with the masses on it: hanging free, on its own supports, or on the wheels."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from enum import Enum
from math import inf
from typing import Any

import numpy as np

from framecheck.errors import MechanismError
from framecheck.frame.number_cache import NumberStore
from framecheck.frame.results import Bound
from framecheck.frame.solve import Structure, solve_frame, structure_of
from framecheck.frame.vibration import (
    Flexibility,
    GroundSprings,
    Vibration,
    member_mass,
    no_springs,
    refined,
    vibration,
)
from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Frame, StiffBody
from framecheck.model.loads import BodyLoad, CaseLoads, PointLoad, Support
from framecheck.model.panels import Panel
from framecheck.section.properties import SectionProperties
from framecheck.value_class import array_class

PIECES = 16  # at least so many over the frame's longest extent
STIFF = 0.2
# up and down, sideways, fore and aft: left and right alike, then one against the other
BENDING = (
    "bends upwards", "twists", "bends sideways", "spreads", "stretches", "slews one rail ahead of the other",
)  # fmt: skip
MOVING = ("moves up and down", "rolls", "moves sideways", "rolls", "moves fore and aft", "yaws")
Cuts = Mapping[tuple[str, str], SectionProperties]


class Standing(Enum):
    """What the frame stands on."""

    FREE = "hanging free"
    SUPPORTED = "on its supports"
    WHEELS = "on its wheels"


@array_class
class CarriedMass:
    """A mass (kg) carried by frame points. sharing: (6 n, 6) loads on the points per unit force and moment at the mass."""

    name: str
    mass: float
    points: tuple[str, ...]
    sharing: Array


@array_class
class WheelSpring:
    """What stands between frame and wheel: rate (N/m) upwards. sharing: (6 n,) loads on the points per unit of its force."""

    name: str
    rate: float
    points: tuple[str, ...]
    sharing: Array


@array_class
class VibrationMode:
    """frequency: Hz. motion: what it looks like, in words. shape: (n, 3) movements of the places, the largest 1.

    parts: share of the moving energy by part ("frame", masses and bodies by name), the largest first.
    """

    frequency: float
    motion: str
    shape: Array
    parts: tuple[tuple[str, float], ...]


@array_class
class Modes:
    """The first modes, lowest first. places: (n, 3) where the shapes are given, m: the frame's points, then more of them
    along its members. change: last relative change of a frequency as the space of shapes grew.
    """

    bound: Bound
    standing: Standing
    points: tuple[str, ...]
    places: Array
    modes: tuple[VibrationMode, ...]
    change: float


@array_class
class _Model:
    """The refined frame with its masses. parts: (name, mass matrix); freedoms: six per point, then six per stiff body."""

    frame: Frame
    structure: Structure
    parts: tuple[tuple[str, Any], ...]

    @property
    def size(self) -> int:
        """Return the number of freedoms."""
        return 6 * (len(self.frame.points) + len(self.frame.stiff_bodies))


def natural_modes(
    frame: Frame,
    sections: Mapping[str, SectionProperties],
    bound: Bound,
    standing: Standing,
    masses: Sequence[CarriedMass] = (),
    springs: Sequence[WheelSpring] = (),
    cuts: Cuts | None = None,
    count: int = 8,
    store: NumberStore | None = None,
) -> Modes:
    """Return the first modes under a bound; those of the whole moving freely are left out."""
    supported = standing is Standing.SUPPORTED
    fine = refined(frame if supported else held_at_one_point(frame), _extent(frame) / PIECES)
    model = _Model(fine, structure_of(fine, sections, bound, cuts or {}, store), _parts(fine, sections, masses))
    free = np.zeros((model.size, 0)) if supported else free_movements(model.frame)
    ground = _ground(model, springs) if standing is Standing.WHEELS else no_springs(model.size)
    mass = sum(matrix for _, matrix in model.parts)
    found = vibration(flexibility(model.frame, model.structure), mass, free, ground, count)
    places = frozen(np.array(list(model.frame.points.values())))
    return Modes(
        bound, standing, tuple(model.frame.points), places, _described(places, model, free, found), found.change
    )


def held_at_one_point(frame: Frame) -> Frame:
    """Return the frame held at the start of its first member: under forces in balance the support does nothing.

    So a frame that hangs on nothing can be solved; how it moves as a whole is put right afterwards.
    """
    return replace(frame, supports=(Support(frame.members[0].points[0], (inf,) * 6),))


def _extent(frame: Frame) -> float:
    """Return the frame's longest extent along an axis, m."""
    return float(np.ptp(np.array(list(frame.points.values())), axis=0).max())


def _parts(
    frame: Frame, sections: Mapping[str, SectionProperties], masses: Sequence[CarriedMass]
) -> tuple[tuple[str, Any], ...]:
    """Return the mass matrix of each part by name."""
    size = 6 * (len(frame.points) + len(frame.stiff_bodies))
    carried = ((each.name, _carried_mass(frame, each, size)) for each in masses if each.mass > 0.0)
    bodies = ((each.name, _body_mass(frame, number, size)) for number, each in enumerate(frame.stiff_bodies))
    sheet = ((panel.name, _panel_mass(frame, panel, size)) for panel in frame.panels)
    return (("frame", member_mass(frame, sections, size)), *sheet, *carried, *bodies)


def _panel_mass(frame: Frame, panel: Panel, size: int) -> Any:
    """Return the sparse mass (size, size) of a panel: shared evenly among its members' points within its reach, which carry it."""
    from scipy.sparse import diags_array

    from framecheck.frame.panel.weight import carriers_of

    mass, carriers = carriers_of(frame, panel)
    values = np.zeros(size)
    for node in carriers:
        values[6 * node : 6 * node + 3] = mass / len(carriers)
    return diags_array(values, format="csr")


def _placed(frame: Frame, points: Sequence[str], values: Array, size: int) -> Array:
    """Return the rows (6 n, k) of some points set among all freedoms (size, k)."""
    number = {name: i for i, name in enumerate(frame.points)}
    rows = np.concatenate([6 * number[name] + np.arange(6) for name in points])
    placed = np.zeros((size, values.shape[1]))
    np.add.at(placed, rows, values)
    return placed


def _carried_mass(frame: Frame, carried: CarriedMass, size: int) -> Any:
    """Return the sparse mass (size, size): the points move the mass as its force is shared among them."""
    from scipy.sparse import csr_array

    moves = csr_array(_placed(frame, carried.points, carried.sharing[:, :3], size))
    return (moves * carried.mass) @ moves.T


def _body_mass(frame: Frame, number: int, size: int) -> Any:
    """Return the sparse mass (size, size) of a stiff body on its own six freedoms."""
    from scipy.sparse import diags_array

    body, values = frame.stiff_bodies[number], np.zeros(size)
    first = 6 * (len(frame.points) + number)
    values[first : first + 6] = body.mass * np.r_[np.ones(3), np.square(body.radii)]
    return diags_array(values, format="csr")


def _ground(model: _Model, springs: Sequence[WheelSpring]) -> GroundSprings:
    """Return the wheels' springs on the model's freedoms."""
    directions = [_placed(model.frame, each.points, each.sharing[:, None], model.size) for each in springs]
    return GroundSprings(np.hstack(directions), np.array([each.rate for each in springs]))


def rigid_movement(place: Array) -> Array:
    """Return (6, 6): what a place does under the unit movements and turns of the whole about the origin."""
    x, y, z = place
    rows = np.eye(6)
    rows[:3, 3:] = [[0.0, z, -y], [-z, 0.0, x], [y, -x, 0.0]]
    return rows


def free_movements(frame: Frame) -> Array:
    """Return the six movements (n, 6) of the whole as one stiff piece."""
    places = [np.array(place) for place in (*frame.points.values(), *(body.at for body in frame.stiff_bodies))]
    return np.concatenate([rigid_movement(place) for place in places])


def flexibility(frame: Frame, structure: Structure) -> Flexibility:
    """Return how points and stiff bodies move under forces on them."""
    count = 6 * len(frame.points)

    def moved(forces: Array) -> Array:
        loads = tuple(_loads(frame, column, str(i)) for i, column in enumerate(forces.T))
        solution = solve_frame(structure, loads)
        order = [solution.points.index(name) for name in frame.points]
        points = solution.displacements[order].transpose(0, 2, 1).reshape(count, -1)
        bodies = [
            _body_moves(frame, body, points, forces[count + 6 * i : count + 6 * i + 6])
            for i, body in enumerate(frame.stiff_bodies)
        ]
        return np.concatenate([points, *bodies])

    return moved


def _loads(frame: Frame, forces: Array, name: str) -> CaseLoads:
    """Return one column of forces as loads on points and bodies."""
    wrenches = forces.reshape(-1, 6).tolist()
    points = tuple(
        PointLoad(point, tuple(w[:3]), tuple(w[3:]))  # type: ignore[arg-type]
        for point, w in zip(frame.points, wrenches, strict=False)
        if any(w)
    )
    bodies = tuple(
        BodyLoad(body.name, tuple(w[:3]), tuple(w[3:]))  # type: ignore[arg-type]
        for body, w in zip(frame.stiff_bodies, wrenches[len(frame.points) :], strict=True)
        if any(w)
    )
    return CaseLoads(name, points, body_loads=bodies)


def _body_moves(frame: Frame, body: StiffBody, points: Array, forces: Array) -> Array:
    """Return a body's movement (6, k) on its mounts: from those of the frame's points and the forces (6, k) on the body."""
    number = {name: i for i, name in enumerate(frame.points)}
    stiff, push = np.zeros((6, 6)), forces.copy()
    for mount in body.mounts:
        arm = rigid_movement(np.array(frame.points[mount.point]) - np.array(body.at))[:3]
        pull = arm.T * np.array(mount.stiffness)
        stiff += pull @ arm
        push += pull @ points[6 * number[mount.point] : 6 * number[mount.point] + 3]
    if np.linalg.cond(stiff) > 1e14:
        raise MechanismError(f"stiff body '{body.name}' can move freely on its mounts; give it three, not in one line")
    return np.asarray(np.linalg.solve(stiff, push), dtype=np.float64)


def _described(places: Array, model: _Model, free: Array, found: Vibration) -> tuple[VibrationMode, ...]:
    modes, whole = [], free[: 6 * len(places)].reshape(len(places), 6, -1)[:, :3].reshape(3 * len(places), -1)
    for frequency, shape in zip(found.frequencies, found.shapes.T, strict=True):
        parts = sorted(((name, float(shape @ (mass @ shape))) for name, mass in model.parts), key=lambda each: -each[1])
        moves = shape[: 6 * len(places)].reshape(-1, 6)[:, :3]
        moves = moves / (moves.flat[np.argmax(np.abs(moves))] or 1.0)
        modes.append(VibrationMode(float(frequency), motion_of(places, moves, whole), frozen(moves), tuple(parts)))
    return tuple(modes)


def motion_of(places: Array, shape: Array, whole: Array) -> str:
    """Return in words what moves most in a shape (n, 3) of places (n, 3), left against right.

    A place without a mirror image stands for both sides. whole: (3 n, 6) the free movements of the whole, (3 n, 0) where it
    is held: the frame bends where they leave more than STIFF of the movement (as a sum of squares).
    """
    number = {tuple(place): i for i, place in enumerate(np.round(places, 4).tolist())}
    mirror = [number.get((x, -y, z), i) for i, (x, y, z) in enumerate(np.round(places, 4).tolist())]
    alike, against = (shape + shape[mirror]) / 2, (shape - shape[mirror]) / 2
    sizes = np.array([np.sum(part[:, axis] ** 2) for axis in (2, 1, 0) for part in (alike, against)])
    left = shape.ravel() - whole @ (np.linalg.pinv(whole) @ shape.ravel())
    words = MOVING if left @ left < STIFF * float(np.sum(shape**2)) else BENDING
    return words[int(np.argmax(sizes))]
