"""What every printed page says: a title from a file can't end the rule it stands in (CSS Syntax Module Level 3, 4.3.7: escapes)."""

from __future__ import annotations

import re

from framecheck.output.display import Units
from framecheck.output.html_report.paged import css_text, page_rules
from framecheck.versions import Origin

ODD = 'a "b" \\ c; } </style><script> \u8f66\n'


def test_a_text_survives_as_a_css_string() -> None:
    text = css_text(ODD)
    assert re.fullmatch(r'"(?:[A-Za-z0-9 ]|\\[0-9a-f]{6} )*"', text)
    assert re.sub(r"\\([0-9a-f]{6}) ", lambda found: chr(int(found.group(1), 16)), text[1:-1]) == ODD


def test_every_page_says_title_file_checksum_version_units_and_its_number() -> None:
    rules = page_rules("Truck", [Origin("/some/where/truck.yaml", "ab12", "9")], Units.US)
    for each in ('"Truck"', "counter(page)", "counter(pages)", "SHA\\00002d 256 ab12", "US units", css_text("truck.yaml").strip('"')):
        assert each in rules
    assert "where" not in rules


def test_the_foot_of_two_files_names_both_with_the_first_of_their_checksums() -> None:
    """A person holds a sheet beside the screen: the same eight digits stand there (first_screen)."""
    two = [Origin(f"/some/where/{name}.yaml", digit * 64, "9") for name, digit in (("before", "a"), ("after", "b"))]
    rules = page_rules("2 frames compared", two, Units.SI)
    assert css_text(f"before.yaml  SHA-256 {8 * 'a'}; after.yaml  SHA-256 {8 * 'b'}") in rules
    assert "counter(pages)" in rules
