"""Frame stiffness as the trade measures it: twisted between the axles, bent upwards and sideways at mid wheelbase.

The frame hangs on nothing: each test's loads balance among themselves, so nothing is held twice. An axle's points on one
side share its force alike, and the movement is the one that the load works through: stiffness = load^2 / (2 x energy).
For an axle with one point a side this is the rig's measure: rear held, couple at the front, K = T / twist between them.
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from math import dist, inf

import numpy as np

from framecheck.errors import UnsolvableError
from framecheck.frame.long_members import _mean, long_members
from framecheck.frame.results import Bound, FrameSolution
from framecheck.frame.solve import Structure, solve_frame
from framecheck.frame.twist_curve import COUPLE, twist_curve
from framecheck.model.arrays import Array, Vector
from framecheck.model.frame import Frame, Make, Member
from framecheck.model.loads import CaseLoads, MemberLoad, PointLoad
from framecheck.model.suspension import LinkAxle
from framecheck.model.vehicle import Axle, Vehicle
from framecheck.value_class import array_class, value_class

TWIST, BEND, PUSH = "twist", "bending upwards", "bending sideways"
FORCE = 1000.0  # N
ROUNDED = 1e-9
"""Of a stretch between two points; a place off its ends by less is at its end."""
FLOOR_SHARE = (
    "A panel's small share says nothing of what it is worth: leave it out and solve again. A firewall that stores 3 % may hold two "
    "thirds of the twist, and most of what a real floor stores is its own bending, which is not in it."
)
UPPER_BOUND = (
    "Ends said to be rigid make this an upper bound: open joints of pillars and cant rails give, in shells of one closed body to a "
    "fifth less twist between the axles and a third less between the rockers' ends."
)
"""What is said of the stiffness of a frame with panels; the second where any end is said to be rigid (shells of closed body B:
twist 23 %, between rocker ends 60 % too stiff with rigid joints)."""
UP: Vector = (0.0, 0.0, 1.0)
LEFT: Vector = (0.0, 1.0, 0.0)


@value_class
class AxlePoints:
    """The frame points that the axles hang on."""

    front_left: tuple[str, ...]
    front_right: tuple[str, ...]
    rear_left: tuple[str, ...]
    rear_right: tuple[str, ...]

    @property
    def groups(self) -> tuple[tuple[str, ...], ...]:
        """Return the four groups: front left, front right, rear left, rear right."""
        return self.front_left, self.front_right, self.rear_left, self.rear_right


@value_class
class EnergyShare:
    """The share (0 to 1) of the strain energy that one member and its joints take in each test; None: not tested."""

    member: str
    twist: float
    bending: float | None
    sideways: float | None


@array_class
class FrameStiffness:
    """What the tests give. torsional: Nm/rad; bending, sideways: N/m, None where nothing along it passes mid wheelbase.

    x: (n,) m; twist: (n,) turn about x per couple, rad/Nm, less that at the rear axle (right-handed about x, the couple
    lifting the front's left). front, rear: x of the axles' points, m. shares: the member that takes most first.
    """

    bound: Bound
    torsional: float
    bending: float | None
    sideways: float | None
    x: Array
    twist: Array
    front: float
    rear: float
    shares: tuple[EnergyShare, ...]
    notes: tuple[str, ...] = ()


def axle_points(vehicle: Vehicle) -> AxlePoints:
    """Return the points that the vehicle's wheels hang on."""
    return AxlePoints(*_hung_on(vehicle.front), *_hung_on(vehicle.rear))


def _hung_on(axle: Axle) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the points of an axle's left and right; those of its springs where links of both sides make one group of them."""
    if isinstance(axle.live, LinkAxle) and axle.left.on == axle.right.on:
        left, right = axle.live.springs
        return (left.bracket.point,), (right.bracket.point,)
    return axle.left.on, axle.right.on


def _middles(frame: Frame, points: AxlePoints) -> Array:
    """Return the middle (4, 3) of each group of points."""
    return np.array([np.mean([frame.points[name] for name in group], axis=0) for group in points.groups])


def _shared(points: AxlePoints, forces: Array, direction: Vector) -> tuple[PointLoad, ...]:
    """Return one force per group (4,) along the direction, shared alike among the group's points."""
    return tuple(
        PointLoad(name, tuple(float(force) / len(group) * part for part in direction))  # type: ignore[arg-type]
        for group, force in zip(points.groups, forces, strict=True)
        for name in group
    )


def twist_forces(middles: Array) -> Array:
    """Return the four upward forces (4,) in balance that put a couple of 1 Nm on the front, right-handed about x.

    They are the one way that four upward forces can balance: sum, moment about x and about y all nothing.
    """
    balance = np.vstack((np.ones(4), middles[:, 0], middles[:, 1]))
    _, sizes, rows = np.linalg.svd(balance)
    forces: Array = rows[3]
    couple = forces[:2] @ (middles[:2, 1] - np.mean(middles[:2, 1]))
    if sizes[2] < 1e-6 * sizes[0] or abs(couple) < 1e-9 * np.abs(forces).max():
        raise UnsolvableError(
            "the axles' points lie in one line, or left and right are the same: no couple can twist them"
        )
    return forces / couple


def holding_forces(middles: Array, force: Vector, at: Vector) -> Array:
    """Return (2, 4): forces to the left and upwards on the four groups that balance a force; the least that do."""
    x, y, z = middles.T
    none, one = np.zeros(4), np.ones(4)
    columns = np.array([np.r_[one, none], np.r_[none, one], np.r_[-z, y], np.r_[none, -x], np.r_[x, none]])
    turned = np.cross(at, force)
    load = -np.array([force[1], force[2], *turned])
    held: Array = np.linalg.lstsq(columns, load, rcond=None)[0]
    return held.reshape(2, 4)


def station_at(frame: Frame, member: Member, x: float) -> float | None:
    """Return the member's station (m) at a place x along the vehicle, None where it does not pass; rounded numbers are forgiven."""
    passed = 0.0
    for first, second in pairwise(frame.points[name] for name in member.points):
        share = (x - first[0]) / (second[0] - first[0]) if first[0] != second[0] else inf
        if -ROUNDED <= share <= 1.0 + ROUNDED:
            return passed + dist(first, second) * min(max(share, 0.0), 1.0)
        passed += dist(first, second)
    return None


def _place(structure: Structure, member: Member, station: float) -> Array:
    """Return the place (3,) of a station on a member's line as it really runs, arms at its ends included."""
    number, pieces, beams = structure.frame.members.index(member), structure.pieces, structure.beams
    starts = beams.start[pieces.first[number] : pieces.last[number] + 1]
    piece = int(pieces.first[number]) + max(int(np.searchsorted(starts, station, side="right")) - 1, 0)
    place: Array = beams.ends[piece, 0] + (station - beams.start[piece]) * beams.axes[piece, 0]
    return place


def _rails_at(frame: Frame, x: float) -> list[tuple[Member, float]]:
    """Return the rails that pass a place x along the vehicle, each with its station there; without rails the lowest member a side."""
    passing = [(each, station_at(frame, each, x)) for each in long_members(frame)]
    found = [(each, station) for each, station in passing if station is not None]
    if any(each.role == "rail" for each, _ in found):
        return found
    sides = [[each for each in found if _mean(frame, each[0], 1) * sign > 0] for sign in (1, -1)]
    return [side[0] for side in sides] if all(sides) else []


def _middle_load(structure: Structure, points: AxlePoints, name: str, direction: Vector) -> CaseLoads | None:
    """Return a force shared by the rails at mid wheelbase, held at the four groups; None without rails there."""
    middles = _middles(structure.frame, points)
    rails = _rails_at(structure.frame, float(np.mean([middles[:2, 0].mean(), middles[2:, 0].mean()])))
    if not rails:
        return None
    part = FORCE / len(rails)
    force = (0.0, direction[1] * part, direction[2] * part)
    loads = tuple(MemberLoad(member.name, force, force, station, station) for member, station in rails)
    at = np.mean([_place(structure, member, station) for member, station in rails], axis=0)
    held = holding_forces(middles, (0.0, direction[1] * FORCE, direction[2] * FORCE), (at[0], at[1], at[2]))
    holding = (*_shared(points, held[0], LEFT), *_shared(points, held[1], UP))
    return CaseLoads(name, holding, loads, free_free=True)


def rig_loads(structure: Structure, points: AxlePoints) -> tuple[CaseLoads, ...]:
    """Return the tests' loads: twist, then bending upwards and sideways where a rail passes mid wheelbase."""
    twist = CaseLoads(TWIST, _shared(points, COUPLE * twist_forces(_middles(structure.frame, points)), UP), free_free=True)
    middle = (_middle_load(structure, points, name, direction) for name, direction in ((BEND, UP), (PUSH, LEFT)))
    return (twist, *(loads for loads in middle if loads is not None))


def frame_stiffness(frame: Frame, structure: Structure, points: AxlePoints) -> FrameStiffness:
    """Return the frame's stiffness under the structure's bound."""
    solution = solve_frame(structure, rig_loads(structure, points))
    middles = _middles(frame, points)
    front, rear = float(middles[:2, 0].mean()), float(middles[2:, 0].mean())
    x, twist = twist_curve(frame, solution.members, rear)
    return FrameStiffness(
        bound=solution.bound,
        torsional=COUPLE**2 / (2 * float(solution.energy[0])),
        bending=_force_stiffness(solution, BEND),
        sideways=_force_stiffness(solution, PUSH),
        x=x,
        twist=twist,
        front=front,
        rear=rear,
        shares=energy_shares(solution),
        notes=sheet_says(frame),
    )


def sheet_says(frame: Frame) -> tuple[str, ...]:
    """Return what is to be said of the stiffness of a frame with panels."""
    return (FLOOR_SHARE, *((UPPER_BOUND,) if is_upper_bound(frame) else ())) if frame.panels else ()


def is_upper_bound(frame: Frame) -> bool:
    """Return whether members of a frame with panels meet at ends that are said to be rigid: sheet metal joints give."""
    met = Counter(name for member in frame.members for name in {member.points[0], member.points[-1]})
    ends = ((end, name) for each in frame.members for end, name in ((each.start, each.points[0]), (each.end, each.points[-1])))
    return bool(frame.panels) and any(end.make is Make.RIGID and met[name] > 1 for end, name in ends)


def _force_stiffness(solution: FrameSolution, name: str) -> float | None:
    """Return force^2 / (2 x energy) of a test, None where it was not made."""
    if name not in solution.cases:
        return None
    return FORCE**2 / (2 * float(solution.energy[solution.cases.index(name)]))


def energy_shares(solution: FrameSolution) -> tuple[EnergyShare, ...]:
    """Return each member's and panel's share of the strain energy in each test, the one that takes most in twist first."""

    def share(member: str, test: str) -> float | None:
        if test not in solution.cases:
            return None
        number = solution.cases.index(test)
        return float(energies[member][number] / solution.energy[number])

    panels = {f"panel {name}": energy for name, energy in solution.panel_energies.items()}
    energies = {**solution.energies, **panels}
    if solution.body_energy is not None:
        energies["the stated body"] = solution.body_energy
    shares = [EnergyShare(m, share(m, TWIST) or 0.0, share(m, BEND), share(m, PUSH)) for m in energies]
    return tuple(sorted(shares, key=lambda each: -each.twist))
