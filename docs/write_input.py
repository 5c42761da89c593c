"""Write docs/input.md and docs/study.md from the forms that read those files. Run: python docs/write_input.py"""

from __future__ import annotations

import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))

from framecheck.cli.files import library  # noqa: E402
from framecheck.reading.schema import input_reference, study_reference  # noqa: E402

(HERE / "input.md").write_text(input_reference(library()), encoding="utf-8")
(HERE / "study.md").write_text(study_reference(), encoding="utf-8")
