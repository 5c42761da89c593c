"""How soon Ctrl-C is answered: commands are stopped at random moments, as a terminal stops them (SIGINT to the whole group).

A run counts as answered when all its processes have ended. Shown by command: how many were stopped before they had ended by
themselves, the slowest answer in seconds of the clock and of its processor, exit codes, and what was left half written.
Run `python benchmarks/interrupt.py [RUNS [SEED]]`. On a busy machine the processor's seconds say more than the clock's.
"""

from __future__ import annotations

import random
import shutil
import sys
import tempfile
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.trust.stopping import fresh, run

RUNS, SEED, ALLOWED = 8, 1, 1.0
COMMANDS = {
    "check": ["check", "hill-truck.yaml", "--json", "out.json", "--csv", "tables"],
    "check, no store": ["check", "hill-truck.yaml", "--json", "out.json"],
    "plate": ["check", "skid-plate.yaml", "--json", "out.json"],
    "report": ["report", "hill-truck.yaml", "-o", "out.html"],
    "size, two workers": ["size", "stiffener-study.yaml", "--workers", "2", "--rows", "rows.csv"],
    "size": ["size", "stiffener-study.yaml", "--between", "--plot", "out.svg"],
    "notch": ["notch", "notched-rail.yaml", "--member", "rail", "--plot", "out.png"],
    "section --plot": ["section", "hill-truck.yaml:rear rail", "--plot", "out.png"],
    "draw": ["draw", "hill-truck.yaml", "-o", "out.png"],
    "modes": ["modes", "hill-truck.yaml"],
    "rate": ["rate", "hill-truck.yaml"],
    "stiffness": ["stiffness", "hill-truck.yaml"],
    "selfcheck": ["selfcheck"],
}
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
            print(f"    after {each.wait:.2f} s: {each.said[-120:]}")
    return min(slowest, most) <= ALLOWED and not scraps and all(each.code in (0, 1, 130) for each in stopped)


def main() -> None:
    """Print the table; exit with 1 where any answer was late or left anything behind."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else RUNS
    draw = random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else SEED)
    print(f"{'s':<20}{'whole':>8}{'of':>5}{'clock':>8}{'cpu':>8}  exit codes, left behind")
    with tempfile.TemporaryDirectory() as folder:
        good = [tried(name, runs, Path(folder), draw) for name in COMMANDS]
    sys.exit(0 if all(good) else 1)


if __name__ == "__main__":
    main()
