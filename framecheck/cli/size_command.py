"""`framecheck size`: the lightest of many variants that misses no target."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from concurrent.futures import BrokenExecutor, Executor
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import replace
from hashlib import blake2b
from pathlib import Path
from typing import TYPE_CHECKING

import click

from framecheck import __version__
from framecheck.cli.context import caution, picture, read, screen_width, section_store, tell
from framecheck.cli.drawings import library_beside
from framecheck.cli.figures import figure_kind
from framecheck.cli.files import read_text, write_whole
from framecheck.cli.options import force_option, strict_option, units_option
from framecheck.cli.places import may_write, origins
from framecheck.errors import Fault, InputError, UnsolvableError
from framecheck.model.study import ChanceBy, Engine
from framecheck.output.display import Units

if TYPE_CHECKING:
    from framecheck.output.study_text import StudyRemarks
    from framecheck.reading.study_file import StudyFile
    from framecheck.study.engines import Builders
    from framecheck.study.measure import VariantRow
    from framecheck.study.sweep import Shortlist


PATIENCE = 10
"""How long a scheduler may take to answer, s."""

WORDS = 20
"""How often progress is told where no terminal shows it: every twentieth part."""


@click.command(name="size", short_help="The lightest of many variants that misses no target.")
@click.argument("study")
@click.option(
    "--rows",
    "rows_file",
    metavar="FILE",
    help="Append every variant to this .csv or .jsonl file; taken up again after a stop.",
)
@click.option("--workers", type=click.IntRange(1, 256), default=1, show_default=True, help="Processes to run in.")
@click.option(
    "--cluster",
    metavar="ADDRESS",
    help="Run on the dask scheduler at this address instead (workers: MALLOC_TRIM_THRESHOLD_=100000000).",
)
@click.option(
    "--plot", "figure", metavar="FILE", help="Write mass against what is reached and stiffness as .png, .svg or .pdf."
)
@click.option("--between", is_flag=True, help="Also look between the sizes of the ranges (scipy.optimize).")
@strict_option
@force_option
@units_option
def size_command(
    study: str,
    rows_file: str | None,
    workers: int,
    cluster: str | None,
    figure: str | None,
    between: bool,
    is_strict: bool,
    units: Units | None,
) -> int:
    """Run the variants of STUDY (a YAML file): the lightest that misses no target, what governs, the near misses.

    Exit code: 0 a variant misses no target (with --strict: and nothing is open in the lightest), 1 each misses one, 2 bad input,
    3 none can be solved.
    """
    from framecheck.output.study_text import as_text, verdict

    kind = None if figure is None else figure_kind(figure, "--plot")
    file = studied(study)
    may_write(figure)
    shown_in = units or file.written_in
    with executor_of(workers, cluster) as executor:
        found = ranked(file, rows_file, executor, workers)
        if found.best is None:
            raise UnsolvableError(verdict(file.study, found, shown_in))
        told = beside(file, found, executor, workers, between, shown_in)
    if figure is not None and kind is not None:
        from framecheck.output.charts.study_figures import pareto_figure

        write_whole(figure, pareto_figure(found, file.study.aims, picture(kind), shown_in))
    tell(as_text(file.study, found, told, caution(), shown_in, screen_width()))
    return 0 if found.winners and not (is_strict and found.winners[0].open) else 1


def studied(path: str) -> StudyFile:
    """Return the study in a file, with its case from the same folder or one below."""
    from framecheck.reading.study_file import case_named, read_study

    text = read_text(path)
    folder = Path(path).parent
    case = folder / case_named(text, path)
    if not case.resolve().is_relative_to(folder.resolve()):
        fault = f"'{case.name}' leads out of the study's folder"
        raise InputError([Fault(path, "case", fault, "put the case itself beside the study")])
    file = read_study(text, path, (read_text(str(case)), str(case)), library_beside(str(case)))
    found = read(str(case)).measured if file.measured_by else None
    return file if found is None else file.as_fitted(found)


def executor_of(workers: int, cluster: str | None) -> AbstractContextManager[Executor | None]:
    """Return what runs the variants: this process, more of them, or a cluster."""
    if cluster is not None:
        return on_cluster(cluster)
    return nullcontext() if workers == 1 else in_processes(workers)


@contextmanager
def in_processes(workers: int) -> Iterator[Executor]:
    """Give so many processes of this machine; where the run is broken off, they are ended and not waited for."""
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import active_children, get_context

    executor = ProcessPoolExecutor(workers, get_context("spawn"), initializer=deaf_to_the_keyboard)
    try:
        yield executor
    except BaseException:
        executor.shutdown(wait=False, cancel_futures=True)
        for each in active_children():
            each.terminate()
        raise
    executor.shutdown()


def deaf_to_the_keyboard() -> None:
    """Leave an interrupt to the process that gave the work: it ends the others."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)


@contextmanager
def on_cluster(address: str) -> Iterator[Executor]:
    """Give the executor of a dask scheduler, and leave it when all is done.

    Dask starts its workers with MALLOC_TRIM_THRESHOLD_=65536, by which memory is given back and asked for at every array: a variant
    then takes 1.45 times as long. Workers that are started with 100000000 take little more than this process does.
    """
    try:
        from distributed import Client
    except ImportError:
        remedy = "install it: pip install 'framecheck[cluster]'"
        raise InputError([Fault("", "--cluster", "dask's distributed is not installed", remedy)]) from None
    try:
        client = Client(address, timeout=PATIENCE)
    except (OSError, ValueError) as error:
        fault = f"no scheduler answers at '{address}' ({str(error).splitlines()[0][:80]})"
        raise InputError(
            [Fault("", "--cluster", fault, "write it as dask scheduler prints it: tcp://host:8786")]
        ) from None
    with client:
        yield client.get_executor()


