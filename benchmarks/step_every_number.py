"""Grow and shrink every number of a case by 1e-7 and tell what moves: `python benchmarks/step_every_number.py cases/hill-truck.yaml`.

A number that is nothing is stepped by 1e-7 of its SI unit, a gauge as the thickness it stands for; counts stay. Compared are every
row of `check` in every load case and every number of `stiffness`. One line a number goes to `--record` (JSON); what stands there is
not run again.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator, Mapping
from math import nan
from pathlib import Path

import numpy as np
import yaml

sys.path.insert(0, str(Path(__file__).parents[1]))
from framecheck.errors import InputError, UnsolvableError
from framecheck.model.case import Case
from framecheck.reading.case_file import read_case
from framecheck.run import run
from framecheck.section.store import SectionStore
from framecheck.study.body import body_answers
from framecheck.study.frame_measures import points_of, stiffness_of
from framecheck.value_class import value_class
from tests.cases.test_sections import LIBRARY
from tests.properties.rewriting import stepped

HAIR = 1e-7
MOST = 1e-4
TRIFLE = 0.01
"""Of what is allowed: rows that use less are told apart."""
NOTHING = 1e-6
"""Of what is allowed: rows that use less are rounding."""
Key = tuple[str, ...]


class Beside:
    """What the case itself needs is kept, what a stepped case adds is dropped before the next one."""

    def __init__(self) -> None:
        self.kept, self.added = dict[str, bytes](), dict[str, bytes]()

    def get(self, key: str) -> bytes | None:
        """Return what was kept under a key."""
        return self.kept.get(key) or self.added.get(key)

    def put(self, key: str, content: bytes) -> None:
        """Keep an entry until `forget`."""
        self.added[key] = content

    def keep(self) -> None:
        """Keep for good what was added."""
        self.kept |= self.added
        self.forget()

    def forget(self) -> None:
        """Drop what was added."""
        self.added = {}


@value_class
class Answer:
    """used: share of what is allowed by row; stiffness: every number of that command; open: what is not judged."""

    used: Mapping[Key, float]
    stiffness: Mapping[Key, float]
    open: frozenset[Key]


def main() -> None:
    """Step the numbers of each case."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("cases", nargs="+", type=Path)
    parser.add_argument("--record", type=Path, default=Path("steps.jsonl"))
    parser.add_argument("--only", default="", help="numbers whose keys hold this text")
    chosen = parser.parse_args()
    done = {line["number"]: line for line in map(json.loads, chosen.record.read_text().splitlines())} if chosen.record.exists() else {}
    for path in chosen.cases:
        with chosen.record.open("a", encoding="utf-8") as record:
            for found in steps(path, chosen.only, frozenset(done)):
                print(json.dumps(found), file=record, flush=True)
                done[found["number"]] = found
        tell(path.stem, [each for number, each in done.items() if number.startswith(f"{path.stem} > ")])


def steps(path: Path, only: str, done: frozenset[str]) -> Iterator[dict[str, object]]:
    """Yield what each number of a case moves, both ways."""
    text, store = path.read_text(encoding="utf-8"), Beside()
    as_is = answer(str(yaml.serialize(yaml.compose(text))), store)
    store.keep()
    for share in (HAIR, -HAIR):
        for keys, other in stepped(text, share, LIBRARY.gauges()):
            number = " > ".join((path.stem, *map(str, keys), f"{share:+g}"))
            if number not in done and only in number:
                yield {"number": number} | moves(as_is, other, store)
                store.forget()


def answer(text: str, store: SectionStore) -> Answer:
    """Return how a case comes out."""
    case = read_case(text, "case.yaml", LIBRARY)
    results, used = run(case, store), dict[Key, float]()
    for row in results.rows:
        key = (row.check.name, row.mode.name, row.subject.words, row.part, str(row.load_case))
        used[key] = max(used.get(key, 0.0), row.demand / row.capacity if row.capacity else 0.0)
    left = frozenset((each.entry.question.name, each.entry.subject.words) for each in results.verdict.ledger.open)
    return Answer(used, dict(stiffnesses(case, store)) if case.vehicle else {}, left)


