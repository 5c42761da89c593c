"""What the commands share: a case file read and built, sections by name, the store of sections on disk, the width of the screen.

Entries are written beside their place and put there in one step, so that many writers never leave half of one. Each holds its key and
a SHA-256 over key and content: what is damaged, foreign, under another's name or unreadable counts as not there, and a store that
can't be written is silently no store. Entries of other versions stand in folders of their own and are left alone.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Mapping
from contextlib import suppress
from difflib import get_close_matches
from hashlib import blake2b, sha256
from importlib.util import find_spec
from os.path import isfile
from pathlib import Path
from typing import TYPE_CHECKING

import click

from framecheck.cli.console import telling
from framecheck.cli.drawings import library_beside
from framecheck.cli.files import library, read_text
from framecheck.cli.main import CAUTION
from framecheck.cli.measured_case import with_fit
from framecheck.cli.places import origins
from framecheck.errors import Fault, InputError
from framecheck.model.case import Case
from framecheck.model.frame import Section
from framecheck.output.display import wrapped
from framecheck.section.store import SectionStore
from framecheck.value_class import value_class
from framecheck.versions import Origin, stamp

if TYPE_CHECKING:
    from framecheck.output.charts.on_axes import Picture


VARIABLE = "FRAMECHECK_STORE"
"""Environment variable that names another folder; empty: keep nothing."""
LIBRARIES = ("numpy", "pythoncdt", "scipy", "shapely")
"""What the numbers hang on: another version of any of them starts a store of its own."""
ROOMS = ("section", "frame", "model")
"""The program's own code that the numbers hang on: another file of it, by size and time, starts a store of its own."""
LARGEST_ENTRY = 20_000_000
HOME = Path(__file__).parent.parent
"""Where the program's own code stands, installed or not."""
SEAL = b"framecheck store 2"
"""How an entry begins. Another form of entries begins otherwise, and stands in another folder."""


def sealed(key: str, content: bytes) -> bytes:
    """Return an entry: its form, its key, the SHA-256 of key and content, the content."""
    return b"\n".join((SEAL, key.encode(), checksum(key, content), content))


def unsealed(key: str, entry: bytes) -> bytes | None:
    """Return the content of an entry, None where it is damaged, foreign or of another key."""
    parts = entry.split(b"\n", 3)
    if len(parts) < 4 or parts[:2] != [SEAL, key.encode()] or parts[2] != checksum(key, parts[3]):
        return None
    return parts[3]


def checksum(key: str, content: bytes) -> bytes:
    """Return the SHA-256 of a key and its content, in hexadecimal digits."""
    return sha256(key.encode() + b"\n" + content).hexdigest().encode()


@value_class
class DiskStore:
    """One file an entry in `folder`, made at the first entry."""

    folder: Path

    def get(self, key: str) -> bytes | None:
        """Return what was kept under a key, None where there is nothing sound."""
        place = self.folder / key
        with suppress(OSError):
            if isfile(place):  # from a pipe that somebody put there nothing would ever come
                with place.open("rb") as file:
                    return unsealed(key, file.read(LARGEST_ENTRY))
        return None

    def names(self) -> tuple[str, ...]:
        """Return the names of all entries."""
        try:
            return tuple(sorted(each.name for each in self.folder.iterdir() if each.is_file() and not each.name.startswith(".")))
        except OSError:
            return ()

    def put(self, key: str, content: bytes) -> None:
        """Keep an entry, whole or not at all."""
        with suppress(OSError):
            self.folder.mkdir(parents=True, exist_ok=True)
            self._write(self.folder / key, sealed(key, content))

    def _write(self, target: Path, content: bytes) -> None:
        """Write beside the target and put it in place in one step."""
        import tempfile  # a run that finds everything in the store never needs it

        handle, name = tempfile.mkstemp(dir=self.folder, prefix=".", suffix=".part")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            os.replace(name, target)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise


@value_class
class NoStore:
    """Keeps nothing."""

    def get(self, key: str) -> bytes | None:
        """Return nothing."""
        del key
        return None

    def put(self, key: str, content: bytes) -> None:
        """Do nothing."""
        del key, content


