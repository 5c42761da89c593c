"""What a body is asked beside its strength: stiff enough for its suspension, doors that shut, glass that stays whole."""

from __future__ import annotations

from dataclasses import replace

from framecheck.model.case import Case
from framecheck.results.openings import AT_REST, WATCHED, DiagonalChange, diagonal_changes
from framecheck.run import outcome_of, prepare
from framecheck.section.store import SectionStore
from framecheck.value_class import value_class
from framecheck.vehicle.load_cases import all_vehicle_loads
from framecheck.vehicle.runnable import rolls_known
from framecheck.vehicle.scene_builder import scene_of

STIFF_ENOUGH = (3.0, 10.0)
"""Times the roll stiffness of both axles together from which on a frame is held to be stiff enough for the road, and from which on
springs and bars do what they are set to (common practice, no source).
"""


@value_class
class BodyAnswers:
    """rolls: roll stiffness of the front and the rear axle, Nm/rad, None where it is not known; changes: of openings' diagonals.

    unwatched: the frame has openings, and no load case has one wheel up.
    """

    rolls: tuple[float, float] | None
    changes: tuple[DiagonalChange, ...]
    unwatched: bool = False


def body_answers(case: Case, store: SectionStore | None = None) -> BodyAnswers:
    """Return the roll stiffness of the suspension and how openings' diagonals change; neither for a frame without a vehicle."""
    if case.vehicle is None:
        return BodyAnswers(None, ())
    watched = tuple(each for each in case.load_cases if each.kind in (AT_REST, WATCHED))
    asked = bool(case.frame.openings) and any(each.kind == WATCHED for each in watched)
    knows_rolls = rolls_known(case.vehicle)
    if not (asked or knows_rolls):
        return BodyAnswers(None, (), bool(case.frame.openings))
    alone = replace(case, load_cases=watched, written_loads=(), sums=(), plates=())
    prepared = prepare(alone, store)
    changes = diagonal_changes(outcome_of(prepared, alone, all_vehicle_loads(alone, prepared.frame))) if asked else ()
    front, rear = (roll.stiffness for roll in scene_of(case, prepared.frame).rolls)
    rolls = None if front is None or rear is None or not front + rear > 0 else (front, rear)
    return BodyAnswers(rolls, changes, bool(case.frame.openings) and not asked)
