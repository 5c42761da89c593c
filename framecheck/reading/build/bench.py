"""What joints and plates are made with: places, planes, patterns, bolts, parts, with the rows of the tables they use."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from math import hypot, inf, sqrt
from typing import Any

import numpy as np

from framecheck.model.arrays import Vector
from framecheck.model.joint_tables import BoltGrade, Electrode, Thread
from framecheck.model.joints import AtMemberEnd, AtPoint, Bolt, GivenLoads, JointLoad, Place, Plane, Ply
from framecheck.model.loads import ZERO
from framecheck.model.materials import Material
from framecheck.model.weld_joints import WeldedPart, WeldRun
from framecheck.reading.blocks.common import vector
from framecheck.reading.build.draft import Draft
from framecheck.reading.form import Record
from framecheck.reading.joint_lookup import bolts_of, welds_of
from framecheck.reading.library import Library
from framecheck.value_class import value_class

PARALLEL = 0.02
"""Runs that come nearer by less than this share of their length are parallel."""


@value_class
class Bench:
    """What joints are made with: the frame's names, the tables."""

    draft: Draft
    library: Library

    def material(self, name: str) -> Material:
        """Return a material."""
        return self.draft.shelf.material(name)

    def place(self, record: Record) -> Place:
        """Return where a joint sits."""
        said = [record[key] is not None for key in ("member", "point", "loads")]
        if sum(said) != 1:
            fault = "does not say in one way where the joint sits"
            self.draft.desk.refuse(record.line, record.subject, fault, "write one of 'member', 'point', 'loads'")
        if record["member"] is not None:
            return AtMemberEnd(record["member"], record["end"])
        if record["point"] is not None:
            return AtPoint(self.draft.point(record["point"]))
        return GivenLoads(tuple(given_load(each) for each in record["loads"] or ()))

    def plane(self, record: Record) -> Plane:
        """Return how a pattern lies; across = facing x along."""
        facing = unit(record["facing"])
        along = unit(record["along"]) if record["along"] is not None else default_along(facing)
        square = abs(float(np.dot(facing, along))) < 1e-6
        if not square or not np.any(facing) or not np.any(along):
            fault = "'along' does not lie in the plane that faces that way"
            self.draft.desk.refuse(record.line, record.subject, fault, "choose two directions square to one another")
        origin = ZERO if record["origin"] is None else vector(record["origin"])
        return Plane(as_vector(np.cross(facing, along)), as_vector(along), as_vector(facing), origin)

    def spots(self, record: Record) -> tuple[tuple[float, float], ...]:
        """Return (across, along) of each bolt or spot."""
        grid = record["grid"]
        if (grid is None) == (not record["spots"]):
            self.draft.desk.refuse(
                record.line, record.subject, "neither or both of 'spots' and 'grid'", "write one of the two"
            )
            return ()
        if grid is None:
            return tuple((each["across"], each["along"]) for each in record["spots"])
        for way in ("across", "along"):
            if grid[way] > 1 and not grid[f"pitch {way}"] > 0:
                fault = f"{grid[way]} stand {way} at no pitch: all in one spot"
                self.draft.desk.refuse(grid.line, grid.subject, fault, f"write 'pitch {way}', from one to the next")
        across, along = (centred(grid[way], grid[f"pitch {way}"]) for way in ("across", "along"))
        return tuple((u, v) for v in along for u in across)

    def bolt(self, record: Record) -> Bolt:
        """Return a bolt with its rows of the tables."""
        tables = bolts_of(self.library)
        thread = next(row for row in tables.threads if row.name == record["thread"])
        return Bolt(
            thread=thread,
            grade=grade_of(self, record, thread),
            hole=record["hole"] or hole_of(self, record, thread),
            threads=record["threads"],
            shear_planes=record["shear planes"],
            clamp_share=record["clamp share"],
            tightened=record["tightened"],
            torque_factor=next((row for row in tables.torque_factors if row.name == record["threads are"]), None),
            surface=next((row for row in tables.surfaces if row.name == record["faces"]), None),
        )


