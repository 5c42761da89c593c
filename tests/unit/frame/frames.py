"""Small frames for tests: sections by numbers, so that no mesher runs."""

from __future__ import annotations

from math import inf

from framecheck.frame.results import Bound, FrameSolution
from framecheck.frame.solve import solve_frame, structure_of
from framecheck.model.arrays import Vector
from framecheck.model.frame import Frame, Make, Member, MemberEnd, Stretch
from framecheck.model.loads import CaseLoads, PointLoad, Support
from framecheck.section.properties import SectionProperties

HELD = (inf,) * 6
PLACED = (inf, inf, inf, 0.0, 0.0, 0.0)
RIGID = MemberEnd(Make.RIGID)


def section(
    name: str = "s",
    *,
    e: float = 200e9,
    g: float = 80e9,
    area: float = 1e-3,
    i_vertical: float = 1e-6,
    i_sideways: float = 4e-7,
    i_product: float = 0.0,
    j: float = 8e-7,
    warping: float = 0.0,
    centroid: tuple[float, float] = (0.0, 0.0),
    shear_centre: tuple[float, float] = (0.0, 0.0),
    shear_areas: tuple[float, float] = (inf, inf),
    mass: float = 7.85,
) -> SectionProperties:
    """Return a section by its numbers; shear_areas: vertical, sideways."""
    return SectionProperties(
        name=name,
        area=area,
        mass_per_length=mass,
        centroid=centroid,
        i_vertical=i_vertical,
        i_sideways=i_sideways,
        i_product=i_product,
        torsion_constant=j,
        warping_constant=warping,
        shear_centre=shear_centre,
        shear_area_vertical=shear_areas[0],
        shear_area_sideways=shear_areas[1],
        plastic_modulus_vertical=0.0,
        plastic_modulus_sideways=0.0,
        box=(-0.02, 0.02, -0.05, 0.05),
        closed=warping == 0.0,
        youngs_modulus=e,
        shear_modulus=g,
        yield_strength=350e6,
        engine="given",
    )


def bar(name: str, *points: str, start: MemberEnd = RIGID, end: MemberEnd = RIGID, of: str = "s") -> Member:
    """Return a member of one section."""
    return Member(name, points, (Stretch(of),), start=start, end=end)


def solved(frame: Frame, *cases: CaseLoads, of: SectionProperties | None = None, bound: Bound | None = None) -> FrameSolution:
    """Return the frame solved with one section 's'."""
    return solve_frame(structure_of(frame, {"s": of or section()}, bound or Bound()), cases)


def push(point: str, force: Vector, moment: Vector = (0.0, 0.0, 0.0), name: str = "push") -> CaseLoads:
    """Return a case of one load."""
    return CaseLoads(name, (PointLoad(point, force, moment),))


def held(frame_points: dict[str, Vector], members: tuple[Member, ...], *points: str) -> Frame:
    """Return a frame held fast at some points."""
    return Frame(frame_points, members, {}, tuple(Support(point, HELD) for point in points))
