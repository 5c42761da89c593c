"""Write docs/input.md and docs/study.md from the forms that read those files. Run: python docs/write_input.py"""

from __future__ import annotations

import sys
from pathlib import Path

import yaml

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))

from framecheck.cli.files import library  # noqa: E402
from framecheck.reading.schema import input_reference, study_reference  # noqa: E402


def pictures() -> dict[str, str]:
    """Return the lines that show a picture, by the name of the form that they stand under."""
    rows = yaml.safe_load((HERE / "pictures" / "pictures.yaml").read_text(encoding="utf-8"))
    return {form: f"![{row['shows']}](pictures/{row['file']})" for form, row in rows.items()}


def main() -> None:
    """Write both pages."""
    (HERE / "input.md").write_text(input_reference(library(), pictures()), encoding="utf-8")
    (HERE / "study.md").write_text(study_reference(), encoding="utf-8")


if __name__ == "__main__":
    main()
