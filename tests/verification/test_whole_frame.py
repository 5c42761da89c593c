"""A whole frame of kinked box rails and four kinds of crossmember against shells, predicted before the shell model was run."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.verification.frame_numbers import LEAST_MOVE, POINTS, STATIONS, movements, wall_stresses
from tests.verification.manual import FrontDoor, Held, Kind, proof

HERE = Path(__file__).parent
TEXT = (HERE / "whole_frame.yaml").read_text(encoding="utf-8")
SHELL, PREDICTED = (yaml.safe_load((HERE / f"whole_frame_{name}.yaml").read_text(encoding="utf-8")) for name in ("shell", "predicted"))
CASES = ("twist", "bending", "lateral")
SOURCE = "openseespy 3.7.1 shells, benchmarks/shell_reference/whole_frame.py; movements (mm) 6 %, stress of the rails (MPa) 8 %"
SMALL = 0.08
"""Share of a load case's largest stress that the less stressed walls of a place may differ by, in place of their own."""


def compared(case: str) -> tuple[list[tuple[str, int]], list[tuple[str, int]]]:
    """Return the movements worth comparing, and the stresses, by name and place in the row."""
    largest = max(abs(each) for name in POINTS for each in SHELL[case][name])
    moves = [(name, way) for name in POINTS for way in range(3) if abs(SHELL[case][name][way]) > LEAST_MOVE * largest]
    return moves, [(f"stress {name}", wall) for name in STATIONS for wall in range(4)]


def hold(held: Held, found: Mapping[str, Any], case: str) -> None:
    moves, stresses = compared(case)
    for name, way in moves:
        held(found[name][way], SHELL[case][name][way], rel=0.06)
    most = max(abs(SHELL[case][name][wall]) for name, wall in stresses)
    for name, wall in stresses:
        leads = abs(SHELL[case][name][wall]) == max(map(abs, SHELL[case][name]))
        held(found[name][wall], SHELL[case][name][wall], rel=0.08, abs=0.0 if leads else SMALL * most)


@proof(Kind.SHELL, SOURCE)
@pytest.mark.parametrize("case", CASES)
def test_a_frame_as_its_shell_model(held: Held, front_door: FrontDoor, case: str) -> None:
    """What the program says today."""
    written = front_door(TEXT)
    found = {**movements(written, case), **{f"stress {name}": each for name, each in wall_stresses(written, case).items()}}
    hold(held, found, case)


@proof(Kind.SHELL, f"what was said before the shell model was run; {SOURCE}")
@pytest.mark.parametrize("case", CASES)
def test_what_was_predicted_of_a_frame(held: Held, case: str) -> None:
    """whole_frame_predicted.yaml, committed before whole_frame_shell.yaml was made."""
    hold(held, PREDICTED[case], case)
