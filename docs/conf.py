"""Sphinx settings. Pages that can be generated are generated here, so that they never disagree with the program."""

from __future__ import annotations

import sys
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent))

project = "framecheck"
author = "the framecheck contributors"
copyright = "the framecheck contributors, MIT licence"
extensions = ["myst_parser"]
myst_enable_extensions = ["dollarmath", "deflist"]
myst_heading_anchors = 3
html_theme = "furo"
html_title = "framecheck"
exclude_patterns = ["_build"]
