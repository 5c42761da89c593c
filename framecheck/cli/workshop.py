"""What the commands share: a case file read and built, the store of sections, the width of the screen."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from framecheck.cli.drawings import library_beside
from framecheck.cli.files import origins, read_text
from framecheck.cli.main import CAUTION
from framecheck.cli.progress import telling
from framecheck.cli.store import disk_store
from framecheck.model.case import Case
from framecheck.output.origin import Origin, stamp
from framecheck.section.store import SectionStore

if TYPE_CHECKING:
    from framecheck.output.plots.style import Picture

NARROWEST, USUAL, WIDE = 40, 80, 120


def caution() -> str:
    """Return the caution that stands beside every result."""
    return CAUTION


def read(path: str) -> Case:
    """Return the case in a file, built with the shop's libraries."""
    from framecheck.reading.case_file import read_case

    case = read_case(read_text(path), path, library_beside(path))
    if not case.measured_by:
        return case
    from framecheck.cli.measured_case import with_fit

    return with_fit(case, path, section_store())


def read_with_origin(path: str) -> tuple[Case, Origin]:
    """Return the case in a file, and where its answer comes from: name, checksum, version."""
    case = read(path)
    return case, next(each for each in origins() if Path(each.file) == Path(path))


def picture(kind: str) -> Picture:
    """Return how a picture of what was read is written."""
    from framecheck.output.plots.style import Picture

    return Picture(kind, stamp(origins()))


def tell(text: str) -> None:
    """Print an answer, and below it by which version and from which files it was made."""
    from framecheck.output.text_table import wrapped

    click.echo(f"{text}\n\n{wrapped(stamp(origins()), screen_width())}")


def section_store() -> SectionStore:
    """Return where section properties are kept from run to run."""
    return telling(disk_store())


def screen_width() -> int:
    """Return the width to write to: that of the terminal between 40 and 120 columns, 80 where output is piped."""
    if not sys.stdout.isatty():
        return USUAL
    import shutil  # slow to load, and piped output does not ask

    return min(max(shutil.get_terminal_size().columns, NARROWEST), WIDE)
