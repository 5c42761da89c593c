"""A study file: text to a study and what builds its variants, every fault at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import prod
from typing import TypeVar

from framecheck.errors import Fault, InputError
from framecheck.model.as_measured import AsMeasured
from framecheck.model.study import Aims, Engine, Range, Sampling, Scatter, Study, Tolerance, Varied
from framecheck.reading.blocks.study import STUDY, amount_of, first_fault, range_of, share_or_amount
from framecheck.reading.case_file import read_case
from framecheck.reading.diagnostics import Diagnostics, Missing, did_you_mean, refuse_faults
from framecheck.reading.form import Record
from framecheck.reading.library import Library, fitting
from framecheck.reading.variants import CaseBuilder, FieldPath, field_path, refuse_screen, tree_of, written
from framecheck.reading.whole_case import refuse_language
from framecheck.reading.yamltext import parse
from framecheck.results.row import Check
from framecheck.study.scatter import Nominal
from framecheck.units import Units, units_mostly
from framecheck.value_class import value_class

MOST_VARIANTS = 1_000_000
TRIED = 50
"""Values of a field that are tried against the case's form before anything runs."""

CHECKS = tuple(each.words for each in Check)
"""Names that checks give to their rows."""

Made = TypeVar("Made")


@value_class
class StudyFile:
    """A study as read. build: a case from what the varied fields hold; scattered: from that and from what the tolerances'
    fields hold after it; nominal: per tolerance, the number of the varied field it scatters about, or what the case holds.
    measured: what a test found of the case; measured_by: files of readings that the case names and that are still to be fitted.
    """

    study: Study
    build: CaseBuilder
    scattered: CaseBuilder | None
    nominal: tuple[int | str, ...]
    written_in: Units = Units.SI
    measured: AsMeasured | None = None
    measured_by: tuple[str, ...] = ()

    def as_fitted(self, found: AsMeasured) -> StudyFile:
        """Return the study of the case as its readings found it."""
        scattered = None if self.scattered is None else replace(self.scattered, measured=found)
        return replace(self, build=replace(self.build, measured=found), scattered=scattered, measured=found, measured_by=())

    def nominals(self, values: tuple[str, ...]) -> tuple[Nominal, ...]:
        """Return the nominal value of each tolerance's field in a variant with these values."""
        gauges = self.build.library.gauges()
        texts = (values[each] if isinstance(each, int) else each for each in self.nominal)
        return tuple(Nominal(*amount_of(text, gauges)) for text in texts)


@value_class
class Clerk:
    """Reads what a study's record says of a case, and notes each fault with its line."""

    diagnostics: Diagnostics
    library: Library
    case_text: str
    case_name: str

    def noted(self, record: Record, key: str, make: Callable[[], Made]) -> Made | None:
        """Return what is made; None, with its fault noted at a key's line, where it can't be."""
        try:
            return make()
        except InputError as error:
            self.diagnostics.refuse(record.line_of(key), f"{record.subject} > {key}", *first_fault(error))
            return None

    def path(self, record: Record) -> FieldPath | None:
        """Return where a record's field stands in the case."""
        tree = tree_of(self.case_text, self.case_name)
        return self.noted(record, "field", lambda: field_path(tree, record["field"]))


def case_named(text: str, name: str) -> str:
    """Return the case file that a study names, as it is written; InputError where it lies outside the study's folder."""
    record = record_of(text, name)
    case: str = record["case"]
    parts = case.replace("\\", "/").split("/")
    if ".." in parts or parts[0] == "" or ":" in parts[0]:
        fault = f"'{case}' lies outside the study's folder"
        raise InputError(
            [
                Fault(
                    f"{name}:{record.line_of('case')}",
                    "case",
                    fault,
                    "put the case beside the study, or in a folder below",
                )
            ]
        )
    return case


def record_of(text: str, name: str, diagnostics: Diagnostics | None = None) -> Record:
    """Return a study's record; InputError with every fault of its form."""
    at, tree = diagnostics or Diagnostics(name), parse(text, name)
    if "frame" in tree.entries and "vary" not in tree.entries:
        fault = "this is a case, not a study"
        raise InputError([Fault(f"{name}:{tree.entries['frame'].line}", "", fault, f"run: framecheck check {name}")])
    refuse_language(tree, name)
    record = STUDY.read(tree, "", at)
    refuse_faults(at)
    assert not isinstance(record, Missing)
    return record


