"""Results made by hand, for what shows results: two members, two load cases, one of them low."""

from __future__ import annotations

import numpy as np

from framecheck.frame.results import Bound, FrameSolution, MemberForces, SelfCheck
from framecheck.model.case import Case, LoadCase, Targets
from framecheck.model.frame import Frame, Member, Section, Stretch
from framecheck.model.loads import CaseLoads
from framecheck.model.shapes import GivenProperties
from framecheck.model.shop_tables import Material
from framecheck.results.ledger import ledger_of
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.row_order import governing_first
from framecheck.results.subjects import Remark, Subject, Thing
from framecheck.results.verdict import verdict_of
from framecheck.run import Results
from framecheck.section.analysis import section_properties
from framecheck.stress import SolvedCase, member_stress
from framecheck.vehicle.clearance import GapLeft

STEEL = Material("mild steel", 200e9, 79e9, 7850.0, 250e6, 400e6, "from memory")
SHAPE = GivenProperties(1e-3, 1e-6, 5e-7, 1e-6, fibres=(0.05, 0.05, 0.025, 0.025), torsion_modulus=1e-5)
SECTION = Section("rail tube", SHAPE, STEEL)
PROPERTIES = section_properties(SECTION)
CASES = ("static", "bump")
FRAME = Frame(
    {"a": (0.0, 0.0, 0.0), "b": (1.0, 0.0, 0.0), "c": (1.0, 1.0, 0.0)},
    (
        Member("left rail", ("a", "b"), (Stretch("rail tube"),), role="rail"),
        Member("<script>alert(1)</script>", ("b", "c"), (Stretch("rail tube"),)),
    ),
    {"rail tube": SECTION},
)


def forces(name: str, moment: float) -> MemberForces:
    """Return a member bent by a moment that grows from 0 along it; half as much in the first load case."""
    rows = np.zeros((2, 2, 9))
    rows[1, :, 4] = (moment / 2, moment)
    moved = np.zeros((2, 2, 3))
    moved[1, :, 2] = (-0.001, -0.002)
    places = np.array([FRAME.points[point] for point in next(m for m in FRAME.members if m.name == name).points])
    axes = np.broadcast_to(np.eye(3), (2, 3, 3))
    return MemberForces(
        name, np.array([0.0, 1.0]), (PROPERTIES, PROPERTIES), rows, rows[:, :, [0, 1, 2, 3, 4, 5]], moved, places, axes
    )


def row(check: Check, subject: Subject, load_case: str, factor: float, mode: Mode, part: str = "") -> CheckResult:
    """Return a row with a target of 1.5."""
    return CheckResult(check, mode, subject, load_case, 250e6 / factor, 250e6, "Pa", 1.5, "a source", 1.0, part)


def results(title: str = "Sample truck") -> Results:
    """Return the sample: the left rail is low in the bump."""
    members = (forces("left rail", 4000.0), forces("<script>alert(1)</script>", 100.0))
    loads = tuple(CaseLoads(name, notes=("a wheel lifts",) if name == "bump" else ()) for name in CASES)
    solution = FrameSolution(
        bound=Bound(),
        cases=CASES,
        points=("a", "b", "c"),
        displacements=np.zeros((3, 2, 6)),
        reactions={"a": np.array([[0.0, 0.0, 5.0, 0.0, 0.0, 0.0]] * 2)},
        members=members,
        member_ends={},
        mounts={},
        balance=np.array([1e-15, 2e-15]),
        energy=np.ones(2),
        energies={},
        self_checks=(SelfCheck("balance", "bump", 2e-15, 1e-9, "the loads add up to nothing"),),
    )
    case = Case(title, FRAME, load_cases=(LoadCase("bump", "vertical bump", {"factor": 3.0}),), targets=Targets(1.5))
    stresses = (tuple(member_stress(member) for member in members),)
    outcome = SolvedCase(case, {"rail tube": PROPERTIES}, loads, (solution,), stresses)
    rows = (
        row(Check.YIELD, Subject(Thing.MEMBER, "left rail"), "static", 2.5, Mode.FIRST_YIELD),
        row(Check.YIELD, Subject(Thing.MEMBER, "left rail"), "bump", 1.2499, Mode.FIRST_YIELD),
        row(Check.YIELD, Subject(Thing.MEMBER, "<script>alert(1)</script>"), "bump", 50.0, Mode.FIRST_YIELD),
        row(Check.BOLTS, Subject(Thing.JOINT, "=SUM(A1)"), "bump", 3.0, Mode.SLIP, "a face"),
    )
    gaps = (GapLeft("oil pan", "bump", 0.00635, 0.001, 0.003),)
    verdict = verdict_of(rows, ledger_of(case, rows), solution.self_checks)
    return Results(outcome, governing_first(rows), verdict, (Remark("crash", "not asked"),), (), (), gaps, None)
