"""Fish plates over a butt that is not welded: all that passes from one tube to the other goes through them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.joint_rows import Capacity, Judging, Line, governing_first, judged
from framecheck.model.arrays import Array
from framecheck.model.joining import FishPlate, LapHold, Splice
from framecheck.results.row import Check, Mode
from framecheck.results.subjects import Subject, Thing
from framecheck.stress import SolvedCase

SOURCE = (
    "statics of plates that stay in one plane at the butt, twist and shear by their areas, twist of one alone as of a flat; "
    "shear peak 1.5 of a rectangle; "
    "R. von Mises (1913)"
)


def check(outcome: SolvedCase) -> tuple[Line, ...]:
    """Return the worst row of the plates of every butt that is not welded all round, by load case and bound."""
    rows: list[Line] = []
    for splice in outcome.case.frame.splices:
        if splice.plates and LapHold.BUTT not in splice.holds:
            rows += rows_of(outcome, splice)
    return governing_first(rows)


def rows_of(outcome: SolvedCase, splice: Splice) -> Iterator[Line]:
    """Yield the row of a splice's plates in every load case and bound."""
    subject = Judging(Check.FISH_PLATES, Subject(Thing.SPLICE, splice.name))
    strength = min(plate.material.welded_yield or plate.material.yield_strength for plate in splice.plates)
    turn = np.array(splice.axes)
    for solution in outcome.solutions:
        for name, through in zip(solution.cases, solution.splices[splice.name], strict=True):
            stress = plate_stress(splice, turn @ through[:3], turn @ through[3:])
            target = outcome.case.targets.of(name)
            yield judged(subject, name, stress, Capacity(Mode.FISH_PLATES_YIELD, strength, target, SOURCE, "Pa"))


def plate_stress(splice: Splice, force: Array, moment: Array) -> float:
    """Return the largest equivalent stress in the plates at the butt, Pa, under what passes there; axes of the splice, N and Nm."""
    sizes, middles = plate_sizes(splice), plate_middles(splice)
    areas = sizes.prod(axis=1)
    centre = areas @ middles / areas.sum()
    away = middles - centre
    inertia = areas @ away**2 + np.array([areas @ sizes[:, axis] ** 2 / 12 for axis in (0, 1)])
    product = float(np.sum(areas * away[:, 0] * away[:, 1]))
    bending = np.array(
        [[inertia[1], product], [product, inertia[0]]]
    )  # moments about y and -z from slopes along z and y
    own = np.array([moment[1] - centre[1] * force[0], -(moment[2] + centre[0] * force[0])])
    up, left = np.linalg.solve(bending, own)
    twist = float(moment[0]) - centre[0] * force[2] + centre[1] * force[1]
    worst = 0.0
    for plate, size, place in zip(splice.plates, sizes, away, strict=True):
        sheared = 1.5 * across_of(splice, plate, force) + twist_of(splice, plate, away, twist)
        corners = place + np.array([(u, v) for u in (-0.5, 0.5) for v in (-0.5, 0.5)]) * size
        normal = np.abs(force[0] / areas.sum() + corners @ np.array([left, up])).max()
        worst = max(worst, float(np.hypot(normal, 3**0.5 * sheared)))
    return worst


def across_of(splice: Splice, plate: FishPlate, force: Array) -> float:
    """Return the mean shear stress in a plate from the force across, Pa: the plates in its plane take it, all where none is."""
    found = 0.0
    for axis in (1, 2):
        in_plane = [each for each in splice.plates if each.wall[0] != axis] or list(splice.plates)
        if plate in in_plane:
            found += abs(float(force[axis])) / sum(each.height * each.thickness for each in in_plane)
    return found


def twist_of(splice: Splice, plate: FishPlate, away: Array, twist: float) -> float:
    """Return the shear stress in a plate from twist about their common middle, Pa; away (n, 2): their middles from it.

    Plates apart from one another take it by their areas (shear peak 1.5 of a rectangle); one alone as a flat, 3 T / (h t2).
    """
    if len(splice.plates) == 1:
        return 3.0 * abs(twist) / (plate.height * plate.thickness**2)
    areas = plate_sizes(splice).prod(axis=1)
    arms = np.array([abs(away[number, each.wall[0] - 1]) for number, each in enumerate(splice.plates)])
    return 1.5 * abs(twist) * float(arms[splice.plates.index(plate)]) / float(areas @ arms**2)


def plate_sizes(splice: Splice) -> Array:
    """Return (n, 2): the plates' sizes along y and z of the splice, m."""
    return np.array([(p.thickness, p.height) if p.wall[0] == 1 else (p.height, p.thickness) for p in splice.plates])


def plate_middles(splice: Splice) -> Array:
    """Return (n, 2): the plates' middles along y and z of the splice, m."""
    found = np.zeros((len(splice.plates), 2))
    for number, plate in enumerate(splice.plates):
        axis, side = plate.wall
        found[number, axis - 1] = side * (splice.outside[axis - 1] + plate.thickness) / 2
    return found
