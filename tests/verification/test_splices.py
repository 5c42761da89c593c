"""Two tubes that lap give to each other as shell models say (splice_shell.yaml): case files in, the solved frame out."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

import framecheck
from framecheck.model.arrays import Array
from tests.verification.manual import Held, Kind, proof
from tests.verification.splice_files import lap_file

KINDS = yaml.safe_load((Path(__file__).parent / "splice_shell.yaml").read_text())
ROWS = [*KINDS["given"], *KINDS["ours"]]


def tip_turns(text: str, folder: Path) -> Array:
    """Return the tip's turn (3,) about x, y, z, each under its own moment."""
    file = folder / "lap.yaml"
    file.write_text(text, encoding="utf-8")
    solution = framecheck.run(framecheck.read_case(file)).results.outcome.solutions[0]
    tip = solution.points.index("tip")
    return np.array([solution.displacements[tip, way, 3 + way] for way in range(3)])


def name_of(row: dict[str, Any]) -> str:
    return str(
        row.get("name") or f"{row['how']}, {', '.join(row['holds']) or 'plugs'}, {row['first']}, lap {row['lap']}"
    )


@proof(Kind.SHELL, "openseespy shells: benchmarks/shell_reference/splice.py, tests/verification/splice_shell.yaml")
@pytest.mark.parametrize("row", ROWS, ids=name_of)
def test_a_lap_gives_as_its_shell_model(held: Held, row: dict[str, Any], tmp_path: Path) -> None:
    """Twist and both bendings within 15 %: the frame's own answer, its beams and what the lap gives, against shells."""
    held(tip_turns(lap_file(row), tmp_path), row["turns"], rel=0.15)


def test_a_lap_held_by_plugs_twists_as_the_shells_say_beside_a_tube_welded_all_along(tmp_path: Path) -> None:
    """1.36 to 1.49 times as far as one welded all along, by shells; here against both tubes as one over the lap."""
    row = KINDS["given"][2]
    sizes = [np.array(row[each][:2]) for each in ("first", "second")]
    shear, wall = 205e9 / 2.6, 3e-3
    twist = [shear * 4 * (size.prod() * 1e-6) ** 2 * wall / (2 * size.sum() * 1e-3) for size in sizes]
    welded = 100 * 0.3 * (1 / twist[0] + 1 / twist[1] + 1 / sum(twist))
    assert 1.30 < tip_turns(lap_file(row), tmp_path)[0] / welded < 1.55
