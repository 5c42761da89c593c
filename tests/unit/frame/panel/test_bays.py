"""Which field of sheet each cell lies in does not hang on the last digit of where its walls are."""

from __future__ import annotations

from dataclasses import replace

import pytest

from framecheck.frame.panel.bays import bays_of
from framecheck.frame.panel.division import divided
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame
from tests.properties.test_smooth_panels import body, sizes
from tests.unit.results.cases import case_of


def fields(frame: Frame, name: str) -> Array:
    """Return how much of each cell of a panel lies in the field of each other."""
    number = next(number for number, panel in enumerate(frame.panels) if panel.name == name)
    division = divided(frame)
    assert division is not None
    return bays_of(frame.panels[number], number, division)[1]


@pytest.mark.parametrize("more", [1e-7, -1e-7])
def test_a_hair_more_makes_no_other_field(more: float) -> None:
    """Walls were told apart by their sixth decimal: 0.1 um more of one corner made two fields of one, each with half its cells, and
    the sheet read twice as full.
    """
    frame = case_of("coast-coupe").frame
    x, y, z = frame.points["left apron front"]
    moved = replace(frame, points={**frame.points, "left apron front": (x, y, z * (1 + more))})
    assert fields(moved, "left apron") == pytest.approx(fields(frame, "left apron"), abs=1e-4)


@pytest.mark.parametrize("cells", [1, 3])
@pytest.mark.parametrize("begun", range(4))
def test_a_free_edge_widens_a_field_wherever_its_cells_lie(begun: int, cells: int) -> None:
    """EN 1993-1-5:2006, tables 4.1 and 4.2, from memory: 4.0 and 0.43, so a strip on one held edge waves as one 3.05 times as wide.
    The first cell's place had told the width: the strip beside a firewall, drawn from its free edge on, read as wide as it is.
    """
    frame = body(sizes(0))
    strip = frame.panels[0]
    corners = strip.corners[begun:] + strip.corners[:begun]
    free = replace(strip, corners=corners, joined=(), cells=cells, free_edges=(("left low", "left high"),))
    members = tuple(each for each in frame.members if each.name != "left post")
    alone = replace(frame, members=members, panels=(free, *frame.panels[1:]))
    division = divided(alone)
    assert division is not None
    wide, _ = bays_of(free, 0, division)
    along = begun % 2
    assert wide[:, along] == pytest.approx((4.0 / 0.43) ** 0.5 * sizes(0)["strip"], rel=0.02)
    assert wide[:, 1 - along] == pytest.approx(0.6, rel=1e-6)
