"""The frame engine beside PyNiteFEA and OpenSees on one ladder, and its own growth: the same loads, results compared, as ratios.

    python benchmarks/frame_solve.py [--large]

12 load cases of forces at points and loads along members. Both begin with the frame as plain points and names, build, solve all
cases and tell the six section forces at five places of every member in every case; displacements and section forces are
compared. Ours also tells reactions, energies, movements within members and self-checks; PyNiteFEA gives none of these here. The
ratio to `analyze_linear` alone, with nothing built or told, stands beside. CPU time of one thread. --large adds 300 members.

OpenSees, a compiled library, is measured where `openseespy` is installed, with forces at points alone: it builds the ladder, factors
it once, solves the 12 cases one by one and tells movements of the points and section forces at the ends of every member.
"""

from __future__ import annotations

import os

os.environ.setdefault("OMP_NUM_THREADS", "1")

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from math import dist, inf

import numpy as np
from numpy.typing import NDArray
from Pynite import FEModel3D

from framecheck.frame.batch import solve_variants
from framecheck.frame.element import section_table
from framecheck.frame.fields import fields_at
from framecheck.frame.recover import member_forces
from framecheck.frame.report import places_at
from framecheck.frame.results import FrameSolution
from framecheck.frame.solve import answered, solve_frame, structure_of
from framecheck.model.frame import Frame, Make, Member, MemberEnd, Stretch
from framecheck.model.loads import CaseLoads, MemberLoad, PointLoad, Support
from framecheck.section.properties import SectionProperties

CASES = 12
PLACES = 5  # of each member, where both tell section forces
THEIR_ORDER = [0, 3, 2, 5, 1, 4]  # our N, T, Vz, Ms, Vy, Mv as its N, T, Fy, My, Fz, Mz
Table = NDArray[np.float64]
STEEL = (205e9, 79e9)
RIGID = MemberEnd(Make.RIGID)
SECTION = SectionProperties(
    "tube", 8.4e-4, 6.6, (0.0, 0.0), 1.1e-6, 3.7e-7, 0.0, 8.7e-7, 0.0, (0.0, 0.0), inf, inf, 0.0, 0.0,
    (-0.025, 0.025, -0.05, 0.05), True, *STEEL, 350e6, "given",
)  # fmt: skip


