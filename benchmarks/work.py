"""How near the estimate of work (framecheck/work.py) comes: seconds and memory told beside those taken, over ladders of many sizes.

Run `python benchmarks/work.py [MOST]`; MOST: load cases times crossmembers up to which sizes are tried (4000 unless told).
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from framecheck.cli.context import disk_store, read
from framecheck.run import prepare
from framecheck.work import work_of
from tests.trust.ladders import ladder

SIZES = ((5, 10), (20, 20), (50, 20), (20, 200), (50, 100), (100, 50), (200, 50), (100, 200), (200, 200))
MOST = 4000


def main() -> None:
    """Print the table."""
    most = int(sys.argv[1]) if len(sys.argv) > 1 else MOST
    print(f"{'crossmembers, load cases':<28}{'s told':>8}{'taken':>8}{'MB told':>9}{'taken':>8}")
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, "ladder.yaml")
        for crossmembers, cases in (each for each in SIZES if each[0] * each[1] <= most):
            for ends in ("rigid", ""):
                file.write_text(ladder(crossmembers, cases, ends), encoding="utf-8")
                case = read(str(file))
                told = work_of(case, prepare(case, disk_store()).structures)
                words = [sys.executable, "-m", "framecheck", "check", str(file), "-q", "--long"]
                process = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
                _, _, used = os.wait4(process.pid, 0)
                process.returncode = 0
                seconds, memory = used.ru_utime + used.ru_stime, used.ru_maxrss / 1e3
                name = f"{crossmembers}, {cases}, {'rigid' if ends else 'ends unsaid'}"
                print(f"{name:<28}{told.seconds:8.1f}{seconds:8.1f}{told.memory / 1e6:9.0f}{memory:8.0f}", flush=True)


if __name__ == "__main__":
    main()
