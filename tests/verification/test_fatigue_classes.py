"""Fatigue classes against the sources that quote them (fatigue_classes_quoted.yaml), and the lines that they hang on."""

from __future__ import annotations

import pytest
from pytest import approx

from framecheck.model.duty import StressKind
from framecheck.reading.shop_tables import fatigue_class
from tests.cases.test_sections import LIBRARY
from tests.verification import class_page
from tests.verification.class_page import EN, Quote, is_quoted, quotes, rows
from tests.verification.manual import Held, Kind, proof

SAME = [each for each in quotes() if not each.not_followed and fatigue_class(LIBRARY, each.row).reference == each.value * 1e6]
OTHER = [each for each in quotes() if each not in SAME]


@proof(Kind.PRINTED)
@pytest.mark.parametrize("quote", SAME, ids=lambda each: f"{each.row}, {each.standard}, {each.detail}")
def test_a_class_as_an_opened_source_quotes_it(held: Held, quote: Quote) -> None:
    """fatigue_classes_quoted.yaml names who quotes the class of this detail, from what standard; opened in November 2026."""
    held(fatigue_class(LIBRARY, quote.row).reference, quote.value * 1e6, rel=1e-9)


@pytest.mark.parametrize("quote", OTHER, ids=lambda each: f"{each.row}, {each.value:g}")
def test_a_class_is_no_kinder_than_a_source_unless_its_reason_is_told(quote: Quote) -> None:
    ours = fatigue_class(LIBRARY, quote.row).reference / 1e6
    assert ours < quote.value or (quote.not_followed and ours > quote.value)


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["name"])
def test_a_row_says_that_it_was_opened_where_its_standard_is_quoted(row: dict[str, str]) -> None:
    """`seen: from memory` of the row is what the program says where it governs."""
    assert row["standard"] != EN or (row.get("seen") == "from memory") != is_quoted(row)
    assert ("from memory" in row["source"]) == (row.get("seen") == "from memory")


def test_most_classes_of_the_european_standard_are_quoted() -> None:
    assert sum(is_quoted(row) for row in rows() if row["standard"] == EN) >= 20


@proof(Kind.PRINTED)
def test_the_lines_of_the_classes(held: Held) -> None:
    """The public help pages of a fatigue program on Eurocode 3 (opened): knee 5e6, cut-off 1e8, slopes 3 and 5; shear 5, 1e8."""
    normal, shear = fatigue_class(LIBRARY, "EN rolled"), fatigue_class(LIBRARY, "EN sheared base metal")
    held((normal.slope, normal.knee, normal.slope_beyond, normal.cut_off), (3, 5e6, 5, 1e8), rel=1e-9)
    held((shear.slope, shear.cut_off), (5, 1e8), rel=1e-9)
    for row in rows():
        one = fatigue_class(LIBRARY, row["name"])
        if one.standard == EN:
            like = normal if one.stress is StressKind.NORMAL else shear
            assert (one.slope, one.knee, one.cut_off) == approx((like.slope, like.knee, like.cut_off))


def test_the_page_is_up_to_date() -> None:
    """docs/fatigue_classes.md is written by `python -m tests.verification.class_page`."""
    told = "write it again: python -m tests.verification.class_page"
    assert class_page.PAGE.read_text(encoding="utf-8") == class_page.page(), told
