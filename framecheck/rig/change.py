"""A car before and after a change, on one rig: the ratio of stiffness with its uncertainty. SI."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, isfinite

from framecheck.errors import Fault, InputError
from framecheck.rig.measured import Amount, MeasuredTest
from framecheck.value_class import array_class, value_class


@value_class
class Ratio:
    """After over before of one number; sigma: its standard deviation. name: of the pair, "" of the whole. expected: by the files."""

    name: str
    before: Amount
    after: Amount
    value: float
    sigma: float
    expected: float | None = None

    @property
    def is_told(self) -> bool:
        """Return whether it differs from one by more than two standard deviations."""
        return abs(self.value - 1.0) > 2 * self.sigma


@array_class
class BeforeAndAfter:
    """Two tests of one car. same_rig: force, arm and distances were alike, so that what they are off by drops out of the ratio."""

    before: MeasuredTest
    after: MeasuredTest
    same_rig: bool
    whole: Ratio
    pairs: tuple[Ratio, ...]


def change_of(before: MeasuredTest, after: MeasuredTest) -> BeforeAndAfter:
    """Return what changed between two tests. InputError: they are of different kinds, or tell no stiffness."""
    first, second = before.sheet.rig, after.sheet.rig
    if first.asked.kind is not second.asked.kind:
        fault = f"a {second.asked.kind.value} test can't be put beside a {first.asked.kind.value} test"
        raise InputError([Fault(after.record.file, "--after", fault, "make the same test again")])
    if before.stiffness is None or after.stiffness is None:
        raise InputError([Fault(after.record.file, "--after", "one of the tests tells no stiffness", "read the dials that tell it")])
    same = is_same_rig(before, after)
    expected = float(after.sheet.stiffness.mid[0] / before.sheet.stiffness.mid[0])
    whole = replace(ratio("", before.stiffness, after.stiffness, same), expected=expected)
    named = {plane.name: amount for plane, amount in zip(second.planes, after.pairs, strict=True)}
    pairs = tuple(
        ratio(plane.name, amount, other, same)
        for plane, amount in zip(first.planes, before.pairs, strict=True)
        if amount is not None and (other := named.get(plane.name)) is not None and isfinite(amount.value) and isfinite(other.value)
    )
    return BeforeAndAfter(before, after, same, whole, pairs)


def is_same_rig(before: MeasuredTest, after: MeasuredTest) -> bool:
    """Return whether two tests were held, loaded and read alike."""
    one, other = (replace(each.sheet.rig.asked, top=None, steps=1, jack=None) for each in (before, after))
    names = [tuple((dial.name, dial.spot.at) for dial in each.sheet.rig.dials) for each in (before, after)]
    return one == other and names[0] == names[1]


def ratio(name: str, before: Amount, after: Amount, same: bool) -> Ratio:
    """Return after over before; of one rig by the scatter of both alone, else with force, arm and distances of both."""
    parts = [(each.scatter if same else each.sigma) / each.value for each in (before, after)]
    value = after.value / before.value
    return Ratio(name, before, after, value, value * hypot(*parts))
