"""What stands on the margin of every printed page: CSS paged media (W3C, CSS Paged Media Module Level 3, 4: page-margin boxes)."""

from __future__ import annotations

from pathlib import PurePath

from framecheck.output.display import Units
from framecheck.versions import MADE_BY, Origin

SHOWN_IN = {Units.SI: "SI units", Units.US: "US units"}
LONGEST = 90
"""Letters of a title that have room beside the page's number."""


def page_rules(title: str, origin: Origin, units: Units) -> str:
    """Return the rules that write title, file, checksum, version, units and page number on every printed page."""
    short = title if len(title) <= LONGEST else f"{title[: LONGEST - 3]}..."
    file = f"{PurePath(origin.file).name}  SHA-256 {origin.sha256}" if origin.file else ""
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
