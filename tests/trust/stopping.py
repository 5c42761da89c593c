"""Commands stopped by the keyboard: run as a terminal runs them, in a group of their own, and stopped at a given moment."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from time import monotonic, sleep

from tests.trust.texts import ROOT

WHOLE = {"out.json": b"}", "out.html": b"</html>", "out.svg": b"</svg>", "out.png": b"IEND\xaeB`\x82"}
"""How a file ends that is whole: a run that was stopped after it leaves it. Rows may end anywhere: they are taken up again."""


@dataclass(frozen=True, slots=True)
class Stopped:
    """One run. wait: when it was stopped, s; clock, processor: how long it went on after that, s; None: it had ended before.

    code: as a shell has it: 130 too where Python ends itself by the signal, as it does where the key fell into a library's own start.
    """

    wait: float
    clock: float | None
    processor: float
    code: int
    left: frozenset[str]
    said: str


def used_by(pid: int) -> float:
    """Return the processor time of a process, s."""
    fields = Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def run(words: list[str], folder: Path, store: str, wait: float | None) -> Stopped:
    """Return how a run goes that is stopped after some seconds, or not at all."""
    before = {each.name for each in folder.iterdir()}
    path = os.pathsep.join([str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])])
    environment = {**os.environ, "FRAMECHECK_STORE": store, "PYTHONPATH": path}
    signal.signal(signal.SIGINT, signal.default_int_handler)  # a script in the background is deaf to it, and its children are
    process = subprocess.Popen(
        [sys.executable, "-m", "framecheck", *words], cwd=folder, env=environment, stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE, start_new_session=True, text=True,
    )  # fmt: skip
    begun, at_stop = monotonic(), 0.0
    if wait is not None:
        sleep(wait)
    ended = process.poll() is not None
    if wait is not None and not ended:
        at_stop = used_by(process.pid)
        os.killpg(process.pid, signal.SIGINT)
    stopped = monotonic()
    assert process.stderr is not None
    with process.stderr:
        said = process.stderr.read()
    _, status, used = os.wait4(process.pid, 0) if process.returncode is None else (0, process.returncode << 8, None)
    process.returncode = os.waitstatus_to_exitcode(status)
    clock = None if ended else monotonic() - stopped if wait is not None else monotonic() - begun
    processor = 0.0 if used is None else used.ru_utime + used.ru_stime - at_stop
    new = {each.name for each in folder.iterdir()} - before
    left = frozenset(name for name in new if is_scrap(folder / name))
    code = 128 + signal.SIGINT if process.returncode == -signal.SIGINT else process.returncode
    return Stopped(wait or 0.0, clock, processor, code, left, said.strip())


def is_scrap(file: Path) -> bool:
    """Return whether a file is half written, or one of those that are on their way to be written."""
    return file.suffix == ".part" or (file.name in WHOLE and not file.read_bytes().rstrip().endswith(WHOLE[file.name]))


def fresh(parent: Path, name: str) -> Path:
    """Return a folder with the cases and nothing else."""
    folder = parent / name
    shutil.copytree(ROOT / "cases", folder)
    return folder
