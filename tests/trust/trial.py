"""One input through the whole path, as a person runs it: a file, a command, an exit code, and what was printed and written."""

from __future__ import annotations

import json
import re
import signal
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from io import StringIO
from pathlib import Path
from random import Random
from time import process_time
from typing import NoReturn

from framecheck.cli.main import entry
from tests.trust.texts import readings

STRANGE = re.compile(r"(?<![\w'<>\"&;/.-])(?:nan|inf)(?![\w'<>\"&;/-])", re.IGNORECASE)
"""A printed number that is none; words within a name or in quotes are the user's own."""
COMMANDS = (
    *(("check", "{case}", "--json", "{out}.json"),) * 12,
    ("check", "{case}", "--csv", "{out}.tables"),
    ("check", "{case}", "--units", "us", "--quiet"),
    ("stiffness", "{case}"),
    ("modes", "{case}"),
    ("section", "{case}"),
    ("report", "{case}", "-o", "{out}.html"),
    ("test", "{case}", "--json", "{out}.json"),
    ("test", "{case}", "--rig", "beaming", "-o", "{out}.html"),
    ("test", "{case}", "--readings", "{readings}", "--find", "joints", "--json", "{out}.json"),
)


class TooLongError(BaseException):
    """The time for one input is over."""


@dataclass(frozen=True, slots=True)
class Trial:
    """What became of one input. seconds: of processor time; fault: "" where nothing is wrong."""

    command: str
    code: int
    seconds: float
    fault: str
    stopped: bool = False


def tried(text: bytes, folder: Path, seed: int, most_seconds: float) -> Trial:
    """Run one command on one text and say what is wrong with how it ended, if anything."""
    case = folder / "case.yaml"
    case.write_bytes(text)
    dials = folder / "readings.yaml"
    dials.write_bytes(readings(seed))
    words = [word.format(case=case, readings=dials, out=folder / "out") for word in Random(seed).choice(COMMANDS)]
    out, err, began = StringIO(), StringIO(), process_time()
    try:
        with redirect_stdout(out), redirect_stderr(err), _limited(most_seconds):
            code = entry(words)
    except TooLongError:
        return Trial(words[0], 4, process_time() - began, f"still running after {most_seconds:g} s", True)
    read = text + dials.read_bytes()
    fault = _fault(code, out.getvalue(), err.getvalue(), read.decode(errors="replace"))
    fault = fault or _written_fault(folder / "out.json")
    return Trial(words[0], code, process_time() - began, fault)


def _fault(code: int, out: str, err: str, text: str) -> str:
    """Return what is wrong with an exit code and what was printed."""
    if code not in range(4):
        return f"exit code {code}: {err.strip()[:300]}"
    if "Traceback" in err + out:
        return "a traceback was printed"
    if code >= 2 and not err.strip() and "NOT JUDGED" not in out:
        return f"exit code {code} without a word"
    strange = None if STRANGE.search(text) else STRANGE.search(out)
    return f"'{out[max(strange.start() - 40, 0) : strange.end() + 20]}' was printed" if strange else ""


def _written_fault(file: Path) -> str:
    """Return what is wrong with written JSON: it must hold finite numbers alone."""
    if not file.exists():
        return ""
    try:
        json.loads(file.read_text(encoding="utf-8"), parse_constant=_not_finite)
    except ValueError as error:
        return f"JSON: {error}"
    finally:
        file.unlink()
    return ""


def _not_finite(word: str) -> NoReturn:
    raise ValueError(f"{word} is no number")


@contextmanager
def _limited(seconds: float) -> Iterator[None]:
    """Stop what takes more processor time: the clock on the wall also counts what else the machine does."""

    def stop(*_: object) -> NoReturn:
        raise TooLongError

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        signal.signal(signal.SIGPROF, before)
