"""Files read and written, bounded, whole or not at all: the user's, and the shop's own tables."""

from __future__ import annotations

import os
import re
import stat
import sys
from collections.abc import Iterable, Iterator, Mapping
from errno import EACCES
from pathlib import Path
from typing import TYPE_CHECKING

from framecheck.cli.options import is_forced
from framecheck.errors import Fault, InputError
from framecheck.versions import Origin

if TYPE_CHECKING:
    from framecheck.reading.library import Library


LARGEST_FILE = 1_000_000
OURS = re.compile(rb'(?:made_by": "|generator" content="|<dc:title>|Software\x00|Creator \()framecheck \d')
"""How a file begins, or of a PDF ends, that this program wrote."""
LOOKED_AT = 65_536
FORCE = "give another name, or --force to write over it"
TWICE = "is what another answer of this command is written to"
_read: dict[tuple[int, int], Origin] = {}
"""Every file that this command has read, by device and number: the same through whichever name or link."""
_wrote: set[Path] = set()
"""Every file that this command has written."""


def begin() -> None:
    """Forget the files of the command before: a process may run several."""
    _read.clear()
    _wrote.clear()


def seen(file: Path, data: bytes) -> None:
    """Keep in mind that a file is an input, and the checksum of its bytes."""
    from hashlib import sha256

    at = file.stat()
    _read[at.st_dev, at.st_ino] = Origin(str(file), sha256(data).hexdigest())


def origins() -> tuple[Origin, ...]:
    """Return the files that this command has read so far, in their order."""
    return tuple(_read.values())


def _refuse(path: str, fault: str, remedy: str) -> InputError:
    return InputError([Fault(path, "", fault, remedy)])


def read_text(path: str) -> str:
    """Return the text of a regular UTF-8 file of at most LARGEST_FILE bytes."""
    file = Path(path)
    try:
        if not file.exists():
            raise _refuse(path, "there is no such file", "check the name and the folder")
        if not file.is_file():
            raise _refuse(path, "is not a regular file", "give a case file (YAML text)")
        if file.stat().st_size > LARGEST_FILE:
            raise _refuse(path, f"is larger than {LARGEST_FILE // 1000} kB", "a case is a few pages; check the name")
        with file.open("rb") as content:
            data = content.read(LARGEST_FILE + 1)  # of what a system makes up while it is read, the size is not known before
        seen(file, data)
        return data.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    except UnicodeDecodeError:
        raise _refuse(path, "is not UTF-8 text", "save it as UTF-8") from None
    except (OSError, ValueError) as error:  # ValueError: a name with a null character
        why = error.strerror if isinstance(error, OSError) else "its name can't be one"
        raise _refuse(path[:200], f"can't be read ({why})", "check its name and permissions") from None


def is_ours_folder(folder: Path) -> bool:
    """Return whether a folder holds tables that this program wrote: the verdict's stands among them."""
    try:
        with (folder / "verdict.csv").open("rb") as file:
            heading = file.readline(LOOKED_AT)
            return heading.startswith(b"state,judged,") and b"program_version" in heading
    except OSError:
        return False


def write_whole(path: str, content: str | bytes | Iterable[str], heading: bytes = b"") -> None:
    """Write a file so that it is there whole or, after any fault, as it was before. "-" is standard output.

    content: the whole of it, or pieces that are made while it is written. heading: with which a table begins that may take the
    place of one of the same kind.
    """
    data = encoded(content)
    if path == "-":
        for piece in data:
            sys.stdout.buffer.write(piece)
        sys.stdout.flush()
        return
    target = writable(path, heading)
    try:
        if target.exists() and not target.is_file():
            with target.open("wb") as file:  # a device or a pipe takes what it is given; nothing may be put in its place
                file.writelines(data)
        else:
            put_in_place(target, data)
            _wrote.add(target)
    except OSError as error:
        raise _unwritable(path, error) from None


def encoded(content: str | bytes | Iterable[str]) -> Iterator[bytes]:
    """Yield the bytes of a text, or of its pieces as they are made."""
    if isinstance(content, bytes):
        yield content
        return
    yield from (piece.encode("utf-8") for piece in ((content,) if isinstance(content, str) else content))


def may_write(*paths: str | None, heading: bytes = b"") -> None:
    """Refuse, before any work is done, a file that could not or should not be written when it is done; None, "-": nothing to ask."""
    asked: set[Path | str] = set()
    for path in paths:
        if path is None:
            continue
        target = path if path == "-" else writable(path, heading)
        if target in asked:
            raise _refuse(path[:200], TWICE, "give each a name of its own")
        asked.add(target)
        if isinstance(target, Path):
            _refuse_place(path, target)


def _refuse_place(path: str, target: Path) -> None:
    """Refuse a file whose folder is not there or takes none, and a folder in place of a file."""
    try:
        if not target.parent.is_dir():
            raise _refuse(path[:200], "can't be written (No such file or directory)", "choose a folder that is there")
        if not os.access(target.parent, os.W_OK) or target.is_dir():
            raise _refuse(path[:200], "can't be written", "choose a folder that can be written")
    except OSError as error:
        raise _unwritable(path, error) from None


