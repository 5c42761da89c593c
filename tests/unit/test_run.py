"""The chain of calls from case to results refuses what it was told and can't be."""

from __future__ import annotations

from dataclasses import replace

import pytest

from framecheck.cli.files import data_folder, library
from framecheck.errors import InputError
from framecheck.model.case import Case, Sum
from framecheck.reading.case_file import read_case
from framecheck.run import prepare, run

FILE = data_folder("cases") / "hill-truck.yaml"
GRAVITY = 9.80665


def weighed(front: float) -> Case:
    """Return the demo with its front axle weighed, kg."""
    case = read_case(FILE.read_text(encoding="utf-8"), FILE.name, library())
    assert case.vehicle is not None
    vehicle = replace(case.vehicle, front=replace(case.vehicle.front, stated_load=front * GRAVITY))
    return replace(case, vehicle=vehicle)


def test_masses_that_miss_a_weighed_axle_load_say_by_how_much() -> None:
    """The masses put about 785 kg on the front axle: 500 kg is missed, 780 kg is near enough."""
    with pytest.raises(InputError, match=r"front axle: the masses put 28\d kg more on it than stated"):
        prepare(weighed(500.0))
    assert prepare(weighed(780.0)).frame.mass > 0


def test_a_sum_of_load_cases_goes_through_the_whole_run() -> None:
    """Superposition, the weight once: half of one case and all of another, less half of rest."""
    case = read_case(FILE.read_text(encoding="utf-8"), FILE.name, library())
    rest, first, second = (each.name for each in case.load_cases[:3])
    outcome = run(replace(case, sums=(Sum("both", ((first, 0.5), (second, 1.0))),))).outcome
    for solution in outcome.solutions:
        moved = {name: solution.displacements[:, number] for number, name in enumerate(solution.cases)}
        by_hand = 0.5 * moved[first] + moved[second] - 0.5 * moved[rest]
        assert moved["both"] == pytest.approx(by_hand, rel=1e-6, abs=1e-7 * float(abs(by_hand).max()))
