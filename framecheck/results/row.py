"""One row of a check: one demand against one capacity, in the forces of one load case at one station."""

from __future__ import annotations

from collections.abc import Hashable
from enum import Enum
from math import isnan
from typing import TypeVar

from framecheck.errors import UnsolvableError
from framecheck.frame.results import Bound
from framecheck.model.said import Words, joined
from framecheck.results.subjects import Entry, Question, Subject
from framecheck.value_class import value_class

Key = TypeVar("Key", bound=Hashable)


class Grade(Enum):
    """PASS where the capacity over the demand meets its target, LOW where it does not."""

    PASS = "PASS"
    LOW = "LOW"


class Kind(Enum):
    """What a row is about."""

    STRENGTH = "strength"
    LIFE = "life"
    LAYOUT = "layout"
    CLEARANCE = "clearance"


class Facing(Enum):
    """A side of a section as it sits in the vehicle."""

    TOP = "top"
    BOTTOM = "bottom"
    INBOARD = "inboard"
    OUTBOARD = "outboard"
    LEFT = "left"
    RIGHT = "right"
    FRONT = "front"
    REAR = "rear"


class Check(Enum):
    """Which check made a row: (its name, the question that its rows answer)."""

    __hash__ = object.__hash__  # by what it is: Enum hashes its name anew each time, and there may be a million look-ups

    YIELD = ("yield", Question.YIELD)
    LOCAL_BUCKLING = ("local buckling", Question.LOCAL_BUCKLING)
    SHEAR_BUCKLING = ("shear buckling", Question.LOCAL_BUCKLING)
    DISTORTION = ("distortional buckling", Question.DISTORTION)
    BUCKLING = ("buckling", Question.MEMBER_BUCKLING)
    FRAME_BUCKLING = ("frame buckling", Question.FRAME_BUCKLING)
    KINK = ("kinks", Question.KINK)
    NOTCH = ("notch", Question.NOTCH)
    SEAMS = ("seams", Question.SEAM)
    HOLES = ("bolt holes", Question.HOLE)
    FATIGUE = ("fatigue", Question.FATIGUE)
    PERMANENT_SET = ("permanent set", Question.PERMANENT_SET)
    FISH_PLATES = ("fish plates", Question.SPLICE)
    BOLTS = ("bolts", Question.JOINT)
    PINNED_SLEEVE = ("pinned sleeve", Question.JOINT)
    WELDS = ("welds", Question.JOINT)
    STITCH_WELD = ("stitch weld", Question.JOINT)
    SPOTS = ("spot welds", Question.JOINT)
    BOLTS_WITH_WELDS = ("bolts with welds", Question.JOINT)
    WALL_UNDER_BRACKET = ("bracket wall", Question.JOINT)
    FACE = ("face of tube", Question.FACE)
    END_WELD = ("end welds", Question.FASTENING)
    CRUSH_SLEEVE = ("crush sleeve", Question.CLAMPED_TUBE)
    PLATE = ("plate", Question.PLATE)
    PANEL = ("panels", Question.PANEL)
    PANEL_SEAM = ("panel seams", Question.PANEL_SEAM)
    STRAPS = ("straps", Question.STRAP)
    CLEARANCE = ("clearances", Question.CLEARANCE)

    @property
    def words(self) -> str:
        """Return its name."""
        return self.value[0]

    @property
    def question(self) -> Question:
        """Return the question that its rows answer."""
        return self.value[1]


