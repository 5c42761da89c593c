"""A whole case: frame, vehicle, load cases and targets, and what else a file may ask for: buckling lengths, rare cases, readings
at places.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field
from enum import Enum
from typing import TYPE_CHECKING

from framecheck.model.as_measured import AsMeasured
from framecheck.model.frame import Frame
from framecheck.model.loads import CaseLoads
from framecheck.model.shapes import Side
from framecheck.model.shop_tables import Seen
from framecheck.units import Units
from framecheck.value_class import value_class

if TYPE_CHECKING:
    from framecheck.model.duty import Fatigue
    from framecheck.model.plate import BoltedPlate
    from framecheck.model.shop_tables import JointTables
    from framecheck.model.vehicle import RunningGear, Use, Vehicle
    from framecheck.model.weld_joints import Joint


@value_class
class BucklingLength:
    """Lengths that the user states for a member, m: effective column length vertically and sideways, and the length between
    points held against twist and sideways movement. None: bracketed instead, from one crossmember to the next and end to end.
    """

    member: str
    vertical: float | None = None
    sideways: float | None = None
    lateral: float | None = None
    source: str = "case file"


@value_class
class NotchAsked:
    """What is asked of notches. zone_share: a rail may be cut where its utilisation (stress over yield) is below this share.

    local_yield: members whose notch corners are asked for local yield by Neuber's rule.
    """

    zone_share: float = 0.33
    local_yield: tuple[str, ...] = ()


@value_class
class StrengthAsked:
    """What the case says beyond its targets; rare: load cases in which a permanent set may be accepted."""

    buckling_lengths: tuple[BucklingLength, ...] = ()
    notches: NotchAsked = NotchAsked()
    rare: tuple[str, ...] = ()


Factor = float | str | tuple[str, ...]
"""A factor of a load case: a number in SI, a word, a frame point, or several frame points."""


class VehicleSide(Enum):
    """A side of the vehicle, as seen by its driver."""

    LEFT = "left"
    RIGHT = "right"


class Confidence(Enum):
    """How well the size of a load is known."""

    STATED = "stated in the case file"
    HIGH = "a regulation, statics, or books that agree"
    MEDIUM = "one book, or a narrow range of practice"
    LOW = "a wide range of practice, or from memory"


@value_class
class Basis:
    """What a factor of a load case rests on: its source, how far it may be trusted, the range in use, why this value of it."""

    source: str
    confidence: Confidence = Confidence.STATED
    range: str = ""
    reason: str = ""
    seen: Seen = Seen.OPENED


@value_class
class LoadCase:
    """A load case from the vehicle: its kind (a row of shared/load_cases.yaml) and the factors it is run with, SI.

    name: as it is run; asked: as the file asks for it, where one entry is run on both sides or both ways. side: the side that
    it happens on, None where it has none; side_said: the file says that side, so the other one is not run for it.
    basis: per factor. given: the factors that the file gives. by_default: the file asks for no load cases, so all that can run do.
    """

    name: str
    kind: str
    factors: Mapping[str, Factor]
    basis: Mapping[str, Basis] = field(default_factory=dict)
    asked: str = ""
    side: VehicleSide | None = None
    side_said: bool = False
    given: frozenset[str] = frozenset()
    by_default: bool = False

    @property
    def in_file(self) -> str:
        """Return the name under which it stands in the file."""
        return self.asked or self.name

    @property
    def least_known(self) -> tuple[str, Basis] | None:
        """Return the size of it that is known least, with what that rests on; None where it has no size (at rest)."""
        sizes = [(name, each) for name, each in self.basis.items() if isinstance(self.factors.get(name), float | int)]
        order = list(Confidence)
        return max(sizes, key=lambda each: order.index(each[1].confidence), default=None)

    @property
    def sources(self) -> Mapping[str, str]:
        """Return, per factor, where it comes from ("case file", a standard, "common practice, no source")."""
        return {name: each.source for name, each in self.basis.items()}


@value_class
class Sum:
    """Load cases of the vehicle (by name, as they are run) added up, each times a factor. asked: the name in the file."""

    name: str
    parts: tuple[tuple[str, float], ...]
    asked: str = ""


@value_class
class Targets:
    """Least safety factors asked: on yield, and per load case where a case has its own (rare misuse).

    is_stated: whether the file gives the safety factor; else it is the usual one.
    """

    safety_factor: float = 1.5
    per_load_case: Mapping[str, float] = field(default_factory=dict)
    is_stated: bool = True

    def of(self, load_case: str) -> float:
        """Return the target that holds in a load case."""
        return self.per_load_case.get(load_case, self.safety_factor)


@value_class
class Accepted:
    """What the file accepts though it was not judged, and why. what: the title of an open question, or "title: subject"."""

    what: str
    because: str


@value_class
class Doubt:
    """Something that the file says and may not mean. place: "file:line"; subject: what it says it of; what: what is doubtful;
    remedy: what would settle it. is_default: the file does not say it, and something was taken.
    """

    place: str
    subject: str
    what: str
    remedy: str
    is_default: bool = False


def nowhere(about: tuple[str, ...]) -> str:
    """Return that a case was read from no file."""
    return ""


@value_class
class Case:
    """All that was read from one case file, in SI. written_loads: load cases that the user wrote force by force.

    gear: the running gear of a trailer or of three axles and more, in place of a vehicle.
    as_drawn: the case without what a test found; None: nothing was measured, it is as drawn. measured: what the test found;
    measured_by: files of readings, beside the case, that are to be fitted.
    written_in: the units in which most of the file is written, and so the answer is shown.
    place_of: gives "file:line" of what keys and names lead to, for faults that are found when the case is run.
    """

    title: str
    frame: Frame
    vehicle: Vehicle | None = None
    load_cases: tuple[LoadCase, ...] = ()
    written_loads: tuple[CaseLoads, ...] = ()
    targets: Targets = Targets()
    about: str = ""
    strength: StrengthAsked = field(default_factory=StrengthAsked)
    fatigue: Fatigue | None = None
    joints: tuple[Joint, ...] = ()
    joint_tables: JointTables | None = None
    sums: tuple[Sum, ...] = ()
    plates: tuple[BoltedPlate, ...] = ()
    accepted: tuple[Accepted, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    readings: tuple[Reading, ...] = ()
    written_in: Units = Units.SI
    gear: RunningGear | None = None
    as_drawn: Case | None = None
    measured: AsMeasured | None = None
    measured_by: tuple[str, ...] = ()
    place_of: Callable[[tuple[str, ...]], str] = field(default=nowhere, compare=False, repr=False)

    @property
    def use(self) -> Use | None:
        """Return where the vehicle or the trailer goes; None: not said."""
        rolls = self.vehicle or self.gear
        return None if rolls is None else rolls.use


@value_class
class Reading:
    """A place on a member. station: m from its first point; side: of the section in its own axes, None: no stress is wanted; offset:
    along that side from the middle of the outline, m, + up or left, as the section is drawn.
    """

    name: str
    member: str
    station: float
    side: Side | None = None
    offset: float = 0.0