def ranked(file: StudyFile, rows_file: str | None, executor: Executor | None, workers: int) -> Shortlist:
    """Return the shortlist of all variants, those already in the rows file among them."""
    from itertools import chain

    from framecheck.cli.rows_file import taken_up
    from framecheck.output.rows_text import RowForm
    from framecheck.study.engines import confirmed, kept_of, run_variants
    from framecheck.study.sweep import shortlist, variants_of

    study, means = file.study, means_of(file)
    kept = None
    if rows_file is not None:
        kept = taken_up(rows_file, RowForm(means.key, tuple(each.field for each in study.varied), checksums()))
    done = () if kept is None else kept.done
    rows = run_variants(study, means, start=len(done), executor=executor, workers=workers)
    fresh = rows if kept is None else kept.appended(rows)
    told = Counted(progress(chain(done, fresh), variants_of(study).count))
    try:
        found = shortlist(told, kept_of(study))
    except BrokenExecutor:
        raise UnsolvableError(worker_died(told.count, rows_file)) from None
    return found if study.engine is Engine.WHOLE else confirmed(found, study, means, executor, workers)


class Counted:
    """Passes rows on and counts them."""

    def __init__(self, rows: Iterable[VariantRow]) -> None:
        self.rows, self.count = rows, 0

    def __iter__(self) -> Iterator[VariantRow]:
        for row in self.rows:
            self.count += 1
            yield row


def worker_died(count: int, rows_file: str | None) -> str:
    """Return what to say where a worker process died: what is kept, and how to go on."""
    kept = f"{count} rows are kept in {rows_file}, and the same command goes on from there" if rows_file else "--rows FILE keeps rows"
    return f"a worker process died (ended from outside, or out of memory); {kept}"


def means_of(file: StudyFile) -> Builders:
    """Return how the study's variants are built."""
    from framecheck.reading.variants import SectionBuilder
    from framecheck.study.engines import Builders

    key = key_of(file)
    return Builders(file.build, section_store(), SectionBuilder(key, file.build, file.measured), key)


def key_of(file: StudyFile) -> str:
    """Return a short name for a study with its case and tables: rows of another one are not taken up."""
    build = file.build
    said = repr((__version__, file.study, build.text, sorted(build.tables.items()), build.measured))
    return blake2b(said.encode(), digest_size=6).hexdigest()


def checksums() -> str:
    """Return the SHA-256 of the files that were read, one after another: of a study, of its case."""
    return " ".join(each.sha256 for each in origins())


def progress(rows: Iterable[VariantRow], count: int) -> Iterator[VariantRow]:
    """Yield rows and tell on standard error how many are done."""
    shown = sys.stderr
    every = 1 if shown.isatty() else max(1, count // WORDS)
    for number, row in enumerate(rows, 1):
        if number % every == 0 or number == count:
            shown.write(f"\r{number} of {count} variants" if shown.isatty() else f"{number} of {count} variants\n")
            shown.flush()
        yield row
    if shown.isatty():
        shown.write("\n")


def beside(
    file: StudyFile, found: Shortlist, executor: Executor | None, workers: int, between: bool, units: Units
) -> StudyRemarks:
    """Return what is told beside the ranking: energy shares of the best, its scatter, the optimum between the sizes."""
    from framecheck.output.as_measured_text import sentences
    from framecheck.output.rows_text import optimum_lines
    from framecheck.output.study_text import StudyRemarks, open_words
    from framecheck.run import run
    from framecheck.study.engines import engine_notes, optimum
    from framecheck.study.frame_measures import points_of, stiffness_of
    from framecheck.work import UNLIMITED

    best, study, means = found.best, file.study, means_of(file)
    assert best is not None
    case = file.build(best.values)
    stiffness = None if case.vehicle is None else stiffness_of(case, points_of(case), means.store)[0]
    results = run(case, means.store, UNLIMITED)
    drawn = () if case.as_drawn is None else sentences(results, run(case.as_drawn, means.store, UNLIMITED))
    told = StudyRemarks(engine_notes(study), stiffness, left_open=open_words(results.verdict), drawn=tuple(drawn))
    if between:
        lines = optimum_lines(study, optimum(file.build, study, best, means.store), found, units)
        told = replace(told, optimum=tuple(lines))
    return scattered(file, best, told, executor, workers)


def scattered(file: StudyFile, best: VariantRow, told: StudyRemarks, executor: Executor | None, workers: int) -> StudyRemarks:
    """Return what is told, with the best variant's scatter where the study asks for it."""
    from framecheck.study.engines import run_rare, run_scatter

    study = file.study
    if study.scatter is None or file.scattered is None:
        return told
    means = replace(means_of(file), build=file.scattered)
    drawn = (study.scatter, file.nominals(best.values), best.values)
    if study.scatter.by is ChanceBy.POINT:
        return replace(told, rare=run_rare(study, means, drawn, executor, workers))
    return replace(told, scattered=run_scatter(study, means, drawn, executor, workers))
