"""The frame in three dimensions: what is drawn of it, and a still picture from where the report's view begins."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, sin

import numpy as np

from framecheck.frame.panel.results import PanelForces
from framecheck.model.arrays import Array
from framecheck.output.charts.chart import Chart, Drawn, Line, Note, Scale, Side, Strokes, span
from framecheck.output.charts.colours import INK, QUIET, colours_of
from framecheck.stress import MemberStress, Outcome

NEAR = 1e-6
YAW, PITCH = -0.9, 0.45
"""From where the report's view begins (templates/view.js), rad."""
COMPASS = 0.09
"""How long the directions are drawn, as a share of the picture's width."""
DIRECTIONS = {"x forward": (1.0, 0.0, 0.0), "y left": (0.0, 1.0, 0.0), "z up": (0.0, 0.0, 1.0)}

MOVED_SHARE = 0.08
"""The largest movement is drawn as this share of the frame's length unless a scale is asked for."""


def used(stress: MemberStress, case: int) -> Array:
    """Return the share of the yield strength used at each station (n,), 0 where no stress is known."""
    return np.asarray(stress.nominal[:, case] / stress.strength[:, case], dtype=np.float64)


def own_scale(outcome: Outcome, bound: int, case: int) -> float:
    """Return the scale at which the largest movement is MOVED_SHARE of the frame's extent; 1 where nothing moves."""
    members = outcome.solutions[bound].members
    moved = max(float(np.linalg.norm(member.displacements[:, case], axis=1).max()) for member in members)
    places = np.concatenate([member.places for member in members])
    extent = float(np.ptp(places, axis=0).max())
    return MOVED_SHARE * extent / moved if moved > 0 else 1.0


def arms(outcome: Outcome, bound: int, case: int) -> list[tuple[Array, Array]]:
    """Return the stiff arms from frame points to member ends beside them, and panels' rims: places and movements (2, 3), m."""
    solution, frame = outcome.solutions[bound], outcome.case.frame
    number = {name: i for i, name in enumerate(solution.points)}
    found = []
    for member, forces in zip(frame.members, solution.members, strict=True):
        for point, end in ((member.points[0], 0), (member.points[-1], -1)):
            places = np.array([frame.points[point], forces.places[end]])
            if np.ptp(places, axis=0).max() > NEAR:
                moved = solution.displacements[number[point], case, :3]
                found.append((places, np.array([moved, forces.displacements[end, case]])))
    return [*found, *(each for panel in solution.panels.values() for each in rims(panel, case))]


def rims(panel: PanelForces, case: int) -> Iterator[tuple[Array, Array]]:
    """Yield the lines round a panel: places (2, 3) and movements (2, 3), m."""
    moves = panel.rim_moves[:, case]
    for row in range(len(panel.rim)):
        ends = [row - 1, row]
        yield panel.rim[ends], moves[ends]


def flat(places: Array) -> Array:
    """Return places (n, 3) as seen from where the view begins: right and up (n, 2), m."""
    x, y, z = places.T
    depth = x * sin(YAW) + y * cos(YAW)
    return np.column_stack([x * cos(YAW) - y * sin(YAW), z * cos(PITCH) + depth * sin(PITCH)])


def still_chart(outcome: Outcome, bound: int, case: int) -> Chart:
    """Return the frame moved in one load case and, thin, as built; colour: share of the yield strength used, %."""
    times, stresses = own_scale(outcome, bound, case), outcome.stresses[bound]
    top = 100 * max(1e-9, *(float(used(stress, case).max()) for stress in stresses))
    built: list[Drawn] = [line(flat(stress.forces.places), QUIET, 0.7) for stress in stresses]
    stiff = [line(flat(places + times * moved), INK, 1.2) for places, moved in arms(outcome, bound, case)]
    moved = [strokes(stress, case, times, top) for stress in stresses]
    everything = np.concatenate(
        [*(flat(stress.forces.places) for stress in stresses), *(each.points for each in moved)]
    )
    x, y = span(everything[:, 0], room=0.04), span(everything[:, 1], room=0.06)
    return Chart(
        f"{outcome.loads[case].name}, movements times {times:.0f}",
        "",
        "",
        x,
        y,
        (*built, *stiff, *moved, *compass(x, y)),
        scale=Scale("share of the yield strength used, %", 0.0, top),
        is_equal=True,
        has_axes=False,
    )


def line(points: Array, colour: str, width: float) -> Line:
    """Return a plain line through points (n, 2)."""
    return Line(points[:, 0], points[:, 1], colour, width)


def strokes(stress: MemberStress, case: int, times: float, top: float) -> Strokes:
    """Return a member moved, coloured by the share of the yield strength that it uses, between 0 and top, %."""
    share = 100 * used(stress, case)
    moved = stress.forces.places + times * stress.forces.displacements[:, case]
    return Strokes(flat(moved), colours_of(np.maximum(share[:-1], share[1:]), 0.0, top))


def compass(x: tuple[float, float], y: tuple[float, float]) -> list[Drawn]:
    """Return the vehicle's directions in the lower left corner."""
    size = COMPASS * (x[1] - x[0])
    corner = np.array([x[0] + 0.8 * size, y[0] + 1.2 * size])
    found: list[Drawn] = []
    for name, direction in DIRECTIONS.items():
        tip = corner + size * flat(np.array([direction]))[0]
        found += [line(np.array([corner, tip]), INK, 1.2)]
        found += [Note(name, (float(tip[0]), float(tip[1])), Side.ABOVE if name == "z up" else Side.RIGHT)]
    return found
