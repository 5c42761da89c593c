"""Tables that fit a terminal: what may be broken, and in which order. Common practice of typesetting, no source."""

from __future__ import annotations

from framecheck.output.display import TextColumn, table

COLUMNS = (TextColumn("load case"), TextColumn("safety factor", True), TextColumn("where"))
ROWS = (("pothole under braking, right", "93 %", "right suspension crossmember"),)


def test_words_stay_whole_where_the_columns_can_be_narrowed_between_words() -> None:
    text = table(COLUMNS, ROWS, 33)
    assert max(map(len, text.splitlines())) <= 33
    assert {"pothole", "braking,", "right", "suspension", "crossmember"} <= set(text.split())
    assert "93 %" in text


def test_a_word_is_broken_only_where_nothing_else_fits_and_never_a_number_from_its_unit() -> None:
    text = table(COLUMNS, ROWS, 26)
    assert max(map(len, text.splitlines())) <= 26
    assert "93 %" in text
    assert "crossmember" not in text


def test_words_stay_whole_where_no_breaking_makes_the_table_fit() -> None:
    assert "crossmember" in table(COLUMNS, ROWS, 12)
