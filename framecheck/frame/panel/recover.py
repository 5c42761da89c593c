"""From a solved frame to what its sheet does: movements, energy, forces per length; loads that reach the frame through it. SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from framecheck.frame.geometry import cross
from framecheck.frame.loads import Loads
from framecheck.frame.panel.bays import bays_of, seam_sides
from framecheck.frame.panel.ends import ends_on
from framecheck.frame.panel.evened import evened, evening
from framecheck.frame.panel.fields import edge_nodes
from framecheck.frame.panel.membrane import elasticity
from framecheck.frame.panel.patch import PanelPatch
from framecheck.frame.panel.results import PanelForces
from framecheck.frame.panel.sheets import Sheets
from framecheck.frame.panel.touch import PassingLeg
from framecheck.model.arrays import Array, IntArray, frozen
from framecheck.model.frame import Frame


def sheet_moves(sheets: Sheets, unknowns: Array) -> Array:
    """Return the movements (3 n, k) of the sheet's nodes, m; zero for those within one panel."""
    found: Array = sheets.moves @ unknowns[sheets.unknowns]
    return found


def outer_moves(patch: PanelPatch, moved: Array, unknowns: Array) -> Array:
    """Return the movements (2 o, k) of a panel's outer nodes in its plane from those of all nodes (3 n, k) and of the frame."""
    own = moved[(3 * patch.outer[:, None] + np.arange(3)).ravel()]
    for each in patch.beside:
        own[3 * each.row : 3 * each.row + 3] += each.turn @ unknowns[each.unknowns]
    found: Array = patch.flat @ own
    return found


def panel_energies(frame: Frame, sheets: Sheets, unknowns: Array) -> Mapping[str, Array]:
    """Return the strain energy (k,) of every panel, J."""
    moved, found = sheet_moves(sheets, unknowns), dict[str, Array]()
    flows = None if sheets.fields is None else sheets.fields.flows(moved)
    for number, (panel, patch) in enumerate(zip(frame.panels, sheets.patches, strict=True)):
        if patch is not None:
            own = outer_moves(patch, moved, unknowns)
            found[panel.name] = frozen(np.sum(own * (patch.stiffness @ own), axis=0) / 2)
        elif sheets.fields is not None and flows is not None:
            row = int(np.flatnonzero(sheets.fields.panel == number)[0])
            found[panel.name] = frozen(sheets.fields.own[row] * flows[row] ** 2 / 2)
    return found


def panel_forces(frame: Frame, sheets: Sheets, unknowns: Array) -> Mapping[str, PanelForces]:
    """Return what every panel carries."""
    moved, found = sheet_moves(sheets, unknowns), dict[str, PanelForces]()
    flows = None if sheets.fields is None else sheets.fields.flows(moved)
    for number, (panel, patch) in enumerate(zip(frame.panels, sheets.patches, strict=True)):
        cells = np.flatnonzero(sheets.division.of == number)
        corners, axes = sheets.division.places[sheets.division.cells[cells]], sheets.division.sites[number].axes
        if patch is not None:
            told = _membrane_forces(sheets, patch, outer_moves(patch, moved, unknowns), elasticity(panel.material, panel.carrying))
            shares = evening(panel, number, sheets.division)
            forces, means = (evened(each, shares) for each in (told, np.broadcast_to(told.mean(axis=1, keepdims=True), told.shape)))
        else:
            assert sheets.fields is not None
            assert flows is not None
            row = int(np.flatnonzero(sheets.fields.panel == number)[0])
            forces = np.zeros((len(cells), 1, unknowns.shape[1], 3))
            forces[..., 2] = flows[row]
            means = forces
        rim, (bays, bay) = rim_of(sheets, number), bays_of(panel, number, sheets.division)
        moves = moved.reshape(-1, 3, unknowns.shape[1])[rim].transpose(0, 2, 1)
        found[panel.name] = PanelForces(
            panel=panel.name,
            thickness=panel.carrying,
            corners=frozen(corners),
            axes=axes,
            forces=frozen(forces),
            rim=frozen(sheets.division.places[rim]),
            rim_moves=frozen(np.ascontiguousarray(moves)),
            area=frozen(areas_of(corners)),
            bays=frozen(bays),
            bay=bay,
            passed=frozenset(
                frame.members[each.leg.member].name
                for each in sheets.division.touches[number]
                if isinstance(each, PassingLeg)
            ),
            ended=ends_on(frame, sheets.division.sites[number], sheets.division.touches[number]),
            seam_flow=frozen(_through_seams(means.mean(axis=1), *seam_sides(panel, number, sheets.division))),
        )
    return found


def _through_seams(means: Array, seams: IntArray, cells: IntArray, outward: Array) -> Array:
    """Return what passes through each length of a panel's seams (s, k), N/m, from its cells' mean forces (m, k, 3); see seam_sides."""
    forces = means[cells]
    along = forces[..., 0] * outward[:, :1] + forces[..., 2] * outward[:, 1:]
    across = forces[..., 2] * outward[:, :1] + forces[..., 1] * outward[:, 1:]
    total = np.zeros((int(seams.max(initial=-1)) + 1, means.shape[1], 2))
    np.add.at(total, seams, np.stack((along, across), axis=-1))
    found: Array = np.linalg.norm(total, axis=-1)
    return found


def areas_of(corners: Array) -> Array:
    """Return the areas (m,) of cells with corners (m, 4, 3), m2."""
    crossed = cross(corners[:, 2] - corners[:, 0], corners[:, 3] - corners[:, 1])
    found: Array = np.linalg.norm(crossed, axis=1) / 2
    return found


def rim_of(sheets: Sheets, number: int) -> IntArray:
    """Return the nodes round a panel that hang on the frame, in order."""
    nodes = [node for edge in edge_nodes(sheets.division, number) for node in edge[:-1].tolist()]
    return np.array([node for node in dict.fromkeys(nodes) if sheets.hung[node] is not None], dtype=np.int64)


def _membrane_forces(sheets: Sheets, patch: PanelPatch, own: Array, elastic: Array) -> Array:
    """Return forces per length x, y, xy (m, 4, k, 3) in a panel's own axes, at four places in each cell, N/m; own: outer_moves."""
    whole = np.concatenate((own, patch.follow @ own))
    place = np.zeros(len(sheets.division.places), dtype=np.int64)
    order = np.concatenate((patch.outer, patch.inner))
    place[order] = np.arange(len(order))
    at = (2 * place[sheets.division.cells[patch.cells]][:, :, None] + np.arange(2)).reshape(-1, 8)
    strains = patch.made.strain @ whole[at][:, None]
    found: Array = (elastic @ strains).transpose(0, 1, 3, 2)
    return np.ascontiguousarray(found)


def with_flows(sheets: Sheets, count: int, loads: Loads, unknowns: Array) -> Loads:
    """Return the loads with what shear flows do along so many pieces, so that these tell their pull as it grows between nodes."""
    if sheets.fields is None:
        return loads
    cases = unknowns.shape[1]
    pulls = sheets.fields.pulls(sheets.fields.flows(sheet_moves(sheets, unknowns)), count)
    even = np.zeros((6, count, cases)) if loads.even is None else loads.even.copy()
    even[0] += pulls
    growing = np.zeros((6, count, cases)) if loads.growing is None else loads.growing
    return replace(loads, even=even, growing=growing)
