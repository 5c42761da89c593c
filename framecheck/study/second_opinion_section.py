"""A section by sectionproperties on its own mesh of our outline; pairs of numbers, the largest differences first."""

from __future__ import annotations

import warnings
from collections.abc import Iterable, Iterator
from importlib.metadata import PackageNotFoundError, version
from math import inf, isfinite
from typing import Any

from framecheck.model.arrays import Vector
from framecheck.model.frame import Section
from framecheck.model.shapes import GivenProperties
from framecheck.model.shop_tables import Material
from framecheck.section.outline_built_up import parts_of
from framecheck.section.parts import Bond, Parts
from framecheck.section.properties import SectionProperties
from framecheck.value_class import value_class

NEAR = 2e-3
"""Numbers nearer than this share of the largest of their kind agree."""


@value_class
class Difference:
    """One number found twice. kind: of its unit, as tables show it; size: what the difference is measured by, in the same unit.

    where: what it is of, and in which load case.
    """

    quantity: str
    where: str
    kind: str
    ours: float
    theirs: float
    size: float

    @property
    def share(self) -> float:
        """Return how far theirs is from ours, of the size; without end where that is 0 and theirs is not."""
        if self.theirs == self.ours:
            return 0.0
        return (self.theirs - self.ours) / self.size if self.size > 0 else inf


@value_class
class SecondOpinion:
    """What a library makes of a section or a frame. subject: which; compared: what was compared, in words.

    differences: one a quantity, the largest of it, largest first. left_out: what was not compared, in words. note: what else to know.
    """

    library: str
    version: str
    subject: str
    compared: str
    differences: tuple[Difference, ...]
    left_out: tuple[str, ...] = ()
    note: str = ""

    @property
    def agrees(self) -> bool:
        """Return whether every number agrees."""
        return all(abs(each.share) <= NEAR for each in self.differences)


def version_of(library: str) -> str:
    """Return the version of an installed library, "" where it is not installed."""
    try:
        return version(library)
    except PackageNotFoundError:
        return ""


def largest_first(found: Iterable[Difference]) -> tuple[Difference, ...]:
    """Return the largest difference of each quantity, the largest first."""
    worst: dict[str, Difference] = {}
    for each in found:
        if each.quantity not in worst or abs(each.share) > abs(worst[each.quantity].share):
            worst[each.quantity] = each
    return tuple(sorted(worst.values(), key=lambda each: -abs(each.share)))


LIBRARY = "sectionproperties"
MM = 1e-3
TRIANGLES = 1500
"""So many triangles at least over the whole section: more moves the fourth digit."""
THROUGH = 6.0
"""Triangles are no larger than a thin wall's thickness squared over this."""


def opinion_of_section(section: Section, ours: SectionProperties) -> SecondOpinion:
    """Return what sectionproperties makes of a section's outline, beside ours."""
    if isinstance(section.shape, GivenProperties):
        return opinion(section, "nothing", (), ("its numbers are given, so there is no outline to mesh",))

    parts = parts_of(section.shape)
    found = analysed(section, parts)
    rows = [*in_bending(ours, found), *plastic(section, ours, found)]
    if parts.bond in (Bond.WHOLE, Bond.SEAMED):
        return opinion(section, "its outline, meshed and solved anew", (*rows, *in_twist(ours, found, parts)), left_out(parts))
    return opinion(section, "its outline in bending alone", tuple(rows), left_out(parts))


def opinion(section: Section, compared: str, rows: tuple[Difference, ...], without: tuple[str, ...]) -> SecondOpinion:
    """Return an opinion of a section."""
    return SecondOpinion(LIBRARY, version_of(LIBRARY), section.name, compared, largest_first(rows), without)


def left_out(parts: Parts) -> tuple[str, ...]:
    """Return what the library can't be asked of these parts."""
    if parts.bond is Bond.SEAMED:
        return ("there its parts are one piece all along their seams, which is the stiff end of torsion",)
    if parts.bond is Bond.WHOLE:
        return ()
    return ("shear and twist: the library knows no parts that lie apart",)


