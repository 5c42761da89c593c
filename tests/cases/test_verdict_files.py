"""Files that once ended better than what was judged: how each ends now, by the command line and its JSON.

The files stand in tests/cases/verdict/, each with what went wrong and what is true in its first line. Independent numbers beside the
factors: hand calculations (VQ/I, M/Z, Euler), finite strips, or the same thing written another way.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from framecheck.frame.results import SelfCheck
from framecheck.value_class import value_class
from tests.cases.answers import VERDICT, checked, stored


@value_class
class Truth:
    """How a file ends: exit code, state, a question left open, the least factor of a check or mode (its name, value, within)."""

    code: int
    state: str = ""
    open: str = ""
    factor: tuple[str, float, float] | None = None


TRUTHS = {
    "aluminium-splice-one-member.yaml": Truth(1, "not met", factor=("yield", 1.21, 0.005)),
    "aluminium-splice-two-members.yaml": Truth(1, "not met", factor=("yield", 1.21, 0.005)),
    "aluminium-steel-class.yaml": Truth(2),
    "aluminium-strut.yaml": Truth(1, "not met"),
    # 105 MPa beside the welds over M / Z = 112.7 MPa, by hand: 0.93
    "aluminium-weld-kink-splice.yaml": Truth(1, "not met", factor=("yield", 0.93, 0.01)),
    "bolts-far-from-their-place.yaml": Truth(0, "met so far", "statements that may contradict each other"),
    "catalogue-nothing-judged.yaml": Truth(3, "not judged", "yield of members"),
    "catalogue-without-fibres.yaml": Truth(3, "not judged", "yield of members"),
    "catalogue-without-torsion-modulus.yaml": Truth(3, "not judged", "yield of members"),
    "flat-bar-twisted.yaml": Truth(0, "met so far"),
    "gap-against-coordinates.yaml": Truth(1, "not met", "statements that may contradict each other"),
    "hat-crown-compressed.yaml": Truth(0, "met so far", "buckling of members"),
    "joint-of-factor-zero.yaml": Truth(1, "not met"),
    "links-with-lateral-linkage.yaml": Truth(1, "not met"),
    "notch-one-side.yaml": Truth(1, "not met"),
    "notched-channel.yaml": Truth(0, "met so far"),
    # its kinks are not said: as mitres they would not hold (test_what_was_not_run_is_said_of_what_holds has them said)
    "only-static.yaml": Truth(1, "not met", "load cases not run", ("kinks", 1.37, 0.01)),
    # statics: pi2 E t2 / (12 (1 - nu2) gap2) x its end fixity is some 20 MPa for 172 MPa given
    "plate-stitched-far-apart.yaml": Truth(1, "not met"),
    # V Q / I by hand: 0.68 with the nominal wall, 0.667 with the design wall
    "plate-stitched-on-tube.yaml": Truth(1, "not met", factor=("stitch_metal", 0.667, 0.005)),
    "right-point-on-the-left.yaml": Truth(2),
    # 26 ksi over 26.6 ksi, by hand: 0.98
    "sleeve-over-soft-rail.yaml": Truth(1, "not met", factor=("yield", 0.98, 0.005)),
    # Euler, pinned, 3 m: the load is 1.29 times it
    "steel-strut.yaml": Truth(1, "not met", factor=("frame buckling", 0.77, 0.01)),
    "straps-over-limit.yaml": Truth(1, "not met"),
    "two-cuts-one-name.yaml": Truth(2),
    # V Q / I by hand: 1.15 with the nominal wall, 1.114 with the design wall
    "two-plates-weak-stitches.yaml": Truth(1, "not met", factor=("stitch_metal", 1.114, 0.005)),
    "wheel-lifted-at-rest.yaml": Truth(1, "not met"),
}


@pytest.mark.parametrize("name", TRUTHS)
def test_a_file_ends_as_its_first_line_says(name: str, tmp_path: Path) -> None:
    truth = TRUTHS[name]
    answer = checked(stored(name), tmp_path)
    assert answer.code == truth.code, answer.out + answer.err
    if truth.code == 2:
        assert answer.faults
        assert all(":" in line for line in answer.faults)
        return
    assert answer.data["verdict"]["state"] == truth.state
    assert "every target is met" not in answer.out.lower()
    if truth.open:
        assert truth.open in [each["what"] for each in answer.data["verdict"]["open"]]
    if truth.factor is not None:
        check, value, within = truth.factor
        assert least(answer.data, check) == pytest.approx(value, abs=within)


def least(data: Any, check: str) -> float:
    """Return the least safety factor of a check or mode."""
    return min(row["safety_factor"] for row in data["checks"] if check in (row["check"], row["mode"]))


@pytest.mark.parametrize("name", ["notched-channel.yaml", "flat-bar-twisted.yaml", "plate-stitched-on-tube.yaml"])
def test_a_sound_answer_passes_its_own_checks(name: str, tmp_path: Path) -> None:
    assert all(row["holds"] for row in checked(stored(name), tmp_path).data["self_checks"])


def test_what_was_not_run_is_said_of_what_holds(tmp_path: Path) -> None:
    """The same vehicle with plates in its mitres: nothing judged is missed, and what was not run keeps it from being met."""
    plated = "    rail:\n      kinks: mitred with an inner plate\n      kink plate: 1/4 in\n"
    answer = checked(stored("only-static.yaml").replace("    rail:\n", plated, 1), tmp_path)
    assert (answer.code, answer.data["verdict"]["state"]) == (0, "met so far")
    assert "load cases not run" in [each["what"] for each in answer.data["verdict"]["open"]]


SAME = (
    ("ladder-in-inches.yaml", "ladder-in-mm.yaml"),
    ("ladder-in-inches.yaml", "ladder-origin-moved.yaml"),
    ("rail-as-one-member.yaml", "rail-as-two-members.yaml"),
    ("section-used-twice.yaml", "section-used-twice-three-members.yaml"),
)


@pytest.mark.parametrize(("one", "other"), SAME)
def test_one_thing_written_in_two_ways_has_one_answer(one: str, other: str, tmp_path: Path) -> None:
    found = [checked(stored(name), tmp_path).data for name in (one, other)]
    for check in ("yield", "local buckling", "buckling", "frame buckling"):
        first, second = (least(data, check) for data in found)
        assert first == pytest.approx(second, rel=1e-6), check


def test_every_file_that_went_wrong_says_why() -> None:
    for file in sorted(VERDICT.glob("*.yaml")):
        assert file.read_text(encoding="utf-8").startswith(("#", "title")), file.name


def test_a_solution_that_fails_its_own_check_is_no_result(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A balance residual of 1 in the one number that the solution gives of itself: no factor is shown, exit 3."""
    monkeypatch.setattr(SelfCheck, "holds", property(lambda each: each.name != "balance"))
    answer = checked(stored("flat-bar-twisted.yaml"), tmp_path)
    assert answer.code == 3
    assert answer.data["verdict"]["state"] == "not judged"
    assert answer.data["governing"] is None
    assert "NOT JUDGED" in answer.out
    assert "of what is allowed" not in answer.out
