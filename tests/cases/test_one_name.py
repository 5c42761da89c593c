"""One name, one thing: two entries of a kind with one name are refused by line, for whatever kind."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.cases.answers import ROOT, checked, stored

NAMED = {
    "mass": ("hill-truck.yaml", "bumper and winch"),
    "mass on mounts": ("hill-truck.yaml", "engine, gearbox and transfer case"),
    "strap": ("hill-truck.yaml", "rear left"),
    "clearance": ("hill-truck.yaml", "gearbox to tunnel"),
    "station": ("hill-truck.yaml", "rear kick top"),
    "crossmember": ("hill-truck.yaml", "spring crossmember"),
    "joint": ("hill-truck.yaml", "engine mount bolts"),
    "member": ("tie-down.yaml", "left rail"),
    "cut": ("notched-rail.yaml", "axle notch"),
    "event": ("notched-rail.yaml", "rough road"),
    "detail": ("notched-rail.yaml", "corner of the notch"),
    "plate": ("skid-plate.yaml", "skid plate"),
    "plate bolt": ("skid-plate.yaml", "rear middle"),
    "plate load": ("skid-plate.yaml", "off a ledge"),
}
"""What has a name, by a file of cases/ and one of its names."""


def doubled(text: str, name: str, written: str) -> tuple[str, int, int]:
    """Return a text with a list's entry `name` written once more below itself, and the lines of both names."""
    lines = text.splitlines()
    first = next(n for n, line in enumerate(lines) if re.match(rf"\s*- \{{?name: {re.escape(name)}[,\}}]?", line))
    indent = len(lines[first]) - len(lines[first].lstrip())
    last = first + 1
    while last < len(lines) and (not lines[last].strip() or len(lines[last]) - len(lines[last].lstrip()) > indent):
        last += 1
    copy = [lines[first].replace(name, written, 1), *lines[first + 1 : last]]
    return "\n".join([*lines[:last], *copy, *lines[last:]]), first + 1, last + 1


@pytest.mark.parametrize("kind", NAMED)
def test_a_second_entry_of_the_name_is_refused_by_line(kind: str, tmp_path: Path) -> None:
    file, name = NAMED[kind]
    text, first, second = doubled((ROOT / "cases" / file).read_text(encoding="utf-8"), name, name)
    answer = checked(text, tmp_path)
    assert answer.code == 2
    assert any(
        f"case.yaml:{second}:" in line and f"'{name}' stands on line {first} already" in line for line in answer.faults
    )


@pytest.mark.parametrize("kind", NAMED)
def test_a_name_that_differs_in_capitals_or_blanks_only_is_refused_by_line(kind: str, tmp_path: Path) -> None:
    file, name = NAMED[kind]
    text, first, second = doubled((ROOT / "cases" / file).read_text(encoding="utf-8"), name, name.upper())
    answer = checked(text, tmp_path)
    assert answer.code == 2
    said = f"'{name.upper()}' and '{name}' on line {first} differ in capitals or blanks only"
    assert any(f"case.yaml:{second}:" in line and said in line for line in answer.faults)


def test_own_sections_too(tmp_path: Path) -> None:
    text, first = stored("two-cuts-one-name.yaml"), "  rt: {shape: rectangular tube,"
    line = text[: text.index(first)].count("\n") + 1
    answer = checked(
        text.replace(first, "  RT: {shape: flat, width: 50 mm, thickness: 5 mm, material: S235}\n" + first), tmp_path
    )
    assert answer.code == 2
    assert (
        f"case.yaml:{line + 1}: sections > rt: 'rt' and 'RT' on line {line} differ in capitals or blanks only"
        in answer.err
    )


def test_own_materials_too(tmp_path: Path) -> None:
    metal = (
        "  - {name: my steel, kind: steel, youngs modulus: 200 GPa, density: 7850 kg/m3, yield strength: 250 MPa, "
        "ultimate strength: 400 MPa, source: a guess}\n"
    )
    answer = checked(f"materials:\n{metal}{metal}" + stored("two-cuts-one-name.yaml"), tmp_path)
    assert answer.code == 2
    assert "case.yaml:3: materials > my steel: a material 'my steel' stands on line 2 already" in answer.err


def test_both_entries_on_one_line(tmp_path: Path) -> None:
    text = stored("two-cuts-one-name.yaml")
    cuts = re.findall(r"\{name: notch.*?\}", text)
    text = re.sub(r"cuts:.*?(?=\n  ?\w)", f"cuts: [{cuts[0]}, {cuts[1]}]", text, flags=re.DOTALL)
    assert "'notch' stands on line" in checked(text, tmp_path).err


def test_two_cuts_of_one_name_are_refused_and_of_two_names_both_judged(tmp_path: Path) -> None:
    """1.23: both cuts in one file as one person found them, judged one by one (checks handed to the project); 2.37 was said."""
    text = stored("two-cuts-one-name.yaml")
    assert checked(text, tmp_path).code == 2
    at = text.rindex("name: notch")
    apart = checked(text[:at] + "name: second notch" + text[at + len("name: notch") :], tmp_path)
    assert apart.code == 1
    assert 1.22 <= min(row["safety_factor"] for row in apart.data["checks"]) < 1.24


def test_a_crossmember_may_not_take_a_station_s_name_elsewhere(tmp_path: Path) -> None:
    """At a station a crossmember's name is a second name of the station's points; a third place of that name would hide."""
    text = (ROOT / "cases/hill-truck.yaml").read_text(encoding="utf-8")
    text = text.replace("- {name: spring crossmember, x: -76 in,", "- {name: bed mount, x: -122 in,")
    text = text.replace("t spring crossmember", "t bed mount")
    answer = checked(text, tmp_path)
    assert answer.code == 2
    assert "a point 'left bed mount' stands on line" in answer.err


def test_plies_may_share_a_name(tmp_path: Path) -> None:
    """Nothing refers to a ply by its name: two cheeks of a bracket may both be called so."""
    text = (
        (ROOT / "cases/sleeved-rail-joint.yaml")
        .read_text(encoding="utf-8")
        .replace("name: sleeve wall", "name: rail wall")
    )
    assert checked(text, tmp_path).code in (0, 1)


def test_a_load_case_may_not_take_the_name_of_a_plate_s(tmp_path: Path) -> None:
    """Each load of a plate that hangs on the frame is a load case "plate: load"."""
    text = (ROOT / "cases/skid-plate.yaml").read_text(encoding="utf-8")
    text = re.sub(r"\nload cases:\n", '\nload cases:\n  - "skid plate: off a ledge": {kind: static}\n', text)
    answer = checked(text, tmp_path)
    assert answer.code == 2
    assert "a load case 'skid plate: off a ledge' stands on line" in answer.err