def stiffnesses(case: Case, store: SectionStore) -> Iterator[tuple[Key, float]]:
    """Yield every number of the command `stiffness`."""
    for each in stiffness_of(case, points_of(case), store):
        bound = each.bound.name
        yield from (((bound, way), getattr(each, way) or nan) for way in ("torsional", "bending", "sideways"))
        along = np.interp(np.linspace(each.rear, each.front, 41), each.x, each.twist)
        yield from (((bound, "twist", str(place)), float(turn)) for place, turn in enumerate(along / abs(along).max()))
        for share in each.shares:
            yield from (((bound, way, share.member), getattr(share, way) or 0.0) for way in ("twist", "bending", "sideways"))
    body = body_answers(case, store)
    yield from ((("roll", str(axle)), roll) for axle, roll in enumerate(body.rolls or ()))
    yield from ((("diagonal", each.opening, each.load_case), each.change / each.length) for each in body.changes)


def moves(as_is: Answer, other: str, store: SectionStore) -> dict[str, object]:
    """Return how far a stepped case's rows and stiffnesses move, and what comes or goes."""
    try:
        new = answer(other, store)
    except (InputError, UnsolvableError) as error:
        return {"refused": str(error).splitlines()[0]}
    rows = sorted(moved(as_is.used, new.used, NOTHING), reverse=True)
    told = [row for row in rows if max(as_is.used[row[1]], new.used[row[1]]) >= TRIFLE]
    trifles = [row for row in rows if row not in told]
    stiff = sorted(moved(as_is.stiffness, new.stiffness, 1e-6), reverse=True)
    keys = one_sided(as_is.used, new.used) | as_is.stiffness.keys() ^ new.stiffness.keys()
    return {
        "rows": told[:3], "trifles": [(*row, float(as_is.used[row[1]])) for row in trifles[:3]], "stiffness": stiff[:3],
        "over": [sum(row[0] > MOST for row in some) for some in (told, trifles, stiff)],
        "in one alone": sorted(keys), "open in one alone": sorted(as_is.open ^ new.open),
    }  # fmt: skip


def one_sided(first: Mapping[Key, float], second: Mapping[Key, float]) -> set[Key]:
    """Return the rows that one answer alone has; not those where of two load cases as bad the other one is told."""
    worst: list[dict[Key, float]] = [{}, {}]
    for of, used in zip(worst, (first, second), strict=True):
        for key, value in used.items():
            of[key[:-1]] = max(of.get(key[:-1], 0.0), value)
    alike = {key for _, key in moved(*worst, 0.0)} - {key for move, key in moved(*worst, 0.0) if move > MOST}
    return {key for key in first.keys() ^ second.keys() if key[:-1] not in alike}


def moved(first: Mapping[Key, float], second: Mapping[Key, float], least: float) -> list[tuple[float, Key]]:
    """Return the relative move of each value that both have."""
    both = ((key, value, second[key]) for key, value in first.items() if key in second)
    return [(float(abs(b - a) / larger), key) for key, a, b in both if (larger := max(abs(a), abs(b))) > least]


def tell(name: str, found: list[dict[str, object]]) -> None:
    """Print the worst moves of a case, and every number that moves anything too far."""
    ran = [each for each in found if "refused" not in each]
    print(f"{name}: {len(found)} steps, {len(found) - len(ran)} refused", flush=True)
    for kind in ("rows", "trifles", "stiffness"):
        worst = max(((each[kind][0][0], each["number"]) for each in ran if each[kind]), default=None)
        print(f"  {kind}: worst {worst}", flush=True)
    for each in found:
        if "refused" in each or any(each["over"]) or each["in one alone"] or each["open in one alone"]:
            print(f"  {json.dumps(each)[:700]}", flush=True)


if __name__ == "__main__":
    main()
