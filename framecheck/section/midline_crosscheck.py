"""The built-in self-check: every meshed section beside mid-line theory, and how far apart they may be."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, sqrt

from framecheck.section.properties import SectionProperties
from framecheck.value_class import value_class


@value_class
class Agreement:
    """One quantity from both engines, SI. difference: relative, or a distance over the box's diagonal; allowed: its size."""

    quantity: str
    meshed: float
    midline: float
    difference: float
    allowed: float
    reason: str

    @property
    def agrees(self) -> bool:
        """Return whether the difference is within what is allowed."""
        return abs(self.difference) <= self.allowed


BASE = {
    "area": (0.01, 0.0, "bends are counted along their mid-line"),
    "bending": (0.012, 1.2, "sharp outside corners lie farther out than the mid-line says"),
    "plastic": (0.015, 1.2, "sharp outside corners lie farther out than the mid-line says"),
    "torsion": (0.032, 1.2, "mid-line theory leaves out what corners add; the mesh gives an upper bound"),
    "warping": (0.06, 5.0, "root fillets, and walls that are not thin"),
    "shear": (0.25, 3.0, "mid-line theory lets shear run along walls only, not through fillets and corners"),
    "place": (0.012, 1.2, "as for torsion; distance over the diagonal of the outline box"),
}
"""Allowed difference of each kind: a + b (thickest wall / smaller side of the box)2, and why; a and b from comparing both engines
over tubes, channels, angles, hats, I and Z from thin to a quarter of the side thick. Common practice, no source."""


def cross_check(meshed: SectionProperties, midline: SectionProperties) -> tuple[Agreement, ...]:
    """Return each quantity of a meshed section beside mid-line theory's.

    Left out: warping of closed and solid sections, which is next to nothing; shear areas of a flat bar, where Poisson's ratio,
    which mid-line theory does not know, governs across the thin way.
    """
    return tuple(_rows(meshed, midline, slenderness(meshed)))


def _rows(a: SectionProperties, b: SectionProperties, r: float) -> Iterator[Agreement]:
    """Yield the rows of the self-check; r: thickest wall over the smaller side."""
    inertia = sqrt(a.i_vertical * a.i_sideways)
    yield _relative("area", "area", a.area, b.area, r)
    yield _relative("second moment, bending vertically", "bending", a.i_vertical, b.i_vertical, r)
    yield _relative("second moment, bending sideways", "bending", a.i_sideways, b.i_sideways, r)
    yield _row("product of inertia", "bending", (a.i_product, b.i_product), (b.i_product - a.i_product) / inertia, r)
    yield _relative(
        "plastic modulus, bending vertically", "plastic", a.plastic_modulus_vertical, b.plastic_modulus_vertical, r
    )
    yield _relative(
        "plastic modulus, bending sideways", "plastic", a.plastic_modulus_sideways, b.plastic_modulus_sideways, r
    )
    yield _relative("torsion constant", "torsion", a.torsion_constant, b.torsion_constant, r)
    diagonal = hypot(a.box[1] - a.box[0], a.box[3] - a.box[2])
    for i, way in enumerate(("sideways", "vertically")):
        both = a.shear_centre[i], b.shear_centre[i]
        yield _row(f"shear centre, {way} from the centroid", "place", both, (both[1] - both[0]) / diagonal, r)
    if len(a.walls) == 1:
        return
    yield _relative("shear area, vertical", "shear", a.shear_area_vertical, b.shear_area_vertical, r)
    yield _relative("shear area, sideways", "shear", a.shear_area_sideways, b.shear_area_sideways, r)
    if not a.closed and a.warping_constant > 0.0:
        yield _relative("warping constant", "warping", a.warping_constant, b.warping_constant, r)


def _relative(quantity: str, kind: str, meshed: float, midline: float, r: float) -> Agreement:
    """Return a row whose difference is relative to the mesh."""
    return _row(quantity, kind, (meshed, midline), midline / meshed - 1.0, r)


def _row(quantity: str, kind: str, both: tuple[float, float], difference: float, r: float) -> Agreement:
    """Return a row with its allowance."""
    base, grows, reason = BASE[kind]
    return Agreement(quantity, *both, difference, base + grows * r**2, reason)


def slenderness(section: SectionProperties) -> float:
    """Return the thickest flat wall over the smaller side of the outline box; 0 for round and flat bars, on closed forms."""
    if len(section.walls) < 2:
        return 0.0
    thickest = max(wall.thickness for wall in section.walls)
    y_low, y_high, z_low, z_high = section.box
    return thickest / min(y_high - y_low, z_high - z_low)


def torsion_spread(meshed: SectionProperties, midline: SectionProperties) -> tuple[float, float]:
    """Return the least and the greatest torsion constant known of a section, m4: the mesh's bounds and mid-line theory's value.

    For parts joined at intervals both engines take the parts by themselves; their welded bound is left out.
    """
    values = [meshed.torsion_constant, midline.torsion_constant]
    bounds = meshed.torsion_bounds if midline.torsion_bounds is None else None
    return min((*values, *(bounds or ()))), max((*values, *(bounds or ())))
