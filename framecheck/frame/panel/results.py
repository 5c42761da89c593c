"""What a panel carries. SI; arrays are read-only."""

from __future__ import annotations

import numpy as np

from framecheck.model.arrays import Array
from framecheck.value_class import array_class
from framecheck.yield_criterion import equivalent_in_sheet


@array_class
class PanelForces:
    """One panel in k cases. corners (m, 4, 3): of its cells, m. axes (3, 3) rows: its own x, y and normal, vehicle axes.

    forces (m, g, k, 3): along x, along y and shear at g places in each cell, N/m, tension +. rim (r, 3): places round it that hang on
    the frame, in order; rim_moves (r, k, 3): their movements, m. area (m,): of its cells, m2. bays (m, 2): how wide the field between
    members round each cell is, along x and y, m; bay (m, m): how much of every cell lies in it. seam_flow (s, k): what passes through
    each length of its seams, N/m. passed: members that end on it or pass through it. ended: members that end on it, and the points.
    """

    panel: str
    thickness: float
    corners: Array
    axes: Array
    forces: Array
    rim: Array
    rim_moves: Array
    area: Array
    bays: Array
    bay: Array
    seam_flow: Array
    passed: frozenset[str] = frozenset()
    ended: tuple[tuple[str, str], ...] = ()

    def of_bays(self) -> tuple[Array, Array]:
        """Return compression along x and y (m, k, 2), a mean, and shear (m, k), a root of mean squares, of each field, N/m."""
        means, share = self.forces.mean(axis=1), self.bay * self.area
        share /= share.sum(axis=1, keepdims=True)
        pressed: Array = np.einsum("fm,mkj->fkj", share, np.maximum(-means[..., :2], 0.0))
        return pressed, np.asarray(np.sqrt(share @ means[..., 2] ** 2))

    def principal(self) -> Array:
        """Return both principal forces per length (m, g, k, 2), the greater first, N/m."""
        x, y, xy = np.moveaxis(self.forces, -1, 0)
        middle, radius = (x + y) / 2, np.hypot((x - y) / 2, xy)
        return np.stack((middle + radius, middle - radius), axis=-1)

    def shear_flow(self) -> Array:
        """Return the shear flow (k,) of each case, N/m: the mean over the panel along its own axes."""
        found: Array = self.area @ self.forces[..., 2].mean(axis=1) / self.area.sum()
        return found

    def equivalent(self) -> Array:
        """Return the equivalent stress (k,) where it is worst in each case, Pa."""
        found: Array = equivalent_in_sheet(*np.moveaxis(self.forces, -1, 0)).max(axis=(0, 1)) / self.thickness
        return found