def read_study(text: str, name: str, case: tuple[str, str], library: Library) -> StudyFile:
    """Return the study in a text. case: text and name of the case file; InputError with every fault,
    of the case as it is written too.
    """
    diagnostics = Diagnostics(name, library.gauges())
    record = record_of(text, name, diagnostics)
    as_written = read_case(*case, library)
    clerk = Clerk(diagnostics, library, *case)
    read = [(each, clerk.path(each)) for each in record["vary"]]
    varied = [made for each, path in read if (made := varied_of(clerk, each, path)) is not None]
    scatter = None if record["scatter"] is None else scatter_of(clerk, record["scatter"])
    aims = aims_of(clerk, record["targets"])
    if aims.torsional_stiffness is not None and as_written.vehicle is None:
        fault = "the case has no vehicle, so no axles between which it could be twisted"
        where = record["targets"].line_of("torsional stiffness")
        diagnostics.refuse(where, "targets > torsional stiffness", fault, "describe a vehicle, or leave this target out")
    refuse_repeats(clerk, record["vary"])
    refuse_faults(diagnostics)
    study = study_of(record, tuple(varied), aims, scatter)
    refuse_counts(clerk, record, study)
    if study.engine is Engine.SCREEN:
        clerk.noted(record, "engine", lambda: refuse_screen([path for _, path in read if path is not None]))
    refuse_faults(diagnostics)
    file = file_of(clerk, record, study, tuple(path for _, path in read if path is not None))
    return replace(file, measured=as_written.measured, measured_by=as_written.measured_by)


def file_of(clerk: Clerk, record: Record, study: Study, paths: tuple[FieldPath, ...]) -> StudyFile:
    """Return a sound study with its builders."""
    build = CaseBuilder(clerk.case_text, clerk.case_name, dict(clerk.library.texts), paths, clerk.library.drawing)
    if study.scatter is None:
        return StudyFile(study, build, None, (), units_mostly(clerk.case_text))
    extra = tuple(path for each in record["scatter"]["tolerances"] if (path := clerk.path(each)) is not None)
    tree, words = tree_of(clerk.case_text, clerk.case_name), [path.words for path in paths]
    nominal = tuple(words.index(path.words) if path.words in words else written(tree, path).text for path in extra)
    scattered = CaseBuilder(build.text, build.name, build.tables, (*paths, *extra), build.drawing)
    return StudyFile(study, build, scattered, nominal, units_mostly(clerk.case_text))


def study_of(record: Record, varied: tuple[Varied, ...], aims: Aims, scatter: Scatter | None) -> Study:
    """Return the study of a record without faults."""
    return Study(
        title=record["title"],
        varied=varied,
        sampling=record["sampling"],
        aims=aims,
        engine=record["engine"],
        samples=record["samples"],
        seed=record["seed"],
        show=record["show"],
        scatter=scatter,
    )


def aims_of(clerk: Clerk, record: Record | None) -> Aims:
    """Return what is asked of each variant."""
    if record is None:
        return Aims()
    for check in record["by check"]:
        if check not in CHECKS:
            remedy = did_you_mean(check, CHECKS, f"write one of: {', '.join(CHECKS)}")
            clerk.diagnostics.refuse(
                record.line_of("by check"), f"targets > by check > {check}", "there is no such check", remedy
            )
    return Aims(
        safety_factor=record["safety factor"],
        by_check=record["by check"],
        deflection=record["deflection"],
        torsional_stiffness=record["torsional stiffness"],
        frequency=record["lowest frequency"],
        clearances=record["clearances"],
    )


def varied_of(clerk: Clerk, record: Record, path: FieldPath | None) -> Varied | None:
    """Return a varied field with all it holds in turn."""
    ways = [key for key in ("values", "from", "library") if record.given(key)]
    if len(ways) != 1 or record.given("from") != record.given("to"):
        fault = "says nothing of what it holds" if not ways else "says what it holds in two ways, or in half of one"
        clerk.diagnostics.refuse(record.line, record.subject, fault, "write values, or from and to, or library")
        return None
    span: Range | None = None
    if ways[0] == "values":
        values: tuple[str, ...] = record["values"]
    elif ways[0] == "library":
        values = names_in(clerk, record)
    else:
        span = clerk.noted(record, "from", lambda: range_of(record["from"], record["to"], clerk.diagnostics.gauges))
        if span is None:
            return None
        steps = record["steps"] or 5
        values = tuple(span.text(number / (steps - 1)) for number in range(steps))
    if path is not None:
        try_values(clerk, record, path, values)
    return Varied(record["field"], values, span)


