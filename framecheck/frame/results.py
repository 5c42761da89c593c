"""What a solved frame gives: each member's results as one table, and how far a member twists in itself. SI; arrays are read-only."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field
from enum import Enum
from typing import TYPE_CHECKING, overload

import numpy as np

from framecheck.model.arrays import Array, BoolArray, IntArray, frozen
from framecheck.model.frame import SAME_STATION, Frame, Member
from framecheck.model.joining import Action
from framecheck.section.properties import SectionProperties
from framecheck.value_class import array_class, value_class

if TYPE_CHECKING:
    from framecheck.frame.panel.results import PanelForces


class Warping(Enum):
    """What an open member's ends do to warping where the user has not said."""

    FREE = "warping free"
    FIXED = "warping fixed"


class Joints(Enum):
    """How stiff a joint is where the user has not said how it is made, or no model covers it.

    Forces need not be largest at an end of the range: between softest, which is softer than any make, and stiffest the usual makes are
    solved as they are, where any is not said.
    """

    SOFT = "joints at their softest"
    USUAL = "joints as most are made, butt-welded and mitred"
    STIFF = "joints at their stiffest"


@value_class
class EndsApart:
    """Ends of members (place in the frame, 0 start or 1 end) that lie at the other end of their range than all else."""

    ends: frozenset[tuple[int, int]]
    words: str


OTHER_END = {Joints.SOFT: Joints.STIFF, Joints.STIFF: Joints.SOFT}
AT_END = {Joints.SOFT: "at their softest", Joints.STIFF: "at their stiffest"}


class Shell(Enum):
    """Which end of its range a body has that is stated, or whose sheet is drawn and not known to carry."""

    SOFT = "the body at its softest"
    STIFF = "the body at its stiffest"


@value_class
class Bound:
    """One end of the range that is left open by what the user has not said. None: nothing is open there."""

    warping: Warping | None = None
    joints: Joints | None = None
    seams: Action | None = None
    shell: Shell | None = None
    apart: EndsApart | None = None

    def at_end(self, number: int, end: int) -> Joints | None:
        """Return how stiff a member's end (place in the frame, 0 start or 1 end) is taken."""
        if self.joints is None or self.apart is None or (number, end) not in self.apart.ends:
            return self.joints
        return OTHER_END[self.joints]

    @property
    def name(self) -> str:
        """Return the bound in words, "" where nothing is open."""
        parts = (self.warping, self.joints, self.seams, self.shell)
        said = [each for part in parts if part is not None for each in (part.value, *self._but(part))]
        return ", ".join(said)

    def _but(self, part: Enum) -> Iterator[str]:
        if self.apart is not None and isinstance(part, Joints):
            yield f"but those of {self.apart.words} {AT_END[OTHER_END[part]]}"


@array_class
class MemberForces:
    """Section forces and movements along one member. A change of section has two stations at one place.

    stations: (n,) m from the member's first point. sections: the n sections that carry the forces there.
    forces: (n, n_case, 9) N, Vy, Vz, T, Mv, Ms, B, T Saint-Venant, T warping in the section's own axes; N and Nm, B in Nm2.
    member_forces: (n, n_case, 6) N, Vy, Vz, T, Mv, Ms in the member's axes (T about the shear centre).
    displacements: (n, n_case, 3) of the reference line, m, vehicle axes. places: (n, 3) of the reference line, m.
    axes: (n, 3, 3) the member's x, y, z as rows, in vehicle axes.
    """

    member: str
    stations: Array
    sections: tuple[SectionProperties, ...]
    forces: Array
    member_forces: Array
    displacements: Array
    places: Array
    axes: Array

    def rows_at_point(self, drawn: Sequence[float], number: int) -> IntArray:
        """Return the rows at one of the member's points by its number; drawn: the stations of its points, m.

        Its ends are its first and its last row: there arms may have moved them from the points.
        """
        at = self.stations[0] if number == 0 else self.stations[-1] if number == len(drawn) - 1 else drawn[number]
        return np.flatnonzero(np.abs(self.stations - at) <= SAME_STATION)


@array_class
class Buckling:
    """Elastic buckling of the frame in k cases. factors (k,): of all loads, at most NEVER; settled (k,): whether it was found to its
    last digits. counted (k,): how much of what forces do on the moved frame is counted in the solution, 0 to 1 (second_order.py).
    """

    factors: Array
    settled: BoolArray
    counted: Array


NEVER = 1e3
"""A frame that carries so many times its loads is not said to buckle: more is told as this."""


@value_class
class SelfCheck:
    """One check that the solution makes of itself: `value` must not exceed `limit`; says: what it means, in words."""

    name: str
    load_case: str
    value: float
    limit: float
    says: str = ""

    @property
    def holds(self) -> bool:
        """Return whether the value is within its limit."""
        return self.value <= self.limit