def may_write_folder(path: str | None, beside: str | None) -> None:
    """Refuse, before any work is done, a folder that can't be made or written into. beside: a file that is written besides."""
    if path is None:
        return
    if path in ("", "-"):
        raise _refuse(path, "the tables are several files, which need a folder", "name one")
    folder = resolved(path)
    if beside is not None and folder == resolved(beside):
        raise _refuse(path[:200], TWICE, "give each a name of its own")
    try:
        there = next(each for each in (folder, *folder.parents) if each.exists())
        if not there.is_dir():
            raise _refuse(path[:200], f"can't be made a folder ('{there.name}' is a file)", "choose another name or place")
        if not os.access(there, os.W_OK):
            raise OSError(EACCES, os.strerror(EACCES))
    except OSError as error:
        raise _unwritable(path, error) from None


def resolved(path: str) -> Path:
    """Return the file or folder behind a name and its links: behind a link, for the link stays."""
    try:
        found = Path(path).resolve()
        if found.is_symlink():
            raise RuntimeError(path)  # links in a ring, as Python before 3.13 tells it
    except (OSError, ValueError, RuntimeError) as error:
        raise _unwritable(path, error) from None
    return found


def _unwritable(path: str, error: Exception) -> InputError:
    """Return the refusal of what can't be written to. A name with a null character raises ValueError, links in a ring RuntimeError."""
    if isinstance(error, OSError):
        why = error.strerror
    else:
        why = "its name can't be one" if isinstance(error, ValueError) else "its links run in a ring"
    return _refuse(path[:200], f"can't be written ({why})", "choose a folder that can be written")


def writable(path: str, heading: bytes) -> Path:
    """Return the file behind a name and its links; InputError where it is an input, or a file that the program did not write."""
    target = resolved(path)
    try:
        _refuse_kept(path, target, heading)
    except OSError as error:
        raise _unwritable(path, error) from None
    return target


def _refuse_kept(path: str, target: Path, heading: bytes) -> None:
    """Refuse a file that must not be lost."""
    if not target.is_file():
        return
    at = target.stat()
    if (at.st_dev, at.st_ino) in _read:
        raise _refuse(path[:200], "is what this answer is made from; nothing was written", "give another name")
    if target in _wrote:
        raise _refuse(path[:200], TWICE, "give each a name of its own")
    if is_table(target):
        raise _refuse(path[:200], "is one of the shop's tables, which answers are made from; nothing was written", "give another name")
    if not os.access(target, os.W_OK):
        raise OSError(EACCES, os.strerror(EACCES))
    if at.st_size and not is_forced() and not is_ours(target, heading):
        raise _refuse(path[:200], "is there, and framecheck did not write it; nothing was written", FORCE)


def is_ours(file: Path, heading: bytes) -> bool:
    """Return whether this program wrote a file: its outputs say so at their beginning, a PDF at its end; a table by its heading."""
    with file.open("rb") as content:
        begins = content.read(LOOKED_AT)
        if heading and begins.partition(b"\n")[0] == heading:
            return True
        content.seek(max(0, file.stat().st_size - LOOKED_AT))
        return bool(OURS.search(begins) or OURS.search(content.read()))


def write_folder(path: str, contents: Mapping[str, str]) -> None:
    """Write files by name into a folder, made where it is missing; each file is there whole or as it was before."""
    folder = Path(path)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        error = error if isinstance(error, OSError) else OSError(0, "its name can't be one")
        raise _refuse(
            path[:200], f"can't be made a folder ({error.strerror})", "choose another name or place"
        ) from None
    ours = is_ours_folder(folder)
    headings = {name: content.partition("\n")[0].encode() if ours else b"" for name, content in contents.items()}
    for name, heading in headings.items():
        may_write(str(folder / name), heading=heading)
    for name, content in contents.items():
        write_whole(str(folder / name), content, headings[name])


def put_in_place(target: Path, data: Iterable[bytes]) -> None:
    """Write beside the target, flush to disk, then put in place in one step. It keeps the mode that was there, else the umask's."""
    import tempfile  # takes longer than reading a case; only a run that writes needs it

    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.writelines(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, _mode(target))
        os.replace(name, target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _mode(target: Path) -> int:
    """Return the mode of a file that is there, else that of a new one."""
    if target.exists():
        return stat.S_IMODE(target.stat().st_mode)
    umask = os.umask(0o077)
    os.umask(umask)
    return 0o666 & ~umask


PACKAGE = Path(__file__).resolve().parents[1]
TABLES = ("sections", "shared")


def data_folder(name: str) -> Path:
    """Return the folder "sections", "shared" or "cases": the wheel's own copy, else the checkout's."""
    inside = PACKAGE / "data" / name
    return inside if inside.is_dir() else PACKAGE.parent / name


def table_files() -> Iterator[Path]:
    """Yield the files of the shop's tables."""
    return (file for name in TABLES for file in sorted(data_folder(name).glob("*.yaml")))


def is_table(file: Path) -> bool:
    """Return whether a file is one of the shop's tables, through whichever name or link."""
    return any(file.samefile(each) for each in table_files())


def library() -> Library:
    """Return the shop's tables as texts by file name; none of them is read in detail yet."""
    from framecheck.reading.library import load_library

    files = table_files()
    return load_library({f"{file.parent.name}/{file.name}": file.read_text(encoding="utf-8") for file in files})
