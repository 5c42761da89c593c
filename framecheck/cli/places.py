"""Where answers may be written: not over what they are made from, nor over what another hand wrote; found before any work is done."""

from __future__ import annotations

import os
import re
import stat
from errno import EACCES
from pathlib import Path

from framecheck.cli.options import is_forced
from framecheck.errors import Fault, InputError
from framecheck.versions import Origin

OURS = re.compile(rb'(?:made_by": "|generator" content="|<dc:title>|Software\x00|Creator \()framecheck \d')
"""How a file begins, or of a PDF ends, that this program wrote."""
LOOKED_AT = 65_536
FORCE = "give another name, or --force to write over it"
TWICE = "is what another answer of this command is written to"
_read: dict[tuple[int, int], Origin] = {}
"""Every file that this command has read, by device and number: the same through whichever name or link."""
WROTE: set[Path] = set()
"""Every file that this command has written."""


def begin() -> None:
    """Forget the files of the command before: a process may run several."""
    _read.clear()
    WROTE.clear()


def seen(file: Path, data: bytes) -> None:
    """Keep in mind that a file is an input, and the checksum of its bytes."""
    from hashlib import sha256

    at = file.stat()
    _read[at.st_dev, at.st_ino] = Origin(str(file), sha256(data).hexdigest())


def origins() -> tuple[Origin, ...]:
    """Return the files that this command has read so far, in their order."""
    return tuple(_read.values())


def refusal(path: str, fault: str, remedy: str) -> InputError:
    """Return an input error about a file."""
    return InputError([Fault(path, "", fault, remedy)])


def is_table(file: Path) -> bool:
    """Return whether a file is one of the shop's tables, through whichever name or link."""
    from framecheck.cli.files import table_files  # which asks this room before it writes

    return any(file.samefile(each) for each in table_files())


def may_write(*paths: str | None, heading: bytes = b"") -> None:
    """Refuse, before any work is done, a file that could not or should not be written when it is done; None, "-": nothing to ask."""
    asked: set[Path | str] = set()
    for path in paths:
        if path is None:
            continue
        target = path if path == "-" else writable(path, heading)
        if target in asked:
            raise refusal(path[:200], TWICE, "give each a name of its own")
        asked.add(target)
        if isinstance(target, Path):
            _refuse_place(path, target)


def _refuse_place(path: str, target: Path) -> None:
    """Refuse a file whose folder is not there or takes none, and what is there and no file."""
    try:
        if is_stream(target):
            return
        if not target.parent.is_dir():
            raise refusal(path[:200], "can't be written (No such file or directory)", "choose a folder that is there")
        trial = part_of(target, str(os.getpid()))
        os.close(os.open(trial, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        trial.unlink()
    except OSError as error:
        raise unwritable(path, error) from None


def part_of(target: Path, mark: str) -> Path:
    """Return the hidden name beside a file under which it is written at first; its own name may fill a name's room."""
    return target.with_name(f".{target.name[:40]}.{mark}.part")


def is_stream(target: Path) -> bool:
    """Return whether a name stands for a device of letters or a pipe: a terminal, nothing, another program."""
    try:
        mode = target.stat().st_mode
    except OSError:
        return False
    return stat.S_ISCHR(mode) or stat.S_ISFIFO(mode)


def may_write_folder(path: str | None, beside: str | None) -> None:
    """Refuse, before any work is done, a folder that can't be made or written into. beside: a file that is written besides."""
    if path is None:
        return
    if path in ("", "-"):
        raise refusal(path, "the tables are several files, which need a folder", "name one")
    folder = resolved(path)
    if beside is not None and folder == resolved(beside):
        raise refusal(path[:200], TWICE, "give each a name of its own")
    try:
        there = next(each for each in (folder, *folder.parents) if each.exists())
        if not there.is_dir():
            raise refusal(path[:200], f"can't be made a folder ('{there.name}' is a file)", "choose another name or place")
        if not os.access(there, os.W_OK):
            raise OSError(EACCES, os.strerror(EACCES))
    except OSError as error:
        raise unwritable(path, error) from None


def place_of(path: str) -> Path:
    """Return what is written to under a name. A pipe's own name behind its links can't be opened, so it keeps that which was given."""
    try:
        return Path(path) if is_stream(Path(path)) else resolved(path)
    except ValueError as error:
        raise unwritable(path, error) from None


def resolved(path: str) -> Path:
    """Return the file or folder behind a name and its links: behind a link, for the link stays."""
    try:
        found = Path(path).resolve()
        if found.is_symlink():
            raise RuntimeError(path)  # links in a ring, as Python before 3.13 tells it
    except (OSError, ValueError, RuntimeError) as error:
        raise unwritable(path, error) from None
    return found


def unwritable(path: str, error: Exception) -> InputError:
    """Return the refusal of what can't be written to. A name with a null character raises ValueError, links in a ring RuntimeError."""
    if isinstance(error, OSError):
        why = error.strerror
    else:
        why = "its name can't be one" if isinstance(error, ValueError) else "its links run in a ring"
    return refusal(path[:200], f"can't be written ({why})", "choose a folder that can be written")


def writable(path: str, heading: bytes) -> Path:
    """Return the file behind a name and its links; InputError where it is an input, or a file that the program did not write."""
    target = place_of(path)
    try:
        _refuse_kept(path, target, heading)
    except OSError as error:
        raise unwritable(path, error) from None
    return target


def _refuse_kept(path: str, target: Path, heading: bytes) -> None:
    """Refuse a file that must not be lost."""
    if is_stream(target) or not target.exists():
        return
    if not target.is_file():
        raise refusal(path[:200], "can't be written (it is there, and is not a file)", "choose another name")
    at = target.stat()
    if (at.st_dev, at.st_ino) in _read:
        raise refusal(path[:200], "is what this answer is made from; nothing was written", "give another name")
    if target in WROTE:
        raise refusal(path[:200], TWICE, "give each a name of its own")
    if is_table(target):
        raise refusal(path[:200], "is one of the shop's tables, which answers are made from; nothing was written", "give another name")
    if not os.access(target, os.W_OK):
        raise OSError(EACCES, os.strerror(EACCES))
    if at.st_size and not is_forced() and not is_ours(target, heading):
        raise refusal(path[:200], "is there, and framecheck did not write it; nothing was written", FORCE)


def is_ours(file: Path, heading: bytes) -> bool:
    """Return whether this program wrote a file: its outputs say so at their beginning, a PDF at its end; a table by its heading."""
    with file.open("rb") as content:
        begins = content.read(LOOKED_AT)
        if heading and begins.partition(b"\n")[0] == heading:
            return True
        content.seek(max(0, file.stat().st_size - LOOKED_AT))
        return bool(OURS.search(begins) or OURS.search(content.read()))


def is_ours_folder(folder: Path) -> bool:
    """Return whether a folder holds tables that this program wrote: the verdict's stands among them."""
    try:
        with (folder / "verdict.csv").open("rb") as file:
            heading = file.readline(LOOKED_AT)
            return heading.startswith(b"state,judged,") and b"program_version" in heading
    except OSError:
        return False
