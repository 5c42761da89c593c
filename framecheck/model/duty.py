"""What a frame goes through in its life, and the details that may crack under it. SI.

A duty is a list of events. Each event swings the frame between two solved load cases, so that the forces at both ends of a
swing act together; a named load case of None is the frame with nothing on it.
"""

from __future__ import annotations

from enum import Enum

from framecheck.model.shapes import Side
from framecheck.model.shop_tables import Seen
from framecheck.value_class import value_class


class Per(Enum):
    """What cycles are counted by."""

    KM = "km"
    YEAR = "year"


@value_class
class Event:
    """One kind of swing: from load case `low` to load case `high`, `cycles` times per km or year.

    share: the part of the way from low to high that the swing goes (0.3: a service bump of three tenths of the design bump).
    source: where the number of cycles comes from ("case file", "common practice, no source").
    """

    name: str
    high: str
    cycles: float
    low: str | None
    per: Per = Per.KM
    share: float = 1.0
    source: str = "case file"


@value_class
class History:
    """A recorded swing: values say how far the frame is on the way from `low` (0) to `high` (1), sample by sample.

    repeats: how often the whole record passes per km or year.
    """

    name: str
    high: str
    low: str | None
    values: tuple[float, ...]
    repeats: float
    per: Per = Per.KM
    source: str = "case file"


@value_class
class PartialFactors:
    """Partial factors on the stress range and on the fatigue strength.

    EN 1993-1-9:2005, table 3.1, from memory: strength 1.35 (safe life, high consequence), 1.15 (safe life, low consequence, or
    damage tolerant, high consequence), 1.00 (damage tolerant, low consequence). load: 1.00 (EN 1993-1-9:2005, 3(7) note).
    """

    load: float = 1.0
    strength: float = 1.35


@value_class
class Duty:
    """The life that is asked, and what happens in it.

    life: km asked (or years, where life_in is Per.YEAR); km_per_year: joins the two; None: not known.
    one_sided: events of which the truck's other side is nowhere in the duty, and can't be run.
    damage_limit: what Miner's sum may come to (1; IIW advises 0.5 where the mean stress varies).
    """

    events: tuple[Event | History, ...]
    life: float
    life_in: Per = Per.KM
    km_per_year: float | None = None
    factors: PartialFactors = PartialFactors()
    damage_limit: float = 1.0
    one_sided: tuple[str, ...] = ()


class StressKind(Enum):
    """Which stress range a detail class is read with."""

    NORMAL = "normal"
    SHEAR = "shear"


@value_class
class DetailClass:
    """A row of shared/fatigue_classes.yaml: reference range (Pa) at 2e6 cycles and the shape of its S-N line.

    slope: m up to `knee` cycles; slope_beyond: m from there to `cut_off` cycles, whose range does no damage (inf: every
    range does). Where knee == cut_off there is one slope. standard: "EN 1993-1-9" or "IIW". metal: the kind it holds for;
    least_wall: the thinnest wall, m. on_net_section: whether it is read with the stress of what a hole leaves.
    """

    name: str
    standard: str
    detail: str
    reference: float
    source: str
    stress: StressKind = StressKind.NORMAL
    slope: float = 3.0
    knee: float = 5e6
    slope_beyond: float = 5.0
    cut_off: float = 1e8
    metal: str = "steel"
    seen: Seen = Seen.OPENED
    least_wall: float = 0.0
    on_net_section: bool = False


class MeanStress(Enum):
    """How the mean stress of a swing is brought to the fully reversed one. None of them lets compression help."""

    GOODMAN = "Goodman"
    GERBER = "Gerber"
    SWT = "Smith, Watson and Topper"


@value_class
class SurfaceFinish:
    """The surface of unwelded metal: its factor on the fatigue limit is a Su^b, Su in MPa."""

    name: str
    a: float
    b: float
    source: str
    seen: Seen = Seen.OPENED


@value_class
class BaseMetal:
    """Unwelded metal, judged by its tensile strength and surface instead of a detail class.

    reliability: factor on the strength (0.814 for 99 %); mean_stress: how the mean stress is corrected.
    """

    finish: SurfaceFinish
    mean_stress: MeanStress = MeanStress.GOODMAN
    reliability: float = 0.814


@value_class
class Detail:
    """A place on a member that may crack, from station `start` to `end` (m along the member; inf: to its end).

    side: the side of the member it sits on, None: anywhere round it. cut: the name of a notch of the member whose corner it is:
    then its stations are the notch's, and the stress concentration of the corner is counted on top.
    concentration: the geometric stress concentration that the class doesn't hold.
    beside: the class for the stress that `resistance` isn't read with (shear beside normal stress, or the other way round), at the
    same place; None: none is known.
    """

    name: str
    member: str
    resistance: DetailClass | BaseMetal
    start: float = 0.0
    end: float = float("inf")
    side: Side | None = None
    cut: str | None = None
    concentration: float = 1.0
    beside: DetailClass | None = None


@value_class
class WeldDetail:
    """The throat of a weld group of the case (by name): classes for the range across and along the weld (root cracks).

    EN 1993-1-9:2005, 5(6): across is the root of sigma2 + tau2 square to the weld.
    """

    name: str
    weld: str
    across: DetailClass
    along: DetailClass


@value_class
class BoltDetail:
    """The bolts of a bolt group of the case (by name): classes for the ranges of tension and of shear."""

    joint: str
    tension: DetailClass
    shear: DetailClass


@value_class
class SeamDetail:
    """The seams of a built-up section in a member: the class for the range along their welds."""

    member: str
    section: str
    along: DetailClass


@value_class
class HoleClasses:
    """Classes of the holes of bolts through steel members: of faces that a clamp holds, of others, and of shear beside them."""

    clamped: DetailClass
    loose: DetailClass
    beside: DetailClass


@value_class
class Fatigue:
    """All that the fatigue check is asked: a duty and the details it is put on. faces: classes of walls under member ends; holes: of
    those that bolts go through, None: not known.
    """

    duty: Duty
    details: tuple[Detail, ...] = ()
    welds: tuple[WeldDetail, ...] = ()
    bolts: tuple[BoltDetail, ...] = ()
    seams: tuple[SeamDetail, ...] = ()
    faces: tuple[DetailClass, ...] = ()
    holes: HoleClasses | None = None
