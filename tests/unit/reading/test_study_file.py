"""Study files: what they vary, and each fault with its line and remedy."""

from __future__ import annotations

import pytest
import yaml
from jsonschema import Draft202012Validator

from framecheck.errors import InputError
from framecheck.model.study import Engine, Sampling, Spread
from framecheck.reading.schema import study_reference, study_schema
from framecheck.reading.study_file import case_named
from framecheck.reading.variants import field_path, with_fields, written
from framecheck.reading.yamltext import parse
from tests.unit.reading.shop import ROOT
from tests.unit.study.studies import CASE, WALLS, study_file

HEAD = "title: t\ncase: ladder.yaml\nvary:\n"


def refused(text: str, case: str = CASE) -> str:
    with pytest.raises(InputError) as error:
        study_file(text, case)
    return str(error.value)


def test_a_range_is_written_in_its_own_unit() -> None:
    """Five even steps from 2 to 4 mm, by arithmetic."""
    (varied,) = study_file(HEAD + "  - {field: sections.rail tube.wall, from: 2 mm, to: 4 mm}\n").study.varied
    assert varied.values == ("2 mm", "2.5 mm", "3 mm", "3.5 mm", "4 mm")


def test_a_range_between_a_gauge_and_an_inch_is_in_millimetres() -> None:
    """11 ga tube is 0.120 in (shared/gauges.yaml), 3/16 in is 4.7625 mm."""
    line = "  - {field: sections.rail tube.wall, from: 11 ga tube, to: 3/16 in, steps: 2}\n"
    (varied,) = study_file(HEAD + line).study.varied
    assert [float(each.removesuffix(" mm")) for each in varied.values] == pytest.approx([0.120 * 25.4, 4.7625])


def test_sections_of_the_library_by_shape_and_size() -> None:
    line = (
        "  - field: frame.ladder.rail.section\n    library: {shape: channel, sizes: {height: {from: 5 in, to: 5 in}}}\n"
    )
    (varied,) = study_file(HEAD + line).study.varied
    assert len(varied.values) >= 3
    assert all(name.startswith("channel 5 x") for name in varied.values)


def test_the_variants_case_holds_the_values_and_nothing_else_moves() -> None:
    file = study_file(WALLS)
    case, as_written = file.build(("5 mm",)), file.build(("3 mm",))
    assert case.frame.sections["rail tube"].shape.wall == pytest.approx(0.005)  # type: ignore[union-attr]
    assert case.frame.sections["cross tube"] == as_written.frame.sections["cross tube"]
    assert case.frame.points == as_written.frame.points


def test_paths_go_through_names_load_cases_and_keys_left_out() -> None:
    tree = parse(CASE, "ladder.yaml")
    station = field_path(tree, "frame.ladder.rail.stations.middle.x")
    force = field_path(tree, "load cases.corner.forces.left middle.force.z")
    left_out = field_path(tree, "frame.ladder.crossmembers.fore.drop")
    assert written(tree, station).text == "0 m"
    assert written(tree, force).text == "-9 kN"
    assert written(tree, left_out).text == ""
    changed = with_fields(tree, {station: "10 mm", force: "-1 kN", left_out: "20 mm"})
    assert [written(changed, each).text for each in (station, force, left_out)] == ["10 mm", "-1 kN", "20 mm"]
    assert written(tree, station).text == "0 m"


def test_an_alias_elsewhere_stays_as_it_was() -> None:
    tree = parse("a: &one {size: 1 mm}\nb: *one\n", "t")
    path, other = field_path(tree, "a.size"), field_path(tree, "b.size")
    assert written(with_fields(tree, {path: "2 mm"}), other).text == "1 mm"


def test_the_schema_takes_the_study_of_the_truck_and_refuses_a_key_it_does_not_know() -> None:
    """By jsonschema, the reference validator."""
    validator = Draft202012Validator(study_schema())
    text = (ROOT / "cases/stiffener-study.yaml").read_text(encoding="utf-8")
    good = yaml.safe_load(text)
    assert list(validator.iter_errors(good)) == []
    assert list(validator.iter_errors({**good, "varied": []}))


def test_the_page_of_the_study_file_is_as_written_from_its_forms() -> None:
    """`python docs/write_input.py` writes it again."""
    assert (ROOT / "docs/study.md").read_text(encoding="utf-8") == study_reference()


