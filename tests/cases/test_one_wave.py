"""Faults of every kind, those found in checks and vehicle too: each with its line, all of them at once."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.cases.answers import ROOT, checked, stored

TRUCK = (ROOT / "cases/hill-truck.yaml").read_text(encoding="utf-8")
PLATE = (ROOT / "cases/skid-plate.yaml").read_text(encoding="utf-8")
NOTCHED = (ROOT / "cases/notched-rail.yaml").read_text(encoding="utf-8")

RIB = "name: tall rib, kind: rib, runs: along x, at: 12 in, from: 2 in, to: 24 in, height: 2 in, thickness: 1/4 in"

SHOWN_WHEN_RUN = {
    "weighed axle load": (
        TRUCK,
        ("      driven: yes\n", "      driven: yes\n      stated load: 300 kg\n"),
        "stated load: 300 kg",
        "more on it than stated",
    ),
    "axles in the wrong order": (
        stored("engine-on-mounts.yaml"),
        ("rear: {x: -2.8 m", "rear: {x: 2.8 m"),
        "axles:",
        "the front axle is not ahead of the rear axle",
    ),
    "no driveline": (
        stored("engine-on-mounts.yaml"),
        ("  - static\n", "  - static\n  - drive torque\n"),
        "vehicle:",
        "driveline: not described, or without mounts",
    ),
    "no payload": (
        stored("engine-on-mounts.yaml"),
        ("  - static\n", "  - static\n  - load bed: {factor: 3}\n"),
        "load bed: {factor: 3}",
        "no mass is a payload",
    ),
    "no straps": (
        stored("engine-on-mounts.yaml"),
        ("  - static\n", "  - static\n  - tied down: {kind: tie-down, toward: forward}\n"),
        "tied down: {kind",
        "no straps are described",
    ),
    "roll stiffness not known": (
        stored("engine-on-mounts.yaml"),
        ("  - static\n", "  - static\n  - diagonal twist: {wheel: front left, height: 0.2 m}\n"),
        "diagonal twist: {wheel",
        "the roll stiffness of an axle is not known",
    ),
    "a rib that fills the gap": (
        PLATE,
        (
            "    loads:",
            f"    stiffeners:\n      - {{{RIB}}}\n    loads:",
        ),
        "tall rib",
        "it fills the gap of 38.1 mm above the plate",
    ),
    "seats over one another": (
        PLATE,
        ("{name: rear middle, x: 1 in, y: 12 in", "{name: rear middle, x: 1 in, y: 1 in"),
        "name: rear middle, x",
        "its seat lies over the seat of bolt rear right",
    ),
    "a cut through the member": (
        NOTCHED,
        (re.search(r"depth: [^,]*", NOTCHED.split("cuts:")[1]).group(), "depth: 30 in"),  # type: ignore[union-attr]
        "depth: 30 in",
        "cut",
    ),
}
"""A file, what is changed in it, what stands on the line at fault, what is said of it."""


@pytest.mark.parametrize("what", SHOWN_WHEN_RUN)
def test_a_fault_that_shows_when_the_case_is_run_has_its_line(what: str, tmp_path: Path) -> None:
    text, (old, new), shown, said = SHOWN_WHEN_RUN[what]
    assert old in text
    text = text.replace(old, new, 1)
    line = text[: text.index(shown)].count("\n") + 1
    answer = checked(text, tmp_path)
    assert answer.code == 2, answer.out
    assert all(re.match(r".*case\.yaml:\d+: ", each) for each in answer.faults)
    assert any(f"case.yaml:{line}: " in each and said in each for each in answer.faults), (line, answer.faults)


def test_faults_of_form_and_geometry_come_together(tmp_path: Path) -> None:
    text = stored("engine-on-mounts.yaml")
    changes = {
        "title: Engine on soft": "colour: blue\ntitle: Engine on soft",
        "- {name: rear crossmember, x: -3 m,": "- {name: rear crossmember, x: -9 m,",
        "mass: 280 kg": "mass: 280 furlongs",
        "{point: left front crossmember, held: place}": "{point: left front crosmember, held: place}",
    }
    for old, new in changes.items():
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    answer = checked(text, tmp_path)
    assert answer.code == 2
    for each in ("colour: this key is not known", "furlongs", "did you mean 'left front crossmember'?"):
        assert each in answer.err, (each, answer.err)
    assert (
        "lies beyond the ends of the rails" not in answer.err
    )  # a name in the frame is wrong: its geometry waits for that


def test_faults_of_geometry_vehicle_and_load_cases_come_together(tmp_path: Path) -> None:
    text = stored("engine-on-mounts.yaml")
    changes = {
        "title: Engine on soft": "colour: blue\ntitle: Engine on soft",
        "track: 1.5 m, tyre radius: 0.35 m, on: [left front": "track: 58 mm, tyre radius: 0.35 m, on: [left front",
        "  - static\n": "  - static\n  - load bed: {factor: 3}\n  - one wheel up: {wheel: middle}\n",
    }
    for old, new in changes.items():
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    text = text.replace("{point: below the pan, z: 0.65 m}", "{point: below the pan, z: 0.67 m}", 1)
    answer = checked(text, tmp_path)
    assert answer.code == 2
    for each in (
        "colour: this key is not known",
        "the two tyres would be in one another",
        "its two places are the same",
        "no mass is a payload",
        "'middle' is not known here",
    ):
        assert each in answer.err, (each, answer.err)
    lines = [int(re.search(r"case\.yaml:(\d+)", each).group(1)) for each in answer.faults]  # type: ignore[union-attr]
    assert lines == sorted(lines)
    assert len(set(answer.faults)) == len(answer.faults)


def test_a_file_without_its_frame_says_so_with_the_rest(tmp_path: Path) -> None:
    """Found by fuzzing: a block that is missing altogether has no lines of its own to be refused by."""
    text = stored("engine-on-mounts.yaml").replace("frame:\n", "fame:\n", 1)
    answer = checked(text, tmp_path)
    assert answer.code == 2
    assert "'frame' is missing" in answer.err
    assert "did you mean 'frame'?" in answer.err
