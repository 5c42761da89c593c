"""Which variants a study runs, in a fixed order: each by its number, so that none need be held in memory."""

from __future__ import annotations

from math import prod

from framecheck.model.arrays import Array, frozen
from framecheck.model.study import Sampling, Study, Varied
from framecheck.value_class import array_class


@array_class
class Variants:
    """The variants of a study. shares: (count, n_field) on 0 to 1 of a hypercube, None for the others."""

    varied: tuple[Varied, ...]
    sampling: Sampling
    count: int
    shares: Array | None = None

    def texts(self, number: int) -> tuple[str, ...]:
        """Return what each field holds in a variant (0 to count - 1)."""
        if self.shares is not None:
            return tuple(text_at(each, float(u)) for each, u in zip(self.varied, self.shares[number], strict=True))
        if self.sampling is Sampling.LIST:
            return tuple(each.values[number] for each in self.varied)
        return every(self.varied, number)


def variants_of(study: Study) -> Variants:
    """Return the variants of a study."""
    match study.sampling:
        case Sampling.EVERY:
            return Variants(study.varied, study.sampling, prod(len(each.values) for each in study.varied))
        case Sampling.LIST:
            return Variants(study.varied, study.sampling, len(study.varied[0].values))
        case Sampling.HYPERCUBE:
            shares = hypercube(len(study.varied), study.samples, study.seed)
            return Variants(study.varied, study.sampling, study.samples, shares)


def every(varied: tuple[Varied, ...], number: int) -> tuple[str, ...]:
    """Return one combination of the full factorial; the last field turns fastest."""
    texts = []
    for each in reversed(varied):
        number, place = divmod(number, len(each.values))
        texts.append(each.values[place])
    return tuple(reversed(texts))


def text_at(varied: Varied, share: float) -> str:
    """Return what a field holds at a share (0 to 1): anywhere in its range, else one of its values, all alike often."""
    if varied.range is not None:
        return varied.range.text(share)
    return varied.values[min(int(share * len(varied.values)), len(varied.values) - 1)]


def hypercube(fields: int, samples: int, seed: int) -> Array:
    """Return a Latin hypercube (samples, fields) on 0 to 1: each of `samples` even slices of every field holds one point.

    M. D. McKay, R. J. Beckman, W. J. Conover, Technometrics 21 (1979), 239-245, from memory; scipy.stats.qmc draws it.
    """
    from scipy.stats.qmc import LatinHypercube

    return frozen(LatinHypercube(d=fields, rng=seed).random(samples))
