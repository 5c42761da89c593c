"""The mirror image of a case comes out as the case does, row by row."""

from __future__ import annotations

import pytest
from pytest import approx

from framecheck.run import Results
from tests.unit.results.cases import NAMES, case_of, solved_again
from tests.unit.results.mirror import mirrored, without_handed


def factors(found: Results) -> dict[object, float]:
    return {(row.check, row.mode, row.part, row.subject, row.load_case): row.safety_factor for row in found.rows}


@pytest.mark.parametrize("name", NAMES)
def test_a_mirrored_case_comes_out_alike(name: str) -> None:
    case = without_handed(case_of(name))
    plain, image = solved_again(case), solved_again(mirrored(case))
    first, second = factors(plain), factors(image)
    assert second == approx(first, rel=1e-5)
    assert (image.verdict.state, image.verdict.judged) == (plain.verdict.state, plain.verdict.judged)
    missed = [{(row.check, row.subject) for row in each.verdict.missed} for each in (plain, image)]
    assert missed[0] == missed[1]
    left = [{each.entry for each in found.verdict.ledger.open} for found in (plain, image)]
    assert left[0] == left[1]


@pytest.mark.parametrize("name", NAMES)
def test_two_mirrors_give_the_case_back(name: str) -> None:
    """Checks the mirror itself."""
    case = case_of(name)
    assert mirrored(mirrored(case)).vehicle == case.vehicle
    assert mirrored(mirrored(case)).frame.members == case.frame.members
    assert mirrored(mirrored(case)).joints == case.joints
    assert mirrored(mirrored(case)).load_cases == case.load_cases
    assert mirrored(case).frame.points != case.frame.points
