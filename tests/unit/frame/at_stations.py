"""Forces of a member at stations of a test's choice, by the solution's own fields."""

from __future__ import annotations

from collections.abc import Sequence

from framecheck.frame.fields import fields_at
from framecheck.frame.recover import member_forces
from framecheck.frame.report import SolvedFrame, places_at
from framecheck.frame.results import MemberForces


def at(answered: SolvedFrame, member: str, stations: Sequence[float]) -> MemberForces:
    """Return forces and movements at some stations (m, rising) of a member; at a jump what holds just beyond it."""
    structure, answer = answered.structure, answered.solved.answer
    number = next(place for place, each in enumerate(structure.frame.members) if each.name == member)
    places = places_at(answered, member, stations)
    return member_forces(structure, places, fields_at(answer, places))[number]
