"""Mid-line theory, microseconds a variant over 1000 variants, beside a loop over single sections and one mesh.

OMP_NUM_THREADS=1 python -m benchmarks.midline
"""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

import numpy as np

from framecheck.model.frame import Section
from framecheck.model.shapes import Channel, RectTube
from framecheck.model.shop_tables import Material
from framecheck.section.analysis import section_properties
from framecheck.section.midline import (
    channel_variants,
    lipped_channel_variants,
    midline_fields,
    midline_properties,
    tube_variants,
)

COUNT = 1000
STEEL = Material("steel", 205e9, 79e9, 7850.0, 350e6, 450e6, "made up")


def microseconds(work: Callable[[], object], per: int, repeats: int = 9) -> float:
    """Return the best of several timings, per item."""
    best = float("inf")
    for _ in range(repeats):
        start = perf_counter()
        work()
        best = min(best, perf_counter() - start)
    return best / per * 1e6


def main() -> None:
    """Print the table."""
    random = np.random.default_rng(1)
    h, b = random.uniform(0.08, 0.15, COUNT), random.uniform(0.04, 0.06, COUNT)
    t = random.uniform(0.002, 0.004, COUNT)
    rows = {
        "rectangular tube": lambda: tube_variants(h, b, t, 2 * t),
        "channel": lambda: channel_variants(h, b, t, t),
        "lipped channel": lambda: lipped_channel_variants(h, b, t, t, 0.3 * b),
    }
    print(f"{COUNT} variants, us each: properties, properties and stress fields")
    for name, work in rows.items():
        print(
            f"  {name:18s} {microseconds(work, COUNT):6.1f} {microseconds(lambda w=work: midline_fields(w()), COUNT):6.1f}"
        )
    print("one section at a time, us: mid-line, meshed (warm), ratio")
    for shape in (RectTube(0.1, 0.05, 0.003, 0.006), Channel(0.1, 0.05, 0.003, 0.003)):
        section = Section("rail", shape, STEEL)
        section_properties(section)
        alone = microseconds(lambda s=section: midline_properties(s), 1)
        meshed = microseconds(lambda s=section: section_properties(s), 1, 3)
        print(f"  {type(shape).__name__:18s} {alone:6.0f} {meshed:8.0f} {meshed / alone:6.1f}")


if __name__ == "__main__":
    main()
