"""Drawings that a case names: read inside its own folder alone."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import TYPE_CHECKING

from framecheck.cli.files import library
from framecheck.cli.places import seen
from framecheck.errors import Fault, InputError
from framecheck.value_class import value_class

if TYPE_CHECKING:
    from framecheck.reading.library import Library


@value_class
class DrawingsBeside:
    """Reads drawings inside the folder of a case file; can be sent to other processes. case: the case file's name."""

    case: str

    def __call__(self, name: str) -> str:
        """Return a drawing's text; InputError where it leads out of the folder, is missing, too large or no DXF."""
        from framecheck.reading.drawing import MOST_CHARACTERS  # few cases draw a section

        file = self._inside(name)
        if not file.is_file():
            raise refused(name, "there is no such file in the case's folder", "check the name")
        if file.stat().st_size > MOST_CHARACTERS:
            raise refused(name, f"is larger than {MOST_CHARACTERS // 1_000_000} MB", "save the section's outline alone")
        try:
            data = file.read_bytes()
            seen(file, data)
            return as_text(data)
        except OSError as error:
            raise refused(name, f"can't be read ({error.strerror})", "check its permissions") from None

    def _inside(self, name: str) -> Path:
        """Return the file meant, links followed; refused where any of it leads out of the case's folder."""
        if PurePosixPath(name).is_absolute() or PureWindowsPath(name).anchor or "\\" in name:
            raise refused(name, "is not a path inside the case's folder", "write it from there on, with /")
        if not name.lower().endswith(".dxf"):
            raise refused(name, "is not a .dxf file", "save the outline as a text (ASCII) DXF")
        folder = Path(self.case).parent.resolve()
        try:
            file = (folder / name).resolve()
        except (OSError, RuntimeError, ValueError):  # links in a ring, or a name that can't be one
            raise refused(name, "can't be followed to a file", "check the name and its links") from None
        if not file.is_relative_to(folder):
            raise refused(name, "leads outside the case's folder", "put the drawing beside the case file")
        return file


def as_text(data: bytes) -> str:
    """Return a drawing's text: UTF-8, else the code page that older drawings are written in."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def refused(name: str, fault: str, remedy: str) -> InputError:
    """Return an error about a drawing."""
    return InputError([Fault(name, "drawing", fault, remedy)])


def library_beside(case: str) -> Library:
    """Return the shop's tables, with drawings found beside a case file."""
    return replace(library(), drawing=DrawingsBeside(case))
