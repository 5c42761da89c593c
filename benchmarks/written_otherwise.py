"""Write a case in other ways and tell where its answer differs: `python benchmarks/written_otherwise.py cases/hill-truck.yaml`.

Other units, origins and orders may move no row by 1e-6, a step of 1e-7 of any one number none by 1e-4 (beside a named threshold a row
may come or go). With `--less` each key and item is left out in turn: what then reads better and opens nothing is told, to be judged
by who reads it; a force left out is no less known, only less.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[1]))
from framecheck.errors import InputError, UnsolvableError
from tests.properties.rewriting import (
    Came,
    came,
    differences,
    from_another_origin,
    in_another_order,
    in_other_units,
    less_one,
    stepped,
)


def main() -> None:
    """Tell how each case differs from itself."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("cases", nargs="+", type=Path)
    parser.add_argument("--less", action="store_true", help="leave out each key and item in turn")
    chosen = parser.parse_args()
    for case in chosen.cases:
        text = case.read_text(encoding="utf-8")
        print(f"{case.stem}", flush=True)
        (leave_out if chosen.less else rewrite)(text, came(text))


def rewrite(text: str, as_is: Came) -> None:
    """Tell where a case that is written otherwise comes out otherwise."""
    others = [("units", in_other_units(text)), *((f"origin {x} m", from_another_origin(text, x)) for x in (0.1778, -3.0, 20.0))]
    others += [(f"order {seed}", in_another_order(text, Random(seed))) for seed in (1, 2)]
    for what, other in others:
        tell(what, as_is, other, 1e-6)
    for path, other in stepped(text, 1e-7):
        tell(" > ".join(map(str, path)), as_is, other, 1e-4)


def tell(what: str, as_is: Came, other: str, share: float) -> None:
    """Print how one other way comes out differently, if it does."""
    try:
        found = differences(as_is, came(other), share)
    except (InputError, UnsolvableError) as error:
        found = [str(error).splitlines()[0]]
    if found:
        print(f"  {what}: {len(found)}, {found[0][:200]}", flush=True)


def leave_out(text: str, as_is: Came) -> None:
    """Tell what reads better where something is left out and nothing more is open."""
    for path, other in less_one(text):
        try:
            less = came(other)
        except (InputError, UnsolvableError):
            continue
        both = {key: (value, less.used.get(key, 0.0)) for key, value in as_is.used.items()}
        better = {key: (was, now) for key, (was, now) in both.items() if now < was * (1 - 1e-4)}
        if better and not less.open - as_is.open:
            worst = min(better, key=lambda key: better[key][1] / better[key][0])
            print(f"  without {' > '.join(map(str, path))}: {len(better)}, {worst} {better[worst]}", flush=True)


if __name__ == "__main__":
    main()
