"""Forces on the bolts of a group, as the bolt check finds them and the fatigue check needs them."""

from __future__ import annotations

from framecheck.model.arrays import Array
from framecheck.model.joints import BoltGroup
from framecheck.value_class import array_class


@array_class
class BoltLoads:
    """What pulls and shears every bolt of a group in every load case, N: tension (n_case, n_bolt), shear (n_case, n_bolt, 3).

    held: the friction that each bolt's clamp leaves against slip, (n_case, n_bolt), N; 0 where it is not known. Bolts stand bound by
    bound where the case leaves something open.
    """

    group: BoltGroup
    tension: Array
    shear: Array
    held: Array
