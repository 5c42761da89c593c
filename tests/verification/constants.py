"""The numbers in the code of the checks, function by function, for their second copy in tables/constants.csv.

Counted are the module's named constants and the defaults of fields, each written with a decimal point or over 9, and the numbers in
functions. Left out in functions: 0, 1, 2, 1/2 and their negatives, which formulas are full of. Left out everywhere: whole numbers
under 10 without a point unless the second copy lists them (indices, polynomials), and guards against dividing by nothing: powers of
ten up to 1e-5 and from 1e15.
"""

from __future__ import annotations

import ast
import csv
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import framecheck
from tests.verification.second_copy import TABLES, Held, Seen

PACKAGE = Path(framecheck.__file__).parent
FILES = tuple(sorted([
    *(PACKAGE / "checks").rglob("*.py"),
    *(PACKAGE / f"{name}.py" for name in ("model/case", "model/duty", "model/joining", "model/joints", "model/plate",
      "model/shop_tables", "results/cautions", "vehicle/travel", "section/midline_theory", "frame/stand_in")),
]))  # fmt: skip
"""The files that hold constants of checks: partial factors, targets, friction, shares of strength."""
PLAIN = frozenset({0.0, 1.0, 2.0, 0.5})


Literal = Any
"""A number in the code: an ast.Constant whose value is one."""
Place = tuple[str, str]
"""Module and function, class or constant."""


def numbers_in(text: str) -> Iterator[tuple[str, tuple[float, ...]]]:
    """Yield each constant, function and class of a module with its numbers, in their order."""
    by_name: dict[str, list[float]] = {}
    for name, node in places_in(text):
        by_name.setdefault(name, []).append(float(node.value))
    yield from ((name, tuple(found)) for name, found in by_name.items())


def places_in(text: str) -> Iterator[tuple[str, Literal]]:
    """Yield every number of a module that counts, with the constant, function or class that it stands in."""
    for statement in ast.parse(text).body:
        for name, inner in parts(statement):
            plain = () if isinstance(inner, ast.FunctionDef) else PLAIN
            for node in literals(inner):
                value = node.value
                if counts(value) or (value and isinstance(value, float) and abs(value) in plain):
                    yield name, node


def parts(node: ast.stmt) -> Iterator[tuple[str, ast.AST]]:
    """Yield the named parts of a statement: methods one by one."""
    match node:
        case ast.FunctionDef():
            yield node.name, node
        case ast.ClassDef():
            yield node.name, ast.Module([each for each in node.body if isinstance(each, ast.AnnAssign | ast.Assign)], [])
            for each in node.body:
                if isinstance(each, ast.FunctionDef):
                    yield f"{node.name}.{each.name}", each
        case ast.Assign() | ast.AnnAssign() if node.value is not None:
            target = node.targets[0] if isinstance(node, ast.Assign) else node.target
            yield ast.unparse(target), node.value


def literals(node: ast.AST) -> list[Literal]:
    """Return the numbers of a part, in the order of the text; decorators left out."""
    of = [*node.body, node.args] if isinstance(node, ast.FunctionDef) else [node]
    found = [
        each
        for part in of
        for each in ast.walk(part)
        if isinstance(each, ast.Constant) and isinstance(each.value, int | float) and not isinstance(each.value, bool)
    ]
    return sorted(found, key=lambda each: (each.lineno, each.col_offset))


def counts(number: float) -> bool:
    """Return whether a number says something of strength or size."""
    return abs(number) not in PLAIN and not is_guard(abs(number))


def is_guard(number: float) -> bool:
    """Return whether a number is a power of ten that only keeps from dividing by nothing."""
    return (number <= 1e-5 or number >= 1e15) and f"{number:e}".startswith("1.000000e")


def is_whole_and_small(number: float) -> bool:
    """Return whether a number may be an index or the 3 and 4 of a polynomial."""
    return number == int(number) and abs(number) < 10 and abs(number) not in PLAIN


@cache
def second_constants() -> Mapping[Place, tuple[tuple[float, ...], Held]]:
    """Return the second copy: numbers by place, with what is said of them."""
    found: dict[Place, tuple[tuple[float, ...], Held]] = {}
    with (TABLES / "constants.csv").open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            seen = next(each for each in Seen if row["seen"].startswith(each.value))
            held = Held(0.0, row["unit"], row["source"], row["edition"], row["place"], row["who"], seen)
            found[(row["row"], row["key"])] = tuple(float(each) for each in row["value"].split()), held
    return found


def differing(module: str, text: str) -> list[str]:
    """Return what differs between a module's numbers and their second copy."""
    held, told, met = second_constants(), [], set()
    for name, found in numbers_in(text):
        other = held.get((module, name))
        met.add(name)
        if other is None and not all(is_whole_and_small(each) for each in found):
            told.append(f"{module} {name}: {list(found)} has no second row")
        elif other is not None and sorted(other[0]) != sorted(found) and sorted(other[0]) != sorted(
            each for each in found if not is_whole_and_small(each)
        ):
            told.append(f"{module} {name}: {list(found)}, the second copy has {list(other[0])}")
    gone = [name for of, name in held if of == module and name not in met]
    return told + [f"{module} {name}: stands in the second copy alone" for name in gone]


def module_of(path: Path) -> str:
    """Return a file's name as the second copy has it: "checks/bolt_strength"."""
    return path.relative_to(PACKAGE).with_suffix("").as_posix()