def analysed(section: Section, parts: Parts) -> Any:
    """Return the library's analysis, in mm and MPa."""
    from sectionproperties.analysis import Section as Analysis

    geometry = geometry_of(section, parts)
    total = sum(each.area for each in parts.polygons)
    wall = min(2 * each.area / each.length for each in parts.polygons)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        geometry.create_mesh([min(total / TRIANGLES, wall**2 / THROUGH)])
        found = Analysis(geometry)
        found.calculate_geometric_properties()
        if parts.bond in (Bond.WHOLE, Bond.SEAMED):
            found.calculate_warping_properties()
        found.calculate_plastic_properties()
    return found


def geometry_of(section: Section, parts: Parts) -> Any:
    """Return the parts as the library takes them, each of its metal."""
    from sectionproperties.pre import CompoundGeometry, Geometry

    metals = section.metals or (section.material,)
    pieces = [
        Geometry(polygon, material=metal_of(metals[number if number < len(metals) else 0]))
        for number, polygon in zip(parts.numbers, parts.polygons, strict=True)
    ]
    return pieces[0] if len(pieces) == 1 else CompoundGeometry(pieces)


def metal_of(material: Material) -> Any:
    """Return a metal as the library takes it. Its G follows from E and Poisson's ratio."""
    from sectionproperties.pre import Material as Metal

    young, shear = material.youngs_modulus / 1e6, material.shear_modulus / 1e6
    return Metal(material.name, young, young / (2 * shear) - 1, material.yield_strength / 1e6, 7.85e-6, "grey")


def in_bending(ours: SectionProperties, found: Any) -> Iterator[Difference]:
    """Yield area and second moments, referred to our section's Young's modulus."""
    young = ours.youngs_modulus / 1e6
    vertical, sideways, product = (each * MM**4 for each in found.get_eic(e_ref=young))
    yield Difference("area", ours.name, "area", ours.area, found.get_ea(e_ref=young) * MM**2, ours.area)
    yield Difference("inertia, bending vertically", ours.name, "inertia", ours.i_vertical, vertical, ours.i_vertical)
    yield Difference("inertia, bending sideways", ours.name, "inertia", ours.i_sideways, sideways, ours.i_sideways)
    size = max(ours.i_vertical, ours.i_sideways)
    yield Difference("inertia, product", ours.name, "inertia", ours.i_product, product, size)


def plastic(section: Section, ours: SectionProperties, found: Any) -> Iterator[Difference]:
    """Yield plastic moduli of a section of one metal, about its own level and upright axis."""
    if section.metals or not ours.plastic_modulus_vertical:
        return
    vertical, sideways = (each / section.material.yield_strength * 1e6 * MM**3 for each in found.get_mp())
    ways = (("vertically", ours.plastic_modulus_vertical, vertical), ("sideways", ours.plastic_modulus_sideways, sideways))
    for way, mine, theirs in ways:
        yield Difference(f"plastic modulus, {way}", ours.name, "modulus", mine, theirs, mine)


def in_twist(ours: SectionProperties, found: Any, parts: Parts) -> Iterator[Difference]:
    """Yield torsion, warping, shear centre and shear areas."""
    young = ours.youngs_modulus / 1e6
    torsion = ours.torsion_bounds[1] if ours.torsion_bounds and parts.bond is Bond.SEAMED else ours.torsion_constant
    yield Difference("torsion constant", ours.name, "inertia", torsion, found.get_ej(e_ref=young) * MM**4, torsion)
    if not ours.closed and ours.warping_constant > 0:
        warping = found.get_egamma(e_ref=young) * MM**6
        yield Difference("warping constant", ours.name, "warping", ours.warping_constant, warping, ours.warping_constant)
    yield from shear_centre(ours, found)
    sideways, vertical = (each * MM**2 for each in found.get_eas(e_ref=young))
    for way, mine, theirs in (("vertical", ours.shear_area_vertical, vertical), ("sideways", ours.shear_area_sideways, sideways)):
        if isfinite(mine):
            yield Difference(f"shear area, {way}", ours.name, "area", mine, theirs, mine)


def shear_centre(ours: SectionProperties, found: Any) -> Iterator[Difference]:
    """Yield the shear centre from the centroid, measured by the section's larger size."""
    centroid, centre = found.get_c(), found.get_sc_t()
    box = ours.box
    size = max(box[1] - box[0], box[3] - box[2])
    theirs: Vector = ((centre[0] - centroid[0]) * MM, (centre[1] - centroid[1]) * MM, 0.0)
    for number, way in enumerate(("to the left", "up")):
        yield Difference(f"shear centre, {way}", ours.name, "length", ours.shear_centre[number], theirs[number], size)
