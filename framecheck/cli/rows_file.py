"""The rows of a study on disk: each is appended whole, and a run that was stopped is taken up where it ended."""

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


@value_class
class RowsFile:
    """A rows file taken up: what it holds already, and how more is appended."""

    path: Path
    lines: RowLines
    done: tuple[VariantRow, ...]

    def appended(self, rows: Iterable[VariantRow]) -> Iterator[VariantRow]:
        """Yield rows as they come, each after its whole line was handed to the system in one write."""
        handle = os.open(self.path, os.O_WRONLY | os.O_APPEND)
        try:
            for row in rows:
                append(handle, self.lines.line(row).encode())
                yield row
        finally:
            with suppress(OSError):
                os.fsync(handle)
            os.close(handle)


def append(handle: int, data: bytes) -> None:
    """Write all of some bytes; a system that takes fewer at once gets the rest."""
    while data:
        data = data[os.write(handle, data) :]


def taken_up(path: str, form: RowForm) -> RowsFile:
    """Return a rows file ready for more: a new one, or one of the same study without what was damaged at its end.

    InputError where it can't be written, or holds something else.
    """
    file = Path(path)
    kind = KINDS.get(file.suffix.lower())
    if kind is None:
        raise refusal(path, "this kind of rows is not known", f"end the name with {' or '.join(KINDS)}")
    if file.exists() and not file.is_file():
        raise refusal(path, "is not a regular file", "name a file that can be taken up again")
    lines: RowLines = kind(form)
    try:
        return resumed(file, lines) if file.exists() and file.stat().st_size else begun(file, lines)
    except (OSError, UnicodeDecodeError):
        raise refusal(path, "can't be read and written as rows", "choose another file") from None


def begun(file: Path, lines: RowLines) -> RowsFile:
    """Return a new rows file with its heading."""
    file.write_text(lines.head(), encoding="utf-8", newline="\n")
    return RowsFile(file, lines, ())


def resumed(file: Path, lines: RowLines) -> RowsFile:
    """Return a rows file of the same study, cut after its last whole row."""
    data, start = file.read_bytes(), lines.start().encode()
    shared = min(len(data), len(start))
    if data[:shared] != start[:shared]:
        fault = "holds rows of another study, of this one before a change, or something else"
        raise refusal(str(file), fault, "name another file, or remove it")
    texts, head = data[: data.rfind(b"\n") + 1].decode("utf-8").splitlines(keepends=True), lines.head()
    if len(texts) <= bool(head):
        return begun(file, lines)
    body = texts[1:] if head else texts
    done = rows_of(lines, body)
    os.truncate(file, len((head + "".join(body[: len(done)])).encode()))
    return RowsFile(file, lines, done)


def refusal(path: str, fault: str, remedy: str) -> InputError:
    """Return an input error about a rows file."""
    return InputError([Fault(path, "", fault, remedy)])
