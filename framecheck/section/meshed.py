"""Properties and unit stress fields of meshed parts, and the shear flow that each seam must carry."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.section.elements import (
    SIDES,
    VALUES,
    Elements,
    Potential,
    StrainPlane,
    contracted,
    joined_elements,
    laplace_matrix,
    load_from,
    one_node_each,
    parted_elements,
    plane_of,
    potential_of,
)
from framecheck.section.mesh import mesh_parts
from framecheck.section.outline import MM
from framecheck.section.parts import Bond, Parts, TriangleMesh
from framecheck.section.properties import Seam, Stiffness, UnitFields
from framecheck.section.shear_and_twist import (
    Rim,
    Shear,
    SolidTwist,
    beside_sharp_corner,
    mean_wall,
    rim_of,
    shear_of,
    smoothed,
    torsion_lower_bound,
    twist_of,
)
from framecheck.value_class import array_class


def unit_fields(mesh: tuple[Elements, Rim], metal: IntArray, plane: StrainPlane, stress: tuple[Shear, SolidTwist]) -> UnitFields:
    """Return stress per unit force at the surface's nodes; points and stress in mm. metal (m,): the number of each triangle's.

    Where there is more than one metal each has a surface of its own: what touches another metal is on it.
    """
    elements, rim = mesh
    normal, flow = normal_field(elements, plane, stress[1]), shear_field(*stress)
    present = np.unique(metal)
    rows = [_of_metal(elements, rim if len(present) == 1 else None, metal == each, (normal, flow)) for each in present]
    nodes, stretch, shear = (np.concatenate(column) for column in zip(*rows, strict=True))
    of_metal = np.repeat(present, [len(row[0]) for row in rows])
    sharp = beside_sharp_corner(elements, rim, elements.nodes[nodes])
    points = elements.nodes[nodes] - plane.centroid
    return UnitFields(points, stretch, shear, sharp, of_metal if present.any() else None)


def _of_metal(
    elements: Elements, rim: Rim | None, on: Array, unit: tuple[Array, Array]
) -> tuple[IntArray, Array, Array]:
    """Return the surface nodes of one metal, and normal and shear stress there; rim: None, to be found."""
    normal, flow = unit
    part = elements if rim is not None else _picked(elements, on)
    nodes = np.unique((rim or rim_of(part)).sides)
    young = float(part.young[0])
    return nodes, young * normal[nodes], smoothed(part, flow if rim is not None else flow[on])[nodes]


def _picked(elements: Elements, on: Array) -> Elements:
    """Return some of the triangles, (m,) bool, on the same nodes."""
    names = ("ids", "part", "area", "steepness", "young", "rigid")
    return replace(elements, **{name: getattr(elements, name)[on] for name in names})


def normal_field(elements: Elements, plane: StrainPlane, twist: SolidTwist) -> Array:
    """Return normal stress at every node per unit N, Mv, Ms, B, in metal of the reference modulus: (n, 4), 1/mm2 to 1/mm4."""
    body = np.zeros(len(elements.nodes), dtype=np.int64)
    body[elements.ids] = plane.body[:, None]
    local = elements.nodes - plane.centroid - plane.own[body]
    sideways, vertical = (local @ plane.bending()).T
    stretch = np.full(len(local), 1 / plane.area)
    bimoment = twist.warping / twist.warping_constant if twist.warping_constant > 0 else np.zeros(len(local))
    return np.stack([stretch, vertical, sideways, bimoment], axis=1)


def shear_field(shear: Shear, twist: SolidTwist) -> Array:
    """Return shear stress at each triangle's nodes per unit Vy, Vz, T, Tw: (m, 6, 2, 4), 1/mm2, 1/mm2, 1/mm3, 1/mm3.

    Vy and Vz act through the shear centre: what their stress lacks of torque about it is added as Saint-Venant torsion.
    """
    y, z = twist.centre
    lacking = np.array([-z, y]) - shear.torque
    bending = shear.at_nodes + twist.free[..., None] * lacking
    return np.concatenate([bending, twist.free[..., None], twist.held[..., None]], axis=-1)


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

    mesh: TriangleMesh
    body: Body
    welded: Body | None
    plane: StrainPlane
    shear: Shear
    twist: SolidTwist
    joined_twist: SolidTwist
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


def _whole(mesh: TriangleMesh, ratios: Array, poisson: float) -> Meshed:
    """Return the analysis of one piece."""
    one = np.zeros_like(mesh.part)
    body = _body(made_of(joined_elements(mesh), ratios), one)
    plane = plane_of(body.elements, one)
    twist, shear = twist_of(body.potential, plane), shear_of(body.potential, plane, poisson)
    return Meshed(mesh, body, None, plane, shear, twist, twist, (body.lower_bound, twist.constant))


def _seamed(mesh: TriangleMesh, ratios: Array, apart: tuple[Body, StrainPlane, SolidTwist], poisson: float) -> Meshed:
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


WIDE = 4.0
"""A contact wider than this many mean wall thicknesses is joined along both its edges: two seams."""


@array_class
class Contact:
    """Sides (s, 3) of triangles on which two parts (s, 2) meet, as start, middle and end node."""

    sides: IntArray
    pair: IntArray


def seams_of(analysis: Meshed) -> tuple[Seam, ...]:
    """Return the seams between touching parts; none for one part, or parts that don't touch."""
    body = analysis.welded or analysis.body
    contact = contact_of(body.elements)
    if not len(contact.sides):
        return ()
    return tuple(_seams(analysis, body, contact))


