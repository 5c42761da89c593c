"""What a torque does to a length of section: how far it twists, and where its largest stress comes from.

Vlasov's theory of thin-walled bars (V. Z. Vlasov, Thin-walled elastic beams, 2nd ed. 1961, from memory): the torque is shared
between Saint-Venant twist, G J x rate, and warping, -E Cw x third derivative; k = sqrt(G J / E Cw).
"""

from __future__ import annotations

from enum import Enum
from math import cosh, inf, pi, sqrt, tanh

import numpy as np

from framecheck.model.said import SaidAmount, Words, said
from framecheck.model.said import length as length_of
from framecheck.section.properties import SectionProperties, UnitFields
from framecheck.value_class import value_class


class HeldFromWarping(Enum):
    """Where a length is kept from warping."""

    NOWHERE = "free to warp at both ends"
    ONE_END = "kept from warping at one end"
    BOTH_ENDS = "kept from warping at both ends"


@value_class
class TwistCase:
    """A length twisted by equal torques at its ends.

    twist_per_metre: mean, rad/m; share: of the free twist. Stresses, Pa, each the largest of its kind in the length, or None
    where the section has no stress fields: normal stress of warping at a held end; shear of Saint-Venant twist where that is
    greatest.
    """

    held: HeldFromWarping
    twist_per_metre: float
    share: float
    warping_stress: float | None
    twist_stress: float | None


@value_class
class Twisting:
    """The three cases of one length under one torque (m, Nm), and what they mean in a sentence."""

    torque: float
    length: float
    cases: tuple[TwistCase, TwistCase, TwistCase]
    sentence: Words


def twisting(section: SectionProperties, torque: float, length: float) -> Twisting:
    """Return twist and stress of a length under a torque, free to warp, held at one end, held at both."""
    free, one, both = (_case(section, torque, length, held) for held in HeldFromWarping)
    return Twisting(torque, length, (free, one, both), _sentence(section, length, free, one, both))


def decay(section: SectionProperties) -> float:
    """Return k = sqrt(G J / E Cw), 1/m: warping dies away over a few 1/k; inf where there is no warping."""
    if section.warping_constant <= 0.0:
        return inf
    stiffness = section.youngs_modulus * section.warping_constant
    return sqrt(section.shear_modulus * section.torsion_constant / stiffness)


def share_of_free_twist(held: HeldFromWarping, kl: float) -> float:
    """Return the twist of a held length over that of a free one: 1 - tanh(kL)/kL held at one end, 1 - tanh(kL/2)/(kL/2) at both.

    Vlasov's equation with equal torques at the ends; kl: k times the length.
    """
    reach = _reach(held, kl)
    return 1.0 if reach in (0.0, inf) else 1.0 - tanh(reach) / reach


def end_bimoment(held: HeldFromWarping, torque: float, k: float, length: float) -> float:
    """Return the bimoment at a held end, N m2: T/k tanh(kL) held at one end, T/k tanh(kL/2) at both; 0 where nothing is held."""
    return 0.0 if held is HeldFromWarping.NOWHERE or k == inf else torque / k * tanh(_reach(held, k * length))


def twist_torque(held: HeldFromWarping, torque: float, kl: float) -> float:
    """Return the largest Saint-Venant part of the torque: T (1 - 1/cosh kL) at the free end, T (1 - 1/cosh kL/2) at mid-length."""
    reach = _reach(held, kl)
    return torque if held is HeldFromWarping.NOWHERE or reach > 300.0 else torque * (1.0 - 1.0 / cosh(reach))


def _reach(held: HeldFromWarping, kl: float) -> float:
    """Return k times the length from a held end to where warping is free, or to the middle."""
    return {HeldFromWarping.NOWHERE: inf, HeldFromWarping.ONE_END: kl, HeldFromWarping.BOTH_ENDS: kl / 2}[held]


def _case(section: SectionProperties, torque: float, length: float, held: HeldFromWarping) -> TwistCase:
    """Return one case."""
    k = decay(section)
    share = share_of_free_twist(held, k * length)
    rate = share * torque / (section.shear_modulus * section.torsion_constant)
    if section.fields is None:
        return TwistCase(held, rate, share, None, None)
    return TwistCase(
        held,
        rate,
        share,
        abs(end_bimoment(held, torque, k, length)) * _largest_normal(section.fields),
        abs(twist_torque(held, torque, k * length)) * _largest_shear(section.fields),
    )


def _largest_normal(fields: UnitFields) -> float:
    """Return the largest normal stress per unit bimoment away from sharp corners, 1/m4."""
    return float(np.max(np.abs(fields.normal[:, 3]), where=~fields.sharp, initial=0.0))


def _largest_shear(fields: UnitFields) -> float:
    """Return the largest shear stress per unit of Saint-Venant torque away from sharp corners, 1/m3."""
    size = np.sqrt(np.sum(fields.shear[:, :, 2] ** 2, axis=1))
    return float(np.max(size, where=~fields.sharp, initial=0.0))


def _sentence(section: SectionProperties, length: float, free: TwistCase, one: TwistCase, both: TwistCase) -> Words:
    """Return what the numbers mean."""
    if section.warping_constant <= 0.0:
        return "This section does not warp: it twists alike however its ends are held, and its stress is that of twist itself."
    if section.closed:
        held = f"kept from warping at both ends it still twists {both.share:.2f} of what it twists free"
        fades = "What warping stress there is dies away over about "
        return said(f"A closed section hardly warps: {held}. {fades}", SaidAmount(1 / decay(section), "deflection"), ".")
    turn = f"{free.twist_per_metre * length * 180 / pi:.3g} degrees over "
    kept = f"; kept from warping at one end it twists {one.share:.2f} of that, at both ends {both.share:.2f}."
    return said("Free to warp, this open section twists ", turn, length_of(length), f"{kept} {_where(one)}")


def _where(one: TwistCase) -> str:
    """Return where the largest stress of a length held at one end comes from."""
    if one.warping_stress is None or one.twist_stress is None:
        return "Where its largest stress comes from is not known for given numbers."
    if one.warping_stress > sqrt(3.0) * one.twist_stress:
        return (
            "Held at one end, its largest stress is at that end, where its edges are stretched and pressed by warping."
        )
    return "Held at one end, its largest stress is still the shear of twist, on the faces of its thickest wall."
