"""What stands on the margin of every printed page: CSS paged media (W3C, CSS Paged Media Module Level 3, 4: page-margin boxes)."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePath

from framecheck.output.display import Units
from framecheck.versions import MADE_BY, Origin

SHOWN_IN = {Units.SI: "SI units", Units.US: "US units"}
MOST_FILES, FEW = 3, 8
"""So many files have room in the foot, and of several the checksum in so many letters."""
LONGEST = 90
"""Letters of a title that have room beside the page's number."""


def page_rules(title: str, origins: Sequence[Origin], units: Units) -> str:
    """Return the rules that write title, files, checksums, version, units and page number on every printed page.

    Of several files the checksum's first letters stand, as many as the first screen shows.
    """
    short = title if len(title) <= LONGEST else f"{title[: LONGEST - 3]}..."
    known, most = [each for each in origins if each.file], None if len(origins) == 1 else FEW
    file = "; ".join(f"{PurePath(each.file).name}  SHA-256 {each.sha256[:most]}" for each in known[:MOST_FILES])
    made = ", ".join((MADE_BY, SHOWN_IN[units]))
    return (
        "@page { @top-left { content: " + css_text(short) + "; } "
        '@top-right { content: "page " counter(page) " of " counter(pages); } '
        "@bottom-left { content: " + css_text(file) + "; } "
        "@bottom-right { content: " + css_text(made) + "; } }\n"
    )


def css_text(text: str) -> str:
    """Return a text as a CSS string in which nothing but letters, digits and spaces stands unescaped.

    The one blank behind an escape is its end and no blank (W3C, CSS Syntax Module Level 3, 4.3.7).
    """
    plain = (each if each.isascii() and (each.isalnum() or each == " ") else f"\\{ord(each):06x} " for each in text)
    return f'"{"".join(plain)}"'
