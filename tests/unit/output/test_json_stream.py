"""JSON in pieces: the same text as the standard library's own encoder gives for the whole, whatever it holds."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from framecheck.output.json_stream import PIECE, written

scalars = st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(max_size=8)
values = st.recursive(
    scalars, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner, max_size=4), max_leaves=25
)
records = st.dictionaries(st.text(max_size=5), values, max_size=5)


def whole(record: dict[str, Any]) -> str:
    """Return what the library writes of a record."""
    return json.dumps(record, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


@given(records)
def test_pieces_are_what_the_library_writes(record: dict[str, Any]) -> None:
    """json.dumps of the standard library, indent 1."""
    assert "".join(written(record)) == whole(record)


@given(st.lists(values, max_size=6))
def test_rows_made_on_the_way_are_written_as_a_list(rows: list[Any]) -> None:
    assert "".join(written({"rows": iter(rows), "after": 1})) == whole({"rows": rows, "after": 1})


def test_no_number_is_written_that_json_has_not() -> None:
    with pytest.raises(ValueError, match="not JSON compliant"):
        list(written({"rows": [{"a": float("nan")}]}))


def test_a_row_is_asked_for_when_those_before_it_are_written() -> None:
    made = 0

    def rows() -> Iterator[dict[str, object]]:
        nonlocal made
        for number in range(1000):
            made += 1
            yield {"number": number, "text": "x" * 1000}

    pieces = written({"rows": rows()})
    assert len(next(pieces)) < 2 * PIECE
    assert made < 100
    assert len(json.loads("".join(["", *written({"rows": rows()})]))["rows"]) == 1000
