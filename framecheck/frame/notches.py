"""Cuts in members: their net section made as soft as a notch is (notch_softness.py), kept from run to run. SI."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from framecheck.frame.discretise import Key
from framecheck.frame.geometry import point_stations
from framecheck.frame.kept import NumberStore, kept_numbers
from framecheck.model.frame import Cut, Frame, Member, sections_at
from framecheck.model.shapes import Channel, RectTube
from framecheck.section.properties import SectionProperties

if TYPE_CHECKING:  # only a frame with cuts enters that room, so its functions import it
    from framecheck.frame.notch_softness import NotchSoftness

NUMBERS = 1 + 1 + 2 + 2 + 3 + 2 + 9 + 9


def softened_sections(
    frame: Frame, keys: Sequence[Key], net: Sequence[SectionProperties], store: NumberStore | None
) -> Mapping[Key, tuple[SectionProperties, NotchSoftness]]:
    """Return the softened section and the softness of each cut; shapes without a notch model keep their net section."""
    if not any(key[0] for key in keys):
        return {}
    from framecheck.frame.notch_softness import softened

    members = {member.name: member for member in frame.members}
    found = {}
    for key, section in zip(keys, net, strict=True):
        if not key[0]:
            continue
        member = members[key[0]]
        cut = next(each for each in member.cuts if each.name == key[1])
        softness = _softness(frame, member, cut, store)
        if softness is not None:
            found[key] = softened(section, softness, cut.length), softness
    return found


def room_for(frame: Frame, member: Member, cut: Cut) -> float:
    """Return the distance from a cut's middle to the member's nearer end or the next cut, m."""
    length = point_stations(frame, member)[-1]
    edges = [each.at + side * each.length / 2 for each in member.cuts if each.name != cut.name for side in (-1, 1)]
    return min(abs(cut.at - edge) for edge in (0.0, length, *edges))


def _softness(frame: Frame, member: Member, cut: Cut, store: NumberStore | None) -> NotchSoftness | None:
    """Return a cut's softness, kept or from its shell model."""
    from framecheck.frame.notch_softness import notch_softness

    section = frame.sections[sections_at(member, cut.at)[0]]
    shape, material = section.shape, section.material
    if not isinstance(shape, RectTube | Channel):
        return None
    room = room_for(frame, member, cut)
    e, nu = material.youngs_modulus, material.poissons_ratio
    what = ("notch", shape, cut.side, cut.depth, cut.length, e, nu, room)
    return _unpacked(kept_numbers(what, NUMBERS, store, lambda: _packed(notch_softness(shape, cut, e, nu, room))))


def _packed(found: NotchSoftness) -> list[float]:
    """Return a softness as a row of numbers."""
    tables = [number for row in (*found.bending, *found.step_bending) for number in row]
    return [
        found.extra_length,
        found.warping_stiffness,
        *found.shear,
        *found.pole_shift,
        *found.step,
        found.torsion_share,
        found.warping_share,
        *tables,
    ]


def _unpacked(numbers: Sequence[float]) -> NotchSoftness:
    """Return a softness from its row of numbers."""
    from framecheck.frame.notch_softness import NotchSoftness

    n = list(numbers)
    bending, stepped = (tuple((n[k], n[k + 1], n[k + 2]) for k in range(first, first + 9, 3)) for first in (11, 20))
    return NotchSoftness(
        extra_length=n[0],
        warping_stiffness=n[1],
        bending=(bending[0], bending[1], bending[2]),
        shear=(n[2], n[3]),
        pole_shift=(n[4], n[5]),
        step=(n[6], n[7], n[8]),
        step_bending=(stepped[0], stepped[1], stepped[2]),
        torsion_share=n[9],
        warping_share=n[10],
    )
