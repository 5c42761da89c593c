"""Shell references for what a fit foretells: ladders drawn at random, on the rig of rig.py. openseespy: installed by hand.

Sizes are drawn by a fixed seed on the mesh's own grid of 6 mm, before any of them was solved; each is rig.py's ladder with other
numbers. Depths are twice the grid's multiples, since nodes at mid depth are loaded and read.
Usage: python rig_ladders.py COUNT SKIPPED > rows.yaml
"""

from __future__ import annotations

import sys
from random import Random

import openseespy.opensees as ops
import rig

SEED, GRID = 20261126, 6.0


def drawn(random: Random) -> dict[str, object]:
    """Return the sizes of one ladder, mm: middle lines, as in rig.py; one wall for all."""
    deep, length = 2 * GRID * random.randint(6, 10), 12 * GRID * random.randint(17, 25)
    count = random.choice((3, 4))
    wide = GRID * random.choice((5, 6, 7))
    gap = (length - 2 * 48.0 - wide) / (count - 1)
    inner = [48.0 + GRID * round((number * gap + random.uniform(-60, 60)) / GRID) for number in range(1, count - 1)]
    return {
        "deep": deep, "wide": GRID * random.randint(6, 10), "wall": random.choice((2.0, 2.5, 3.0, 4.0)), "length": length,
        "inner": GRID * random.randint(40, 60), "cross_deep": deep - 2 * GRID * random.randint(1, 3), "cross_wide": wide,
        "crosses": [48.0, *inner, length - 48.0 - wide],
    }  # fmt: skip


def stations_of(length: float) -> tuple[float, ...]:
    """Return six stations on the grid."""
    return tuple(GRID * round(share * length / GRID) for share in (0.0, 1 / 6, 1 / 3, 2 / 3, 5 / 6, 1.0))


def solved(sizes: dict[str, object]) -> None:
    """Print one ladder: its sizes, then its movements."""
    for name, value in sizes.items():
        setattr(rig, name.upper(), tuple(value) if isinstance(value, list) else value)
    rig.STATIONS = stations_of(rig.LENGTH)
    print(f"- sizes_mm: {{{', '.join(f'{name}: {value}' for name, value in sizes.items())}}}")
    print(f"  stations_mm: {list(rig.STATIONS)}")
    print("\n".join(rig.told(rig.run(), "  ")), flush=True)


if __name__ == "__main__":
    count, skip = (int(each) for each in sys.argv[1:3])
    random = Random(SEED)
    print(f"program: openseespy {ops.version()}, ShellMITC4\nmesh_mm: {rig.MESH:g}\nladders:")
    for number in range(skip + count):
        sizes = drawn(random)
        if number >= skip:
            solved(sizes)
