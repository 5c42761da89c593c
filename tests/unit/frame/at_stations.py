"""Forces of a member at stations of a test's choice, by the solution's own fields."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.frame.fields import fields_at
from framecheck.frame.recover import member_forces
from framecheck.frame.results import MemberForces
from framecheck.frame.solve import SolvedFrame
from framecheck.frame.stations import Stations, stretches_of


def at(answered: SolvedFrame, member: str, stations: Sequence[float]) -> MemberForces:
    """Return forces and movements at some stations (m, rising) of a member; at a jump what holds just beyond it."""
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
