"""How wheels hang on the frame: pivots, arms, links and springs at design height. SI, vehicle axes.

A corner carries one wheel (double wishbone, strut, trailing arm); a live axle carries two (leaf springs, links).
"""

from __future__ import annotations

from enum import Enum

from framecheck.model.arrays import Vector
from framecheck.value_class import value_class


@value_class
class SuspensionBracket:
    """Where the suspension meets the frame. at: the pivot's place where it is not the frame point's own, m."""

    point: str
    at: Vector | None = None


class Carries(Enum):
    """The part that a spring or an anti-roll bar's link acts on."""

    CARRIER = "carrier"
    UPPER_ARM = "upper arm"
    LOWER_ARM = "lower arm"


@value_class
class Arm:
    """A wishbone: hinged on two brackets (front, rear), with a ball joint at its outer end, m."""

    brackets: tuple[SuspensionBracket, SuspensionBracket]
    ball: Vector


@value_class
class Link:
    """A rod with a ball joint at each end: it pushes and pulls along itself only. end: on the wheel's side, m."""

    name: str
    end: Vector
    bracket: SuspensionBracket


@value_class
class BumpStop:
    """Where a bump stop pushes (or a droop strap pulls) on the part that carries the spring, and the bracket behind it."""

    end: Vector
    bracket: SuspensionBracket


@value_class
class CoilSpring:
    """A coil spring or coil-over between a place on the suspension and a bracket. rate: N/m.

    bump, droop: how far the wheel can go up and down from rest, m; None: no limit known. stop, strap: where the bump stop pushes
    and the droop strap pulls; None: in the spring's line. stop_rate, strap_rate: of the stop and the strap themselves, N/m; None:
    not known.
    """

    end: Vector
    bracket: SuspensionBracket
    rate: float
    bump: float | None = None
    droop: float | None = None
    stop: BumpStop | None = None
    stop_rate: float | None = None
    strap: BumpStop | None = None
    strap_rate: float | None = None


@value_class
class DoubleWishbone:
    """Two wishbones and a tie rod (or toe link) with a coil-over; spring_on: what the spring stands on."""

    upper: Arm
    lower: Arm
    tie_rod: Link
    spring: CoilSpring
    spring_on: Carries = Carries.LOWER_ARM


@value_class
class Strut:
    """A strut clamped to the upright, free to turn in its top mount (spring.bracket), with a lower arm and a tie rod."""

    lower: Arm
    tie_rod: Link
    spring: CoilSpring


@value_class
class TrailingArm:
    """An arm that holds the hub, hinged on two brackets (inner, outer), with a spring on it."""

    brackets: tuple[SuspensionBracket, SuspensionBracket]
    spring: CoilSpring


Corner = DoubleWishbone | Strut | TrailingArm


@value_class
class LeafSpring:
    """A leaf spring along the vehicle: fixed eye, and a shackle from the spring's other eye up or down to the frame.

    shackle_eye: the spring's eye, m; shackle: the bracket of the shackle's frame pin. rate: at the axle, N/m. stop: the frame's
    bracket that the axle strikes at the end of its travel; None: not known, the spring's eyes take it.
    """

    eye: SuspensionBracket
    shackle_eye: Vector
    shackle: SuspensionBracket
    rate: float
    bump: float | None = None
    droop: float | None = None
    stop: SuspensionBracket | None = None
    stop_rate: float | None = None
    strap_rate: float | None = None


@value_class
class LeafAxle:
    """A live axle clamped on two leaf springs."""

    left: LeafSpring
    right: LeafSpring


@value_class
class LateralLinkage:
    """A centre pivot on the axle that two equal cross links, one to each side, hold sideways (they share alike)."""

    pivot: Vector
    brackets: tuple[SuspensionBracket, SuspensionBracket]


@value_class
class LinkAxle:
    """A live axle on links and two springs (left, right). A single lateral rod is one of the links.

    link_rate: stiffness of a link with its bushes along itself, N/m; it matters only where there are more links than needed.
    """

    links: tuple[Link, ...]
    springs: tuple[CoilSpring, CoilSpring]
    linkage: LateralLinkage | None = None
    link_rate: float = 1e7


LiveAxle = LeafAxle | LinkAxle


@value_class
class AntiRollBar:
    """A bar across the frame in two bushes (left, right), with a vertical drop link at each end.

    rate: force in each link per difference of the link ends' travel, N/m; ends: where the links act (left, right), m.
    """

    rate: float
    ends: tuple[Vector, Vector]
    bushes: tuple[SuspensionBracket, SuspensionBracket]
    on: Carries = Carries.CARRIER


@value_class
class Damper:
    """A damper between a wheel carrier (end, m) and the frame. force: N at a speed of its own stroke, m/s."""

    end: Vector
    bracket: SuspensionBracket
    force: float
    speed: float
