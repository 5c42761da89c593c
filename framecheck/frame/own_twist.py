"""How far a member twists in itself: the turn of each station about the member against its first, from the torsion it carries."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.frame.results import FrameSolution, MemberForces
from framecheck.model.arrays import Array, frozen
from framecheck.model.frame import Frame, Member
from framecheck.value_class import array_class

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
