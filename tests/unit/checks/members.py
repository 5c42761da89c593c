"""Members for the tests of the member checks: thin-walled sections by hand, and outcomes with given section forces.

Sizes are along the middle of the walls; stress fields are those of thin-walled beam theory, sampled along the mid-lines.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from framecheck.frame.results import Bound, FrameSolution, MemberForces
from framecheck.model.arrays import Array
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Member, Section, Stretch
from framecheck.model.loads import CaseLoads
from framecheck.model.shapes import Flat
from framecheck.model.shop_tables import Material
from framecheck.section.properties import SectionProperties, UnitFields, Wall
from framecheck.stress import SolvedCase, member_stress

STEEL = Material("steel", 210e9, 81e9, 7850.0, 355e6, 470e6, "round numbers for a test")
Place = tuple[float, float]


def thin(name: str, walls: Sequence[Wall], closed: bool, **changes: object) -> SectionProperties:
    """Return a section of straight walls, each a strip along its mid-line; fields from N, Mv, Ms and V over the walls' area."""
    centre, area = centroid_of(walls)
    moved = [replace(w, start=shift(w.start, centre), end=shift(w.end, centre)) for w in walls]
    iv, i_s, ivs = (second_moment(moved, i, j) for i, j in ((1, 1), (0, 0), (0, 1)))
    points = np.concatenate([np.linspace(w.start, w.end, 9) for w in moved])
    given: dict[str, object] = {
        "name": name, "area": area, "mass_per_length": 7850 * area, "centroid": centre, "i_vertical": iv, "i_sideways": i_s,
        "i_product": ivs, "torsion_constant": sum(w.width * w.thickness**3 / 3 for w in moved), "warping_constant": 0.0,
        "shear_centre": (0.0, 0.0), "shear_area_vertical": area / 2, "shear_area_sideways": area / 2,
        "plastic_modulus_vertical": 1.15 * iv / np.abs(points[:, 1]).max(),
        "plastic_modulus_sideways": 1.15 * i_s / np.abs(points[:, 0]).max(),
        "box": (points[:, 0].min(), points[:, 0].max(), points[:, 1].min(), points[:, 1].max()), "closed": closed,
        "youngs_modulus": 210e9, "shear_modulus": 81e9, "yield_strength": 355e6, "engine": "by hand",
        "fields": fields(points, area, (iv, i_s, ivs)), "walls": tuple(moved), **changes,
    }  # fmt: skip
    return SectionProperties(**given)  # type: ignore[arg-type]


def shift(place: Place, by: Place) -> Place:
    return place[0] - by[0], place[1] - by[1]


def length_of(wall: Wall) -> float:
    return float(np.hypot(wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]))


def centroid_of(walls: Sequence[Wall]) -> tuple[Place, float]:
    areas = np.array([length_of(w) * w.thickness for w in walls])
    middles = np.array([(np.array(w.start) + np.array(w.end)) / 2 for w in walls])
    y, z = areas @ middles / areas.sum()
    return (float(y), float(z)), float(areas.sum())


def second_moment(walls: Sequence[Wall], i: int, j: int) -> float:
    total = 0.0
    for w in walls:
        area, mid = length_of(w) * w.thickness, (np.array(w.start) + np.array(w.end)) / 2
        span = np.array(w.end) - np.array(w.start)
        total += area * (mid[i] * mid[j] + span[i] * span[j] / 12)
    return float(total)


def fields(points: Array, area: float, inertia: tuple[float, float, float]) -> UnitFields:
    iv, i_s, ivs = inertia
    unit = np.linalg.inv(np.array([[iv, ivs], [ivs, i_s]]))
    bending = np.stack((points[:, 1], points[:, 0]), axis=1) @ unit
    normal = np.column_stack((np.full(len(points), 1 / area), bending, np.zeros(len(points))))
    shear = np.zeros((len(points), 2, 4))
    shear[:, 0, 1] = shear[:, 1, 0] = 2 / area
    return UnitFields(points, normal, shear, np.zeros(len(points), dtype=bool))


def tube(height: float, width: float, wall: float, **changes: object) -> SectionProperties:
    """Return a rectangular tube, sizes between mid-lines; flat widths are taken as the full sides."""
    y, z = width / 2, height / 2
    sides = [((y, z), (-y, z)), ((-y, z), (-y, -z)), ((-y, -z), (y, -z)), ((y, -z), (y, z))]
    walls = [Wall(a, b, float(np.hypot(b[0] - a[0], b[1] - a[1])), wall) for a, b in sides]
    torsion = 4 * (height * width) ** 2 / (2 * (height + width) / wall)
    return thin("tube", walls, True, **{"torsion_constant": torsion, **changes})


def channel(height: float, flange: float, wall: float, **changes: object) -> SectionProperties:
    """Return a channel, web on the left, sizes between mid-lines; warping constant and shear centre by the closed forms."""
    z = height / 2
    walls = [
        Wall((-flange, z), (0.0, z), flange, wall, free_start=True),
        Wall((0.0, z), (0.0, -z), height, wall),
        Wall((0.0, -z), (-flange, -z), flange, wall, free_end=True),
    ]
    warping = wall * flange**3 * height**2 / 12 * (3 * flange + 2 * height) / (6 * flange + height)
    outside = 3 * flange**2 / (height + 6 * flange) + flange**2 / (2 * flange + height)
    return thin("channel", walls, False, **{"warping_constant": warping, "shear_centre": (outside, 0.0), **changes})


def outcome(
    sections: Sequence[SectionProperties],
    forces: Array,
    stations: Sequence[float],
    member: Member | None = None,
    material: Material = STEEL,
    **changes: object,
) -> SolvedCase:
    """Return a solved case of one member along x: sections and forces (n_station, n_case, 9) station by station."""
    end = stations[-1]
    member = member or Member("rail", ("a", "b"), (Stretch("rail section"),))
    points = {"a": (0.0, 0.0, 0.0), "b": (end, 0.0, 0.0)}
    frame = Frame(points, (member,), {"rail section": Section("rail section", Flat(1.0, 1.0), material)})
    count, cases = forces.shape[:2]
    line = MemberForces(
        member.name, np.array(stations), tuple(sections), forces, forces[..., :6], np.zeros((count, cases, 3)),
        np.outer(np.array(stations), np.array((1.0, 0.0, 0.0))), np.tile(np.eye(3), (count, 1, 1)),
    )  # fmt: skip
    names = tuple(f"case {number + 1}" for number in range(cases))
    empty = np.zeros(cases)
    solution = FrameSolution(Bound(), names, ("a", "b"), np.zeros((2, cases, 6)), {}, (line,), {}, {}, empty, empty, {})
    case = Case("one member", frame, **changes)  # type: ignore[arg-type]
    loads = tuple(CaseLoads(name) for name in names)
    known = {each.name: each for each in sections} | {"rail section": sections[0]}
    return SolvedCase(case, known, loads, (solution,), ((member_stress(line),),))


def row(**given: float) -> Array:
    """Return section forces (9,) from N, Vy, Vz, T, Mv, Ms, B by name."""
    order = ("N", "Vy", "Vz", "T", "Mv", "Ms", "B", "Tsv", "Tw")
    return np.array([given.get(name, 0.0) for name in order])
