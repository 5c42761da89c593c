"""A thousand walls through a ladder of 13 members under 12 load cases: the frame alone, the whole screen, and how time grows.

Run: python benchmarks/sweep.py [most variants]. CPU time of one thread, so that what else the machine does counts little.
"""

from __future__ import annotations

import os

os.environ.setdefault("OMP_NUM_THREADS", "1")

import resource
import sys
from collections.abc import Callable
from pathlib import Path
from time import process_time

import numpy as np

from framecheck.frame.batch import CHUNK, solve_variants
from framecheck.reading.library import load_library
from framecheck.reading.study_file import read_study
from framecheck.reading.variants import SectionBuilder
from framecheck.section.midline import midline_fields, tube_variants
from framecheck.study.engines import Builders, run_variants
from framecheck.study.many_sections import many_sections
from framecheck.study.screen import KeyedChunk, ScreenChunk, all_tables, ground_of
from framecheck.study.sweep import shortlist, variants_of

ROOT = Path(__file__).resolve().parents[1]
TABLES = {
    f"{file.parent.name}/{file.name}": file.read_text()
    for name in ("sections", "shared")
    for file in (ROOT / name).glob("*.yaml")
}
TUBE = "shape: rectangular tube, outside radius: 6 mm, material: A500 grade C"
ALONG = (1000, 500, 0, -500, -1000)
SIDES = {"L": 400, "R": -400}
FORCES = tuple((f"{side}{n}", size) for n in (1, 2, 3) for side in SIDES for size in (4, 7))


def case_text() -> str:
    """Return a ladder: two rails of four bays each and five crossmembers, 13 members in all, 12 load cases."""
    points = "".join(
        f"    {side}{n}: {{x: {x} mm, y: {y} mm}}\n" for side, y in SIDES.items() for n, x in enumerate(ALONG)
    )
    bays = "".join(
        f"    - {{name: {side}{n} bay, points: [{side}{n}, {side}{n + 1}], section: rail, ends: rigid}}\n"
        for side in SIDES
        for n in range(4)
    )
    cross = "".join(f"    - {{name: cross {n}, points: [L{n}, R{n}], section: cross, ends: rigid}}\n" for n in range(5))
    loads = "".join(
        f"  - case {n}: {{forces: [{{point: {point}, force: {{z: -{size} kN, y: {n} N}}}}]}}\n"
        for n, (point, size) in enumerate(FORCES)
    )
    return f"""\
title: A ladder of 13 members
sections:
  rail: {{{TUBE}, height: 100 mm, width: 50 mm, wall: 3 mm}}
  cross: {{{TUBE}, height: 50 mm, width: 50 mm, wall: 3 mm}}
frame:
  points:
{points}  members:
{bays}{cross}  supports:
    - {{point: L0, held: [x, y, z]}}
    - {{point: R0, held: [x, z]}}
    - {{point: L4, held: [z]}}
    - {{point: R4, held: [z]}}
load cases:
{loads}"""


def study_text(count: int) -> str:
    """Return a study of so many walls."""
    return f"""\
title: Walls
case: ladder.yaml
vary: [{{field: sections.rail.wall, from: 2 mm, to: 6 mm, steps: {count}}}]
engine: screen by yield
"""


def timed(run: Callable[[], object], times: int = 5) -> float:
    """Return the CPU time of the quickest of some runs, s."""
    found = []
    for _ in range(times):
        begun = process_time()
        run()
        found.append(process_time() - begun)
    return min(found)


def made(count: int) -> tuple[Builders, ScreenChunk, object]:
    """Return the study of so many walls, ready to run."""
    file = read_study(study_text(count), "study.yaml", (case_text(), "ladder.yaml"), load_library(TABLES))
    sections = SectionBuilder("ladder", file.build)
    means = Builders(file.build, None, sections, "ladder")
    return means, ScreenChunk("ladder", file.build, sections, variants_of(file.study), file.study.aims), file.study


def parts(count: int) -> None:
    """Print the time of each part for so many variants."""
    means, chunk, study = made(count)
    ground = ground_of(KeyedChunk("ladder", chunk))
    texts = [chunk.variants.texts(number) for number in range(count)]
    assert means.sections is not None
    sections = [means.sections(each)["rail"] for each in texts]
    walls = np.linspace(0.002, 0.006, count)
    even = np.ones(count)

    def midline() -> object:
        return midline_fields(tube_variants(0.1 * even, 0.05 * even, walls, 0.006 * even))

    many = {**ground.fixed, "rail": many_sections(sections)}
    tables = all_tables(ground.structures[0], many, count)
    print(
        f"{len(ground.case.frame.members)} members, {len(ground.groups[0])} load cases, {count} walls, chunks of {CHUNK}"
    )
    mid, frame = timed(midline), timed(lambda: solve_variants(ground.structures[0], tables, ground.groups[0]))
    whole = timed(lambda: sum(1 for _ in run_variants(study, means)), 3)
    print(f"mid-line sections {mid:.3f} s, frame {frame:.3f} s, both {mid + frame:.3f} s (to hold: 0.3)")
    print(f"whole study, sizes read, stress and yield, rows made: {whole:.3f} s (to hold: 3)")


def growth(counts: tuple[int, ...]) -> None:
    """Print time and memory as the count grows tenfold."""
    before = None
    for count in counts:
        means, _, study = made(count)
        begun = process_time()
        found = shortlist(run_variants(study, means), 5)
        spent = process_time() - begun
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        ratio = "" if before is None else f", {spent / before:.1f} times as long"
        print(
            f"{found.count} variants: {spent:.2f} s, {1e3 * spent / count:.3f} ms each{ratio}; most memory so far {memory:.0f} MB"
        )
        before = spent


if __name__ == "__main__":
    parts(1000)
    most = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    growth(tuple(10**power for power in range(3, 7) if 10**power <= most))
