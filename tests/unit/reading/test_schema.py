"""The schema for editors and the page for people: both follow from the forms, neither may disagree with the reader."""

from __future__ import annotations

import re
from pathlib import Path
from runpy import run_path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from framecheck.reading.schema import anchor, atlas_of, case_schema, input_reference
from framecheck.reading.yamltext import Items, Node, YamlBlock, parse
from tests.unit.reading.shop import LIBRARY, ROOT, TRUCK, changed

SCHEMA = case_schema(LIBRARY)
VALIDATOR = Draft202012Validator(SCHEMA)
CASES = sorted(file for file in (ROOT / "cases").glob("*.yaml") if not file.stem.endswith("-study"))


def plain(node: Node) -> Any:
    """Return a tree as an editor of YAML 1.2 sees it: `on` and `yes` are words, true is true."""
    if isinstance(node, YamlBlock):
        return {key: plain(entry.value) for key, entry in node.entries.items()}
    if isinstance(node, Items):
        return [plain(item) for item in node.items]
    if node.quoted:
        return node.text
    if node.text in {"true", "false", "", "null", "~"}:
        return {"true": True, "false": False}.get(node.text)
    return number(node.text)


def number(text: str) -> Any:
    for kind in (int, float):
        try:
            return kind(text)
        except ValueError:
            continue
    return text


def test_the_schema_is_one() -> None:
    """JSON Schema draft 2020-12, by its own metaschema (reference library: jsonschema)."""
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.name)
def test_every_case_fits_the_schema(path: Path) -> None:
    VALIDATOR.validate(plain(parse(path.read_text(encoding="utf-8"), path.name)))


@pytest.mark.parametrize(
    "change",
    [
        ("drop: 3 in", "dorp: 3 in"),
        ("title: Small truck\n", ""),
        ("driven: yes", "driven: perhaps"),
        ("ends: butt on one face", "ends: welded"),
        ("  - static", "  - statik"),
        ("vertical bump: {factor: 3}", "vertical bump: {faktor: 3}"),
        ("shape: channel", "shape: chanel"),
        ("height: 4 in, width: 2 in", "height: 4, width: 2 in"),
    ],
)
def test_an_editor_marks_what_the_reader_refuses(change: tuple[str, str]) -> None:
    assert VALIDATOR.is_valid(plain(parse(TRUCK, "truck.yaml")))
    assert not VALIDATOR.is_valid(plain(parse(changed(change), "truck.yaml")))


def test_every_link_of_the_page_leads_somewhere() -> None:
    page = input_reference(LIBRARY)
    headings = {anchor(line.lstrip("# ")) for line in page.splitlines() if line.startswith("#")}
    links = set(re.findall(r"\]\(#([^)]+)\)", page))
    assert len(links) > 50
    assert links <= headings


def test_the_page_in_the_docs_is_up_to_date() -> None:
    """`python docs/write_input.py` writes it again."""
    pictures = run_path(str(ROOT / "docs/write_input.py"))["pictures"]()
    assert (ROOT / "docs/input.md").read_text(encoding="utf-8") == input_reference(LIBRARY, pictures)


def test_every_picture_of_the_page_is_there_under_a_block_that_is() -> None:
    rows = yaml.safe_load((ROOT / "docs/pictures/pictures.yaml").read_text(encoding="utf-8"))
    assert [form for form in rows if form not in atlas_of(LIBRARY).forms] == []
    assert [row["file"] for row in rows.values() if not (ROOT / "docs/pictures" / row["file"]).is_file()] == []
