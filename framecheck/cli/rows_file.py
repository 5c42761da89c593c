"""The rows of a study on disk: each is appended whole, and a run that was stopped is taken up where it ended.

The file is locked while a run appends to it, and read and written as bytes, so that it is the same on every system.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import suppress
from pathlib import Path

from framecheck.errors import Fault, InputError
from framecheck.output.rows_text import CsvLines, JsonLines, RowForm, RowLines, rows_of
from framecheck.study.measure import VariantRow
from framecheck.value_class import value_class

KINDS: dict[str, type[CsvLines] | type[JsonLines]] = {".csv": CsvLines, ".jsonl": JsonLines}
AS_BYTES = getattr(os, "O_BINARY", 0)
"""Windows would else write two characters for the end of a line, and take one in the middle of a file for its end."""


@value_class
class RowsFile:
    """A rows file taken up, open and locked: what it holds already, and how more is appended."""

    handle: int
    lines: RowLines
    done: tuple[VariantRow, ...]

    def appended(self, rows: Iterable[VariantRow]) -> Iterator[VariantRow]:
        """Yield rows as they come, each after its whole line was handed to the system in one write."""
        try:
            for row in rows:
                append(self.handle, self.lines.line(row).encode())
                yield row
        finally:
            with suppress(OSError):
                os.fsync(self.handle)
            os.close(self.handle)  # and with it goes the lock


def append(handle: int, data: bytes) -> None:
    """Write all of some bytes; a system that takes fewer at once gets the rest."""
    while data:
        data = data[os.write(handle, data) :]


def taken_up(path: str, form: RowForm) -> RowsFile:
    """Return a rows file ready for more: a new one, or one of the same study without what was damaged at its end.

    InputError where it can't be written, holds something else, or another run is at it.
    """
    file = Path(path)
    kind = KINDS.get(file.suffix.lower())
    if kind is None:
        raise refusal(path, "this kind of rows is not known", f"end the name with {' or '.join(KINDS)}")
    if file.exists() and not file.is_file():
        raise refusal(path, "is not a regular file", "name a file that can be taken up again")
    try:
        handle = os.open(file, os.O_RDWR | os.O_CREAT | os.O_APPEND | AS_BYTES, 0o666)
    except (OSError, ValueError):
        raise refusal(path, "can't be read and written as rows", "choose another file") from None
    try:
        if not locked(handle):
            raise refusal(path, "another run is writing its rows to it", "wait until it is done, or name another file")
        return resumed(handle, path, kind(form))
    except (OSError, UnicodeDecodeError):
        os.close(handle)
        raise refusal(path, "can't be read and written as rows", "choose another file") from None
    except InputError:
        os.close(handle)
        raise


def locked(handle: int) -> bool:
    """Return whether a file is ours alone until it is closed; a file system that has no locks is taken at its word."""
    try:
        import fcntl
    except ImportError:  # Windows
        return locked_on_windows(handle)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return True
    return True


def locked_on_windows(handle: int) -> bool:
    """Return whether the one byte beyond any rows, which stands for the file, is ours alone."""
    import msvcrt

    try:
        os.lseek(handle, 1 << 40, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]
    except OSError:
        return False
    return True


def resumed(handle: int, path: str, lines: RowLines) -> RowsFile:
    """Return a rows file of the same study, cut after its last whole row; one that holds nothing gets its heading."""
    data, start = whole(handle), lines.start().encode()
    shared = min(len(data), len(start))
    if data[:shared] != start[:shared]:
        fault = "holds rows of another study, of this one before a change, or something else"
        raise refusal(path, fault, "name another file, or remove it")
    head = lines.head()
    texts = data[: data.rfind(b"\n") + 1].decode("utf-8").splitlines(keepends=True)
    body = texts[bool(head) :]
    done = rows_of(lines, body)
    os.ftruncate(handle, len((head + "".join(body[: len(done)])).encode()) if texts else 0)
    if not texts:
        append(handle, head.encode())
    return RowsFile(handle, lines, done)


def whole(handle: int) -> bytes:
    """Return all bytes of an open file."""
    os.lseek(handle, 0, os.SEEK_SET)
    parts = list(iter(lambda: os.read(handle, 1 << 20), b""))
    return b"".join(parts)


def refusal(path: str, fault: str, remedy: str) -> InputError:
    """Return an input error about a rows file."""
    return InputError([Fault(path, "", fault, remedy)])
