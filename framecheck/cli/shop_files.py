"""Where the shop's own tables are: beside the package in a checkout, inside it in an installed wheel."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from framecheck.reading.library import Library

PACKAGE = Path(__file__).resolve().parents[1]
TABLES = ("sections", "shared")


def data_folder(name: str) -> Path:
    """Return the folder "sections", "shared" or "cases": the wheel's own copy, else the checkout's."""
    inside = PACKAGE / "data" / name
    return inside if inside.is_dir() else PACKAGE.parent / name


def library() -> Library:
    """Return the shop's tables as texts by file name; none of them is read in detail yet."""
    from framecheck.reading.library import load_library

    files = (file for name in TABLES for file in sorted(data_folder(name).glob("*.yaml")))
    return load_library({f"{file.parent.name}/{file.name}": file.read_text(encoding="utf-8") for file in files})