def test_everything_that_may_be_said_is_read() -> None:
    text = WALLS + (
        "sampling: latin hypercube\nsamples: 9\nseed: 4\nengine: screen by yield\nshow: 2\n"
        "targets: {safety factor: 1.6, by check: {buckling: 2}, deflection: 10 mm, clearances: no}\n"
        "scatter: {draws: 30, seed: 2, tolerances: [{field: sections.rail tube.wall, spread: lognormal, deviation: 0.1 mm}]}\n"
    )
    study = study_file(text).study
    assert (study.sampling, study.samples, study.seed) == (Sampling.HYPERCUBE, 9, 4)
    assert (study.engine, study.show) == (Engine.SCREEN, 2)
    assert (study.aims.safety_factor, study.aims.by_check, study.aims.deflection) == (1.6, {"buckling": 2.0}, 0.01)
    assert study.scatter is not None
    assert study.scatter.tolerances[0].spread is Spread.LOGNORMAL
    assert study.scatter.tolerances[0].unit == "mm"


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("{field: sections.rail tub.wall, values: [3 mm]}", "did you mean 'rail tube'?"),
        ("{field: sections.rail tube.wal, values: [3 mm]}", "did you mean 'wall'?"),
        ("{field: sections.rail tube.wall.x, values: [3 mm]}", "'x' is not in the case there"),
        ("{field: sections.rail tube, values: [3 mm]}", "this is not one value"),
        ("{field: sections.rail tube.wall, values: []}", "0 entries stand here"),
        ("{field: sections.rail tube.wall}", "says nothing of what it holds"),
        ("{field: sections.rail tube.wall, from: 2 mm}", "in half of one"),
        ("{field: sections.rail tube.wall, from: 4 mm, to: 2 mm}", "the range from 4 mm to 2 mm is empty"),
        ("{field: sections.rail tube.wall, from: 2 mm, to: 2 mm}", "is empty"),
        ("{field: sections.rail tube.wall, from: 2 mm, to: 4 kN}", "different units"),
        ("{field: sections.rail tube.wall, values: [3 mm, 3 furlong]}", "'furlong' is not a unit of thickness"),
        ("{field: sections.rail tube.wall, values: [3]}", "write a thickness with its unit, such as"),
        ("{field: sections.rail tube.colour, values: [red]}", "this key is not known here"),
        ("{field: frame.ladder.rail.section, library: {shape: chanel}}", "did you mean 'channel'?"),
        (
            "{field: frame.ladder.rail.section, library: {shape: channel, sizes: {height: {from: 9 m}}}}",
            "no section of the library fits",
        ),
    ],
)
def test_a_fault_is_told_with_its_line_and_a_remedy(line: str, said: str) -> None:
    text = refused(f"{HEAD}  - {line}\n")
    assert text.startswith("study.yaml:4: vary")
    assert said in text


def test_all_faults_are_told_at_once() -> None:
    text = refused(
        HEAD
        + "  - {field: sections.rail tub.wall, values: [3 mm]}\n  - {field: sections.rail tube.wall, from: 4 mm, to: 2 mm}\n"
        + "targets: {by check: {yeild: 2}}\n"
    )
    assert [line.split(":")[1] for line in text.splitlines()] == ["4", "5", "6"]
    assert "did you mean 'yield'?" in text


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("  - {field: sections.rail tube.wall, values: [3 mm]}\n", "is varied twice"),
        ("targets: {torsional stiffness: 900 Nm/deg}\n", "no axles between which it could be twisted"),
        ("  - {field: sections.rail tube.height, values: [90 mm]}\nsampling: list\n", "the lists are not alike long"),
        ("engine: screen by yield\ntargets: {lowest frequency: 9}\n", "a screen by yield knows no frequency"),
        (
            "scatter: {tolerances: [{field: frame.ladder.rail.section, deviation: 2 %}]}\n",
            "'rail tube' is not an amount",
        ),
        ("scatter: {tolerances: [{field: sections.rail tube.wall, deviation: 0 %}]}\n", "spreads nothing"),
    ],
)
def test_what_can_not_go_together_is_refused(more: str, said: str) -> None:
    assert said in refused(WALLS + more)


def test_too_many_variants_are_refused_before_any_is_run() -> None:
    names = ("wall", "height", "width", "outside radius")
    lines = "".join(f"  - {{field: sections.rail tube.{name}, from: 5 mm, to: 6 mm, steps: 100}}\n" for name in names)
    assert "100000000 variants are more than" in refused(HEAD + lines)


def test_a_fault_of_the_case_itself_is_told_as_the_cases() -> None:
    assert refused(WALLS, CASE.replace("wall: 3 mm", "wall: 3 furlong")).startswith("ladder.yaml:")


@pytest.mark.parametrize(
    "case", ["../ladder.yaml", "/etc/passwd", "below/../../x.yaml", "C:\\\\x.yaml", "..\\\\x.yaml"]
)
def test_a_case_outside_the_studys_folder_is_refused(case: str) -> None:
    with pytest.raises(InputError, match=r"study.yaml:2.*outside the study's folder"):
        case_named(WALLS.replace("ladder.yaml", case), "study.yaml")
