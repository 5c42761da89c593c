"""How long a skid plate takes after import, by kind, and beside scikit-fem's own triangles (Argyris) on the same plate.

Processor time, so that what else the machine does counts little; the load average stands above, for it counts all the same. Run it
with OMP_NUM_THREADS=1: threads add up in it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from os import getloadavg
from time import process_time

import numpy as np

from framecheck.checks.plate import solve
from framecheck.checks.plate.bending import bendings, sheet_of
from framecheck.model.plate import Bead, BoltedPlate, Drop, InPlane, Patch, PlateBolt, Press, Rest, StiffenerRun, Strike
from framecheck.model.shop_tables import Material

STEEL = Material("steel", 200e9, 200e9 / 2.6, 7850.0, 250e6, 400e6, "round numbers")
SPOTS = [(x, y) for y in (0.0, 0.5) for x in (0.0, 0.4, 0.8)]


def plate() -> BoltedPlate:
    """Return 800 x 500 x 4 mm on six bolts, with a press and a drop."""
    bolts = tuple(PlateBolt(f"bolt {n}", spot, 0.02) for n, spot in enumerate(SPOTS))
    patch = Patch((0.4, 0.25), (0.1, 0.1))
    loads = (Press("press", patch, 5000.0), Strike("drop", patch, Drop(100.0, 0.05)))
    return BoltedPlate("skid", 0.8, 0.5, 0.004, STEEL, bolts, loads=loads, gap=0.05)


def best(action: Callable[[], object], rounds: int = 7) -> float:
    """Return the least processor time of some rounds, ms."""
    times = []
    for _ in range(rounds):
        start = process_time()
        action()
        times.append(process_time() - start)
    return 1e3 * min(times)


def argyris(pieces: int) -> float:
    """Return the patch's movement per newton, m/N, by quintic triangles, `pieces` squares along the short side."""
    from skfem import Basis, BilinearForm, ElementTriArgyris, LinearForm, MeshTri, condense
    from skfem import solve as solved
    from skfem.helpers import dd, ddot, trace

    d, nu = plate().rigidity, 0.3
    mesh = MeshTri.init_tensor(np.linspace(0, 0.8, 8 * pieces // 5 + 1), np.linspace(0, 0.5, pieces + 1))
    basis = Basis(mesh, ElementTriArgyris(), intorder=8)
    form = BilinearForm(lambda u, v, _: d * ((1 - nu) * ddot(dd(u), dd(v)) + nu * trace(dd(u)) * trace(dd(v))))
    patch = LinearForm(lambda v, w: v * ((abs(w.x[0] - 0.4) < 0.05) & (abs(w.x[1] - 0.25) < 0.05)) / 0.01)
    load = patch.assemble(basis)
    held = basis.nodal_dofs[0][[int(np.argmin(np.hypot(*(mesh.p - np.array(at)[:, None])))) for at in SPOTS]]
    return float(load @ solved(*condense(form.assemble(basis), load, D=held)))


def many(bolts: int, loads: int) -> BoltedPlate:
    """Return 1000 x 800 x 5 mm on so many bolts, no two in one line, pressed at so many places, one at a time."""
    spots = [(0.02 + 0.95 * (37 * n % 61) / 61, 0.02 + 0.75 * (53 * n % 67) / 67) for n in range(bolts)]
    presses = tuple(
        Press(f"press {n}", Patch((0.1 + 0.8 * (29 * n % 71) / 71, 0.1 + 0.6 * (31 * n % 73) / 73), (0.05, 0.05)), 1000.0)
        for n in range(loads)
    )
    held = tuple(PlateBolt(f"bolt {n}", spot, 0.02) for n, spot in enumerate(spots))
    return BoltedPlate("many", 1.0, 0.8, 0.005, STEEL, bolts=held, loads=presses)


def in_contact() -> BoltedPlate:
    """Return the plate on six bolts under two members that it lies against, with three presses and a drop."""
    rests = tuple(Rest((x, y), f"member {n}", y) for n, x in enumerate((0.0, 0.05, 0.75, 0.8)) for y in np.linspace(0.0, 0.5, 17))
    presses = tuple(Press(f"press {x}", Patch((x, 0.25), (0.1, 0.1)), 5000.0) for x in (0.2, 0.4, 0.6))
    strike = Strike("drop", Patch((0.4, 0.25), (0.1, 0.1)), Drop(100.0, 0.05))
    return replace(plate(), rests=rests, loads=(*presses, strike))


def ours() -> float:
    """Return the same movement by framecheck's rectangles, m/N."""
    return bendings(sheet_of(plate()), plate().loads)[0].work


def main() -> None:
    """Print the table."""
    beads = tuple(Bead(f"bead {y}", StiffenerRun.X, y, 0.1, 0.7, 0.05, 0.01, 0.02) for y in (0.12, 0.38))
    kinds = {"plain": plate(), "held in the plane": replace(plate(), in_plane=InPlane.HELD),
             "two beads": replace(plate(), stiffeners=beads)}  # fmt: skip
    print("load average of 1, 5, 15 minutes: " + ", ".join(f"{each:.1f}" for each in getloadavg()))
    first = process_time()
    solve(plate())
    print(f"{'first plate in the process, with imports':<46}{1e3 * (process_time() - first):8.1f} ms")
    for name, each in kinds.items():
        print(f"{'all answers, 6 bolts, press and drop, ' + name:<46}{best(lambda each=each: solve(each)):8.1f} ms")
    unit = best(lambda: argyris(10), 3)
    sizes = {"6 bolts, 4 loads, in contact": in_contact(), "20 bolts, 20 loads": many(20, 20), "60 bolts, 20 loads": many(60, 20)}
    for name, each in sizes.items():
        taken = best(lambda each=each: solve(each), 2)
        print(f"{'all answers, ' + name:<46}{taken:8.1f} ms   {taken / unit:.2f} of one load by Argyris triangles")
    print(f"{'bending only, rectangles':<46}{best(ours):8.1f} ms   {ours():.6e} m/N")
    print(f"{'bending only, Argyris triangles, 10 a side':<46}{best(lambda: argyris(10), 3):8.1f} ms   {argyris(10):.6e} m/N")


if __name__ == "__main__":
    main()
