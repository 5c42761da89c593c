"""Section forces and movements at any station asked for, exactly: no sampling, no interpolation. SI."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.frame.fields import fields_at
from framecheck.frame.recover import member_forces
from framecheck.frame.report import Answered
from framecheck.frame.results import MemberForces
from framecheck.frame.stations import Stations, stretches_of


def at(answered: Answered, member: str, stations: Sequence[float]) -> MemberForces:
    """Return forces and movements at some stations (m, rising) of a member.

    Where a section changes or a load acts at a point, what holds just beyond it; at the member's end, just before it.
    A length that an arm shortens ends before the next point's station: between the two its end holds.
    """
    structure, answer = answered.structure, answered.solved.answer
    number = next(place for place, each in enumerate(structure.frame.members) if each.name == member)
    stretches = stretches_of(answer.beams, answer.loads)
    mine = np.flatnonzero(structure.pieces.member[stretches.piece] == number)
    starts = answer.beams.start[stretches.piece[mine]] + stretches.start[mine]
    wanted = np.array(stations, dtype=np.float64)
    stretch = mine[np.clip(np.searchsorted(starts, wanted, side="right") - 1, 0, len(mine) - 1)]
    piece = stretches.piece[stretch]
    on_piece = np.clip(wanted - answer.beams.start[piece], 0.0, stretches.end[stretch])
    places = Stations(piece, on_piece, stretches.start[stretch], np.zeros(len(wanted)))
    return member_forces(structure, places, fields_at(answer, places))[number]
