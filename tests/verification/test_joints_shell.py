"""Every T joint of joints_shell.yaml entered as a case file: the tip's turns under 100 Nm about x, y and z."""

from __future__ import annotations

import pytest

from framecheck.reading.case_file import read_case
from tests.cases.test_sections import LIBRARY
from tests.verification.joint_files import Row, case_text, rows, turns
from tests.verification.manual import Held, Kind, proof

FOUND = list(rows())
CLOSED = [row for row in FOUND if "hat" not in row["joint"]]
HATS = [row for row in FOUND if "hat" in row["joint"]]


@proof(Kind.SHELL, "openseespy shells, joints_shell.yaml: turn of the tip about x, y, z, rad per 100 Nm; 15 % asked")
@pytest.mark.parametrize("row", CLOSED, ids=lambda row: row["joint"])
def test_a_joint_turns_as_its_shell_model(held: Held, row: Row) -> None:
    """Nothing was fitted to these; nothing is left open in the file, so that there is one answer."""
    (found,) = turns(read_case(case_text(row), "joint.yaml", LIBRARY))
    held(found, row["turn_rad_per_100Nm"], rel=0.15)


@pytest.mark.parametrize("row", HATS, ids=lambda row: row["joint"][:8])
def test_a_hat_bends_as_its_shell_model_and_its_twist_lies_between_two(row: Row) -> None:
    """openseespy shells, joints_shell.yaml: both bending turns within 15 %; twist between warping free and held at the rail."""
    found = turns(read_case(case_text(row), "joint.yaml", LIBRARY))
    about_x, twist, about_z = zip(*found, strict=True)
    for ours, shell in ((about_x, row["turn_rad_per_100Nm"][0]), (about_z, row["turn_rad_per_100Nm"][2])):
        assert all(each == pytest.approx(shell, rel=0.15) for each in ours)
    assert min(twist) < row["turn_rad_per_100Nm"][1] < max(twist)
