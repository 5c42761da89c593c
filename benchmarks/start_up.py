"""How long whole runs take: wall, user and system time, peak memory, modules loaded; cold and warm store, --help, report.

Last in the table: what a warm check takes over the bare import of numpy and scipy.linalg (at most 2.2 is asked), in processor time,
user and system, the two run by turns so that a busy machine slows both. Each number is the least of several fresh processes, so that
a busy machine says as little as it can.
Run `python benchmarks/start_up.py [RUNS]`.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import perf_counter

CASE = str(Path(__file__).parents[1] / "cases" / "hill-truck.yaml")
RUNS = 5


@dataclass(frozen=True, slots=True)
class Run:
    """One process: wall, user and system time in s, peak memory in MB."""

    wall: float
    user: float
    system: float
    memory: float

    @property
    def processor(self) -> float:
        """Return user and system time, s."""
        return self.user + self.system


def measured(words: list[str], store: str) -> Run:
    """Return what one fresh process takes."""
    variables = {**os.environ, "FRAMECHECK_STORE": store}
    variables.pop("PYTHONDONTWRITEBYTECODE", None)  # an installed package is compiled once, not at every run
    begun = perf_counter()
    process = subprocess.Popen(words, env=variables, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, _, used = os.wait4(process.pid, 0)
    process.returncode = 0
    return Run(perf_counter() - begun, used.ru_utime, used.ru_stime, used.ru_maxrss / 1024)


def show(name: str, arguments: list[str], stores: list[str]) -> None:
    """Print the least of one run in each store."""
    runs = [measured([sys.executable, *arguments], store) for store in stores]
    wall, user, system, memory = (
        min(each) for each in zip(*((r.wall, r.user, r.system, r.memory) for r in runs), strict=True)
    )
    print(f"{name:<34}{wall * 1e3:8.0f}{user * 1e3:8.0f}{system * 1e3:8.0f}{memory:8.0f}")


def show_ratio(arguments: list[str], store: str, count: int) -> None:
    """Print the processor time of a run over that of the bare import, by turns in pairs: of the least, and the median of the pairs."""
    bare = [sys.executable, "-c", "import numpy, scipy.linalg"]
    pairs = [
        (measured([sys.executable, *arguments], store).processor, measured(bare, store).processor) for _ in range(count)
    ]
    runs, imports = zip(*pairs, strict=True)
    print(f"{'python with numpy, scipy.linalg':<34}{'':8}{min(imports) * 1e3:8.0f} (user and system)")
    print(
        f"{'  a warm check over that':<34}{min(runs) / min(imports):8.2f}, median {median(run / one for run, one in pairs):.2f}"
    )


def loaded(store: str) -> None:
    """Print where a warm run's import time goes, by package."""
    words = [sys.executable, "-X", "importtime", "-m", "framecheck", "check", CASE]
    text = subprocess.run(
        words, env={**os.environ, "FRAMECHECK_STORE": store}, capture_output=True, text=True, check=False
    ).stderr
    rows = [
        line.removeprefix("import time:").split("|") for line in text.splitlines() if line.startswith("import time:")
    ][1:]
    total: dict[str, list[int]] = {}
    for own, _, name in rows:
        package = name.strip().partition(".")[0]
        known = package if package in {"framecheck", "numpy", "click", "yaml"} else "all others"
        total.setdefault(known, []).append(int(own))
    for package, times in sorted(total.items(), key=lambda each: -sum(each[1])):
        print(f"  import {package:<25}{sum(times) / 1e3:8.0f} ms in {len(times)} modules")


def main() -> None:
    """Print the whole table."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else RUNS
    program = ["-m", "framecheck"]
    with tempfile.TemporaryDirectory() as folder:
        warm, page = [f"{folder}/warm"] * count, f"{folder}/report.html"
        measured([sys.executable, *program, "check", CASE], warm[0])
        print(f"{'ms, MB':<34}{'wall':>8}{'user':>8}{'system':>8}{'memory':>8}")
        show("python alone", ["-c", "pass"], warm)
        show("python with numpy", ["-c", "import numpy"], warm)
        show("framecheck --help", [*program, "--help"], warm)
        show("check, warm store", [*program, "check", CASE], warm)
        show("check, cold store", [*program, "check", CASE], [f"{folder}/cold{n}" for n in range(count)])
        show("report, warm store", [*program, "report", CASE, "-o", page], warm)
        show_ratio([*program, "check", CASE], warm[0], 2 * count)
        print(f"{'  the page, kB':<34}{Path(page).stat().st_size / 1e3:8.0f}")
        loaded(warm[0])


if __name__ == "__main__":
    main()
