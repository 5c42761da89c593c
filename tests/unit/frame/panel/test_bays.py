"""Which field of sheet each cell lies in does not hang on the last digit of where its walls are."""

from __future__ import annotations

from dataclasses import replace

import pytest

from framecheck.frame.panel.bays import bays_of
from framecheck.frame.panel.division import divided
from framecheck.model.frame import Frame
from tests.unit.results.cases import case_of


def fields(frame: Frame, name: str) -> list[int]:
    """Return the field of each cell of a panel."""
    number = next(number for number, panel in enumerate(frame.panels) if panel.name == name)
    division = divided(frame)
    assert division is not None
    return bays_of(frame.panels[number], number, division)[1].tolist()


@pytest.mark.parametrize("more", [1e-7, -1e-7])
def test_a_hair_more_makes_no_other_field(more: float) -> None:
    """Walls were told apart by their sixth decimal: 0.1 um more of one corner made two fields of one, each with half its cells, and
    the sheet read twice as full.
    """
    frame = case_of("coast-coupe").frame
    x, y, z = frame.points["left apron front"]
    moved = replace(frame, points={**frame.points, "left apron front": (x, y, z * (1 + more))})
    assert fields(moved, "left apron") == fields(frame, "left apron")
