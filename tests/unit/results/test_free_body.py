"""What acts on the frame comes to nothing together: statics, summed from loads, weight and reactions, not from the solution's rows."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from pytest import approx

from framecheck.cli.context import read
from framecheck.cli.files import data_folder
from framecheck.frame.results import MemberForces
from framecheck.model.loads import MemberLoad
from framecheck.results.free_body import along_members, free_body
from framecheck.run import run
from tests.unit.output.samples import forces

CANTILEVER = """
title: a beam
frame:
  points: {a: {x: 0 m}, b: {x: 2 m}}
  members:
    - {name: beam, points: [a, b], section: tube 4 x 2 x 3/16 in, ends: rigid}
  supports:
    - {point: a, held: all}
load cases:
  - pushed: {forces: [{point: b, force: {z: -1 kN}}]}
"""


def test_a_cantilevers_support_pushes_back(tmp_path: Path) -> None:
    """1 kN down at 2 m: the wall pushes 1 kN up and turns by 2 kNm (statics), and all together is nothing."""
    (tmp_path / "beam.yaml").write_text(CANTILEVER, encoding="utf-8")
    body = free_body(run(read(str(tmp_path / "beam.yaml"))).outcome, 0, 0)
    held = next(each for each in body.pushes if each.is_reaction)
    assert held.force == approx([0.0, 0.0, 1000.0], abs=1e-6)
    assert abs(held.moment[1]) == approx(2000.0)
    assert [total.tolist() for total in body.total] == [[0.0] * 3] * 2


@pytest.mark.parametrize("name", ["twist-rig", "tie-down", "gearbox-crossmember", "skid-plate", "coast-coupe"])
def test_every_load_case_is_in_balance(name: str) -> None:
    outcome = run(read(str(data_folder("cases") / f"{name}.yaml"))).outcome
    for case in range(len(outcome.loads)):
        body = free_body(outcome, 0, case)
        assert len(body.pushes) >= 2
        assert [total.tolist() for total in body.total] == [[0.0] * 3] * 2


def test_a_load_that_grows_acts_at_two_thirds() -> None:
    """From nothing to 300 N/m over 1 m: 150 N, 2/3 m from its thin end (statics)."""
    line: MemberForces = forces("left rail", 0.0)
    (push,) = along_members([line], [MemberLoad("left rail", (0.0, 0.0, 0.0), (0.0, 0.0, -300.0))])
    assert push.force == approx([0.0, 0.0, -150.0])
    assert push.at == approx(np.array([2 / 3, 0.0, 0.0]))
