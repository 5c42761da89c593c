"""What no check knows yet is open by itself: a new shape, a new joint; a new block has to be given its entries."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest

from framecheck.check_lines import check_lines
from framecheck.model.case import Case
from framecheck.model.duty import Fatigue
from framecheck.model.frame import Frame, Member
from framecheck.model.joining import ContinuousWeld, Joining
from framecheck.model.joints import GivenLoads, JointLoad, Place
from framecheck.model.shapes import RectTube, Shape, Worn
from framecheck.model.vehicle import Vehicle
from framecheck.results.ledger import ledger_of
from framecheck.results.subjects import Question, Thing, asked
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class
from tests.unit.checks.members import outcome, tube
from tests.unit.results.cases import results_of

TUBE = RectTube(0.1, 0.05, 0.003)


@value_class
class Clad:
    """A shape that the program does not have: a skin glued on a piece."""

    base: RectTube
    thickness: float
    joined: Joining


@value_class
class Rolled:
    """A shape that the program does not have, around another."""

    inner: tuple[Clad, ...]


@value_class
class Clamp:
    """A joint that the program does not have."""

    name: str
    place: Place
    shares_with: str | None = None


def of_shape(shape: object) -> SolvedCase:
    """Return a rail of a shape, without loads."""
    box = tube(0.1, 0.05, 0.003)
    made = outcome((box, box), np.zeros((2, 1, 9)), (0.0, 1.0))
    section = replace(made.case.frame.sections["rail section"], shape=shape)  # type: ignore[arg-type]
    return replace(made, case=replace(made.case, frame=replace(made.case.frame, sections={"rail section": section})))


CLAD = Clad(TUBE, 0.001, ContinuousWeld())


@pytest.mark.parametrize("shape", [CLAD, Rolled((CLAD,)), Worn(CLAD, 0.0001)])  # type: ignore[arg-type]
def test_the_seams_of_a_shape_that_no_check_knows_are_open(shape: Shape) -> None:
    case = of_shape(shape).case
    assert asked(Thing.SEAM, "rail", Question.SEAM, "rail section") in {each.entry for each in ledger_of(case, ()).open}


def test_a_plain_shape_has_no_seams() -> None:
    assert not [each for each in ledger_of(of_shape(TUBE).case, ()).open if each.entry.question is Question.SEAM]


def test_a_joint_that_no_check_knows_is_open() -> None:
    """In a whole case, past every check that runs on joints."""
    before = results_of("tie-down")
    clamp = Clamp("clamp on the rail", GivenLoads((JointLoad("one strap overtightened", (1.0, 0.0, 0.0)),)))
    case = replace(before.outcome.case, joints=(*before.outcome.case.joints, clamp))  # type: ignore[arg-type]
    found = ledger_of(case, check_lines(replace(before.outcome, case=case)))
    (line,) = (each for each in found.open if each.entry.subject.name == clamp.name)
    assert line.entry == asked(Thing.JOINT, clamp.name, Question.JOINT)
    assert line.reason == "nothing has judged it"


def test_a_verdict_is_never_met_while_nothing_was_run() -> None:
    case = results_of("tie-down").outcome.case
    assert not ledger_of(case, ()).judged
    assert ledger_of(case, ()).open


CAN_FAIL: dict[type, set[str]] = {
    Case: {"frame", "vehicle", "gear", "load_cases", "written_loads", "fatigue", "joints", "plates", "doubts"},
    Frame: {"points", "members", "sections", "supports", "stiff_bodies", "splices", "panels", "body"},
    Member: {"points", "stretches", "start", "end", "cuts"},
    Vehicle: {"masses", "front", "rear", "straps", "clearances"},
    Fatigue: {"details", "welds", "bolts", "seams", "faces", "holes"},
}
"""Fields that the ledger reads to list what can fail."""
SAYS_HOW: dict[type, set[str]] = {
    Case: {"title", "targets", "about", "strength", "joint_tables", "sums", "accepted", "written_in", "place_of"}
    | {"readings", "as_drawn", "measured", "measured_by"},
    Frame: {"springs", "origin", "openings", "sheet", "kink_softness"},
    Member: {"name", "orientation", "roll", "role", "kinks", "splices", "bend_radius", "kink_plate"},
    Vehicle: {"friction", "is_friction_stated", "taken_amid", "gravity", "driveline", "use", "steering"},
    Fatigue: {"duty"},
}
"""Fields that hold nothing that fails by itself: they say how the rest is made, loaded or judged."""


@pytest.mark.parametrize("block", CAN_FAIL)
def test_a_new_block_is_given_its_entries_in_the_ledger(block: type) -> None:
    """Whoever adds a field decides here whether what it holds can fail; what can is listed in results/ledger.py."""
    assert {each.name for each in fields(block)} == CAN_FAIL[block] | SAYS_HOW[block]
