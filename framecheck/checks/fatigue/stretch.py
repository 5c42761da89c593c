"""What the swings of a duty do at the surface points of a stretch of a member: stress follows from the forces of whole swings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from framecheck.checks.fatigue.swings import Spectra, Swings
from framecheck.checks.kinks import LegAtKink
from framecheck.model.arrays import Array, IntArray
from framecheck.section.properties import UnitFields
from framecheck.surface_stress import SHEARING, STRETCHING, components
from framecheck.value_class import array_class


@array_class
class AddedByLeg:
    """What one leg of a kink adds to the normal stress. stress: (k, 4) by unit actions, at each station; low, way: (n_spectrum, 4)
    the actions at the low end of a whole swing, and how they change on it.
    """

    point: str
    stress: Array
    low: Array
    way: Array


@array_class
class StretchOfDetail:
    """Stations (k,) of a member with one section, under spectra. low, way: section forces (k, n_spectrum, 9) at the low end of a
    whole swing, and how they change on it. factor: the stress concentration counted; legs: of kinks within reach.
    """

    fields: UnitFields
    stations: Array
    low: Array
    way: Array
    factor: float
    legs: tuple[AddedByLeg, ...]

    def straight(self) -> StretchOfDetail:
        """Return the stretch as if no kink and no concentration raised its stress."""
        return replace(self, factor=1.0, legs=())


@array_class
class WholeSwings:
    """Ranges of whole swings at every place, Pa, (n_spectrum, k * n_point): of the normal stress, and of the shear stress."""

    normal: Array
    shear: Array

    def largest(self, spectra: Spectra) -> Array:
        """Return the largest range at each place: shear as the normal stress that yields as soon, sqrt(3) times it."""
        alike = np.maximum(self.normal, 3**0.5 * self.shear)
        return np.asarray((spectra.widest[:, None] * alike).max(axis=0), dtype=np.float64)


def stretch_of(
    of: tuple[UnitFields, Array, Array], factor: float, kinks: Sequence[LegAtKink], spectra: Spectra
) -> StretchOfDetail:
    """Return a stretch; of: unit fields at the points looked at, stations (k,), forces (k, n_case, 9)."""
    fields, stations, forces = of
    low, way = ends(forces, spectra)
    return StretchOfDetail(fields, stations, low, way, factor, tuple(_legs(kinks, stations, spectra)))


def ends(values: Array, spectra: Spectra) -> tuple[Array, Array]:
    """Return values (k, n_spectrum, m) at the low end of whole swings and their change on it; values: (k, n_case, m)."""
    padded = np.concatenate((values, np.zeros_like(values[:, :1])), axis=1)
    low = padded[:, spectra.low]
    return low, padded[:, spectra.high] - low


def _legs(kinks: Sequence[LegAtKink], stations: Array, spectra: Spectra) -> Iterator[AddedByLeg]:
    """Yield what the legs of kinks add whose stress reaches any of some stations."""
    for leg in kinks:
        if leg.reaches(stations):
            low, way = ends(leg.actions[None], spectra)
            yield AddedByLeg(leg.kink.point, leg.at_surface(stations), low[0], way[0])


def parts_of(stretch: StretchOfDetail, at_once: int) -> Iterator[StretchOfDetail]:
    """Yield a stretch in parts of so few places that whole swings of all spectra fit into memory there, in their order."""
    points, spectra = len(stretch.fields.points), stretch.low.shape[1]
    high = max(1, at_once // max(points * spectra, 1))
    if len(stretch.stations) <= high:
        yield stretch
        return
    for row in range(0, len(stretch.stations), high):
        rows = slice(row, row + high)
        legs = tuple(replace(leg, stress=leg.stress[rows]) for leg in stretch.legs)
        yield replace(
            stretch, stations=stretch.stations[rows], low=stretch.low[rows], way=stretch.way[rows], legs=legs
        )


def whole_swings(stretch: StretchOfDetail) -> WholeSwings:
    """Return the ranges of whole swings at all places of a stretch, station by station."""
    found = components(stretch.fields, stretch.way)
    normal, shear = np.abs(found.normal), np.sqrt(found.shear[..., 0] ** 2 + found.shear[..., 1] ** 2)
    normal += added([(leg.point, leg.stress @ np.abs(leg.way).T) for leg in stretch.legs])[..., None]
    return WholeSwings(*(stretch.factor * np.moveaxis(each, 1, 0).reshape(each.shape[1], -1) for each in (normal, shear)))


def added(by_leg: Iterable[tuple[str, Array]]) -> Array:
    """Return what kinks add to a stress: of a kink's two legs the worse, of all kinks the sum."""
    found: dict[str, Array] = {}
    for point, stress in by_leg:
        found[point] = np.maximum(found[point], stress) if point in found else stress
    return sum(found.values(), np.zeros((1, 1)))


def swings_at(stretch: StretchOfDetail, spectra: Spectra, places: IntArray) -> Swings:
    """Return every swing at some places of a stretch (numbers as in Whole), (n_swing, n_place).

    What kinks add counts on all of the surface there, as a pull. Unfavourable: each action's own worst point is taken to be the same.
    """
    rows, points = np.divmod(places, len(stretch.fields.points))
    spread, middle = spectra.spread[:, None], spectra.middle[:, None]
    low, way = (_stress(stretch.fields, forces[rows], points) for forces in (stretch.low, stretch.way))
    mean = [each[spectra.of] + middle * change[spectra.of] for each, change in zip(low, way, strict=True)]
    legs = stretch.legs
    pulled = added((leg.point, np.abs(leg.low[spectra.of] + middle * leg.way[spectra.of]) @ leg.stress[rows].T) for leg in legs)
    whole = np.abs(way[0]) + added((leg.point, np.abs(leg.way) @ leg.stress[rows].T) for leg in legs)
    shear = spread * np.hypot(way[1], way[2])[spectra.of]
    return Swings(spread * whole[spectra.of], mean[0] + pulled, shear, np.hypot(mean[1], mean[2])).times(stretch.factor)


def _stress(fields: UnitFields, forces: Array, points: IntArray) -> tuple[Array, Array, Array]:
    """Return normal stress and shear along y and z (n_spectrum, n_place) from forces (n_place, n_spectrum, 9), at a point each."""
    units = (fields.normal[points], fields.shear[points, 0], fields.shear[points, 1])
    columns = (STRETCHING, SHEARING, SHEARING)
    normal, across, up = (
        np.einsum("psf,pf->sp", forces[..., these], unit) for these, unit in zip(columns, units, strict=True)
    )
    return normal, across, up
