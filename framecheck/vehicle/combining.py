"""Load cases put together from others: the concurrent forces of one moment, never extremes of different ones."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from framecheck.errors import Fault, InputError
from framecheck.model.arrays import Vector
from framecheck.model.loads import BodyLoad, CaseLoads, Motion, PointLoad


def combined(name: str, parts: tuple[tuple[CaseLoads, float], ...]) -> CaseLoads:
    """Return the sum of load cases, each times a factor (Motor Vehicle Structures, 2.5: linear, superposed).

    All parts must be of one vehicle: the same centre of gravity. Balanced parts give a balanced sum.
    """
    abouts = {loads.motion.about for loads, _ in parts}
    if len(abouts) != 1 or any(not loads.afloat for loads, _ in parts):
        raise InputError(
            [
                Fault(
                    "",
                    name,
                    "its parts are not load cases of one vehicle",
                    "combine vehicle load cases only",
                    ("load cases", name),
                )
            ]
        )
    return CaseLoads(
        name,
        point_loads=tuple(_scaled_point(load, factor) for loads, factor in parts for load in loads.point_loads),
        body_loads=tuple(_scaled_body(load, factor) for loads, factor in parts for load in loads.body_loads),
        motion=_summed(parts, abouts.pop()),
        afloat=True,
        reference=parts[0][0].reference,
        notes=tuple(f"{loads.name}: {note}" for loads, _ in parts for note in loads.notes),
    )


def _scaled_point(load: PointLoad, factor: float) -> PointLoad:
    return replace(load, force=_times(load.force, factor), moment=_times(load.moment, factor))


def _scaled_body(load: BodyLoad, factor: float) -> BodyLoad:
    return replace(load, force=_times(load.force, factor), moment=_times(load.moment, factor))


def _summed(parts: tuple[tuple[CaseLoads, float], ...], about: Vector) -> Motion:
    linear = np.sum([factor * np.array(loads.motion.linear) for loads, factor in parts], axis=0)
    angular = np.sum([factor * np.array(loads.motion.angular) for loads, factor in parts], axis=0)
    return Motion(_times(tuple(linear.tolist()), 1.0), _times(tuple(angular.tolist()), 1.0), about)


def _times(values: Vector, factor: float) -> Vector:
    return (factor * values[0], factor * values[1], factor * values[2])
