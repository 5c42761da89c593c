"""What fitted frames miss of shell ladders under loads not measured, and the model's errors in rig/foretold.py that follow from it.

Usage: python -m benchmarks.rig_bands; prints a row a ladder (percent sideways, percent bent, the springs' share sideways), then both
errors by all of them (tests/unit/rig/test_shell_ladders.py).
"""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from tests.unit.rig.test_shell_ladders import LADDERS, errors_of, trial_of


def main() -> None:
    """Print what is missed and the errors."""
    with TemporaryDirectory() as folder:
        trials = [trial_of(each, Path(folder)) for each in LADDERS]
    for each in trials:
        print(*(f"{100 * off:+.2f}" for off in each.missed), f"{each.share[0]:.2f}")
    print("springs {:.4f}, members {:.4f}, {} ladders".format(*errors_of(trials), len(trials)))


if __name__ == "__main__":
    main()
