"""What a file leaves out where no check would miss it is open; writing it closes it."""

from __future__ import annotations

from pathlib import Path

from framecheck.cli.files import data_folder
from tests.cases.answers import checked, stored

DEMO = (Path(data_folder("cases")) / "hill-truck.yaml").read_text(encoding="utf-8")


def open_things(text: str, folder: Path, what: str) -> set[str]:
    """Return the things of a file that are open under a heading."""
    found = checked(text, folder).data["verdict"]["open"]
    return {name for each in found if each["what"] == what for name in each["where"]}


def test_half_a_joint_is_open(tmp_path: Path) -> None:
    whole = "      - {name: bracket, thickness: 1/4 in, material: A36, edge: 1 in}\n"
    assert whole in DEMO
    one = "engine mount bolts, the other part"
    assert one not in open_things(DEMO, tmp_path, "joints")
    assert one in open_things(DEMO.replace(whole, ""), tmp_path, "joints")


def test_a_load_whose_data_are_left_out_is_open(tmp_path: Path) -> None:
    """Without straps no tie-down can be run, without a point no jack: the demo has both, and asks for both."""
    straps = DEMO[DEMO.index("  straps:\n") : DEMO.index("  # Gaps to watch")]
    loads = [line for line in DEMO.splitlines(keepends=True) if "kind: tie-down" in line or "kind: jacked at a point" in line]
    assert len(loads) == 3
    text = DEMO.replace(straps, "")
    for each in loads:
        text = text.replace(each, "")
    lost = {"tie-down", "jacked at a point"}
    assert not lost & open_things(DEMO, tmp_path, "load cases not run")
    assert lost < open_things(text, tmp_path, "load cases not run")


def test_rail_ends_near_a_crossmember_are_open_until_the_file_says_how_they_end(tmp_path: Path) -> None:
    """Shells: a crossmember 40 mm from an open end is 1.3 to 1.5 times softer, from a closed one 0.7; the demo's stand 4 in off."""
    unsaid = DEMO.replace("      front end: {cap: 3/16 in}\n      rear end: {cap: 3/16 in}\n", "")
    assert unsaid != DEMO
    found, said = (open_things(text, tmp_path, "values taken by default") for text in (unsaid, DEMO))
    assert [name for name in found if name.startswith("how rails are closed")]
    assert not [name for name in said if name.startswith("how rails are closed")]


def test_welded_places_without_a_detail_are_open_under_a_duty(tmp_path: Path) -> None:
    found = open_things(DEMO, tmp_path, "fatigue")
    assert any("left rail" in name and "gearbox crossmember" not in name for name in found)
    assert not any("at left gearbox crossmember" in name for name in found)  # the detail from 67 to 71 in covers it


def test_an_acceptance_that_matches_nothing_is_told(tmp_path: Path) -> None:
    text = DEMO + "accepted:\n  - {what: 'kinks of members: left rail at nowhere', because: misspelt}\n"
    answer = checked(text, tmp_path)
    assert any("left rail at nowhere" in each for each in answer.data["remarks"])
    assert answer.data["verdict"]["accepted"] == []


def test_a_load_case_run_far_milder_than_the_table_is_doubted(tmp_path: Path) -> None:
    """A bump of a hundredth is no bump: the file says that it was run, and hardly means it."""
    mild = DEMO.replace("  - vertical bump\n", "  - vertical bump: {factor: 0.01}\n")
    assert mild != DEMO
    doubted = "statements that may contradict each other"
    assert "load cases > vertical bump" in open_things(mild, tmp_path, doubted)
    assert "load cases > vertical bump" not in open_things(DEMO, tmp_path, doubted)


def test_every_way_in_which_a_thing_misses_stands_in_the_table_of_checks(tmp_path: Path) -> None:
    """A plate that touches and that yields misses twice: once two of three LOW rows were left out."""
    data = checked(stored("pan-guard.yaml"), tmp_path).data
    low = {(row["where"], row["words"]) for row in data["checks"] if row["grade"] == "LOW"}
    shown = {row["where"] for row in data["tables"]["checks"] if row["grade"] == "LOW"}
    modes = {(row["where"], row["mode"], row["part"]) for row in data["checks"] if row["grade"] == "LOW"}
    assert shown == {where for where, _ in low}
    assert len([row for row in data["tables"]["checks"] if row["grade"] == "LOW"]) == len(modes)
