"""What a warm check saves by `framecheck.value_class`: its classes made again in three ways, beside the whole run.

Run `python benchmarks/value_classes.py [RUNS]`; msgspec is measured where it is installed. Processor time, the least of several turns.
"""

from __future__ import annotations

import contextlib
import dataclasses
import io
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).parents[1]))
from start_up import CASE, measured

from framecheck import value_class as ours


def classes_of_a_check() -> list[type]:
    """Return the value classes that are made when a check of the demo runs."""
    made: list[type] = []
    original = ours._own_fields

    def noting(cls: type) -> tuple[object, ...]:
        made.append(written(cls))  # the class itself changes when its fields are asked for
        return original(cls)

    ours._own_fields = noting  # type: ignore[assignment]
    from framecheck.cli.main import entry

    with contextlib.redirect_stdout(io.StringIO()):
        entry(["check", CASE])
    ours._own_fields = original
    return made


def written(of: type) -> type:
    """Return a class once more as its file has it before the decorator."""
    return type(of.__name__, (), {name: each for name, each in vars(of).items() if name not in ("__dict__", "__weakref__")})


def by_standard_library(of: type) -> None:
    """Make a class as the standard library does."""
    dataclasses.dataclass(frozen=True, slots=True)(of)


def by_ours(of: type) -> None:
    """Make a class as framecheck does."""
    ours.value_class(of)


def by_msgspec(of: type) -> None:
    """Make a class as msgspec does: its fields alone."""
    import msgspec

    msgspec.defstruct(of.__name__, list(of.__annotations__.items()), frozen=True)


def milliseconds(make: Callable[[type], None], classes: list[type], runs: int) -> float:
    """Return the least time of several turns to make all classes anew, ms."""
    found = []
    for _ in range(runs):
        fresh = [written(each) for each in classes]
        begun = process_time()
        for each in fresh:
            make(each)
        found.append(process_time() - begun)
    return min(found) * 1e3


def main() -> None:
    """Print what each way takes, and its share of a warm check."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    with tempfile.TemporaryDirectory() as store:
        words = [sys.executable, "-m", "framecheck", "check", CASE]
        measured(words, store)
        whole = min(measured(words, store).processor for _ in range(runs)) * 1e3
    classes = classes_of_a_check()
    print(f"a warm check of the demo: {whole:.0f} ms; it makes {len(classes)} value classes")
    for name, make in (("framecheck", by_ours), ("standard library", by_standard_library), ("msgspec, fields alone", by_msgspec)):
        try:
            taken = milliseconds(make, classes, runs)
        except ImportError:
            print(f"{name}: not installed")
            continue
        print(f"{name:<24}{taken:8.1f} ms, {taken / whole:6.1%} of the check")


if __name__ == "__main__":
    main()
