"""Write docs/input.md from the forms that read a case file. Run: python docs/write_input.py"""

from __future__ import annotations

import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))

from framecheck.cli.shop_files import library  # noqa: E402
from framecheck.reading.schema import input_reference  # noqa: E402

(HERE / "input.md").write_text(input_reference(library()), encoding="utf-8")