@array_class
class FrameSolution:
    """A frame solved for all load cases under one bound.

    displacements: (n_point, n_case, 6) m and rad, vehicle axes, in the order of `points`.
    reactions: per held or spring-held point (n_case, 6), what the support does to the frame, N and Nm.
    member_ends: per member (n_case, 2, 6): force and moment that the member's start and end put on their frame points,
    at the points, vehicle axes. mounts: per (body, frame point) (n_case, 3): what the body does to the point, N.
    balance: (n_case,) relative residual of the six equations of the whole. energy: (n_case,) strain energy, J.
    energies: per member (n_case,), J, its joints' springs included. bodies: per stiff body (n_case, 6) m and rad, vehicle
    axes, at its centre of mass. splices: per splice (n_case, 6): what the second member puts on the first at the lap's middle, N, Nm,
    vehicle axes. panels: what each carries; panel_energies: per panel (n_case,), J. body_energy (n_case,): of a stated body.
    """

    bound: Bound
    cases: tuple[str, ...]
    points: tuple[str, ...]
    displacements: Array
    reactions: Mapping[str, Array]
    members: Sequence[MemberForces]
    member_ends: Mapping[str, Array]
    mounts: Mapping[tuple[str, str], Array]
    balance: Array
    energy: Array
    energies: Mapping[str, Array]
    self_checks: tuple[SelfCheck, ...] = ()
    notes: tuple[str, ...] = ()
    bodies: Mapping[str, Array] = field(default_factory=dict)
    splices: Mapping[str, Array] = field(default_factory=dict)
    panels: Mapping[str, PanelForces] = field(default_factory=dict)
    panel_energies: Mapping[str, Array] = field(default_factory=dict)
    body_energy: Array | None = None


class MemberLines(Sequence[MemberForces]):
    """Every member's forces and movements. Of a thousand members most are never looked at one by one, so none is cut out before.

    names: of members; cuts (n_member + 1,): where each one's stations begin; sections: all, and the number of that at each
    station; rows: stations, forces, member forces, displacements, places and axes of all members, as in MemberForces.
    """

    def __init__(
        self,
        names: Sequence[str],
        cuts: IntArray,
        sections: tuple[Sequence[SectionProperties], IntArray],
        rows: tuple[Array, ...],
    ) -> None:
        self._names, self._cuts, self._sections, self._rows = names, cuts.tolist(), sections, rows
        self._found: dict[int, MemberForces] = {}

    def __len__(self) -> int:
        return len(self._names)

    @overload
    def __getitem__(self, at: int) -> MemberForces: ...
    @overload
    def __getitem__(self, at: slice) -> tuple[MemberForces, ...]: ...
    def __getitem__(self, at: int | slice) -> MemberForces | tuple[MemberForces, ...]:
        if isinstance(at, slice):
            return tuple(self[number] for number in range(*at.indices(len(self))))
        number = range(len(self))[at]
        if number not in self._found:
            self._found[number] = self._cut(number)
        return self._found[number]

    def _cut(self, number: int) -> MemberForces:
        """Return one member's part of the tables."""
        part = slice(self._cuts[number], self._cuts[number + 1])
        every, of = self._sections
        at, own, turned, moved, places, axes = (rows[part] for rows in self._rows)
        return MemberForces(
            self._names[number], at, tuple(every[key] for key in of[part].tolist()), own, turned, moved, places, axes
        )


BIMOMENT, SAINT_VENANT = 6, 7
"""Columns of MemberForces.forces: the bimoment, Nm2, and the part of the torsion that turns the section, Nm."""
STILL = 1e-9
"""A turn of less, rad, is rounding."""


@array_class
class MostTwisted:
    """The member that twists most in itself. bound, member, case: numbers of the solution, the member and the load case.

    twist: (n_station,) rad, against its first station; first, second: the two stations that turn most against each other.
    """

    bound: int
    member: int
    case: int
    twist: Array
    first: int
    second: int

    @property
    def between(self) -> float:
        """Return the turn between the two stations, rad."""
        return abs(float(self.twist[self.second] - self.twist[self.first]))


def own_twist(member: Member, forces: MemberForces) -> Array:
    """Return the turn (n_station, n_case), rad, about the member (right-handed about its x) against its first station.

    d(turn)/dx = T / (G J), T the Saint-Venant part of the torsion, and d2(turn)/dx2 = B / (E Cw) (V. Z. Vlasov, Thin-walled
    elastic beams, 1961; from memory), summed by the trapezoidal rule with its end correction h2/12 (f'(a) - f'(b))
    (Abramowitz and Stegun, 25.4.4; from memory). Where a member bends round a corner the sum goes on.
    """
    hand = -1.0 if member.orientation.mirrored else 1.0
    sections = forces.sections
    rigidity = np.array([section.shear_modulus * section.torsion_constant for section in sections])
    warping = np.array([section.youngs_modulus * section.warping_constant or np.inf for section in sections])
    rate = hand * forces.forces[:, :, SAINT_VENANT] / rigidity[:, None]
    change = hand * forces.forces[:, :, BIMOMENT] / warping[:, None]
    step = np.diff(forces.stations)[:, None]
    turns = step / 2 * (rate[1:] + rate[:-1]) + step**2 / 12 * (change[:-1] - change[1:])
    return frozen(np.concatenate([np.zeros((1, rate.shape[1])), np.cumsum(turns, axis=0)]))


def most_twisted(frame: Frame, solutions: Sequence[FrameSolution]) -> MostTwisted | None:
    """Return the rail that twists most in any load case and under any bound; any member where none is a rail; None: none twists."""
    rails = [number for number, member in enumerate(frame.members) if member.role == "rail"]
    found = [
        of_member(bound, number, own_twist(frame.members[number], solution.members[number]))
        for bound, solution in enumerate(solutions)
        for number in (rails or range(len(frame.members)))
    ]
    most = max(found, key=lambda each: each.between, default=None)
    return most if most is not None and most.between > STILL else None


def of_member(bound: int, number: int, twist: Array) -> MostTwisted:
    """Return a member's load case with the largest turn between any two stations, twist (n_station, n_case)."""
    case = int(np.argmax(np.ptp(twist, axis=0)))
    ends = sorted((int(np.argmin(twist[:, case])), int(np.argmax(twist[:, case]))))
    return MostTwisted(bound, number, case, frozen(twist[:, case].copy()), *ends)
