"""Which engine runs a study's variants, and what is said of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from concurrent.futures import Executor

from framecheck.model.study import Engine, Scatter, Study
from framecheck.section.store import SectionStore
from framecheck.study.measure import VariantRow
from framecheck.study.sampling import variants_of
from framecheck.study.scatter import Nominal, Scattered, draws_of, summed_up
from framecheck.study.sweep import Build, WholeChunk, sweep

Drawn = tuple[Scatter, Sequence[Nominal], Sequence[str]]
"""Tolerances, what their fields hold where nothing scatters, and what the study's own fields hold."""


def run_variants(
    build: Build,
    study: Study,
    store: SectionStore | None = None,
    *,
    start: int = 0,
    executor: Executor | None = None,
    workers: int = 1,
) -> Iterator[VariantRow]:
    """Yield the rows of a study's variants from number `start`, in order, the same whatever runs them.

    executor: any of concurrent.futures' kind (`distributed.Client.get_executor()` gives dask's); None: this process.
    """
    variants = variants_of(study)
    chunk = WholeChunk(build, variants, study.aims, store)
    return sweep(chunk, variants.count, start=start, executor=executor, workers=workers)


def run_scatter(
    build: Build, study: Study, drawn: Drawn, store: SectionStore | None, executor: Executor | None, workers: int
) -> Scattered:
    """Return what a study's tolerances do to one variant, each draw run by every check."""
    scatter, nominal, values = drawn
    draws = draws_of(scatter, nominal, values)
    chunk = WholeChunk(build, draws, study.aims, store)
    return summed_up(sweep(chunk, draws.count, executor=executor, workers=workers), scatter.seed)


def engine_notes(study: Study) -> tuple[str, ...]:
    """Return how variants were run, in words."""
    said = f"Sampling: {study.sampling.value}. Ranked by the mass of the frame's members."
    if study.engine is Engine.WHOLE:
        return (said, "Engine: every variant was run through every check, as framecheck check runs it.")
    return (said, "Engine: variants were screened by yield; the ones shown were run again through every check.")
