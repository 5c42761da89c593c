"""What readings know of unknowns, by the singular values of a Jacobian. SI."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from framecheck.model.arrays import Array


def spread_of(by_prior: Array) -> Array:
    """Return (J'J + 1)^-1 (k, k) of a Jacobian counted by sigma and priors, by its singular values: never singular."""
    _, sizes, ways = np.linalg.svd(by_prior)
    left: Array = np.ones(len(ways))
    left[: len(sizes)] = 1.0 / (1.0 + sizes**2)
    return np.asarray(ways.T @ (left[:, None] * ways), dtype=np.float64)


def singular_of(by_prior: Array, rows: Sequence[int]) -> tuple[Array, Array]:
    """Return singular values (f,), largest first, and combinations (f, f), a row each, of some unknowns with the others taken out.

    by_prior (n, k): the Jacobian by sigma and priors. What is known of the others beforehand counts as readings of them, so that their
    part in the readings is what a least squares fit of them leaves: J_f'(I - J_o (J_o'J_o + I)^-1 J_o')J_f.
    """
    kept = by_prior[:, list(rows)]
    others = np.delete(by_prior, list(rows), axis=1)
    known = np.vstack((others, np.eye(others.shape[1])))
    padded = np.vstack((kept, np.zeros((others.shape[1], kept.shape[1]))))
    base = np.linalg.qr(known)[0]
    _, sizes, ways = np.linalg.svd(padded - base @ (base.T @ padded))
    singular: Array = np.zeros(len(rows))
    singular[: len(sizes)] = sizes[: len(rows)]
    return singular, np.asarray(ways, dtype=np.float64)
