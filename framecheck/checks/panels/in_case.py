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
from framecheck.frame.panel.results import PanelForces
from framecheck.frame.results import FrameSolution
from framecheck.frame.stiffness import UPPER_BOUND, is_upper_bound
from framecheck.model.arrays import Array
from framecheck.model.panels import Carries, Panel
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Question, Remark, Subject, Thing, left_open
from framecheck.stress import Outcome

WAVES_TARGET = 1.0
"""Least factor asked of sheet on waves: what follows is diagonal tension, and no collapse; but the frame was solved with flat sheet
(common practice, no source)."""
BEYOND = "beyond that it is softer than was counted: swage it, divide it, or write `carries: shear alone`"
YIELD_SOURCE = "R. von Mises (1913), plane stress"
TENSION_SOURCE = "pure diagonal tension at 45 degrees, 2 tau (H. Wagner, 1929; from memory)"


def check(outcome: Outcome) -> tuple[Line, ...]:
    """Return, for each panel and load case, the rows of its worst bound, and what was not judged."""
    lines: list[Line] = []
    if is_upper_bound(outcome.case.frame):
        lines.append(Remark("stiffness of the body", UPPER_BOUND))
    for panel in outcome.case.frame.panels:
        for case in range(len(outcome.loads)):
            lines += worst_bound(outcome, panel, case)
        lines += tension_fields(outcome, panel)
        lines += seam_lines(outcome, panel)
    return tuple(lines)


def worst_bound(outcome: Outcome, panel: Panel, case: int) -> Iterator[CheckResult]:
    """Yield the rows of a panel's sheet in one load case, each under the bound that leaves least."""
    found: dict[Mode, CheckResult] = {}
    for solution in outcome.solutions:
        for row in sheet_rows(outcome, solution, panel, case):
            if row.mode not in found or row.safety_factor < found[row.mode].safety_factor:
                found[row.mode] = row
    yield from found.values()


def sheet_rows(outcome: Outcome, solution: FrameSolution, panel: Panel, case: int) -> Iterator[CheckResult]:
    """Yield the rows of a panel's sheet in one load case under one bound."""
    forces, strength = solution.panels[panel.name], panel.material.yield_strength
    if panel.carries is Carries.SHEAR:
        stress = 2 * float(np.abs(forces.shear_flow()[case])) / panel.thickness
        yield _row(outcome, solution, panel, case, (Mode.FIELD_YIELDS, stress, strength, TENSION_SOURCE))
        return
    yield _row(
        outcome, solution, panel, case, (Mode.SHEET_YIELDS, float(forces.equivalent()[case]), strength, YIELD_SOURCE)
    )
    room = waves_at(panel, forces)[:, case]
    cell = int(np.argmin(room))
    critical = float(critical_of(panel, forces)[cell])
    source = WAVES_SOURCE if panel.swages is None else SWAGED_SOURCE
    row = _row(outcome, solution, panel, case, (Mode.SHEET_WAVES, critical / float(room[cell]), critical, source))
    yield replace(row, target=WAVES_TARGET, note=BEYOND)


def critical_of(panel: Panel, forces: PanelForces) -> Array:
    """Return the shear stress (m,) at which each field waves, Pa."""
    if panel.swages is None:
        return critical_shear(panel.material, panel.thickness, forces.bays)
    return swaged_shear(panel.material, panel.thickness, forces.bays, panel.swages)


def waves_at(panel: Panel, forces: PanelForces) -> Array:
    """Return by how much the loads may grow until each field waves (f, k)."""
    pressed, sheared = (each / panel.thickness for each in forces.of_bays())
    alone = critical_pressed(panel.material, panel.thickness, forces.bays, panel.swages)
    return room_left(pressed, sheared, (alone, critical_of(panel, forces)))


def tension_fields(outcome: Outcome, panel: Panel) -> Iterator[Line]:
    """Yield what diagonal tension leaves open: a panel that carries shear alone, and waves in some load case."""
    if panel.carries is not Carries.SHEAR:
        return
    room = np.min([waves_at(panel, each.panels[panel.name]).min(axis=0) for each in outcome.solutions], axis=0)
    waving = [each.name for each, left in zip(outcome.loads, room.tolist(), strict=True) if left < 1.0]
    if waving:
        reason = f"its sheet waves in '{waving[0]}', and its diagonal tension pulls its members sideways, which is not judged"
        remedy = "swage it, divide it by a member, or ask an engineer"
        yield left_open(Thing.PANEL, panel.name, Question.PANEL, reason, "tension field", remedy)


def _row(
    outcome: Outcome, solution: FrameSolution, panel: Panel, case: int, told: tuple[Mode, float, float, str]
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
