"""Ratios of what is compared: only where both are more than nothing."""

from __future__ import annotations

import pytest

from framecheck.output.comparison import value_words
from framecheck.output.display import Units
from framecheck.study.compare import SHARE, ComparedRow


@pytest.mark.parametrize(("first", "second"), [(-0.004, 0.022), (0.022, -0.004), (0.0, 0.022)])
def test_a_gap_that_is_closed_has_no_ratio(first: float, second: float) -> None:
    assert ComparedRow("gap left", "deflection", (first, second)).ratios[1] is None


def test_parts_that_touch_use_more_than_can_be_counted() -> None:
    row = ComparedRow("largest share used", SHARE, (999.0, 0.93))
    assert value_words(row, 999.0, Units.US) == ">9999 %"
    assert row.ratios[1] is None
