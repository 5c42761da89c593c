"""Joints that no model covers are named in the ledger, each end by itself; what a model covers is not."""

from __future__ import annotations

from pathlib import Path

from framecheck.cli.context import read
from framecheck.cli.files import data_folder
from framecheck.results.subjects import Question, Thing, asked
from framecheck.run import run

TIE_DOWN = data_folder("cases") / "tie-down.yaml"


def told(text: str) -> dict[object, str]:
    found = run(read(text)).verdict.ledger.open
    return {each.entry: str(each.reason) for each in found if each.entry.question is Question.JOINT_STIFFNESS}


def test_a_butt_on_the_end_of_a_rail_is_named() -> None:
    """The demonstration's crossmember is butted on the ends of two half rails, where no rail runs through."""
    found = told(str(TIE_DOWN))
    ends = [asked(Thing.MEMBER_END, "rear crossmember", Question.JOINT_STIFFNESS, f"{side} corner") for side in ("left", "right")]
    assert list(found) == ends
    assert all("not modelled" in reason and "rigid" in reason for reason in found.values())


def test_what_is_written_rigid_is_not_named(tmp_path: Path) -> None:
    file = tmp_path / "rigid.yaml"
    file.write_text(TIE_DOWN.read_text(encoding="utf-8").replace("ends: butt on one face", "ends: rigid"), encoding="utf-8")
    assert not told(str(file))
