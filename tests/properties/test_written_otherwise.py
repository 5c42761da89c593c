"""A case is the same in other units, in another order, from another origin. None needs a source: nature knows no file.

benchmarks/written_otherwise.py does so with every case, steps every number by a hair and leaves out every thing in turn.
"""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.properties.rewriting import came, differences, from_another_origin, in_another_order, in_other_units, stepped

CASES = Path(__file__).parents[2] / "cases"
EXACT = 1e-6


@pytest.mark.parametrize("name", ["lapped-rail", "notched-rail", "gearbox-crossmember", "tie-down"])
def test_however_it_is_written_it_comes_out_alike(name: str) -> None:
    text = (CASES / f"{name}.yaml").read_text(encoding="utf-8")
    as_is = came(text)
    others = in_other_units(text), from_another_origin(text, 0.1778), in_another_order(text, Random(18))
    assert [differences(as_is, came(other), EXACT) for other in others] == [[], [], []]


@pytest.mark.parametrize("moved", ["left crank", "right mount"])
def test_a_point_off_by_a_hair_leaves_the_case_judged(moved: str) -> None:
    """Alike left and right within a thousandth of a millimetre, it was to move alike within 1e-7, and failed its own check."""
    text = (CASES / "gearbox-crossmember.yaml").read_text(encoding="utf-8")
    other = next(other for path, other in stepped(text, 1e-7) if path == ("frame", "points", moved, "z"))
    assert differences(came(text), came(other), 1e-4) == []
