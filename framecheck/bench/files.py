"""The files of one folder and below: the only ones that the page reads and writes."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path, PurePosixPath, PureWindowsPath

from framecheck.cli.files import put_in_place
from framecheck.errors import Fault, InputError
from framecheck.value_class import value_class

ENDINGS = (".yaml", ".yml")
LARGEST = 1_000_000
MOST_LISTED = 500


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
        found = (each for ending in ENDINGS for each in self.path.rglob(f"*{ending}"))
        kept = (each.relative_to(self.path) for each in found)
        return tuple(sorted(each.as_posix() for each in kept if not any(part.startswith(".") for part in each.parts)))[:MOST_LISTED]

    def inside(self, name: str) -> Path:
        """Return the file meant; InputError where its name or a link leads out of the folder, or it is no case file."""
        if not name.lower().endswith(ENDINGS) or "\0" in name:
            raise refused(name, "is not a .yaml file", "give it a name that ends in .yaml")
        if PurePosixPath(name).is_absolute() or PureWindowsPath(name).anchor or "\\" in name:
            raise refused(name, "is not a path inside this folder", "write it from there on, with /")
        try:
            file = (self.path / name).resolve()
        except (OSError, RuntimeError, ValueError):
            raise refused(name, "can't be followed to a file", "check the name") from None
        if not file.is_relative_to(self.path):
            raise refused(name, "leads out of the folder that the page was started in", "start it in another folder")
        return file

    def load(self, name: str) -> Loaded:
        """Return a file's text."""
        file = self.inside(name)
        try:
            data = file.read_bytes()
        except OSError as error:
            raise refused(name, f"can't be read ({error.strerror})", "check the name") from None
        if len(data) > LARGEST:
            raise refused(name, f"is larger than {LARGEST // 1000} kB", "a case is a few pages; check the file")
        try:
            return Loaded(name, data.decode("utf-8-sig"), sha256(data).hexdigest())
        except UnicodeDecodeError:
            raise refused(name, "is no UTF-8 text", "save it as UTF-8") from None

    def save(self, name: str, text: str, seen: str, anyway: bool) -> str:
        """Write a file whole and return the SHA-256 of its bytes.

        seen: the SHA-256 of the file as it was loaded, "" of one that is new. ChangedOutsideError where it is another now.
        """
        file, data = self.inside(name), text.encode("utf-8")
        now = sha256(file.read_bytes()).hexdigest() if file.is_file() else ""
        if now != seen and not anyway and now != sha256(data).hexdigest():
            what = "is there already" if not seen else "was changed outside this page since it was loaded"
            raise ChangedOutsideError([Fault(name, "", what, "save under another name, load it anew, or save over it")])
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            put_in_place(file, (data,))
        except OSError as error:
            raise refused(name, f"can't be written ({error.strerror})", "choose another name or place") from None
        return sha256(data).hexdigest()


def refused(name: str, fault: str, remedy: str) -> InputError:
    """Return an error about a file."""
    return InputError([Fault(name[:200], "", fault, remedy)])