def grade_of(bench: Bench, record: Record, thread: Thread) -> BoltGrade:
    """Return the row of a grade that holds for a size."""
    rows = [row for row in bolts_of(bench.library).grades if row.name == record["grade"]]
    fit = [row for row in rows if thread.diameter <= row.largest_diameter * (1 + 1e-9)]
    if not fit:
        fault = f"'{record['grade']}' is not made as large as {thread.name}"
        bench.draft.desk.refuse(
            record.line_of("grade"), record.subject, fault, "choose a smaller thread or another grade"
        )
        return rows[-1]
    return min(fit, key=lambda row: row.largest_diameter)


def hole_of(bench: Bench, record: Record, thread: Thread) -> float:
    """Return the standard hole of a thread."""
    near = [row.hole for row in bolts_of(bench.library).holes if abs(row.diameter - thread.diameter) < 1e-5]
    if not near:
        fault = f"no standard hole is known for {thread.name}"
        bench.draft.desk.refuse(record.line, record.subject, fault, "write 'hole' with its diameter")
        return thread.diameter
    return near[0]


def ply_of(bench: Bench, record: Record) -> Ply:
    """Return a part that bolts bear on."""
    material = bench.material(record["material"])
    return Ply(record["name"], record["thickness"], material, record["edge"], record["kind"], record["share"])


def part_of(bench: Bench, record: Record, runs: Sequence[WeldRun] = ()) -> WeldedPart:
    """Return a part that a weld is made on; how many of the runs load its wall at one place, where not said: by where they lie."""
    material, thickness = bench.material(record["material"]), record["thickness"]
    return WeldedPart(record["name"], thickness, material, record["weld"], record["fillets"] or fillets_beside(runs, thickness))


def fillets_beside(runs: Sequence[WeldRun], thickness: float) -> int:
    """Return 2 where two runs lie side by side no farther apart than a part is thick: one on each side of it; else 1."""
    return 2 if any(apart(*pair) <= 1.05 * thickness for pair in combinations(runs, 2)) else 1


def apart(first: WeldRun, second: WeldRun) -> float:
    """Return how far apart two parallel runs lie that overlap along their length, m; infinite for others."""
    start, along = np.array(first.start), np.subtract(first.end, first.start)
    length = float(np.linalg.norm(along))
    axis = along / length if length else along
    ends = np.array([second.start, second.end]) - start
    reach = ends @ axis
    aside = np.linalg.norm(ends - np.outer(reach, axis), axis=1)
    overlaps = min(float(reach.max()), length) > max(float(reach.min()), 0.0)
    return float(aside.max()) if length and overlaps and np.ptp(aside) < PARALLEL * length else inf


def electrode_of(bench: Bench, record: Record) -> Electrode:
    """Return a filler metal; that it joins the metals of the parts is for the check to say."""
    return next(row for row in welds_of(bench.library).electrodes if row.name == record["electrode"])


def as_vector(values: Any) -> Vector:
    """Return three numbers as a plain vector, without negative zeros."""
    return (float(values[0]) + 0.0, float(values[1]) + 0.0, float(values[2]) + 0.0)


def unit(said: Vector | Record) -> Vector:
    """Return a direction by word or by numbers as a unit vector; zero where it is none."""
    x, y, z = vector(said) if isinstance(said, Record) else said
    size = sqrt(x * x + y * y + z * z)
    return (x / size, y / size, z / size) if size else ZERO


def default_along(facing: Vector) -> Vector:
    """Return up, made square to the facing; forward for what faces up or down."""
    x, y, z = facing
    level = hypot(x, y)
    return (-x * z / level, -y * z / level, level) if level > 1e-6 else (1.0, 0.0, 0.0)


def centred(count: int, pitch: float) -> tuple[float, ...]:
    """Return places about zero at even distances."""
    return tuple((n - (count - 1) / 2) * pitch for n in range(count))


def given_load(record: Record) -> JointLoad:
    """Return loads written in the case file."""
    force, moment = record["force"], record["moment"]
    return JointLoad(
        record["load case"], ZERO if force is None else vector(force), ZERO if moment is None else vector(moment)
    )
