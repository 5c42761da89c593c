"""A sizing study: which fields of a case are varied, how, and what is asked of each variant. SI."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from enum import Enum

from framecheck.value_class import value_class


class Sampling(Enum):
    """Which combinations of the fields' values are run."""

    EVERY = "full factorial"
    LIST = "list"
    HYPERCUBE = "latin hypercube"


class Engine(Enum):
    """How variants are run. SCREEN: the many by mid-line sections and yield alone, the best of them then by every check."""

    WHOLE = "every check"
    SCREEN = "screen by yield"


class Spread(Enum):
    """How a dimension, strength or load scatters about its nominal value."""

    NORMAL = "normal"
    UNIFORM = "uniform"
    LOGNORMAL = "lognormal"


@value_class
class Range:
    """Amounts from low to high, in `unit` as the case file would write it ("" for a plain number)."""

    low: float
    high: float
    unit: str

    def text(self, share: float) -> str:
        """Return what would be written at a share (0 to 1) of the range; twelve digits are kept."""
        return f"{self.low + share * (self.high - self.low):.12g} {self.unit}".strip()


@value_class
class Varied:
    """A field of the case and the texts it takes in turn. range: None where only those texts make sense."""

    field: str
    values: tuple[str, ...]
    range: Range | None = None


@value_class
class Tolerance:
    """How a field scatters. deviation: standard deviation, half the width (uniform), or standard deviation of the logarithm;
    a share of the nominal value, or where `unit` is given an amount.
    """

    field: str
    spread: Spread
    deviation: float
    unit: str | None = None


class ChanceBy(Enum):
    """How the chance of a missed target is found: by plain draws, or, where it is small, by draws about the likeliest miss."""

    DRAWS = "plain draws"
    POINT = "likeliest miss"


@value_class
class Scatter:
    """Draws of all tolerances at once, from a fixed seed."""

    tolerances: tuple[Tolerance, ...]
    draws: int = 200
    seed: int = 1
    by: ChanceBy = ChanceBy.DRAWS


@value_class
class Aims:
    """What a variant must meet. None: not asked; for safety factors: what the case itself asks.

    safety_factor: in place of the case's own targets; by_check: in place of any target, by the check's name.
    deflection: m, at most; torsional_stiffness: Nm/rad, frequency: Hz, at least. clearances: the case's own gaps count.
    """

    safety_factor: float | None = None
    by_check: Mapping[str, float] = field(default_factory=dict)
    deflection: float | None = None
    torsional_stiffness: float | None = None
    frequency: float | None = None
    clearances: bool = True


@value_class
class Study:
    """All that a study file says, but for the case that it varies. samples, seed: of the hypercube. show: winners and near misses."""

    title: str
    varied: tuple[Varied, ...]
    sampling: Sampling = Sampling.EVERY
    aims: Aims = Aims()
    engine: Engine = Engine.WHOLE
    samples: int = 0
    seed: int = 1
    show: int = 5
    scatter: Scatter | None = None
