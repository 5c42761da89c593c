"""Every number of sections/, shared/ and the constants of the checks is typed twice: in its place, and in tables/*.csv."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from tests.verification import constants, second_copy
from tests.verification.second_copy import ROOT, TABLES, Key, Seen

FILES = [*sorted((ROOT / "shared").glob("*.yaml")), *sorted((ROOT / "sections").glob("*.yaml"))]


def stem_of(path: Path) -> str:
    """Return what the second copy calls a file: all of sections/ is one."""
    return "sections" if path.parent.name == "sections" else path.stem


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_every_number_of_a_table_is_that_of_its_second_copy(path: Path) -> None:
    """tables/*.csv names the source, edition and place of each value, and whether anybody opened it."""
    assert second_copy.differences(stem_of(path), yaml.safe_load(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize("path", constants.FILES, ids=constants.module_of)
def test_every_constant_of_a_check_is_that_of_its_second_copy(path: Path) -> None:
    """tables/constants.csv: partial factors, shear factors, friction, shares of strength, by clause."""
    assert constants.differing(constants.module_of(path), path.read_text(encoding="utf-8")) == []


def test_the_second_copy_has_no_row_of_its_own() -> None:
    met: set[Key] = set()
    for path in FILES:
        tables = yaml.safe_load(path.read_text(encoding="utf-8"))
        met |= {key for key, _ in second_copy.first_copy(stem_of(path), tables)}
    assert set(second_copy.second_copy()) == met
    assert {of for of, _ in constants.second_constants()} <= {constants.module_of(path) for path in constants.FILES}


def test_a_row_says_where_its_value_stands() -> None:
    rows = [*second_copy.second_copy().values(), *(held for _, held in constants.second_constants().values())]
    for row in rows:
        assert row.who
        assert row.source or row.seen in (Seen.MEMORY, Seen.PRACTICE)
    assert sum(row.seen is Seen.OPENED for row in rows) >= 250


GOVERNING = {
    "materials": ("yield strength", "ultimate strength"), "grades": ("proof", "yield", "tensile", "shear factor"),
    "surfaces": ("friction",), "edges": ("least",), "electrodes": ("strength", "shear share"), "least legs": ("leg",),
    "fatigue classes": ("class",), "finishes": ("a", "b"), "web crippling": ("c",),
}  # fmt: skip
"""The numbers of a row that a strength rests on."""


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_a_row_that_nobody_could_open_says_so_to_the_program(path: Path) -> None:
    """`seen: from memory` of a row, which the program shows where the row governs, is what its second copy says."""
    held = second_copy.second_copy()
    for table, rows in yaml.safe_load(path.read_text(encoding="utf-8")).items():
        for row in second_copy.named(rows) if table in GOVERNING else ():
            keys = [(f"{path.stem} {table}: {second_copy.titled(table, row, str(row.get('name')))}", key) for key in GOVERNING[table]]
            known = [held[key].seen for key in keys if key in held]
            if known:
                assert (row.get("seen") == "from memory") == (Seen.MEMORY in known), row


UNSAFE = {
    "A500 grade B yields at 56 ksi": ("shared/materials.yaml", "    yield strength: 46 ksi", "    yield strength: 56 ksi"),
    "1010 sheet yields at 280 MPa": ("shared/materials.yaml", "    yield strength: 180 MPa", "    yield strength: 280 MPa"),
    "a weld class of 112": ("shared/fatigue_classes.yaml", '"EN stitch weld", standard: EN 1993-1-9, class: 80 MPa',
                            '"EN stitch weld", standard: EN 1993-1-9, class: 112 MPa'),
    "bolts bear 2.4 on a tube wall": ("checks/bolt_strength.py", "1.8 * yield_strength", "2.4 * yield_strength"),
    "bolts hold 1.2 in tension": ("checks/bolt_strength.py", "0.9 * tensile", "1.2 * tensile"),
    "mill scale rubs by 0.50": ("shared/bolts.yaml", "rule: AISC, friction: 0.30", "rule: AISC, friction: 0.50"),
    "10.9 shears at 0.6": ("shared/bolts.yaml", "tensile: 1000 MPa, shear factor: 0.5", "tensile: 1000 MPa, shear factor: 0.6"),
    "10.9 is proved at 930 MPa": ("shared/bolts.yaml", "proof: 830 MPa", "proof: 930 MPa"),
}  # fmt: skip
"""Edits that once passed every test: file, the text, what it becomes."""


@pytest.mark.parametrize("name", UNSAFE)
def test_an_unsafe_edit_is_found(name: str) -> None:
    """Each of the eight, alone, in a copy of the text: the two tests above then fail."""
    file, text, wrong = UNSAFE[name]
    path = (constants.PACKAGE if file.endswith(".py") else ROOT) / file
    edited = path.read_text(encoding="utf-8").replace(text, wrong, 1)
    assert wrong in edited
    if path.suffix == ".py":
        assert constants.differing(constants.module_of(path), edited)
    else:
        assert second_copy.differences(stem_of(path), yaml.safe_load(edited))


def test_the_tables_are_read_as_text_and_whole() -> None:
    heads = {path.read_text(encoding="utf-8").splitlines()[0] for path in TABLES.glob("*.csv")}
    assert heads == {"row,key,value,unit,source,edition,place,who,seen,note"}
