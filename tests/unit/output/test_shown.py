"""Text, JSON, CSV and the report page say the same thing, safely."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser

import pytest

from framecheck.output.csv_text import as_csv, safe
from framecheck.output.display import TextColumn, Units, factor, number, table
from framecheck.output.html_report.page import as_html, page_script, script_hash
from framecheck.output.json_text import as_json
from framecheck.output.terminal import as_text
from tests.unit.output.samples import results

CAUTION = "This informs; it does not approve. Others decide."


def test_text_says_what_governs_first_and_fits_80_columns() -> None:
    text = as_text(results(), CAUTION)
    assert max(map(len, text.splitlines())) <= 80
    order = ("This informs", "NOT MET: 1 of 3 judged", "The worst is left rail", "Load cases")
    places = [text.index(words) for words in order]
    assert places == sorted(places)
    assert "LOW" in text
    assert "crash: not asked" in text
    assert "bump: a wheel lifts" in text


def test_a_safety_factor_never_looks_better_than_it_is() -> None:
    assert factor(1.2499) == "1.24"
    assert factor(1.5) == "1.50"
    assert factor(999.0) == ">99"
    assert [factor(each) for each in (0.00097, 0.01, 0.0)] == ["<0.01", "0.01", "0.00"]


@pytest.mark.parametrize(("value", "said"), [(0.0, "0"), (1234.2, "1234"), (0.0123, "0.01230"), (-2.5, "-2.500")])
def test_numbers_keep_four_digits(value: float, said: str) -> None:
    assert number(value) == said


def test_us_units_change_what_is_shown_only() -> None:
    assert "0.250" in as_text(results(), CAUTION, Units.US)
    assert "6.35" in as_text(results(), CAUTION, Units.SI)
    assert as_json(results(), CAUTION) == as_json(results(), CAUTION)


def test_json_has_the_contract_and_nothing_infinite() -> None:
    def refuse(text: str) -> None:
        raise AssertionError(text)

    whole = json.loads(as_json(results(), CAUTION), parse_constant=refuse)
    assert whole["schema_version"] == 2
    assert whole["caution"] == CAUTION
    assert whole["governing"]["subject"] == {"thing": "member", "name": "left rail", "part": ""}
    assert whole["verdict"]["state"] == "not met"
    assert [row["where"] for row in whole["verdict"]["missed"]] == ["left rail"]
    assert whole["governing"]["load_case"] == "bump"
    assert whole["sections"]["rail tube"]["shear_area_vertical_m2"] is None
    assert [case["name"] for case in whole["load_cases"]] == ["static", "bump"]
    assert whole["member_forces"][3]["bending_vertical_nm"] == 4000.0
    assert whole["checks"][0]["grade"] == "LOW"


def test_csv_cells_are_never_formulas() -> None:
    assert safe("=SUM(A1)") == "'=SUM(A1)"
    assert safe(-1.5) == -1.5
    assert "'=SUM(A1)" in as_csv(results(), CAUTION)["checks.csv"]
    header = as_csv(results(), CAUTION)["movements.csv"].splitlines()[0]
    assert header.startswith("bound,load_case,point,displacement_x_m")


class Tags(HTMLParser):
    """Collects start tags and their attributes."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


def test_report_is_one_safe_file() -> None:
    page = as_html(results("<script>alert('title')</script>"), CAUTION)
    tags = Tags(page).found
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert(&#39;title&#39;)&lt;/script&gt;" in page
    assert [attributes.get("type") for tag, attributes in tags if tag == "script"] == ["application/json", None]
    assert not [name for _, attributes in tags for name in attributes if name.startswith("on")]
    policy = next(a["content"] for t, a in tags if a.get("http-equiv") == "Content-Security-Policy")
    assert policy is not None
    assert script_hash(page_script(True)) in policy
    assert not re.findall(r"(?:src|href)=\"(?!#|data:)", page)


def test_report_is_the_same_twice() -> None:
    assert as_html(results(), CAUTION) == as_html(results(), CAUTION)


def test_report_ids_are_unique_and_tables_have_captions() -> None:
    tags = Tags(as_html(results(), CAUTION)).found
    ids = [attributes["id"] for _, attributes in tags if "id" in attributes]
    assert len(ids) == len(set(ids))
    assert sum(tag == "table" for tag, _ in tags) == sum(tag == "caption" for tag, _ in tags)
    assert all("scope" in attributes for tag, attributes in tags if tag == "th")


def test_a_wide_table_wraps_words() -> None:
    text = table([TextColumn("word"), TextColumn("n", is_number=True)], [("many words that go on " * 6, "1")], 40)
    assert max(map(len, text.splitlines())) <= 40