def ladder(members: int) -> Frame:
    """Return a ladder of about so many members, 0.5 m bays, held every tenth bay."""
    bays = max(members // 3, 1)
    points = {f"{side}{k}": (0.5 * k, way, 0.0) for k in range(bays + 1) for side, way in (("L", 0.4), ("R", -0.4))}
    lines = [(f"{side}{k}", f"{side}{k + 1}") for k in range(bays) for side in "LR"]
    lines += [(f"L{k}", f"R{k}") for k in range(bays + 1)]
    made = tuple(Member(f"{a}-{b}", (a, b), (Stretch("tube"),), start=RIGID, end=RIGID) for a, b in lines)
    held = [f"{side}{k}" for k in range(0, bays + 1, 10) for side in "LR"]
    return Frame(points, made, {}, tuple(Support(point, (inf,) * 6) for point in held))


def load_cases(frame: Frame, with_lines: bool = True) -> list[CaseLoads]:
    """Return the load cases: forces on points, loads along some members."""
    points, members = list(frame.points), frame.members
    cases = []
    for number in range(CASES):
        chosen = points[number :: max(len(points) // 7, 1)]
        pushes = tuple(PointLoad(p, (10.0 * number, 50.0, -1000.0 - number), (5.0, 0.0, 1.0)) for p in chosen)
        lines = members[number :: max(len(members) // 3, 1)] if with_lines else ()
        along = tuple(MemberLoad(m.name, (0.0, 0.0, -300.0), (0.0, 10.0, -100.0)) for m in lines)
        cases.append(CaseLoads(f"case {number}", pushes, along))
    return cases


def ours(frame: Frame, cases: list[CaseLoads]) -> FrameSolution:
    """Return our solution, from the frame as read."""
    return solve_frame(structure_of(frame, {"tube": SECTION}), cases)


def theirs(frame: Frame, cases: list[CaseLoads]) -> FEModel3D:
    """Return PyNiteFEA's model, not yet solved. Its y is up: ours (x, y, z) is its (x, z, -y)."""
    model = FEModel3D()
    for name, (x, y, z) in frame.points.items():
        model.add_node(name, x, z, -y)
    model.add_material("steel", *STEEL, 0.3, 7850.0)
    model.add_section("tube", SECTION.area, SECTION.i_sideways, SECTION.i_vertical, SECTION.torsion_constant)
    for member in frame.members:
        model.add_member(member.name, *member.points, "steel", "tube")
    for support in frame.supports:
        model.def_support(support.point, *(True,) * 6)
    for case in cases:
        for load in case.point_loads:
            (x, y, z), (mx, my, mz) = load.force, load.moment
            for way, value in (("FX", x), ("FY", z), ("FZ", -y), ("MX", mx), ("MY", mz), ("MZ", -my)):
                model.add_node_load(load.point, way, value, case=case.name)
        for line in case.member_loads:
            (_, y, z), (_, y2, z2) = line.force_start, line.force_end
            model.add_member_dist_load(line.member, "FY", z, z2, case=case.name)
            model.add_member_dist_load(line.member, "FZ", -y, -y2, case=case.name)
        model.add_load_combo(case.name, {case.name: 1.0})
    return model


def told(frame: Frame, model: FEModel3D) -> list[Table]:
    """Return PyNiteFEA's N, T, Fy, My, Fz, Mz (6, PLACES), in its own axes and signs, of every member in every case."""
    tables = []
    for case in model.load_combos:
        for member in frame.members:
            m = model.members[member.name]
            rows = [m.axial_array(PLACES, case), m.torque_array(PLACES, case)]
            for way in "yz":
                rows += [m.shear_array(f"F{way}", PLACES, case), m.moment_array(f"M{way}", PLACES, case)]
            tables.append(np.array([row[1] for row in rows]))
    return tables


def best(work: Callable[[], object], runs: int) -> float:
    """Return the shortest CPU time of some runs, s."""
    times = []
    for _ in range(runs):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def largest_gap(solution: FrameSolution, model: FEModel3D) -> float:
    """Return the largest difference of displacements as a share of the largest."""
    table = np.array(
        [[[n.DX[c], -n.DZ[c], n.DY[c]] for c in solution.cases] for n in (model.nodes[p] for p in solution.points)]
    )
    return float(np.abs(solution.displacements[..., :3] - table).max() / np.abs(table).max())


def forces_gap(frame: Frame, cases: list[CaseLoads], theirs_told: list[Table]) -> float:
    """Return the largest difference of the sizes of section forces at the same places, as a share of the largest of its kind."""
    ends = answered(structure_of(frame, {"tube": SECTION}), cases)
    table = np.array(theirs_told).reshape(len(cases), len(frame.members), 6, PLACES)
    gaps = np.zeros(6)
    for number, member in enumerate(frame.members):
        length = dist(*(frame.points[p] for p in member.points))
        places = places_at(ends, member.name, np.linspace(0.0, length, PLACES).tolist())
        own = member_forces(ends.structure, places, fields_at(ends.solved.answer, places))[number].forces[..., THEIR_ORDER]
        gap = np.abs(np.abs(own) - np.abs(table[:, number].transpose(2, 0, 1)))
        gaps = np.maximum(gaps, gap.max(axis=(0, 1)))
    return float((gaps / np.maximum(np.abs(table).max(axis=(0, 1, 3)), 1.0)).max())


def beside_pynite(members: int) -> None:
    """Print one row of the comparison."""
    frame = ladder(members)
    cases = load_cases(frame)
    mine = best(lambda: ours(frame, cases), 15)
    started = time.process_time()
    model = theirs(frame, cases)
    built = time.process_time()
    model.analyze_linear()
    solved = time.process_time()
    tables = told(frame, model)
    whole, alone = time.process_time() - started, solved - built
    gaps = largest_gap(ours(frame, cases), model), forces_gap(frame, cases, tables)
    row = f"ours {1000 * mine:7.1f} ms  PyNiteFEA {1000 * whole:8.1f} ms  {whole / mine:6.1f} x"
    alone_row = f"(analyze_linear {alone / mine:5.1f} x)  gaps {gaps[0]:.1e} {gaps[1]:.1e}"
    print(f"{len(frame.members):6d} members: {row}  {alone_row}")
    if not max(gaps) < 1e-8:
        raise SystemExit("results differ")


def opensees(frame: Frame, cases: list[CaseLoads]) -> tuple[Table, Table]:
    """Return OpenSees' movements of the points (point, case, 6) and forces at the ends of members (case, member, 12), own axes."""
    import openseespy.opensees as ops

    numbers = {name: number for number, name in enumerate(frame.points)}
    ops.wipe()
    ops.model("basic", "-ndm", 3, "-ndf", 6)
    for name, place in frame.points.items():
        ops.node(numbers[name], *place)
    for support in frame.supports:
        ops.fix(numbers[support.point], *(1,) * 6)
    ops.geomTransf("Linear", 1, 0.0, 0.0, 1.0)
    sizes = SECTION.area, *STEEL, SECTION.torsion_constant, SECTION.i_vertical, SECTION.i_sideways
    for number, member in enumerate(frame.members):
        ops.element("elasticBeamColumn", number, *(numbers[p] for p in member.points), *sizes, 1)
    ops.constraints("Plain")
    ops.numberer("RCM")
    ops.system("BandSPD")
    ops.integrator("LoadControl", 1.0)
    ops.algorithm("Linear", "-factorOnce")
    ops.analysis("Static")
    moved, forces = np.empty((len(numbers), len(cases), 6)), np.empty((len(cases), len(frame.members), 12))
    for case, loads in enumerate(cases):
        ops.timeSeries("Constant", case + 1)
        ops.pattern("Plain", case + 1, case + 1)
        for each in loads.point_loads:
            ops.load(numbers[each.point], *each.force, *each.moment)
        ops.analyze(1)
        moved[:, case] = [ops.nodeDisp(number) for number in numbers.values()]
        forces[case] = [ops.eleResponse(number, "localForces") for number in range(len(frame.members))]
        ops.remove("loadPattern", case + 1)
    return moved, forces


def beside_opensees(members: int) -> None:
    """Print one row of the comparison with forces at points alone; nothing where OpenSees is not installed."""
    frame = ladder(members)
    cases = load_cases(frame, with_lines=False)
    try:
        moved, forces = opensees(frame, cases)
    except ImportError:
        return
    mine, runs = best(lambda: ours(frame, cases), 15), 15 if members < 1000 else 2
    whole, solution = best(lambda: opensees(frame, cases), runs), ours(frame, cases)
    ends = np.stack([each.forces[-1, :, 0] for each in solution.members], axis=1)
    gaps = largest(solution.displacements - moved, moved), largest(ends - forces[:, :, 6], forces[:, :, 6])
    row = f"ours {1000 * mine:7.1f} ms  OpenSees  {1000 * whole:8.1f} ms  {whole / mine:6.1f} x"
    print(f"{len(frame.members):6d} members: {row}  gaps {gaps[0]:.1e} {gaps[1]:.1e}")
    if not max(gaps) < 1e-8:
        raise SystemExit("results differ")


def largest(gap: Table, of: Table) -> float:
    """Return the largest of a difference as a share of the largest value."""
    return float(np.abs(gap).max() / np.abs(of).max())


def growth() -> None:
    """Print how our time grows."""
    for members in (12, 60, 300, 2000, 10000):
        frame = ladder(members)
        cases = load_cases(frame)
        structure = structure_of(frame, {"tube": SECTION})
        solve_frame(structure, cases)
        whole = best(lambda frame=frame, cases=cases: ours(frame, cases), 3)  # type: ignore[misc]
        print(
            f"{len(frame.members):6d} members: {1000 * whole:8.1f} ms, {1e6 * whole / len(frame.members):6.1f} us a member"
        )


def sweep(variants: int = 1000) -> None:
    """Print the time of a sweep of wall thicknesses on a ladder of 13 exact members (2 rails of 4, 5 crossmembers)."""
    frame = ladder(12)
    structure, cases = structure_of(frame, {"tube": SECTION}), load_cases(frame)
    walls = np.linspace(0.5, 2.0, variants)
    tables = np.repeat(section_table((SECTION,))[None], variants, axis=0)
    tables[:, :, [0, 1, 3, 5, 12]] *= walls[:, None, None]
    batch = solve_variants(structure, tables, cases)
    one = solve_frame(structure_of(frame, {"tube": thicker(float(walls[-1]))}), cases)
    gap = np.abs(batch.displacements[-1] - one.displacements).max() / np.abs(one.displacements).max()
    taken = best(lambda: solve_variants(structure, tables, cases), 5)
    print(f"{variants} variants of {len(frame.members)} members: {1000 * taken:.1f} ms, gap {gap:.1e}")


def thicker(times: float) -> SectionProperties:
    """Return the section with all its wall's thickness times so much, as thin walls go."""
    s = SECTION
    return replace(
        s,
        area=s.area * times,
        i_vertical=s.i_vertical * times,
        i_sideways=s.i_sideways * times,
        torsion_constant=s.torsion_constant * times,
        mass_per_length=s.mass_per_length * times,
    )


if __name__ == "__main__":
    print(f"{CASES} load cases")
    for members in (12, 60):
        beside_pynite(members)
        beside_opensees(members)
    beside_opensees(10000)
    if "--large" in sys.argv:
        beside_pynite(300)
    growth()
    sweep()
