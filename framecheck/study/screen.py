"""Many sizes of a frame's sections at once: mid-line sections, one batch of frames, stress and yield as arrays.

A screen is quicker than the checks by hundreds and leaves things out: only yield is judged; joints, arms and the loads (the
frame's own weight within written load cases excepted) are those of the case as written; movements are those of the frame's
points. What passes is to be run again by every check.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import field
from functools import lru_cache

import numpy as np

from framecheck.errors import Fault, FramecheckError, InputError, UnsolvableError
from framecheck.frame.batch import Batch, solve_variants
from framecheck.frame.structure import Structure
from framecheck.model.arrays import Array
from framecheck.model.case import Case
from framecheck.model.frame import Section
from framecheck.model.joining import Action
from framecheck.model.loads import CaseLoads
from framecheck.model.study import Aims, Engine
from framecheck.run import all_loads, on_its_frame, prepare
from framecheck.section.store import SectionStore
from framecheck.study.frame_measures import fitted_mass
from framecheck.study.many_sections import ManySections, many_sections, one_section
from framecheck.study.measure import DEFLECTION, SAFETY, MeasuredAim, VariantRow, VariantRun, faulty, rounded
from framecheck.study.sweep import Build, Numbered
from framecheck.surface_stress import SHEARING, STRETCHING
from framecheck.value_class import array_class, value_class
from framecheck.vehicle.load_cases import all_vehicle_loads

Sections = Callable[[Sequence[str]], Mapping[str, Section]]
"""From what the varied fields hold to the sections that they change; InputError where a size can't be. Pickled for workers."""

SIZE = 256
"""Variants a chunk."""

SLICE = 16
"""Variants whose stress is held at once: their arrays stay in the cache."""


@array_class
class SharedByVariants:
    """What all variants share. groups: load cases that all hang on supports, or all on nothing; targets: by load case."""

    case: Case
    structures: tuple[Structure, ...]
    groups: tuple[tuple[CaseLoads, ...], ...]
    fixed: Mapping[str, ManySections]
    targets: Mapping[str, float]


@value_class
class ScreenChunk:
    """Runs variants of section sizes many at a time. key: of the study; chunks of one key share their ground in a process."""

    key: str
    build: Build
    sections: Sections
    variants: Numbered
    aims: Aims
    store: SectionStore | None = None

    def __call__(self, numbers: range) -> tuple[VariantRow, ...]:
        placed = [VariantRun(number, self.variants.texts(number), Engine.SCREEN.value) for number in numbers]
        made = [self.made(place) for place in placed]
        sound = [(place, each) for place, each in zip(placed, made, strict=True) if not isinstance(each, VariantRow)]
        refused = [each for each in made if isinstance(each, VariantRow)]
        rows = screened(ground_of(KeyedChunk(self.key, self)), sound, self.aims) if sound else ()
        return tuple(sorted((*rows, *refused), key=lambda row: row.number))

    def made(self, place: VariantRun) -> Mapping[str, Section] | VariantRow:
        """Return the sections of a variant, or the row that says why they can't be."""
        try:
            return self.sections(place.values)
        except FramecheckError as error:
            return faulty(place, error)


@value_class
class KeyedChunk:
    """A chunk that is known by its key alone."""

    key: str
    chunk: ScreenChunk = field(compare=False)


@lru_cache(maxsize=2)
def ground_of(keyed: KeyedChunk) -> SharedByVariants:
    """Return the ground of a study: its first variant that can be built, prepared; kept for the next chunk."""
    chunk = keyed.chunk
    case = first_case(chunk)
    prepared = prepare(case, chunk.store, unlike=False)  # a run judges unlike ends, and loose seams
    case = on_its_frame(prepared, case)
    loads = all_loads(case, prepared.frame, all_vehicle_loads(case, prepared.frame))
    groups = (tuple(each for each in loads if each.free_free is free_free) for free_free in (False, True))
    varied = set(chunk.sections(chunk.variants.texts(0)))
    fixed = {
        name: one_section(each, prepared.sections[name])
        for name, each in case.frame.sections.items()
        if name not in varied
    }
    asked = chunk.aims.by_check.get("yield", chunk.aims.safety_factor)
    targets = {each.name: case.targets.of(each.name) if asked is None else asked for each in loads}
    holding = tuple(each for each in prepared.structures if each.bound.seams is not Action.LOOSE)
    return SharedByVariants(case, holding, tuple(group for group in groups if group), fixed, targets)


def first_case(chunk: ScreenChunk) -> Case:
    """Return the first variant that can be built."""
    for number in range(chunk.variants.count):
        try:
            return chunk.build(chunk.variants.texts(number))
        except FramecheckError as error:
            last = error
    raise UnsolvableError(f"no variant can be built: {last}")


