"""What a solved frame gives. SI; arrays are read-only."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import field
from enum import Enum
from typing import TYPE_CHECKING

from framecheck.model.arrays import Array, BoolArray
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


class Shell(Enum):
    """Which end of its range a stated body has."""

    SOFT = "the body at its softest"
    STIFF = "the body at its stiffest"


@value_class
class Bound:
    """One end of the range that is left open by what the user has not said. None: nothing is open there."""

    warping: Warping | None = None
    joints: Joints | None = None
    seams: Action | None = None
    shell: Shell | None = None

    @property
    def name(self) -> str:
        """Return the bound in words, "" where nothing is open."""
        return ", ".join(part.value for part in (self.warping, self.joints, self.seams, self.shell) if part is not None)


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
