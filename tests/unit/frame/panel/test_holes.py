"""Holes spread over a panel: it carries by what they leave of a section through a row, and weighs what they leave of its face."""

from __future__ import annotations

from math import pi

import pytest

from framecheck.errors import InputError
from framecheck.reading.case_file import read_case
from framecheck.results.row import Mode
from framecheck.run import Results, run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED
from tests.verification.panel_files import panel_in_rods

ROUND, PITCH = 40.0, 100.0
SHARE = pi * ROUND**2 / 4 / PITCH**2  # of round holes in square rows
LEFT = 1 - ROUND / PITCH  # of a section through a row


def results(holes: float | None, thickness: str = "0.9 mm") -> Results:
    """Return the panel in rods with holes of a share of its face."""
    said = "" if holes is None else f", holes: {holes!r}"
    text = panel_in_rods(500.0, "shear and direct stress").replace("thickness: 0.9 mm", f"thickness: {thickness}{said}")
    return run(read_case(text, "case.yaml", LIBRARY), SHARED)


def used(found: Results) -> float:
    """Return the factor of the sheet's yield, alike for any load."""
    return next(row.safety_factor for row in found.rows if row.mode is Mode.SHEET_YIELDS)


def moved(found: Results) -> float:
    """Return how far the loaded corner goes, m."""
    solution = found.outcome.solutions[0]
    return float(solution.displacements[solution.points.index("c")][0][1])


def test_a_sheet_with_holes_carries_as_one_as_thin_as_they_leave() -> None:
    """Geometry of a section through a row of holes; and more holes are softer and weaker, none are none."""
    holed, thin = results(SHARE), results(None, f"{0.9 * LEFT!r} mm")
    assert moved(holed) == pytest.approx(moved(thin), rel=1e-12)
    assert used(holed) == pytest.approx(used(thin), rel=1e-12)
    rising = [results(share) for share in (0.0, 1e-9, 0.05, 0.2, 0.5)]
    assert sorted(map(moved, rising)) == list(map(moved, rising))
    assert sorted(map(used, rising), reverse=True) == list(map(used, rising))
    assert moved(rising[0]) == moved(results(None))


def test_it_weighs_what_they_leave_of_its_face() -> None:
    """The mass of the sheet is its area less that of the holes."""
    panels = [results(share).outcome.case.frame.panels[0] for share in (0.0, SHARE)]
    assert panels[1].weighing / panels[0].weighing == pytest.approx(1 - SHARE)


def test_more_than_half_is_refused() -> None:
    """By line."""
    with pytest.raises(InputError, match=r"holes: 0.6 is more than 0.5"):
        results(0.6)