def names_in(clerk: Clerk, record: Record) -> tuple[str, ...]:
    """Return the names of the library's sections that a record asks for."""
    asked: Record = record["library"]
    names = tuple(fitting(clerk.library, asked))
    if not names:
        fault = "no section of the library fits"
        clerk.diagnostics.refuse(
            record.line_of("library"),
            f"{record.subject} > library",
            fault,
            "widen the sizes; see framecheck list sections",
        )
    return names


def try_values(clerk: Clerk, record: Record, path: FieldPath, values: tuple[str, ...]) -> None:
    """Note, at the study's own line, the first value that the case's form refuses in that field."""
    builder = CaseBuilder(clerk.case_text, clerk.case_name, clerk.library.texts, (path,))
    known = builder_faults(clerk)
    tried = values if len(values) <= TRIED else (values[0], values[-1])
    for value in tried:
        for fault in builder.faults((value,)):
            if fault not in known:
                key = next(key for key in ("values", "from", "library") if record.given(key))
                clerk.diagnostics.refuse(record.line_of(key), f"{record.subject} > {path.words}", fault.fault, fault.remedy)
                return


def builder_faults(clerk: Clerk) -> tuple[Fault, ...]:
    """Return the form's faults of the case as it is written."""
    return CaseBuilder(clerk.case_text, clerk.case_name, clerk.library.texts, ()).faults(())


def refuse_repeats(clerk: Clerk, records: tuple[Record, ...]) -> None:
    """Note a field that is varied twice."""
    seen: set[str] = set()
    for record in records:
        if record["field"] in seen:
            clerk.diagnostics.refuse(
                record.line_of("field"), record.subject, f"'{record['field']}' is varied twice", "keep one of the two"
            )
        seen.add(record["field"])


def refuse_counts(clerk: Clerk, record: Record, study: Study) -> None:
    """Note counts that can't be run: lists of different lengths, more variants than are held to."""
    counts = [len(each.values) for each in study.varied]
    if study.sampling is Sampling.LIST and len(set(counts)) > 1:
        said = ", ".join(f"{each.field} {len(each.values)}" for each in study.varied)
        remedy = "a list takes the first of each, then the second of each ...: write as many for each"
        clerk.diagnostics.refuse(record.line_of("sampling"), "sampling", f"the lists are not alike long: {said}", remedy)
    if study.sampling is Sampling.EVERY and prod(counts) > MOST_VARIANTS:
        remedy = "write fewer values, or sampling: latin hypercube"
        clerk.diagnostics.refuse(
            record.line_of("vary"), "vary", f"{prod(counts)} variants are more than {MOST_VARIANTS}", remedy
        )
    if study.engine is Engine.SCREEN and study.aims.frequency is not None:
        remedy = "write engine: every check, or leave that target out"
        clerk.diagnostics.refuse(record.line_of("engine"), "engine", "a screen by yield knows no frequency", remedy)


def scatter_of(clerk: Clerk, record: Record) -> Scatter:
    """Return what scatters."""
    found = [made for each in record["tolerances"] if (made := tolerance_of(clerk, each)) is not None]
    return Scatter(tuple(found), record["draws"], record["seed"], record["chance by"])


def tolerance_of(clerk: Clerk, record: Record) -> Tolerance | None:
    """Return how one field scatters; what the case holds there must be an amount."""
    path, gauges = clerk.path(record), clerk.diagnostics.gauges
    deviation = clerk.noted(record, "deviation", lambda: share_or_amount(record["deviation"], gauges))
    if path is None or deviation is None:
        return None
    held = written(tree_of(clerk.case_text, clerk.case_name), path).text
    nominal = clerk.noted(record, "field", lambda: amount_of(held, gauges))
    return None if nominal is None else Tolerance(record["field"], record["spread"], *deviation)
