"""Choose mutants, and the tests that may kill them, for cosmic-ray (`pip install cosmic-ray pytest-cov`).

In a clone of its own (a mutant is written into the file it changes), with `config.toml` naming the modules and as test command
`python mutation.py test COVERAGE` (a copy outside the clone):

    python -m pytest -n 2 --cov --cov-context=test --cov-report=          # COVERAGE: the .coverage that this leaves
    cosmic-ray init config.toml session.sqlite
    python mutation.py sample session.sqlite 230 && cosmic-ray exec config.toml session.sqlite

`sample` leaves so many mutants, the modules in turn, drawn by a seed. `test` finds by git what a mutant changed, and in the
coverage's contexts which tests run those lines; the most specific go first.
"""

from __future__ import annotations

import argparse
import ast
import os
import random
import re
import subprocess
import sys
from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import zip_longest
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cosmic_ray.work_item import MutationSpec

WORTH = re.compile(
    r"core/(ReplaceBinaryOperator_(Add|Sub|Mul|Div|Pow)_(Add|Sub|Mul|Div)|ReplaceComparisonOperator_(Lt|LtE|Gt|GtE|Eq|NotEq)_"
    r"(Lt|LtE|Gt|GtE|Eq|NotEq)|ReplaceUnaryOperator_USub_UAdd|ReplaceUnaryOperator_Delete_Not|NumberReplacer|ReplaceAndWithOr"
    r"|ReplaceOrWithAnd|AddNot|ReplaceTrueWithFalse|ReplaceFalseWithTrue|ZeroIterationForLoop|ReplaceContinueWithBreak)$"
)
"""Operators whose mutants run: what swaps + for >> fails at once and would only raise the share of the killed."""
APART = "browser", "properties/test_any_text", "trust/test_fuzz"
"""Tests that tell nothing of a formula and take long."""


def sample(session: str, count: int, seed: int) -> None:
    """Mark all but `count` mutants as skipped, the modules taken in turn."""
    from cosmic_ray.work_db import WorkDB, use_db
    from cosmic_ray.work_item import WorkerOutcome, WorkResult

    with use_db(session, WorkDB.Mode.open) as base:
        modules: dict[str, list[str]] = defaultdict(list)
        items = sorted(base.work_items, key=lambda item: order(item.mutations[0]))
        for item in items:
            if WORTH.match(item.mutations[0].operator_name):
                modules[str(item.mutations[0].module_path)].append(item.job_id)
        draw = random.Random(seed)
        for jobs in modules.values():
            draw.shuffle(jobs)
        turns = [job for turn in zip_longest(*modules.values()) for job in turn if job]
        chosen = set(turns[:count])
        left_out = [item.job_id for item in items if item.job_id not in chosen]
        base.set_multiple_results(left_out, WorkResult(WorkerOutcome.SKIPPED))
        print(f"{len(chosen)} of {len(turns)} mutants in {len(modules)} modules")


def order(mutation: MutationSpec) -> tuple[object, ...]:
    """Return what sorts mutants alike on every machine (their numbers are drawn anew each time)."""
    return mutation.module_path, mutation.start_pos, mutation.operator_name, mutation.occurrence


def changed() -> tuple[str, set[int]]:
    """Return the file that differs from the commit, and the numbers of its changed lines (in the commit)."""
    told = subprocess.run(["git", "diff", "-U0", "--", "framecheck"], capture_output=True, text=True, check=True).stdout
    path = re.search(r"^--- a/(.+)$", told, re.MULTILINE)
    if not path:
        sys.exit("nothing is mutated here")
    lines: set[int] = set()
    for first, count in re.findall(r"^@@ -(\d+)(?:,(\d+))? ", told, re.MULTILINE):
        lines |= set(range(int(first), int(first) + int(count or 1)))
    return path[1], lines


def around(path: str, lines: set[int]) -> set[int]:
    """Return the lines of the functions or classes that hold the lines, as the commit has them."""
    text = subprocess.run(["git", "show", f"HEAD:{path}"], capture_output=True, text=True, check=True).stdout
    spans = (range(node.lineno, (node.end_lineno or node.lineno) + 1) for node in ast.parse(text).body if hasattr(node, "body"))
    return {line for span in spans if lines & set(span) for line in span}


def covering(coverage_file: str, path: str, lines: set[int]) -> list[str]:
    """Return the tests that run the lines (else their function, else the file), those first that run the fewest lines."""
    from coverage import CoverageData

    data = CoverageData(coverage_file)
    data.read()
    name = next(each for each in data.measured_files() if each.endswith("/" + path))
    contexts = {line: set(filter(None, who)) for line, who in data.contexts_by_lineno(name).items()}
    for wanted in (lines, around(path, lines), set(contexts)):
        tests = {test.split("|")[0] for line in wanted for test in contexts.get(line, ())}
        if tests:
            break
    sizes = weights(coverage_file)
    kept = (test for test in tests if not any(word in test for word in APART) and "[/" not in test)  # a path of another checkout
    return sorted(kept, key=lambda test: (sizes.get(test, 0), test))


def weights(coverage_file: str) -> dict[str, int]:
    """Return the bytes of line sets that each test has in the data: a measure of how much it runs; kept beside the data."""
    import json
    import sqlite3

    beside = Path(coverage_file + ".weights.json")
    if beside.exists():
        kept: dict[str, int] = json.loads(beside.read_text(encoding="utf-8"))
        return kept
    asked = "select context, count(*) from arc join context on context.id = arc.context_id group by context"
    found: dict[str, int] = defaultdict(int)
    for context, count in sqlite3.connect(coverage_file).execute(asked):
        found[context.split("|")[0]] += count
    beside.write_text(json.dumps(found), encoding="utf-8")
    return dict(found)


def batches(tests: list[str], first: int, most: int) -> Iterator[list[str]]:
    """Yield the most specific tests, then the others."""
    yield tests[:first]
    if tests[first:most]:
        yield tests[first:most]


def test(coverage_file: str, most: int, without: Iterable[str]) -> int:
    """Run the covering tests until one fails; return 0 where the mutant survives."""
    path, lines = changed()
    tests = covering(coverage_file, path, lines)
    left = [each for each in tests if not any(word in each for word in without)]
    environment = os.environ | ({} if path.startswith("framecheck/checks") else {"FRAMECHECK_STORE": ""})
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", "-p", "no:randomly", "--no-header"]
    print(f"{path} {sorted(lines)}: {len(left)} tests")
    for some in batches(left, 12, most):
        if subprocess.run([*command, *some], env=environment, check=False).returncode:
            return 1
    return 0


def main() -> int:
    """Sample, or test."""
    parser = argparse.ArgumentParser(description=__doc__)
    commands = parser.add_subparsers(dest="command", required=True)
    first = commands.add_parser("sample")
    first.add_argument("session")
    first.add_argument("count", type=int)
    first.add_argument("--seed", type=int, default=1)
    second = commands.add_parser("test")
    second.add_argument("coverage")
    second.add_argument("--most", type=int, default=60, help="tests for one mutant")
    second.add_argument("--without", nargs="*", default=[], help="tests that fail without a mutant")
    chosen = parser.parse_args()
    if chosen.command == "sample":
        sample(chosen.session, chosen.count, chosen.seed)
        return 0
    return test(chosen.coverage, chosen.most, chosen.without)


if __name__ == "__main__":
    sys.exit(main())
