"""Sphinx settings. The input page and the verification manual are written by the program and its tests, which hold them to it."""

from __future__ import annotations

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