def disk_store() -> DiskStore | NoStore:
    """Return the store of this user, these library versions and this code."""
    folder = os.environ.get(VARIABLE)
    if folder == "":
        return NoStore()
    return DiskStore((Path(folder) if folder else _cache_folder()) / f"kept-2-{_versions()}")


def _cache_folder() -> Path:
    """Return this user's cache folder for framecheck."""
    from platformdirs import user_cache_path

    return user_cache_path("framecheck", appauthor=False)


def _versions() -> str:
    """Return a short name for the installed versions, read off folder names: importlib.metadata takes longer than a stored section."""
    return blake2b("\n".join((*map(_version, LIBRARIES), *own_code(HOME))).encode(), digest_size=6).hexdigest()


def own_code(home: Path) -> Iterator[str]:
    """Yield name, size and time of every file that numbers are made by: a formula that was changed is noticed without reading it."""
    for room in ROOMS:
        for folder, below, names in os.walk(home / room):
            below[:] = sorted(each for each in below if each != "__pycache__")
            for name in sorted(names):
                found = os.stat(os.path.join(folder, name))
                yield f"{room} {os.path.relpath(folder, home)} {name} {found.st_size} {found.st_mtime_ns}"


def _version(library: str) -> str:
    """Return the name of a library's dist-info folder, which holds its version, without loading the library."""
    spec = find_spec(library)
    if spec is None or spec.origin is None:
        return f"{library} missing"
    with suppress(OSError):
        beside = sorted(name for name in os.listdir(Path(spec.origin).parent.parent) if _is_info(name, library))
        return " ".join(beside) or library
    return library


def _is_info(name: str, library: str) -> bool:
    """Return whether a folder name is a library's dist-info."""
    return name.startswith(f"{library}-") and name.endswith(".dist-info")


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

    return with_fit(case, path, section_store())


def read_with_origin(path: str) -> tuple[Case, Origin]:
    """Return the case in a file, and where its answer comes from: name, checksum, version."""
    case = read(path)
    return case, next(each for each in origins() if Path(each.file) == Path(path))


def picture(kind: str) -> Picture:
    """Return how a picture of what was read is written."""
    from framecheck.output.charts.on_axes import Picture

    return Picture(kind, stamp(origins()))


def tell(text: str) -> None:
    """Print an answer, and below it by which version and from which files it was made."""
    click.echo(f"{text}\n\n{wrapped(stamp(origins()), screen_width())}")


def section_store() -> SectionStore:
    """Return where section properties are kept from run to run."""
    return telling(disk_store())


def screen_width() -> int:
    """Return the width to write to: that of the terminal or of COLUMNS between 40 and 120, 80 where output is piped without it."""
    if not sys.stdout.isatty() and not os.environ.get("COLUMNS", "").isdecimal():
        return USUAL
    import shutil  # slow to load, and piped output does not ask

    return min(max(shutil.get_terminal_size().columns, NARROWEST), WIDE)


ENDINGS = (".yaml", ".yml")


def is_file(words: str) -> bool:
    """Return whether a person means a file."""
    return words.lower().endswith(ENDINGS) or isfile(words)


def sections_named(words: str) -> tuple[Section, ...]:
    """Return the sections meant: one, or all of a file."""
    from framecheck.reading.section_file import section_named, sections_in

    if is_file(words):
        return tuple(sections_in(read_text(words), words, library_beside(words)).values())
    file, colon, name = words.rpartition(":")
    if colon and is_file(file):
        return (one_of(sections_in(read_text(file), file, library_beside(file)), file, name.strip()),)
    return (section_named(words, library()),)


def one_of(found: Mapping[str, Section], file: str, name: str) -> Section:
    """Return a section of a file by name."""
    if name in found:
        return found[name]
    near = get_close_matches(name, found, n=1)
    remedy = f"did you mean '{near[0]}'?" if near else f"it has: {', '.join(found)}"
    raise InputError([Fault(file, name, "there is no section of this name", remedy)])
