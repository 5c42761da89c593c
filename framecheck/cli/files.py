"""Files read and written, bounded, whole or not at all: the user's, and the shop's own tables."""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from framecheck.cli.places import (
    WROTE,
    is_ours_folder,
    is_stream,
    may_write,
    part_of,
    refusal,
    seen,
    unwritable,
    writable,
)  # fmt: skip

if TYPE_CHECKING:
    from framecheck.reading.library import Library


LARGEST_FILE = 1_000_000


def read_text(path: str) -> str:
    """Return the text of a regular UTF-8 file of at most LARGEST_FILE bytes."""
    file = Path(path)
    try:
        if not file.exists():
            raise refusal(path, "there is no such file", "check the name and the folder")
        if not file.is_file():
            raise refusal(path, "is not a regular file", "give a case file (YAML text)")
        if file.stat().st_size > LARGEST_FILE:
            raise refusal(path, f"is larger than {LARGEST_FILE // 1000} kB", "a case is a few pages; check the name")
        with file.open("rb") as content:
            data = content.read(LARGEST_FILE + 1)  # of what a system makes up while it is read, the size is not known before
        seen(file, data)
        return data.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    except UnicodeDecodeError:
        raise refusal(path, "is not UTF-8 text", "save it as UTF-8") from None
    except (OSError, ValueError) as error:  # ValueError: a name with a null character
        why = error.strerror if isinstance(error, OSError) else "its name can't be one"
        raise refusal(path[:200], f"can't be read ({why})", "check its name and permissions") from None


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
        if is_stream(target):
            with target.open("wb") as file:  # it takes what it is given; nothing may be put in its place
                file.writelines(data)
        else:
            put_in_place(target, data)
            WROTE.add(target)
    except OSError as error:
        raise unwritable(path, error) from None


def encoded(content: str | bytes | Iterable[str]) -> Iterator[bytes]:
    """Yield the bytes of a text, or of its pieces as they are made."""
    if isinstance(content, bytes):
        yield content
        return
    yield from (piece.encode("utf-8") for piece in ((content,) if isinstance(content, str) else content))


def write_folder(path: str, contents: Mapping[str, str]) -> None:
    """Write files by name into a folder, made where it is missing; each file is there whole or as it was before."""
    folder = Path(path)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        error = error if isinstance(error, OSError) else OSError(0, "its name can't be one")
        raise refusal(
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

    handle, name = tempfile.mkstemp(dir=target.parent, prefix=part_of(target, "").stem, suffix=".part")
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


def library() -> Library:
    """Return the shop's tables as texts by file name; none of them is read in detail yet."""
    from framecheck.reading.library import load_library

    files = table_files()
    return load_library({f"{file.parent.name}/{file.name}": file.read_text(encoding="utf-8") for file in files})
