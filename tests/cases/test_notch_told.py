"""What `notch` says first of a cut that misses its target by twist."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from pytest import approx

from framecheck.reading.case_file import read_case
from framecheck.study.notch import notch_study
from tests.cases.answers import ROOT, VERDICT, stored, told
from tests.cases.test_sections import LIBRARY


def test_twist_is_said_in_the_first_sentence_and_no_repair_is_said_to_be_unneeded() -> None:
    answer = told("notch", str(VERDICT / "notch-that-twists.yaml"), "--member", "rail")
    said = " ".join(answer.out.split())
    assert answer.code == 1
    assert said.index("NOT MET: 3 of 3") < said.index("TWIST is what fails, not bending") < said.index("Notch '")
    assert "not needed" not in said
    assert "not judged" in said


def test_the_factor_by_bending_alone_is_that_of_beam_theory() -> None:
    """M c / I of what is left, N / A with it (mechanics), for the forces of the frame without the cut."""
    study = notch_study(read_case(stored("notch-that-twists.yaml"), "case.yaml", LIBRARY), "rail")
    net, forces = study.net, study.gross_forces
    faces = np.array([net.box[3], net.box[2]])
    bent = forces[:, 4] - forces[:, 0] * study.shift[1]
    stress = np.abs(forces[:, 0, None] / net.area + bent[:, None] * faces / net.i_vertical).max()
    assert study.by_bending == approx(net.yield_strength / stress, rel=1e-9)
    assert study.twist_fails


def test_a_notch_that_bending_governs_says_nothing_of_twist(tmp_path: Path) -> None:
    answer = told("notch", str(ROOT / "cases/notched-rail.yaml"), "--member", "rail")
    assert answer.code == 0
    assert "TWIST" not in answer.out
    text = (ROOT / "cases/notched-rail.yaml").read_text(encoding="utf-8").replace("depth: 1 1/4 in", "depth: 2 1/2 in")
    file = tmp_path / "deep.yaml"
    file.write_text(text, encoding="utf-8")
    assert told("notch", str(file), "--member", "rail").code == 1
