"""How a section stretches and bends: area, centroid and second moments of its bodies, in mm."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array, IntArray
from framecheck.section.elements import Elements, contracted
from framecheck.value_class import array_class


@array_class
class Plane:
    """The plane that stays plane, over one body or several that each keep a plane of their own; of the transformed section where
    metals differ (each part counts by its Young's modulus).

    area: mm2; centroid (2,): of all, mm; body (m,): each triangle's body; own (bodies, 2): each body's centroid from `centroid`;
    moments (2, 2): integrals of yy, yz, zy, zz about the body's own centroid, summed, mm4.
    """

    area: float
    centroid: Array
    body: IntArray
    own: Array
    moments: Array

    def local(self, elements: Elements) -> Array:
        """Return the sampling points measured from the centroid of their body, (m, 6, 2)."""
        local: Array = elements.at - self.centroid - self.own[self.body][:, None, :]
        return local

    def bending(self) -> Array:
        """Return the inverse of the moments: slopes of stress (along y, along z) by unit moment (Ms, Mv), 1/mm4, (2, 2)."""
        return np.asarray(np.linalg.inv(self.moments), dtype=np.float64)


def plane_of(elements: Elements, body: IntArray) -> Plane:
    """Return the plane of bodies numbered by triangle; all zeros: one plane for the whole."""
    area = float((elements.area * elements.young).sum())
    centroid = elements.stretched(elements.at) / area
    from_middle = elements.at - centroid
    first = _by_body(elements, body, from_middle)
    own = first / np.bincount(body, elements.area * elements.young)[:, None]
    local = from_middle - own[body][:, None, :]
    moments = elements.stretched(local[..., :, None] * local[..., None, :])
    return Plane(area, centroid, body, own, moments)


def _by_body(elements: Elements, body: IntArray, values: Array) -> Array:
    """Return the integrals over each body of the transformed section, (bodies, k), of values (m, 6, k) at the sampling points."""
    sums = contracted("mg,mgk->mk", elements.stretching, values)
    return np.stack([np.bincount(body, sums[:, k]) for k in range(values.shape[2])], axis=1)


def body_means(elements: Elements, body: IntArray, values: Array) -> Array:
    """Return the mean of values (m, 6) at the sampling points over each body, (bodies,)."""
    return _by_body(elements, body, values[..., None])[:, 0] / np.bincount(body, elements.area * elements.young)