def contact_of(elements: Elements) -> Contact:
    """Return the sides that triangles of two parts share."""
    sides = np.concatenate([elements.ids[:, [i, 3 + k, j]] for k, (i, j) in enumerate(SIDES)])
    part = np.tile(elements.part, 3)
    order = np.argsort(sides[:, 1], kind="stable")
    one, other = order[:-1], order[1:]
    meet = (sides[one, 1] == sides[other, 1]) & (part[one] != part[other])
    pair = np.sort(np.stack([part[one][meet], part[other][meet]], axis=1), axis=1)
    return Contact(sides[one][meet], pair)


def _seams(analysis: Meshed, body: Body, contact: Contact) -> Iterator[Seam]:
    """Yield the seams, chain by chain of touching sides."""
    elements = body.elements
    thickness = mean_wall(elements, body.rim)
    for held in np.unique(contact.pair[:, 1]):
        push = _push_on(analysis, elements, int(held))
        sides = contact.sides[contact.pair[:, 1] == held]
        chain = chained(sides)
        for label in np.unique(chain):
            nodes = np.unique(sides[chain == label])
            for i, edge in enumerate(_edges(elements.nodes[nodes], WIDE * thickness), 1):
                yield _seam(analysis, f"part {held + 1}, seam {label + 1}.{i}", nodes[edge], elements, push, int(held))


def _push_on(analysis: Meshed, elements: Elements, held: int) -> Array:
    """Return what the rest gives to each node of a part, per unit Vy, Vz, T, (n, 3): grad N . tau less the growth of stress.

    Over all contact of a part the sum is exactly V Q / I (equilibrium of the part), and 0 for torsion.
    """
    of_part = elements.part == held
    stress = np.concatenate([analysis.shear.at_nodes, analysis.joined_twist.free[..., None]], axis=-1)
    flow = contracted("gi,midk->mgdk", VALUES, stress) * of_part[:, None, None, None]
    growth = analysis.plane.local(elements) @ analysis.plane.bending() * (of_part * elements.young)[:, None, None]
    return load_from(elements, flow, -np.concatenate([growth, np.zeros((*growth.shape[:2], 1))], axis=2))


def chained(sides: IntArray) -> IntArray:
    """Return the number of the chain each side (s, 3) belongs to; sides with an end in common are of one chain."""
    chain: dict[int, int] = {}
    for start, _, end in sides.tolist():
        old, new = chain.get(end, end), chain.get(start, start)
        chain |= {node: new for node, label in chain.items() if label == old} | {start: new, end: new}
    _, numbers = np.unique([chain[int(start)] for start in sides[:, 0]], return_inverse=True)
    return numbers.astype(np.int64)


def _edges(points: Array, wide: float) -> list[IntArray]:
    """Return the nodes of a contact as one seam, or where it is wide as two, one for each edge."""
    spread = points - points.mean(axis=0)
    _, _, axes = np.linalg.svd(spread, full_matrices=False)
    along = spread @ axes[0]
    if np.ptp(along) <= wide:
        return [np.arange(len(points))]
    middle = (along.max() + along.min()) / 2
    return [np.flatnonzero(along <= middle), np.flatnonzero(along > middle)]


def _seam(analysis: Meshed, name: str, nodes: IntArray, elements: Elements, push: Array, held: int) -> Seam:
    """Return one seam in SI."""
    y, z = (elements.nodes[nodes].mean(axis=0) - analysis.plane.centroid) / MM
    sideways, vertical, torsion = push[nodes].sum(axis=0) * np.array([MM, MM, MM**2])
    return Seam(name, (float(y), float(z)), float(vertical), float(sideways), float(torsion), held)
