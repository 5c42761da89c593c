"""What a fit foretells over ladders that had no part in making it: shells drawn at random, measured with noise, two loads not."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

from framecheck.cli.context import read
from framecheck.frame.solve import solve_bounds
from framecheck.reading.shop_readings import read_record
from framecheck.rig.fit import fitted, jacobian_of, model_of, parts, solve
from framecheck.rig.fitted import MODEL_ERROR
from framecheck.rig.measured import measured
from framecheck.rig.setup import AskedTest
from framecheck.rig.unknowns import Sort
from tests.unit.rig.readings import STEPS
from tests.unit.rig.test_fit import NOISE, line, measured_shells

LADDERS: list[dict[str, Any]] = yaml.safe_load((Path(__file__).parent / "shell-ladders.yaml").read_text(encoding="utf-8"))["ladders"]
DRAWS = 50
TEXT = """\
title: A box ladder as its shell model
origin: the rear end, in the middle
materials:
  - {{name: shell steel, youngs modulus: 200 GPa, poissons ratio: 0.3, density: 7850 kg/m3, yield strength: 350 MPa,
     ultimate strength: 450 MPa}}
sections:
  rail: {{shape: rectangular tube, height: {rail_height} mm, width: {rail_width} mm, wall: {wall} mm, outside radius: 0 mm,
    material: shell steel}}
  cross: {{shape: rectangular tube, height: {cross_height} mm, width: {cross_width} mm, wall: {wall} mm, outside radius: 0 mm,
    material: shell steel}}
frame:
  ladder:
    rail:
      section: rail
      front end: {{cap: 20 mm}}
      rear end: {{cap: 20 mm}}
      stations:
        - {{name: front, x: {length} mm, y: {y} mm, z: 0 mm}}
        - {{name: third, x: {third} mm, y: {y} mm, z: 0 mm}}
        - {{name: half, x: {half} mm, y: {y} mm, z: 0 mm}}
        - {{name: rear, x: 0 mm, y: {y} mm, z: 0 mm}}
    crossmembers:
{crosses}
load cases:
  - bending:
      forces: [{{point: left half, force: {{z: -500 N}}}}, {{point: right half, force: {{z: -500 N}}}}]
      supports:
        - {{point: left front, held: [z]}}
        - {{point: right front, held: [z]}}
        - {{point: left rear, held: place}}
        - {{point: right rear, held: [x, z]}}
  - sideways:
      forces: [{{point: left front, force: {{y: 500 N}}}}, {{point: right front, force: {{y: 500 N}}}}]
      supports: [{{point: right front, held: [z]}}, {{point: left rear, held: place}}, {{point: right rear, held: [x, z]}}]
"""


def text_of(ladder: dict[str, Any]) -> str:
    """Return the case of a ladder: shells are told by middle lines, sections by their outsides."""
    sizes, wall = ladder["sizes_mm"], ladder["sizes_mm"]["wall"]
    middles = [near + sizes["cross_wide"] / 2 for near in sizes["crosses"]]
    ends = "section: cross, ends: butt on one face"
    crosses = [f"      - {{name: crossmember {number}, x: {x} mm, {ends}}}" for number, x in enumerate(middles, 1)]
    return TEXT.format(
        rail_height=sizes["deep"] + wall, rail_width=sizes["wide"] + wall, wall=wall, cross_height=sizes["cross_deep"] + wall,
        cross_width=sizes["cross_wide"] + wall, length=sizes["length"], y=sizes["inner"] + sizes["wide"] / 2,
        third=ladder["stations_mm"][3], half=sizes["length"] / 2, crosses="\n".join(crosses),
    )  # fmt: skip


def inside_of(ladder: dict[str, Any], folder: Path, seed: int) -> np.ndarray:
    """Return in how many draws the band holds what the shells do: moved sideways, and bent at two thirds of the length."""
    path = folder / "ladder.yaml"
    path.write_text(text_of(ladder), encoding="utf-8")
    case, file = read(str(path)), measured_shells(folder, seed, ladder)
    fit = fitted([measured(case, read_record(Path(file).read_text(encoding="utf-8"), file, AskedTest()))], (Sort.JOINTS,))

    def unmeasured(values: np.ndarray) -> np.ndarray:
        solution = solve_bounds((fit.springy.structure(parts(fit.unknowns, values).frame, fit.bound),), case.written_loads)[0]
        at = list(solution.points)
        moves = solution.displacements
        return 1000 * np.array([moves[at.index("left front"), 1, 1], moves[at.index("left third"), 0, 2]])

    truth = np.array([ladder["sideways"]["front"][0], ladder["bending"]["left"][3]])
    force = next(row for row, each in enumerate(fit.unknowns) if each.sort is Sort.FORCE)
    model, far = (line(each, fit.unknowns) for each in (model_of(fit.springy, fit.bound, fit.unknowns, fit.data), unmeasured))
    shells = np.array([ladder["twist"][side][row] for row in range(6) for side in ("left", "right")]) / 1e6
    noise = NOISE / 1000 / np.sqrt(np.sum((np.array(STEPS) / 5 * 1000.0) ** 2))
    draw, inside = np.random.default_rng(seed), np.zeros(2, dtype=int)
    for _ in range(DRAWS):
        slopes = shells * np.exp(draw.normal(0, fit.unknowns[force].prior)) + draw.normal(0, noise, len(shells))
        found = solve(model, fit.unknowns, (replace(fit.data[0], slopes=slopes),), fit.bound, fit.springy)
        gradient, value = jacobian_of(far, found.values, fit.unknowns), far(found.values)
        spread = np.hypot(np.sqrt(np.einsum("ij,jk,ik->i", gradient, found.spread, gradient)), MODEL_ERROR * value)
        inside += abs(value - truth) <= 1.96 * spread
    return inside


@pytest.fixture(autouse=True, scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


def test_the_band_covers_what_shells_do_over_other_ladders(tmp_path: Path) -> None:
    """Four ladders by openseespy that had no part in setting the model's error: 95 % bands of two loads that were not measured.

    What a frame misses it misses in every draw: moved sideways the frames' own coverage runs from 78 to 100 %; bent, the band is wide.
    """
    inside = np.array([inside_of(ladder, tmp_path, seed) for seed, ladder in enumerate(LADDERS)])
    sideways, bent = inside.sum(axis=0) / (DRAWS * len(LADDERS))
    assert 0.90 <= sideways <= 0.99
    assert bent >= 0.90
