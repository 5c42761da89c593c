"""The optimum between the sizes, against a fine sweep."""

from __future__ import annotations

import pytest

from framecheck.study.engines import Builders, optimum, run_variants
from tests.unit.study.studies import MEMORY, WALLS, rows_of_walls, study_file


def test_the_optimum_lies_where_a_fine_sweep_passes_first() -> None:
    """One wall, mass and safety factor both growing with it: the optimum is the wall at which the target is just met, so it lies
    between the thickest wall of a fine sweep that misses it and the thinnest that passes."""
    coarse = study_file(
        WALLS.replace("values: [2 mm, 2.5 mm, 3 mm, 4 mm, 5 mm, 6 mm]", "from: 2 mm, to: 6 mm, steps: 5")
    )
    fine = study_file(WALLS.replace("[2 mm, 2.5 mm, 3 mm, 4 mm, 5 mm, 6 mm]", "[2.4 mm, 2.44 mm, 2.48 mm, 2.52 mm]"))
    swept = list(run_variants(fine.study, Builders(fine.build, MEMORY)))
    found = optimum(coarse.build, coarse.study, rows_of_walls()[2], MEMORY)
    assert found is not None
    assert found.row.passes
    assert found.row.mass is not None
    missed = max(row.mass or 0.0 for row in swept if not row.passes)
    passed = min(row.mass or 0.0 for row in swept if row.passes)
    assert missed < found.row.mass <= passed
    assert found.row.ratio == pytest.approx(1.0, abs=0.01)


def test_without_a_range_there_is_nothing_to_look_for() -> None:
    file = study_file(WALLS)
    assert optimum(file.build, file.study, rows_of_walls()[2], MEMORY) is None
