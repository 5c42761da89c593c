"""Amounts in words follow the reader's units, sizes are shown as a shop writes them, and the JSON holds to its page."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from framecheck.model.said import SaidAmount, joined, said
from framecheck.output.csv_text import HEADS, MADE_FROM, as_csv
from framecheck.output.display import Units, bare, spoken
from framecheck.output.json_text import as_json
from framecheck.vehicle.live_axles import travel_notes
from framecheck.versions import Origin
from tests.unit.output.samples import results

CAUTION = "Take care."
DOCS = Path(__file__).parents[3] / "docs" / "json.md"


def test_a_note_is_shown_in_both_units() -> None:
    """25.4 mm in an inch (exact)."""
    (note,) = travel_notes("front {left} wheel", 0.127, 0.0762, None)
    assert spoken(note, Units.SI) == "the front {left} wheel is on its bump stop: 127 mm asked of 76.2 mm"
    assert spoken(note, Units.US) == "the front {left} wheel is on its bump stop: 5.00 in asked of 3.00 in"


def test_words_are_joined_whatever_they_hold() -> None:
    assert joined("a", "", "b") == "a; b"
    both = joined("over", said("a length of ", SaidAmount(0.3048, "length")), "")
    assert spoken(both, Units.US) == "over; a length of 12.00 in"


@pytest.mark.parametrize(
    ("metres", "us", "si"),
    [
        (0.0047625, "3/16", "4.763"),
        (0.0381, "1 1/2", "38.1"),
        (0.0254 * 0.12, "0.12", "3.048"),
        (0.0508, "2", "50.8"),
        (0.0254 / 64, "1/64", "0.3969"),
        (0.0254 * (3 / 16 + 1e-4), "0.1876", "4.765"),
        (0.0, "0", "0"),
    ],
)
def test_a_size_is_shown_as_a_shop_writes_it(metres: float, us: str, si: str) -> None:
    """Fractions of an inch by hand; 11 ga tube, 0.120 in, is no 64th."""
    assert (bare(metres, "size", Units.US), bare(metres, "size", Units.SI)) == (us, si)


def test_every_key_of_the_json_stands_on_its_page() -> None:
    whole, page = json.loads(as_json(results(), CAUTION, Origin("truck.yaml", "ab" * 32))), DOCS.read_text(encoding="utf-8")
    assert (whole["file"], whole["input_sha256"], whole["schema_version"]) == ("truck.yaml", "ab" * 32, 2)
    keys = [*whole, *whole["verdict"], *whole["checks"][0], *whole["verdict"]["missed"][0], *whole["load_cases"][0]]
    keys += [*whole["member_forces"][0], *whole["clearances"][0], *whole["self_checks"][0], *whole["sections"]["rail tube"]]
    assert [key for key in dict.fromkeys(keys) if key not in page] == []


def test_a_table_without_rows_keeps_its_heading() -> None:
    texts = as_csv(results(), CAUTION)
    assert all(text.splitlines() for text in texts.values())
    assert texts["sizings.csv"] == "check,where,what,value,unit,given,source,input_sha256,program_version,schema_version\n"
    for name, heads in HEADS.items():
        assert texts[f"{name}.csv"].splitlines()[0] == ",".join((*heads, *MADE_FROM))