def screened(
    ground: SharedByVariants, variants: Sequence[tuple[VariantRun, Mapping[str, Section]]], aims: Aims
) -> Iterable[VariantRow]:
    """Return the rows of variants with their sections."""
    names = variants[0][1]
    many = {**ground.fixed, **{name: sizes_of(name, [made[name] for _, made in variants]) for name in names}}
    count = len(variants)
    parts = [
        worst_of(ground, structure, group, many, count) for structure in ground.structures for group in ground.groups
    ]
    margins = np.stack([part.margin for part in parts])
    governing = np.argmin(margins, axis=0).tolist()
    mass = masses(ground.structures[0], many, count) + fitted_mass(ground.case)
    moved = np.max([part.moved for part in parts], axis=0)
    return [
        row_of(place, parts[governing[n]].judged(n), float(mass[n]), float(moved[n]), aims)
        for n, (place, _) in enumerate(variants)
    ]


def sizes_of(name: str, sections: Sequence[Section]) -> ManySections:
    """Return the sizes of one section; InputError where they are no sizes of one shape with walls."""
    try:
        return many_sections(sections)
    except ValueError as error:
        fault = f"can't be screened: {error}"
        raise InputError([Fault("", f"sections > {name}", fault, "write engine: every check")]) from None


def row_of(place: VariantRun, lowest: MeasuredAim, mass: float, moved: float, aims: Aims) -> VariantRow:
    """Return the row of one variant."""
    judged = [lowest]
    if aims.deflection is not None:
        judged.append(MeasuredAim(DEFLECTION, moved, aims.deflection, aims.deflection / moved if moved else float("inf")))
    return rounded(
        VariantRow(
            place.number,
            place.values,
            place.engine,
            mass=mass,
            safety_factor=lowest.value,
            deflection=moved,
            governs=min(judged, key=lambda each: each.ratio),
        )
    )


def masses(structure: Structure, many: Mapping[str, ManySections], count: int) -> Array:
    """Return the mass (count,) of the members of each variant, kg."""
    lengths = np.bincount(structure.pieces.section, structure.beams.length, len(structure.pieces.keys))
    tables = all_tables(structure, many, count)
    return np.asarray(tables[:, :, 12] @ lengths)


def all_tables(structure: Structure, many: Mapping[str, ManySections], count: int) -> Array:
    """Return the numbers (count, n_key, 14) of every variant's sections; cuts stay as the case has them."""
    rows = [np.broadcast_to(many[name].table, (count, 14)) for _, name in structure.pieces.keys]
    return np.stack(rows, axis=1)


@array_class
class WorstOfVariants:
    """The worst place of each variant in some load cases under one bound; arrays (n,).

    margin: safety factor over what is asked; asked; moved: largest movement of a point, m; member, case: numbers; station: m.
    """

    structure: Structure
    cases: tuple[CaseLoads, ...]
    margin: Array
    asked: Array
    moved: Array
    place: Array
    batch: Batch

    def judged(self, number: int) -> MeasuredAim:
        """Return what governs one variant."""
        station, case = divmod(int(self.place[number]), len(self.cases))
        asked = float(self.asked[case])
        return MeasuredAim(
            SAFETY,
            float(self.margin[number]) * asked,
            asked,
            float(self.margin[number]),
            "yield",
            self.structure.frame.members[int(self.batch.member[station])].name,
            self.cases[case].name,
            float(self.batch.stations[station]),
        )


def worst_of(
    ground: SharedByVariants, structure: Structure, cases: tuple[CaseLoads, ...], many: Mapping[str, ManySections], count: int
) -> WorstOfVariants:
    """Return the worst place of each of `count` variants in some load cases under a bound."""
    batch = solve_variants(structure, all_tables(structure, many, count), cases)
    asked = np.array([ground.targets[case.name] for case in cases])
    used = np.empty(batch.forces.shape[:3])
    for key, (_, name) in enumerate(structure.pieces.keys):
        at = np.flatnonzero(batch.section == key)
        for low in range(0, count, SLICE):
            part = slice(low, low + SLICE)
            used[part, at] = yield_used(sliced(many[name], part), batch.forces[part][:, at])
    flat = (used * asked).reshape(count, -1)
    place = np.argmax(flat, axis=1)
    highest = np.maximum(flat[np.arange(count), place], np.finfo(float).tiny)
    moved = np.sqrt(np.square(batch.displacements[..., :3]).sum(axis=-1).max(axis=(1, 2)))
    return WorstOfVariants(structure, cases, 1.0 / highest, asked, moved, place, batch)


def sliced(many: ManySections, part: slice) -> ManySections:
    """Return some of the sizes; a single one stands for all."""
    if len(many.table) == 1:
        return many
    return ManySections(many.table[part], many.yield_strength[part], many.normal[part], many.shear[part])


def yield_used(section: ManySections, forces: Array) -> Array:
    """Return the share of the yield strength used (v, m, k) at the worst surface point of sections under forces (v, m, k, 9).

    von Mises, as in stress.Components.
    """
    count, stations, cases, _ = forces.shape
    rows = forces.reshape(count, stations * cases, 9)
    squared: Array = rows[..., STRETCHING] @ section.normal.swapaxes(1, 2)
    squared *= squared
    for way in range(section.shear.shape[2]):
        shear = rows[..., SHEARING] @ section.shear[:, :, way].swapaxes(1, 2)
        shear *= shear
        shear *= 3.0
        squared += shear
    stress = np.sqrt(squared.max(axis=-1)) / section.yield_strength[:, None]
    return np.asarray(stress.reshape(count, stations, cases))
