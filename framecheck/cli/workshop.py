"""What the commands share: a case file read and built, the store of sections, the width of the screen."""

from __future__ import annotations

import sys

from framecheck.cli.drawings import library_beside
from framecheck.cli.files import read_text
from framecheck.cli.main import CAUTION
from framecheck.cli.progress import telling
from framecheck.cli.store import disk_store
from framecheck.model.case import Case
from framecheck.output.origin import Origin
from framecheck.section.store import SectionStore

NARROWEST, USUAL, WIDE = 40, 80, 120


def caution() -> str:
    """Return the caution that stands beside every result."""
    return CAUTION


def read(path: str) -> Case:
    """Return the case in a file, built with the shop's libraries."""
    from framecheck.reading.case_file import read_case

    return read_case(read_text(path), path, library_beside(path))


def read_with_origin(path: str) -> tuple[Case, Origin]:
    """Return the case in a file, and where its answer comes from: name, checksum, version."""
    from hashlib import sha256

    from framecheck.reading.case_file import read_case

    text = read_text(path)
    case = read_case(text, path, library_beside(path))
    return case, Origin(path, sha256(text.encode("utf-8")).hexdigest())


def section_store() -> SectionStore:
    """Return where section properties are kept from run to run."""
    return telling(disk_store())


def screen_width() -> int:
    """Return the width to write to: that of the terminal between 40 and 120 columns, 80 where output is piped."""
    if not sys.stdout.isatty():
        return USUAL
    import shutil  # slow to load, and piped output does not ask

    return min(max(shutil.get_terminal_size().columns, NARROWEST), WIDE)
