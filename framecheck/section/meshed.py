"""The properties and unit stress fields of meshed parts: worked in mm, handed over in SI by `scaled`, the one place."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.section.elements import Elements, joined_elements, parted_elements
from framecheck.section.fields import unit_fields
from framecheck.section.mesh import mesh_parts
from framecheck.section.metals import Stiffness
from framecheck.section.mirrored import Mesh
from framecheck.section.outline import MM
from framecheck.section.parts import Bond, Parts
from framecheck.section.plane import Plane, plane_of
from framecheck.section.potential import Potential, laplace_matrix, one_node_each, potential_of
from framecheck.section.properties import UnitFields
from framecheck.section.rim import Rim, rim_of, torsion_lower_bound
from framecheck.section.sharp import beside_sharp_corner, mean_wall
from framecheck.section.shear import Shear, shear_of
from framecheck.section.twist import Twist, twist_of
from framecheck.value_class import array_class

CELL = 3.0
"""A void makes a section closed where it raises the torsion constant above this many times that of open walls, A t2 / 3."""


@array_class
class Body:
    """One connectivity of the mesh: its operator, its rim, and the lower bound of its torsion constant, mm4."""

    potential: Potential
    rim: Rim
    lower_bound: float

    @property
    def elements(self) -> Elements:
        """Return the triangles."""
        return self.potential.elements


@array_class
class Meshed:
    """A section's analysis, in mm from its reference point.

    body: as it twists; welded: all parts meshed as one, where that differs; plane: of stretching and bending;
    joined_twist: of the welded body; bounds: of the torsion constant, mm4.
    """

    mesh: Mesh
    body: Body
    welded: Body | None
    plane: Plane
    shear: Shear
    twist: Twist
    joined_twist: Twist
    bounds: tuple[float, float]


def analysed(parts: Parts, poisson: float, stiffness: Stiffness = ()) -> Meshed:
    """Return the analysis of parts by their bond; stiffness: moduli of each part over the reference, (): all alike."""
    mesh = mesh_parts(parts)
    ratios = np.array(stiffness)[np.array(parts.numbers)[mesh.part]] if stiffness else np.ones((len(mesh.part), 2))
    if parts.bond is Bond.WHOLE:
        return _whole(mesh, ratios, poisson)
    body = _body(made_of(parted_elements(mesh), ratios), mesh.part)
    own = plane_of(body.elements, mesh.part)
    common = plane_of(body.elements, np.zeros_like(mesh.part))
    twist = twist_of(body.potential, own)
    if parts.bond is Bond.SEAMED:
        return _seamed(mesh, ratios, (body, common, twist), poisson)
    plane = own if parts.bond is Bond.APART else common
    shear = shear_of(body.potential, own, poisson)
    return Meshed(mesh, body, None, plane, shear, twist, twist, (body.lower_bound, twist.constant))


def made_of(elements: Elements, ratios: Array) -> Elements:
    """Return triangles with the moduli of their metals, ratios (m, 2): Young's and shear modulus over the reference."""
    return replace(elements, young=ratios[:, 0], rigid=ratios[:, 1])


def _whole(mesh: Mesh, ratios: Array, poisson: float) -> Meshed:
    """Return the analysis of one piece."""
    one = np.zeros_like(mesh.part)
    body = _body(made_of(joined_elements(mesh), ratios), one)
    plane = plane_of(body.elements, one)
    twist, shear = twist_of(body.potential, plane), shear_of(body.potential, plane, poisson)
    return Meshed(mesh, body, None, plane, shear, twist, twist, (body.lower_bound, twist.constant))


def _seamed(mesh: Mesh, ratios: Array, apart: tuple[Body, Plane, Twist], poisson: float) -> Meshed:
    """Return the analysis of parts joined at intervals: sheared as one, twisting side by side or as the welded cell."""
    body, plane, twist = apart
    welded = _body(made_of(joined_elements(mesh), ratios), np.zeros_like(mesh.part))
    cell, shear = twist_of(welded.potential, plane), shear_of(welded.potential, plane, poisson)
    return Meshed(mesh, body, welded, plane, shear, twist, cell, (body.lower_bound, cell.constant))


def _body(elements: Elements, body: IntArray) -> Body:
    """Return the operator, rim and lower torsion bound of one connectivity; body (m,): each triangle's."""
    matrix, rim = laplace_matrix(elements, elements.rigid), rim_of(elements)
    potential = potential_of(elements, matrix, one_node_each(elements, body))
    alike = bool((elements.rigid == 1.0).all())
    yielding = matrix if alike else laplace_matrix(elements, 1 / elements.rigid)
    return Body(potential, rim, torsion_lower_bound(elements, yielding, rim))


def torsion_constant(analysis: Meshed) -> float:
    """Return the middle of both bounds of one piece, else the constant of the parts side by side, mm4."""
    lower = analysis.body.lower_bound
    return (lower + analysis.twist.constant) / 2


def is_closed(analysis: Meshed) -> bool:
    """Return whether the twist runs round a cell: there is a void, and the torsion constant is far above A t2 / 3 of open walls."""
    body = analysis.body
    open_walls = analysis.plane.area * mean_wall(body.elements, body.rim) ** 2 / 3
    return len(body.rim.voids) > 0 and body.lower_bound > CELL * open_walls


def surface_fields(analysis: Meshed, metal: IntArray) -> UnitFields:
    """Return unit fields at the surface in SI; metal (m,): the number of each triangle's metal."""
    fields = unit_fields((analysis.body.elements, analysis.body.rim), metal, analysis.plane, (analysis.shear, analysis.twist))
    sharp = fields.sharp
    if analysis.welded:
        at = fields.points + analysis.plane.centroid
        sharp = sharp | beside_sharp_corner(analysis.welded.elements, analysis.welded.rim, at)
    normal = fields.normal * np.array([MM**2, MM**3, MM**3, MM**4])
    shear = fields.shear * np.array([MM**2, MM**2, MM**3, MM**3])
    return UnitFields(frozen(fields.points / MM), frozen(normal), frozen(shear), sharp, fields.metal)


def box_of(analysis: Meshed) -> tuple[float, float, float, float]:
    """Return the outline's box from the centroid: y low, y high, z low, z high, mm."""
    points = analysis.body.elements.nodes - analysis.plane.centroid
    (y_low, z_low), (y_high, z_high) = points.min(axis=0), points.max(axis=0)
    return float(y_low), float(y_high), float(z_low), float(z_high)
