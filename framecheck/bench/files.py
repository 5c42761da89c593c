"""The files of one folder and below: the only ones that the page reads and writes."""

from __future__ import annotations

from codecs import BOM_UTF8
from collections.abc import Sequence
from hashlib import sha256
from pathlib import Path, PurePosixPath, PureWindowsPath
from stat import S_IWGRP, S_IWOTH, S_IWUSR

from framecheck.cli.drawings import as_text
from framecheck.cli.files import put_in_place
from framecheck.errors import Fault, InputError
from framecheck.value_class import value_class

ENDINGS = (".yaml", ".yml")
LINES = (".dxf", ".csv")
"""Files of lines, which are read and never written."""
LARGEST = 1_000_000
MOST_LISTED = 500
WRITABLE = S_IWUSR | S_IWGRP | S_IWOTH


@value_class
class Loaded:
    """A file as it was read: its name from the folder, its text, the SHA-256 of its bytes."""

    name: str
    text: str
    sha256: str


class ChangedOutsideError(InputError):
    """The file on disk is not the one that was loaded: somebody else has written it since."""


@value_class
class Folder:
    """A folder, links in it followed."""

    path: Path

    def names(self) -> tuple[str, ...]:
        """Return the case files in it and below, hidden folders left out."""
        return self.named(ENDINGS)

    def lines(self) -> tuple[str, ...]:
        """Return the drawings and tables in it and below, hidden folders left out."""
        return self.named(LINES)

    def named(self, endings: Sequence[str]) -> tuple[str, ...]:
        """Return the files with one of some endings."""
        found = (each for each in self.path.rglob("*") if each.suffix.lower() in endings and each.is_file())
        kept = (each.relative_to(self.path) for each in found)
        return tuple(sorted(each.as_posix() for each in kept if not any(part.startswith(".") for part in each.parts)))[:MOST_LISTED]

    def inside(self, name: str, endings: Sequence[str] = ENDINGS) -> Path:
        """Return the file meant; InputError where its name or a link leads out of the folder, or it has none of the endings."""
        if not name.isprintable():
            raise refused(ascii(name), "has letters in its name that can't be shown", "leave out line breaks and the like")
        if PurePosixPath(name.lower()).suffix not in endings:
            raise refused(name, f"is not a {' or '.join(endings[:2])} file", f"give it a name that ends in {endings[0]}")
        if PurePosixPath(name).is_absolute() or PureWindowsPath(name).anchor or "\\" in name:
            raise refused(name, "is not a path inside this folder", "write it from there on, with /")
        try:
            file = (self.path / name).resolve()
        except (OSError, RuntimeError, ValueError):
            raise refused(name, "can't be followed to a file", "check the name") from None
        if not file.is_relative_to(self.path) or file.suffix.lower() not in endings:
            raise refused(name, "leads out of the folder that the page was started in", "start it in another folder")
        return file

    def drawing(self, name: str) -> str:
        """Return the text of a drawing or a table."""
        return as_text(self.data(name, LINES))

    def data(self, name: str, endings: Sequence[str]) -> bytes:
        """Return a file's bytes."""
        file = self.inside(name, endings)
        try:
            if file.exists() and not file.is_file():  # a pipe would keep whoever reads it waiting
                raise refused(name, "is no file", "check the name")
            data = file.read_bytes()
        except OSError as error:
            raise refused(name, f"can't be read ({error.strerror})", "check the name") from None
        if len(data) > LARGEST:
            raise refused(name, f"is larger than {LARGEST // 1000} kB", "a case is a few pages; check the file")
        return data

    def load(self, name: str) -> Loaded:
        """Return a file's text, its lines ended as the page has them."""
        data = self.data(name, ENDINGS)
        try:
            return Loaded(name, data.decode("utf-8-sig").replace("\r\n", "\n"), sha256(data).hexdigest())
        except UnicodeDecodeError:
            raise refused(name, "is no UTF-8 text", "save it as UTF-8") from None

    def save(self, name: str, text: str, seen: str, anyway: bool) -> str:
        """Write a file whole and return the SHA-256 of its bytes; lines end as those of the file that it takes the place of.

        seen: the SHA-256 of the file as it was loaded, "" of one that is new. ChangedOutsideError where it is another now.
        """
        file = self.inside(name)
        try:
            before = file.read_bytes() if file.is_file() else None
        except OSError as error:
            raise refused(name, f"can't be looked at ({error.strerror})", "choose another name or place") from None
        data, now = written_like(text, before or b""), "" if before is None else sha256(before).hexdigest()
        if now != seen and not anyway and before != data:
            gone, other = "was taken away since it was loaded", "was changed outside this page since it was loaded"
            what = "is there already" if not seen else gone if before is None else other
            raise ChangedOutsideError([Fault(name, "", what, "save under another name, load it anew, or save over it")])
        if before is not None and not file.stat().st_mode & WRITABLE:
            raise refused(name, "is marked as not to be written", "save under another name")
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            put_in_place(file, (data,))
        except OSError as error:
            raise refused(name, f"can't be written ({error.strerror})", "choose another name or place") from None
        return sha256(data).hexdigest()


def written_like(text: str, before: bytes) -> bytes:
    """Return a text's bytes, begun and its lines ended as those of the file that was there before."""
    ended = text.replace("\n", "\r\n") if b"\r\n" in before else text
    return (BOM_UTF8 if before.startswith(BOM_UTF8) else b"") + ended.encode("utf-8")


def refused(name: str, fault: str, remedy: str) -> InputError:
    """Return an error about a file."""
    return InputError([Fault(name[:200], "", fault, remedy)])
