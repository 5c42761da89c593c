"""Sphinx settings. Pages that can be generated are generated here, so that they never disagree with the program."""

from __future__ import annotations

import sys
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parent
sys.path.insert(0, str(ROOT))

project = "framecheck"
author = "the framecheck contributors"
copyright = "the framecheck contributors, MIT licence"
extensions = ["myst_parser"]
myst_enable_extensions = ["dollarmath", "deflist"]
myst_heading_anchors = 3
html_theme = "furo"
html_title = "framecheck"
html_show_sphinx = False
exclude_patterns = ["_build"]
nitpicky = True


def write_input_reference() -> None:
    """Write input.md from the forms that read a case file."""
    from framecheck.cli.shop_files import library
    from framecheck.reading.schema import input_reference

    page, text = HERE / "input.md", input_reference(library())
    if not page.exists() or page.read_text(encoding="utf-8") != text:
        page.write_text(text, encoding="utf-8")


write_input_reference()
