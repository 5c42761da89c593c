"""The greatest eigenvalues of pencils side by side, against scipy's dense solver."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from pytest import approx
from scipy.linalg import eigh

from framecheck.frame.stability import greatest, greatest_modes
from framecheck.model.arrays import Array, IntArray


@dataclass(frozen=True)
class Dense:
    """Full matrices: stiffness (n, n), forms (k, n, n)."""

    stiffness: Array
    forms: Array

    def forces(self, moved: Array) -> Array:
        return np.asarray(np.einsum("kij,jk->ik", self.forms, moved))

    def movements(self, forces: Array) -> Array:
        return np.asarray(np.linalg.solve(self.stiffness, forces))

    def among(self, which: IntArray) -> Dense:
        return Dense(self.stiffness, self.forms[which])


def pencil(size: int, count: int) -> Dense:
    draw = np.random.default_rng(5)
    root = draw.standard_normal((size, size)) * 10.0 ** draw.uniform(-2, 2, size)
    forms = draw.standard_normal((count, size, size))
    return Dense(root @ root.T + np.eye(size), forms + forms.transpose(0, 2, 1))


def test_the_greatest_values_are_those_of_the_dense_solver() -> None:
    made = pencil(40, 5)
    found = greatest(made, np.sin(np.arange(1.0, 41.0) ** 2)[:, None], 5)
    assert found.settled.all()
    assert found.values == approx([eigh(form, made.stiffness, eigvals_only=True)[-1] for form in made.forms], rel=1e-6)


def test_a_form_that_only_holds_back_has_no_positive_value() -> None:
    made = pencil(20, 1)
    square = made.forms @ made.forms
    found = greatest(Dense(made.stiffness, -square), np.ones((20, 1)), 1)
    assert found.settled.all()
    assert found.values == approx([0.0], abs=1e-9 * float(np.abs(square).max()))


def test_the_modes_are_those_of_the_dense_solver_even_where_the_search_begins_with_one() -> None:
    made = pencil(40, 4)
    pairs = [eigh(form, made.stiffness) for form in made.forms]
    start = np.sin(np.arange(1.0, 41.0) ** 2)[:, None].repeat(4, axis=1)
    start[:, 0] = made.stiffness @ pairs[0][1][:, -1]
    found, modes = greatest_modes(made, start)
    assert found.settled.all()
    assert found.values == approx([values[-1] for values, _ in pairs], rel=1e-6)
    energies = np.einsum("ik,ij,jk->k", modes, made.stiffness, modes)
    along = [vectors[:, -1] @ made.stiffness @ modes[:, k] for k, (_, vectors) in enumerate(pairs)]
    assert energies == approx(np.ones(4), abs=1e-6)
    assert np.abs(along) == approx(np.ones(4), abs=1e-6)
