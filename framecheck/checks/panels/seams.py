"""What passes through the seams of panels: spots and plugs at a pitch, welds all along."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.joint_rows import Line
from framecheck.checks.welds.fillet import SHEET_SOURCE, sheet_longitudinal, sheet_target
from framecheck.checks.welds.spots import PLUG_SOURCE, RESISTANCE_SOURCE, plug, resistance_spot, sheet_round_plug
from framecheck.model.joints import ASKED
from framecheck.model.panels import Panel, PanelSeam, SeamKind
from framecheck.results.row import Check, CheckResult, Mode
from framecheck.results.subjects import Question, Subject, Thing, left_open
from framecheck.stress import SolvedCase
from framecheck.value_class import value_class

PLUG_METAL = 0.60 * 482.6e6
"""Pa: shear of E70, 0.60 x 70 ksi. ANSI/AISC 360-22, table J2.5."""
ROUND_SOURCE = "rupture in shear, 0.60 Fu, of half the sheet round the plug (statics)"


@value_class
class SeamStrength:
    """What one way of failing holds, the demand on it per force per length (m: a pitch; 1: per length), and the factor asked."""

    mode: Mode
    capacity: float
    per_flow: float
    target: float
    source: str
    unit: str


def seam_lines(outcome: SolvedCase, panel: Panel) -> Iterator[Line]:
    """Yield the rows of a panel's seam in each load case under its worst bound, and what of it was not judged."""
    if panel.seam is None:
        return
    flows = np.max([each.panels[panel.name].seam_flow.max(axis=0, initial=0.0) for each in outcome.solutions], axis=0)
    for loads, flow in zip(outcome.loads, flows.tolist(), strict=True):
        for held in strengths(panel, panel.seam):
            target = max(held.target, outcome.case.targets.of(loads.name))
            yield CheckResult(
                check=Check.PANEL_SEAM,
                mode=held.mode,
                subject=Subject(Thing.PANEL_SEAM, panel.name),
                load_case=loads.name,
                demand=flow * held.per_flow,
                capacity=held.capacity,
                unit=held.unit,
                target=target,
                source=held.source,
            )
    yield from closed_ends(outcome, panel)


def strengths(panel: Panel, seam: PanelSeam) -> Iterator[SeamStrength]:
    """Yield the ways in which a seam fails; the other sheet or wall is taken as no thinner and no weaker than the panel."""
    ultimate, strength = panel.material.welded_ultimate or panel.material.ultimate_strength, ASKED.strength
    match seam.kind:
        case SeamKind.SPOTS:
            yield SeamStrength(Mode.PANEL_SPOT, resistance_spot(panel.thickness), seam.pitch, 2.35, RESISTANCE_SOURCE, "N")
        case SeamKind.PLUGS:
            round_it = sheet_round_plug(ultimate, seam.diameter, panel.thickness)
            yield SeamStrength(Mode.PANEL_PLUG, plug(PLUG_METAL, seam.diameter), seam.pitch, strength, PLUG_SOURCE, "N")
            yield SeamStrength(Mode.PANEL_ROUND_PLUG, round_it, seam.pitch, strength, ROUND_SOURCE, "N")
        case SeamKind.CONTINUOUS:
            endless = 1e3 * panel.thickness
            holds = sheet_longitudinal(ultimate, panel.thickness, endless)
            yield SeamStrength(Mode.PANEL_WELD, holds, 1.0, sheet_target(panel.thickness, endless), SHEET_SOURCE, "N/m")


def closed_ends(outcome: SolvedCase, panel: Panel) -> Iterator[Line]:
    """Yield that the seam round a member's end that a panel closes, or round one that passes through it, was not judged."""
    for name in panel.joined:
        if name in outcome.solutions[0].panels[panel.name].passed:
            reason = f"the seam round '{name}', which ends on it or passes through it, is not judged"
            yield left_open(
                Thing.PANEL_SEAM,
                panel.name,
                Question.PANEL_SEAM,
                reason,
                name,
                "write a `welds` joint there, or accept it",
            )
