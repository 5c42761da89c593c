"""Change each number of sections/, shared/ and the named constants of the checks by 5 %: does a test notice?

    python benchmarks/mutation_of_data.py                       # a sample, another one each day of the year
    python benchmarks/mutation_of_data.py --seed 7 --sample 400
    python benchmarks/mutation_of_data.py --all                 # every number once

A number is changed in a copy of what was read, never in the working tree, and handed to what the tests of the second copy hand it to
(tests/verification/test_second_copy.py). Exit code: 0 each was noticed, 1 one was not: it is printed.
"""

from __future__ import annotations

import argparse
import ast
import copy
import random
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import yaml

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.verification import constants, second_copy

STEP = 1.05
Mutant = tuple[str, Callable[[], bool]]
"""What is changed, and what makes the change and says whether a test notices."""


def mutants() -> list[Mutant]:
    """Return every change, tables first."""
    tables = (mutant for folder in ("sections", "shared") for path in sorted((second_copy.ROOT / folder).glob("*.yaml"))
              for mutant in of_table(path))  # fmt: skip
    return [*tables, *(mutant for path in constants.FILES for mutant in of_code(path))]


def of_table(path: Path) -> Iterator[Mutant]:
    """Yield the changes of a table's numbers."""
    read = yaml.safe_load(path.read_text(encoding="utf-8"))
    file = "sections" if path.parent.name == "sections" else path.stem
    for way in numbers_below(read, ()):
        name = f"{path.parent.name}/{path.name} {' > '.join(map(str, way))}"
        yield name, lambda way=way: bool(second_copy.differences(file, changed(read, way)))


def numbers_below(node: Any, way: tuple[Any, ...]) -> Iterator[tuple[Any, ...]]:
    """Yield the way (keys, places in lists) to every number below a node."""
    if isinstance(node, dict):
        for key, value in node.items():
            if key not in second_copy.WORDS or isinstance(value, dict | list):
                yield from numbers_below(value, (*way, key))
    elif isinstance(node, list):
        for place, value in enumerate(node):
            yield from numbers_below(value, (*way, place))
    elif node is not None and second_copy.number(str(node)) not in (None, (0.0, "")):
        yield way


def changed(read: Any, way: tuple[Any, ...]) -> Any:
    """Return a copy of what was read with one number 5 % larger."""
    whole = copy.deepcopy(read)
    at = whole
    for key in way[:-1]:
        at = at[key]
    found = second_copy.number(str(at[way[-1]]))
    assert found is not None
    at[way[-1]] = f"{found[0] * STEP + (found[0] == 0) * 0.05!r} {found[1]}".strip()
    return whole


def of_code(path: Path) -> Iterator[Mutant]:
    """Yield the changes of the named constants, of fields' defaults, and of the numbers of clauses in functions."""
    text, module = path.read_text(encoding="utf-8"), constants.module_of(path)
    for name, node in constants.places_in(text):
        where = f"{module} {name}, line {node.lineno}: {node.value}"
        yield where, lambda node=node: bool(constants.differing(module, edited(text, node)))


def edited(text: str, node: ast.Constant) -> str:
    """Return a module's text with one of its numbers 5 % larger."""
    lines = text.splitlines(keepends=True)
    line = lines[node.lineno - 1].encode()
    assert node.end_col_offset is not None
    lines[node.lineno - 1] = (line[: node.col_offset] + repr(node.value * STEP).encode() + line[node.end_col_offset :]).decode()
    return "".join(lines)


def main() -> int:
    """Change numbers; print those that nothing notices."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--all", action="store_true", dest="is_all", help="every number once")
    parser.add_argument("--sample", type=int, default=250, help="so many, drawn by the seed")
    parser.add_argument("--seed", type=int, default=time.gmtime().tm_yday)
    asked = parser.parse_args()
    every = mutants()
    some = every if asked.is_all else random.Random(asked.seed).sample(every, asked.sample)
    survivors = [name for name, notices in some if not notices()]
    print(*(f"NOT NOTICED: {name}" for name in survivors), sep="\n", end="\n" if survivors else "")
    how = "all" if asked.is_all else f"seed {asked.seed}"
    print(f"{len(some)} of {len(every)} numbers changed by 5 % ({how}), {len(survivors)} not noticed")
    return 1 if survivors else 0


if __name__ == "__main__":
    sys.exit(main())
