"""How soon Ctrl-C is answered: commands are stopped at random moments, as a terminal stops them (SIGINT to the whole group).

A run counts as answered when all its processes have ended. Shown by command: how many were stopped in time to be stopped, the
slowest answer in seconds of the clock and of its processor, exit codes, and files left beside those that were there.
Run `python benchmarks/interrupt.py [RUNS [SEED]]`. On a busy machine the processor's seconds say more than the clock's.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from time import monotonic, sleep

CASES = Path(__file__).parents[1] / "cases"
RUNS, SEED, ALLOWED = 8, 1, 1.0
COMMANDS = {
    "check": ["check", "hill-truck.yaml", "--json", "out.json", "--csv", "tables"],
    "check, no store": ["check", "hill-truck.yaml", "--json", "out.json"],
    "plate": ["check", "skid-plate.yaml", "--json", "out.json"],
    "report": ["report", "hill-truck.yaml", "-o", "out.html"],
    "size, two workers": ["size", "stiffener-study.yaml", "--workers", "2", "--rows", "rows.csv"],
    "size": ["size", "stiffener-study.yaml", "--between", "--plot", "out.svg"],
    "notch": ["notch", "notched-rail.yaml", "--plot", "out.png"],
    "section --plot": ["section", "hill-truck.yaml", "--plot", "out.png"],
    "draw": ["draw", "hill-truck.yaml", "-o", "out.png"],
    "modes": ["modes", "hill-truck.yaml"],
    "rate": ["rate", "hill-truck.yaml"],
    "stiffness": ["stiffness", "hill-truck.yaml"],
    "selfcheck": ["selfcheck"],
}
WHOLE = {"out.json": b"}\n", "out.html": b"</html>\n", "out.svg": b"</svg>\n", "out.png": b"IEND\xaeB`\x82"}
"""How a file ends that is whole: a run that was stopped after it leaves it. Rows may end anywhere: they are taken up again."""


@dataclass(frozen=True, slots=True)
class Stopped:
    """One run. wait: when it was stopped, s; clock, processor: how long it went on after that, s; None: it had ended before."""

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
    environment = {**os.environ, "FRAMECHECK_STORE": store}
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
    said = process.stderr.read() if process.stderr is not None else ""
    _, status, used = os.wait4(process.pid, 0) if process.returncode is None else (0, process.returncode << 8, None)
    process.returncode = os.waitstatus_to_exitcode(status)
    clock = None if ended else monotonic() - stopped if wait is not None else monotonic() - begun
    processor = 0.0 if used is None else used.ru_utime + used.ru_stime - at_stop
    new = {each.name for each in folder.iterdir()} - before
    left = frozenset(name for name in new if is_scrap(folder / name))
    return Stopped(wait or 0.0, clock, processor, process.returncode, left, said.strip().splitlines()[-1] if said.strip() else "")


def is_scrap(file: Path) -> bool:
    """Return whether a file is half written, or one of those that are on their way to be written."""
    return file.suffix == ".part" or (file.name in WHOLE and not file.read_bytes().endswith(WHOLE[file.name]))


def fresh(parent: Path, name: str) -> Path:
    """Return a folder with the cases and nothing else."""
    folder = parent / name
    shutil.copytree(CASES, folder)
    return folder


def tried(name: str, runs: int, parent: Path, draw: random.Random) -> bool:
    """Print how one command answers; return whether each answer is quick, told in words and leaves nothing behind."""
    words = COMMANDS[name]
    warm = "" if "no store" in name else str(parent / "store")
    whole = run(words, fresh(parent, "whole"), warm, None)
    duration = whole.clock or 0.0
    found = []
    for number in range(runs):
        folder = fresh(parent, f"run{number}")
        found.append(run(words, folder, warm, draw.uniform(0.05, 1.0) * duration))
        shutil.rmtree(folder)
    shutil.rmtree(parent / "whole")
    stopped = [each for each in found if each.clock is not None]
    codes = Counter(each.code for each in stopped)
    scraps = {name for each in stopped for name in each.left}
    slowest = max((each.clock or 0.0 for each in stopped), default=0.0)
    most = max((each.processor for each in stopped), default=0.0)
    print(f"{name:<20}{duration:8.1f}{len(stopped):5}{slowest:8.2f}{most:8.2f}  {dict(codes)}  {sorted(scraps)}", flush=True)
    for each in stopped:
        if each.code not in (0, 1, 130):
            print(f"    after {each.wait:.2f} s: {each.said[:120]}")
    return min(slowest, most) <= ALLOWED and not scraps and all(each.code in (0, 1, 130) for each in stopped)


def main() -> None:
    """Print the table; exit with 1 where any answer was late or left anything behind."""
    signal.signal(signal.SIGINT, signal.default_int_handler)  # a script in the background is deaf to it, and its children are
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else RUNS
    draw = random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else SEED)
    print(f"{'s':<20}{'whole':>8}{'of':>5}{'clock':>8}{'cpu':>8}  exit codes, left behind")
    with tempfile.TemporaryDirectory() as folder:
        good = [tried(name, runs, Path(folder), draw) for name in COMMANDS]
    sys.exit(0 if all(good) else 1)


if __name__ == "__main__":
    main()
