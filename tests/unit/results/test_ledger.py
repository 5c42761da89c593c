"""The ledger lists what can fail from the model alone; what no check has claimed is open."""

from __future__ import annotations

import numpy as np

from framecheck.model.case import StrengthAsked, Targets
from framecheck.model.duty import Detail, Duty, Event, Fatigue
from framecheck.results.ledger import entries, ledger_of
from framecheck.results.subjects import Entry, Question, Thing, asked
from framecheck.stress import SolvedCase
from tests.unit.checks.members import outcome, tube
from tests.verification.test_fatigue import CLASS_71, NO_FACTORS

BOX = tube(0.1, 0.05, 0.004)
LIFE = asked(Thing.FRAME, "life of the frame", Question.FATIGUE)
SET = asked(Thing.MEMBER, "rail", Question.PERMANENT_SET)


def made(**changes: object) -> SolvedCase:
    """Return a rail without loads."""
    return outcome((BOX, BOX), np.zeros((2, 1, 9)), (0.0, 1.0), **changes)  # type: ignore[arg-type]


def listed(**changes: object) -> set[Entry]:
    return set(entries(made(**changes).case))


def test_the_life_of_a_frame_without_a_duty_is_open() -> None:
    case = made().case
    assert LIFE in {each.entry for each in ledger_of(case, ()).open}


def test_a_detail_that_may_crack_takes_the_place_of_the_frame_s_life() -> None:
    duty = Duty((Event("bump", "case 1", 1.0, None),), 1e5, factors=NO_FACTORS)
    found = listed(fatigue=Fatigue(duty, (Detail("tab weld", "rail", CLASS_71),)))
    assert asked(Thing.DETAIL, "rail", Question.FATIGUE, "tab weld") in found
    assert LIFE not in found


def test_permanent_set_is_asked_where_a_case_is_rare_or_has_a_target_of_its_own() -> None:
    """Without one every load case is held to first yield, so nothing is left unasked."""
    assert SET not in listed()
    assert SET in listed(strength=StrengthAsked(rare=("case 1",)))
    assert SET in listed(targets=Targets(per_load_case={"case 1": 1.0}))
    assert asked(Thing.MEMBER, "rail", Question.YIELD) in listed()
