"""What a member's end puts on the wall that it stands on, from the member's own end forces. SI."""

from __future__ import annotations

import numpy as np

from framecheck.checks.feet import EndOnWall
from framecheck.frame.geometry import cross, point_stations
from framecheck.model.arrays import Array, frozen
from framecheck.model.joints import Terminal
from framecheck.section.properties import SectionProperties
from framecheck.stress import SolvedCase
from framecheck.surface_stress import STRETCHING, most_compressed
from framecheck.value_class import array_class


@array_class
class WallLoads:
    """What a member's end puts on the wall, at the wall's outside, (n_bound, n_case), N and Nm.

    pull: square to the wall, away from it +; in_plane: moment in the plane of rail and branch; about_rail; twist: about the branch;
    along, across: force along the rail, and square to it in the wall. rail: largest compressive stress in the rail there, Pa.
    """

    pull: Array
    in_plane: Array
    about_rail: Array
    twist: Array
    along: Array
    across: Array
    rail: Array


def end_loads(outcome: SolvedCase, foot: EndOnWall) -> Array:
    """Return force and moment at the wall's outside, vehicle axes, (n_bound, n_case, 6), N and Nm."""
    end = 0 if foot.terminal is Terminal.START else 1
    solved = np.stack([solution.member_ends[foot.member][:, end] for solution in outcome.solutions])
    found = np.concatenate((solved, *(each.ends[:, :, end] for each in outcome.mixed_at(foot.member))))
    moved = found.copy()
    moved[..., 3:] -= cross(np.broadcast_to(foot.arm, found[..., :3].shape), found[..., :3])
    return moved


def wall_loads(outcome: SolvedCase, foot: EndOnWall) -> WallLoads:
    """Return what a member's end puts on the wall in every load case under every bound."""
    loads = end_loads(outcome, foot)
    force, moment = loads[..., :3] @ foot.axes.T, loads[..., 3:] @ foot.axes.T
    return WallLoads(
        pull=frozen(force[..., 1]),
        in_plane=frozen(moment[..., 2]),
        about_rail=frozen(moment[..., 0]),
        twist=frozen(moment[..., 1]),
        along=frozen(force[..., 0]),
        across=frozen(force[..., 2]),
        rail=frozen(rail_compression(outcome, foot)),
    )


TIED = 1e-9
"""Shares as near to one another as this are equal: the first of them is told, so that rounding does not choose."""


def worst_of(share: Array) -> tuple[int, ...]:
    """Return where a share of strength is largest."""
    first = int(np.argmax(share >= share.max() * (1 - TIED)))
    return tuple(int(each) for each in np.unravel_index(first, share.shape))


def rail_compression(outcome: SolvedCase, foot: EndOnWall) -> Array:
    """Return the largest compressive stress in the rail at a foot, (n_bound, n_case), Pa; 0 where none is known."""
    frame = outcome.case.frame
    found = np.zeros((len(outcome.solutions), len(outcome.loads)))
    at_ends = outcome.mixed_at(foot.member)
    mixed = [np.zeros(each.ends.shape[:2]) for each in at_ends]
    for number, member in enumerate(frame.members):
        if member.name not in foot.rails or foot.point not in member.points:
            continue
        drawn, place = point_stations(frame, member), member.points.index(foot.point)
        there: dict[SectionProperties, list[tuple[int, Array]]] = {}
        for bound, solution in enumerate(outcome.solutions):
            line = solution.members[number]
            for row in line.rows_at_point(drawn, place).tolist():
                there.setdefault(line.sections[row], []).append((bound, line.forces[row]))
        for section, rows in there.items():
            if section.fields is not None:
                pressed = most_compressed(section.fields, np.stack([forces for _, forces in rows])[..., STRETCHING])
                np.maximum.at(found, [bound for bound, _ in rows], pressed)
        for each, total in zip(at_ends, mixed, strict=True):
            there_mixed = each.rails[number, foot.point]
            for row, section in enumerate(there_mixed.sections):
                if section.fields is not None:
                    np.maximum(total, most_compressed(section.fields, there_mixed.forces[:, row]), out=total)
    return np.concatenate((found, *mixed))