class Mode(Enum):
    """How a thing fails, in words; {} stands for the part that fails."""

    __hash__ = object.__hash__  # by what it is: Enum hashes its name anew each time, and there may be a million look-ups

    FIRST_YIELD = "first yield"
    WALL_BUCKLES = "wall buckles"
    SHEAR_BUCKLES = "web buckles in shear"
    LIPS_TURN = "lips or brims turn with the walls they stiffen"
    MEMBER_BUCKLES = "member buckles"
    FRAME_BUCKLES = "the frame buckles as a whole"
    KINK_YIELDS = "yield at the kink"
    PLASTIC_SECTION = "plastic section"
    NET_SECTION = "net section"
    WEB_SHEAR = "shear in the remaining webs"
    CORNER_YIELDS = "local yield at the corner"
    STITCH_METAL = "weld metal of a stitch, {}"
    SEAM_METAL = "weld metal of a seam, {}"
    SEAM_BOLT = "bolt, rivet or spot weld, {}"
    SHEET_BETWEEN = "sheet on the {} buckles between stitches or bolts"
    DAMAGE = "damage over the life"
    RANGE_TOO_LARGE = "range too large for any S-N line"
    BOLT_SHEAR = "bolt shear, threads {}"
    BOLT_TENSION = "bolt tension, prying not counted"
    BOLT_TENSION_PRYING = "bolt tension with prying"
    BOLT_BOTH = "bolt shear with tension"
    SLIP = "slip, {}"
    BEARING = "bearing on {}"
    TEAR_OUT = "tear-out of {}"
    BLOCK_SHEAR = "a block tears out of {}"
    PLY_NET = "net section of {} tears"
    PLY_GROSS = "gross section of {} yields"
    PULL_THROUGH = "head or nut pulls through {}"
    TUBES_BEAR = "tubes press on each other, {}"
    NET_YIELDS = "first yield of what the holes leave"
    NET_TEARS = "what the holes leave tears"
    BOLT_SPACING = "bolt spacing"
    LEAST_EDGE = "least edge of {}"
    LARGEST_EDGE = "largest edge of {}"
    TWIST_ON_ONE_BOLT = "twist on a single bolt"
    BENDING_ON_ONE_ROW = "bending about a single row, contact face not given"
    SHEAR_AT_WALL = "bolt shear at a wall"
    WELD_METAL = "weld metal"
    NO_SUCH_WELD = "no weld joins these metals"
    WRONG_FILLER = "weld metal {} does not join this metal"
    WALL_YIELDS_AT_WELD = "yield of {} beside the weld"
    WALL_RUPTURES_AT_WELD = "rupture of {} beside the weld"
    SHEET_TEARS_AT_WELD = "tearing of sheet {}"
    LEAST_LEG = "least leg"
    LARGEST_LEG = "largest leg on the edge of {}"
    LEAST_RUN = "least length of a run"
    MOMENT_ON_ONE_RUN = "moment about a single straight run"
    STITCH_LENGTH = "length of a stitch"
    STITCH_GAP_US = "gap between stitches, US rule"
    STITCH_GAP_EN = "gap between stitches, EN rule"
    PLUG = "plug weld"
    ARC_SPOT = "arc spot weld"
    RESISTANCE_SPOT = "resistance spot weld"
    SHEET_ROUND_PLUG = "{} round the plug"
    PULL_ON_SPOTS = "pull on spots, not counted in peel"
    LEAST_PLUG = "least plug hole"
    LARGEST_PLUG = "largest plug hole"
    PLUG_SPACING = "plug spacing"
    SHARED = "bolts and welds together"
    FISH_PLATES_YIELD = "fish plates yield at the butt"
    FACE_FOLDS = "face folds"
    FACE_PUNCHED = "face punched"
    BRANCH_YIELDS = "branch yields, its sides across the rail not fully loaded"
    WALLS_YIELD = "walls yield"
    WALLS_CRIPPLE = "walls cripple"
    STAMPED_WEB = "stamped web cripples"
    CLAMP_ON_WALLS = "walls crushed by the clamp, no sleeve"
    CLAMP_ON_SLEEVE = "crush sleeve"
    PLATE_BENDS = "yields in bending"
    PLATE_STRETCHES = "yields, bending and stretching"
    STIFFENER_YIELDS = "stiffener {} yields"
    STIFFENER_BUCKLES = "stiffener {} buckles, or turns over"
    PLATE_FOLDS = "folds (limit analysis, upper bound)"
    STRIKE_ENERGY = "strike's energy, to touching the pan"
    TOUCHES_PAN = "touches the pan"
    ROCK_PUNCHES = "a sharp rock punches through"
    ROCK_DENTS = "a sharp rock leaves a dent"
    PULLS_THROUGH = "bolt pulls through the sheet"
    BEARS_ON_SHEET = "bolt bears on the sheet"
    TEARS_SHEET = "bolt tears out of the sheet"
    SLIP_DRAWS_IN = "slip lets the sheet draw in, {}"
    SHEET_YIELDS = "sheet yields"
    SHEET_WAVES = "sheet waves"
    FIELD_YIELDS = "diagonal tension in the sheet"
    PANEL_SPOT = "resistance spot of a panel"
    PANEL_PLUG = "plug weld of a panel"
    PANEL_ROUND_PLUG = "sheet round a plug"
    PANEL_WELD = "sheet beside the weld"
    STRAP_LIMIT = "over its working load limit"
    GAP_CLOSES = "gap left"


