"""The screen: many sizes at once say what the checks say one by one, as near as mid-line theory and the mesh agree."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np
import pytest

from framecheck.errors import InputError
from framecheck.model.shapes import Channel
from framecheck.model.study import Engine
from framecheck.reading.study_file import StudyFile
from framecheck.reading.variants import SectionBuilder
from framecheck.section.midline import midline_properties
from framecheck.study.engines import Builders, confirmed, kept_of, run_variants
from framecheck.study.many_sections import many_sections
from framecheck.study.measure import VariantRow
from framecheck.study.screen import sizes_of, yield_used
from framecheck.study.sweep import shortlist
from framecheck.surface_stress import peaks
from tests.unit.study.studies import CASE, MEMORY, WALLS, rows_of_walls, study_file

LIST = "values: [2 mm, 2.5 mm, 3 mm, 4 mm, 5 mm, 6 mm]"
SCREEN = "engine: screen by yield\n"


def means(file: StudyFile) -> Builders:
    key = repr(file.study) + file.build.text
    return Builders(file.build, MEMORY, SectionBuilder(key, file.build), key)


def screened(text: str, case: str = CASE, start: int = 0) -> list[VariantRow]:
    file = study_file(text, case)
    return list(run_variants(file.study, means(file), start=start))


def test_a_screen_agrees_with_every_check_by_yield() -> None:
    """Two ways to one answer: mid-line theory in one batch, and the mesh frame by frame; thin walls, so within 1 %."""
    for fast, slow in zip(screened(WALLS + SCREEN), rows_of_walls(), strict=True):
        assert fast.engine == Engine.SCREEN.value
        assert fast.mass == pytest.approx(slow.mass, rel=1e-3)
        assert fast.safety_factor == pytest.approx(slow.safety_factor, rel=0.01)
        assert fast.deflection == pytest.approx(slow.deflection, rel=0.01)
        assert fast.governs is not None
        assert slow.governs is not None
        assert (fast.governs.where, fast.governs.load_case) == (slow.governs.where, slow.governs.load_case)
        assert fast.governs.station == pytest.approx(slow.governs.station)


@pytest.mark.parametrize("shape", ["channel", "lipped", "round"])
def test_stress_of_many_sizes_is_that_of_each_alone(shape: str) -> None:
    """yield_used of sizes in a row against stress.peaks of each section's own fields. 0.5 %: a section by itself has its bends in
    more chords than one among many has."""
    kinds = {
        "channel": "shape: channel, height: 100 mm, flange: 50 mm, wall: 3 mm, inside radius: 4 mm",
        "lipped": "shape: channel, height: 100 mm, flange: 50 mm, wall: 3 mm, inside radius: 4 mm, lip: 15 mm",
        "round": "shape: round tube, diameter: 60 mm, wall: 3 mm",
    }
    case = CASE.replace("sections:\n", f"sections:\n  tried: {{{kinds[shape]}, material: plain steel}}\n")
    file = study_file(WALLS.replace("rail tube.wall", "tried.wall"), case)
    build = SectionBuilder(shape, file.build)
    sections = [build((wall,))["tried"] for wall in ("2 mm", "3 mm", "3.5 mm")]
    forces = np.random.default_rng(1).normal(size=(3, 2, 4, 9)) * [1e4, 1e4, 1e4, 1e2, 1e3, 1e3, 1.0, 1e2, 1.0]
    used = yield_used(many_sections(sections), forces)
    for number, section in enumerate(sections):
        fields = midline_properties(section).fields
        assert fields is not None
        assert used[number] == pytest.approx(peaks(fields, forces[number]).nominal / 355e6, rel=5e-3)


def test_a_screen_taken_up_in_the_middle_of_a_chunk_gives_the_same_rows() -> None:
    text = WALLS.replace(LIST, "from: 2 mm, to: 6 mm, steps: 300") + SCREEN
    whole = screened(text)
    assert screened(text, start=130) == whole[130:]
    file = study_file(text)
    with ThreadPoolExecutor(2) as executor:
        assert list(run_variants(file.study, means(file), executor=executor, workers=2)) == whole


def test_sizes_that_can_not_be_are_told_among_the_others() -> None:
    rows = screened(WALLS.replace("6 mm]", "60 mm]") + SCREEN)
    assert [bool(row.fault) for row in rows] == [False] * 5 + [True]
    assert [row.number for row in rows] == list(range(6))


def test_a_section_made_of_the_varied_one_follows_it() -> None:
    worn = "  worn rail: {shape: worn, base: rail tube, top: 0.5 mm, material: plain steel}\n"
    file = study_file(WALLS, CASE.replace("sections:\n", f"sections:\n{worn}"))
    made = SectionBuilder("worn", file.build)(("5 mm",))
    assert set(made) == {"rail tube", "worn rail"}


def test_the_winners_of_a_screen_are_those_of_every_check() -> None:
    """The best of a screen are run again: what is listed are rows of every check, the same to the last digit kept."""
    file = study_file(WALLS + SCREEN)
    made = means(file)
    found = confirmed(shortlist(run_variants(file.study, made), kept_of(file.study)), file.study, made, None, 1)
    assert [row.engine for row in found.winners] == [Engine.WHOLE.value] * len(found.winners)
    assert found.winners == tuple(row for row in rows_of_walls() if row.passes)


def test_own_weight_of_a_written_load_case_is_each_variants_own() -> None:
    """Statics: with its own weight alone, twice the density at the same section doubles the stress; here, mass grows with the wall and
    stress hardly falls, so that the safety factors of 2 and 6 mm lie close, unlike under a given force."""
    case = (
        CASE[: CASE.index("load cases:")]
        + "load cases:\n  - weight: {own weight: 10, forces: [{point: left middle, force: {z: -1 N}}]}\n"
    )
    thin, thick = (screened(WALLS.replace(LIST, f"values: [{wall}]") + SCREEN, case)[0] for wall in ("2 mm", "6 mm"))
    assert thin.safety_factor is not None
    assert thick.safety_factor is not None
    assert thick.safety_factor / thin.safety_factor < 1.3


def test_shapes_of_different_kinds_are_refused() -> None:
    rail = study_file(WALLS).build(("3 mm",)).frame.sections["rail tube"]
    other = replace(rail, shape=Channel(0.1, 0.05, 0.003, 0.004))
    with pytest.raises(InputError, match="can't be screened: these shapes are of different kinds"):
        sizes_of("rail tube", [rail, other])


def test_a_section_given_by_numbers_stands_as_it_is() -> None:
    """Its stress is not known, so it can't govern: the rails do."""
    given = (
        "{shape: given properties, area: 570 mm2, second moment vertical: 20 cm4, "
        "second moment sideways: 20 cm4, torsion constant: 30 cm4, material: plain steel}"
    )
    case = CASE.replace("sections:\n", f"sections:\n  numbers: {given}\n").replace(
        "section: cross tube", "section: numbers"
    )
    rows = screened(WALLS + SCREEN, case)
    assert all(row.governs is not None and row.governs.where.endswith("rail") for row in rows)


@pytest.mark.parametrize(
    "field", ["frame.ladder.rail.section", "load cases.bed.own weight", "frame.ladder.rail.stations.middle.x"]
)
def test_a_screen_refuses_what_it_can_not_follow(field: str) -> None:
    value = {"f": "cross tube", "l": "1", "x": "10 mm"}["x" if field.endswith("x") else field[0]]
    text = WALLS.replace("sections.rail tube.wall", field).replace(LIST, f"values: [{value}]")
    with pytest.raises(InputError, match="follows sizes of the case's own sections alone"):
        study_file(text + SCREEN)
