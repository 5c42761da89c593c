"""Panels of a case: sheet that yields or waves, diagonal tension, and what passes through the seams."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from framecheck.checks.joint_rows import Line
from framecheck.checks.panels.seams import seam_lines
from framecheck.checks.panels.waves import (
    SWAGED_SOURCE,
    WAVES_SOURCE,
    critical_pressed,
    critical_shear,
    room_left,
    swaged_shear,
)
from framecheck.frame.panel.evened import EVENED
from framecheck.frame.panel.results import PanelForces
from framecheck.frame.results import FrameSolution
from framecheck.frame.stiffness import UPPER_BOUND, is_upper_bound
from framecheck.model.arrays import Array
from framecheck.model.panels import Panel, PanelCarries
from framecheck.model.said import SaidAmount, said
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Question, Remark, Subject, Thing, left_open
from framecheck.stress import SolvedCase
from framecheck.yield_criterion import SHEET_SOURCE

WAVES_TARGET = 1.0
"""Least factor asked of sheet on waves: what follows is diagonal tension, and no collapse (common practice, no source)."""
SOFTER = "beyond that it carries by diagonal tension, softer than was counted, and "
SIDEWAYS = "its diagonal tension pulls its members sideways, which is not judged"
REMEDY = "swage it, divide it by a member, ask an engineer, or accept it"
TENSION_SOURCE = "pure diagonal tension at 45 degrees, 2 tau (H. Wagner, 1929; from memory)"


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return, for each panel and load case, the rows of its worst bound, and what was not judged."""
    lines: list[Line] = []
    if is_upper_bound(outcome.case.frame):
        lines.append(Remark("stiffness of the body", UPPER_BOUND))
    for panel in outcome.case.frame.panels:
        for case in range(len(outcome.loads)):
            lines += worst_bound(outcome, panel, case)
        lines += tension_fields(outcome, panel)
        lines += ends_on_sheet(outcome, panel)
        lines += beside_boxes(outcome, panel)
        lines += seam_lines(outcome, panel)
    return tuple(lines)


def worst_bound(outcome: SolvedCase, panel: Panel, case: int) -> Iterator[CheckResult]:
    """Yield the rows of a panel's sheet in one load case, each under the bound that leaves least."""
    found: dict[Mode, CheckResult] = {}
    for solution in outcome.solutions:
        for row in sheet_rows(outcome, solution, panel, case):
            if row.mode not in found or row.safety_factor < found[row.mode].safety_factor:
                found[row.mode] = row
    yield from found.values()


def sheet_rows(outcome: SolvedCase, solution: FrameSolution, panel: Panel, case: int) -> Iterator[CheckResult]:
    """Yield the rows of a panel's sheet in one load case under one bound.

    Sheet that carries shear alone, or that waves, is held to diagonal tension; other sheet to its waves.
    """
    forces, strength = solution.panels[panel.name], panel.material.yield_strength
    room = waves_at(panel, forces)[:, case]
    field = int(np.argmin(room))
    if panel.carries is not PanelCarries.SHEAR:
        yielding = Mode.SHEET_YIELDS, float(forces.equivalent()[case]), strength, SHEET_SOURCE
        yield _row(outcome, solution, panel, case, yielding)
    if panel.carries is PanelCarries.SHEAR or room[field] < WAVES_TARGET:
        stress = 2 * float(forces.of_bays()[1][:, case].max()) / panel.carrying
        yield _row(outcome, solution, panel, case, (Mode.FIELD_YIELDS, stress, strength, TENSION_SOURCE))
    else:
        critical = float(critical_of(panel, forces)[field])
        source = WAVES_SOURCE if panel.swages is None else SWAGED_SOURCE
        row = _row(outcome, solution, panel, case, (Mode.SHEET_WAVES, critical / float(room[field]), critical, source))
        yield replace(row, target=WAVES_TARGET)


def critical_of(panel: Panel, forces: PanelForces) -> Array:
    """Return the shear stress (m,) at which each field waves, Pa."""
    if panel.swages is None:
        return critical_shear(panel.material, panel.carrying, forces.bays)
    return swaged_shear(panel.material, panel.carrying, forces.bays, panel.swages)


def waves_at(panel: Panel, forces: PanelForces) -> Array:
    """Return by how much the loads may grow until each field waves (f, k)."""
    pressed, sheared = (each / panel.carrying for each in forces.of_bays())
    alone = critical_pressed(panel.material, panel.carrying, forces.bays, panel.swages)
    return room_left(pressed, sheared, (alone, critical_of(panel, forces)))


def tension_fields(outcome: SolvedCase, panel: Panel) -> Iterator[Line]:
    """Yield what is open where a panel waves: it carries on by diagonal tension, which is no failure and is not what was solved."""
    room = np.min([waves_at(panel, each.panels[panel.name]).min(axis=0) for each in outcome.solutions], axis=0)
    worst = int(np.argmin(room))
    if room[worst] >= WAVES_TARGET:
        return
    share = SaidAmount(float(room[worst]), "number")
    beyond = SOFTER if panel.carries is PanelCarries.ALL else ""
    reason = said(f"its sheet waves in '{outcome.loads[worst].name}' at ", share, f" of the load: {beyond}{SIDEWAYS}")
    yield left_open(Thing.PANEL, panel.name, Question.PANEL, reason, "tension field", REMEDY)


def ends_on_sheet(outcome: SolvedCase, panel: Panel) -> Iterator[Line]:
    """Yield that the stress which a member's end leaves in the sheet near by was not judged."""
    for name, point in outcome.solutions[0].panels[panel.name].ended:
        reason = f"'{name}' ends on it at '{point}': what its end does to the sheet near by, which bends there, is not judged"
        remedy = "end it on a member, spread it by a plate, or accept it"
        yield left_open(Thing.PANEL, panel.name, Question.PANEL, reason, f"{name} at {point}", remedy)


def beside_boxes(outcome: SolvedCase, panel: Panel) -> Iterator[Line]:
    """Yield that the stress beside the box of a member that passes through, or ends on, a panel was not judged closer than is read."""
    forces = outcome.solutions[0].panels[panel.name]
    for name in sorted(forces.passed - {ended for ended, _ in forces.ended}):
        grows = f"beside the corners of '{name}' stress in sheet grows with finer cells: it is read as a mean over "
        reason = said(grows, SaidAmount(EVENED, "length"), " of the cells as they are")
        remedy = "read it again with `cells: 4` on the panel, ask an engineer, or accept it"
        yield left_open(Thing.PANEL, panel.name, Question.PANEL, reason, f"beside {name}", remedy)


def _row(
    outcome: SolvedCase, solution: FrameSolution, panel: Panel, case: int, told: tuple[Mode, float, float, str]
) -> CheckResult:
    mode, demand, capacity, source = told
    loads = outcome.loads[case]
    return CheckResult(
        check=Check.PANEL,
        mode=mode,
        subject=Subject(Thing.PANEL, panel.name),
        load_case=loads.name,
        demand=demand,
        capacity=capacity,
        unit="Pa",
        target=outcome.case.targets.of(loads.name),
        source=source,
        bound=solution.bound,
    )