LAYOUT = frozenset((
    Mode.BOLT_SPACING, Mode.LEAST_EDGE, Mode.LARGEST_EDGE, Mode.LEAST_LEG, Mode.LARGEST_LEG, Mode.LEAST_RUN,
    Mode.STITCH_LENGTH, Mode.STITCH_GAP_US, Mode.STITCH_GAP_EN, Mode.LEAST_PLUG, Mode.LARGEST_PLUG, Mode.PLUG_SPACING,
))  # fmt: skip
"""Rules of layout: met, they say nothing of strength."""
KINDS = {Check.FATIGUE: Kind.LIFE, Check.CLEARANCE: Kind.CLEARANCE}
CAP = 999.0


def safety_factor(demand: float, capacity: float) -> float:
    """Return capacity / demand, at most CAP, so that an unloaded member gives a number and not infinity.

    UnsolvableError: one of them is not a number.
    """
    if isnan(demand) or isnan(capacity):
        raise UnsolvableError("a check came to something that is not a number; no answer can be given")
    return CAP if not demand > 0 or capacity >= CAP * demand else capacity / demand


@value_class
class CheckResult:
    """One demand against one capacity.

    demand, capacity: in `unit`. part: the ply, wall or run that the mode names. load_case: None where it holds in all of them (a
    rule of layout, a life). station: m along the member. bound: the end of what the file leaves open under which it was found.
    source: clause or table, or "common practice". note: further words for people; no code reads them.
    sides: where on the section, as it sits in the vehicle; empty where the whole section is meant.
    """

    check: Check
    mode: Mode
    subject: Subject
    load_case: str | None
    demand: float
    capacity: float
    unit: str
    target: float
    source: str
    station: float | None = None
    part: str = ""
    bound: Bound | None = None
    note: Words = ""
    sides: tuple[Facing, ...] = ()

    @property
    def safety_factor(self) -> float:
        """Return capacity over demand, at most CAP."""
        return safety_factor(self.demand, self.capacity)

    @property
    def used(self) -> float:
        """Return the share of what is allowed that is used: demand x target / capacity, at most CAP."""
        return min(self.target / self.safety_factor, CAP) if self.safety_factor > 0 else CAP

    @property
    def grade(self) -> Grade:
        """Return whether the target is met."""
        return Grade.PASS if self.safety_factor >= self.target else Grade.LOW

    @property
    def kind(self) -> Kind:
        """Return what the row is about."""
        return Kind.LAYOUT if self.mode in LAYOUT else KINDS.get(self.check, Kind.STRENGTH)

    @property
    def where(self) -> str:
        """Return its subject in words."""
        return self.subject.words

    @property
    def words(self) -> Words:
        """Return what governs, in words: mode, note, bound."""
        bound = "" if self.bound is None else self.bound.name
        return joined(self.mode.value.format(self.part), self.note, bound)

    @property
    def entry(self) -> Entry:
        """Return the entry of the ledger that it answers."""
        return Entry(self.subject, self.check.question)


@value_class
class Sizing:
    """What to tighten, weld or add: a number for the shop that no safety factor shows.

    value, given: in `unit`; given: what the case file has for it, None where it has none. source: the rule behind the value.
    """

    check: Check
    where: str
    what: str
    value: float
    unit: str
    given: float | None
    source: str
