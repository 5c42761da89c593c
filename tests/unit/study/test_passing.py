"""A variant passes only where nothing that was judged is missed, something was judged, and no aim is missed."""

from __future__ import annotations

import pytest

from framecheck.output.rows_text import RowForm
from framecheck.results.verdict import State
from framecheck.study.measure import MeasuredAim, VariantRow


def variant(state: State | None, ratio: float = 1.2, fault: str = "") -> VariantRow:
    governs = MeasuredAim("safety factor", ratio, 1.0, ratio)
    return VariantRow(0, ("3 mm",), "whole", 10.0, governs=governs, fault=fault, state=state, open=4)


@pytest.mark.parametrize(
    ("state", "passes"),
    [(State.MET, True), (State.MET_SO_FAR, True), (State.NOT_MET, False), (State.NOT_JUDGED, False), (None, True)],
)
def test_the_verdict_decides(state: State | None, passes: bool) -> None:
    """None: a screen, which has judged yield alone and is run again by every check."""
    assert variant(state).passes is passes
    assert not variant(state, ratio=0.9).passes
    assert not variant(state, fault="can't be built").passes


def test_a_variant_of_which_nothing_was_judged_is_no_near_miss() -> None:
    assert variant(State.NOT_JUDGED).ratio == 0.0


@pytest.mark.parametrize("state", [State.MET_SO_FAR, None])
def test_a_row_is_read_back_with_its_verdict(state: State | None) -> None:
    form = RowForm("key", ("wall",))
    assert form.row(form.record(variant(state))) == variant(state)
