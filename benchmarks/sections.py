"""How long a section takes: cold by step, stored, beside the reference library; and memory over many sections in one process."""

from __future__ import annotations

import resource
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from time import perf_counter
from typing import TypeVar

Result = TypeVar("Result")


def timed(what: str, action: Callable[[], Result]) -> Result:
    """Return what an action returns and print how long it took."""
    start = perf_counter()
    result = action()
    print(f"{what:<46}{(perf_counter() - start) * 1e3:8.2f} ms")
    return result


def memory() -> float:
    """Return the largest memory so far, MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def imports() -> None:
    """Load what a cold section needs, one after the other."""
    import importlib

    for name in ("numpy", "framecheck.section.analysis", "scipy.sparse.linalg", "shapely", "pythoncdt"):
        timed(f"import {name}", lambda name=name: importlib.import_module(name))


def steps(round_: str) -> None:
    """Show a channel's analysis step by step."""
    from framecheck.model.shapes import Channel
    from framecheck.section.mesh import mesh_parts
    from framecheck.section.meshed import analysed, surface_fields
    from framecheck.section.outline_built_up import parts_of

    print(f"channel 100 x 50 x 3, {round_}:")
    parts = timed("  outline", lambda: parts_of(Channel(0.1, 0.05, 0.003, 0.003)))
    mesh = timed("  mesh", lambda: mesh_parts(parts))
    analysis = timed("  mesh again and properties", lambda: analysed(parts, 0.3))
    timed("  fields", lambda: surface_fields(analysis))
    print(f"  {len(mesh.triangles)} triangles")


def stored() -> None:
    """Show one section computed and kept, then read."""
    from framecheck.cli.context import DiskStore
    from framecheck.model.frame import Section
    from framecheck.model.shapes import RectTube
    from framecheck.model.shop_tables import Material
    from framecheck.section.analysis import section_properties

    steel = Material("steel", 200e9, 77e9, 7850.0, 250e6, 400e6, "round numbers")
    tube = Section("tube", RectTube(0.1, 0.05, 0.003, 0.006), steel)
    with tempfile.TemporaryDirectory() as folder:
        store = DiskStore(Path(folder))
        timed("tube 100 x 50 x 3, computed and kept", lambda: section_properties(tube, store))
        timed("the same, read", lambda: section_properties(tube, store))
        timed("the same, read again", lambda: section_properties(tube, store))


def reference() -> None:
    """Show the reference library on the same tube with about as many triangles."""
    import warnings

    warnings.simplefilter("ignore")
    section_class = timed(
        "import sectionproperties", lambda: __import__("sectionproperties.analysis", fromlist=["Section"])
    ).Section
    from sectionproperties.pre.library import rectangular_hollow_section

    def analyse() -> None:
        geometry = rectangular_hollow_section(d=100, b=50, t=3, r_out=6, n_r=16)
        geometry.create_mesh([4.5])
        section = section_class(geometry)
        section.calculate_geometric_properties()
        section.calculate_warping_properties()
        section.calculate_plastic_properties()

    timed("sectionproperties, tube 100 x 50 x 3", analyse)


def many(count: int) -> None:
    """Show memory while many different sections are computed in one process."""
    from framecheck.model.frame import Section
    from framecheck.model.shapes import RectTube
    from framecheck.model.shop_tables import Material
    from framecheck.section.analysis import section_properties

    steel = Material("steel", 200e9, 77e9, 7850.0, 250e6, 400e6, "round numbers")
    start = perf_counter()
    for i in range(count):
        section_properties(Section("tube", RectTube(0.1, 0.05, 0.002 + i * 3e-6, 0.006), steel))
        if i + 1 in (100, count // 2, count):
            print(f"{i + 1:5d} sections: {memory():6.1f} MB, {(perf_counter() - start) / (i + 1) * 1e3:.1f} ms each")


if __name__ == "__main__":
    imports()
    steps("first time")
    steps("again")
    stored()
    many(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
    reference()
