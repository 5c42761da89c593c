"""Fish plates over a butt that is not welded: all that passes from one tube to the other goes through them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from framecheck.checks.joint_rows import Capacity, Judging, Line, governing_first, judged
from framecheck.model.arrays import Array
from framecheck.model.splices import FishPlate, Hold, Splice
from framecheck.results.row import Check, Mode
from framecheck.results.subjects import Subject, Thing
from framecheck.stress import Outcome

SOURCE = (
    "statics of plates that stay in one plane at the butt, twist and shear by their areas; shear peak 1.5 of a rectangle; "
    "R. von Mises (1913)"
)


def check(outcome: Outcome) -> tuple[Line, ...]:
    """Return the worst row of the plates of every butt that is not welded all round, by load case and bound."""
    rows: list[Line] = []
    for splice in outcome.case.frame.splices:
        if splice.plates and Hold.BUTT not in splice.holds:
            rows += rows_of(outcome, splice)
    return governing_first(rows)


def rows_of(outcome: Outcome, splice: Splice) -> Iterator[Line]:
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
    about = float(np.sum(areas * np.array([away[n, each.wall[0] - 1] ** 2 for n, each in enumerate(splice.plates)])))
    worst = 0.0
    for plate, size, place, area in zip(splice.plates, sizes, away, areas, strict=True):
        sheared = shear_of(splice, plate, (place, area), (force, moment, about))
        corners = place + np.array([(u, v) for u in (-0.5, 0.5) for v in (-0.5, 0.5)]) * size
        normal = np.abs(force[0] / areas.sum() + corners @ np.array([left, up])).max()
        worst = max(worst, float(np.hypot(normal, 3**0.5 * 1.5 * sheared)))
    return worst


def shear_of(splice: Splice, plate: FishPlate, at: tuple[Array, float], load: tuple[Array, Array, float]) -> float:
    """Return the mean shear stress along a plate, Pa: its share of the force across and of the twist."""
    (place, area), (force, moment, about) = at, load
    alike = sum(each.height * each.thickness for each in splice.plates if each.wall[0] == plate.wall[0])
    across = abs(float(force[3 - plate.wall[0]])) / alike
    twist = (
        abs(float(moment[0])) * area * abs(float(place[plate.wall[0] - 1])) / about / area if about > 0.0 else np.inf
    )
    return across + twist


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
