"""What a person may want to know, and the file that each question starts from: a starter with its usual answers."""

from __future__ import annotations

from framecheck.bench.document import Path
from framecheck.cli.case_file_commands import KINDS, STARTERS, answers_of, filled
from framecheck.rig.setup import RigKind
from framecheck.value_class import value_class


@value_class
class Start:
    """One question. starter: which first file it begins from; first: the fields that answer it; file: a name to save under.

    test: the answer is what this test of the frame would read.
    """

    key: str
    question: str
    about: str
    starter: str
    file: str
    first: tuple[Path, ...] = ()
    test: RigKind | None = None


def in_member(number: int, *keys: str) -> tuple[Path, ...]:
    """Return fields of a member of a starter."""
    return tuple(("frame", "members", number, key) for key in keys)


def in_cut(*keys: str) -> tuple[Path, ...]:
    """Return fields of the notch of a starter."""
    return tuple(("frame", "cuts", 0, key) for key in keys)


def in_plate(*keys: str) -> tuple[Path, ...]:
    """Return fields of the skid plate of a starter."""
    return tuple(("plates", 0, key) for key in keys)


def in_joint(*keys: str | int) -> Path:
    """Return a field of the joint of a starter."""
    return ("joints", 0, *keys)


def at_point(name: str, axis: str) -> Path:
    """Return a coordinate of a point of a starter."""
    return ("frame", "points", name, axis)


def in_case(name: str, number: int, force: int) -> Path:
    """Return the upward part of a force of a load case of a starter."""
    return ("load cases", number, name, "forces", force, "force", "z")


def in_plies(*numbers: int) -> tuple[Path, ...]:
    """Return the thicknesses of the parts that the bolts of a starter hold together."""
    return tuple(in_joint("plies", number, "thickness") for number in numbers)


def in_doubler(*keys: str | int) -> Path:
    """Return a field of the plated rail of a starter."""
    return ("sections", "plated rail", *keys)


def in_crossmembers(*numbers: int) -> tuple[Path, ...]:
    """Return the sections of crossmembers of a starter."""
    return tuple(("frame", "ladder", "crossmembers", number, "section") for number in numbers)


def in_body(*parts: str) -> tuple[Path, ...]:
    """Return the sections of parts of a unit body."""
    return tuple(("frame", "body", part, "section") for part in parts)


def in_masses(*numbers: int) -> tuple[Path, ...]:
    """Return masses of a starter."""
    return tuple(("vehicle", "masses", number, "mass") for number in numbers)


TARGET: Path = ("targets", "safety factor")
FORCE: Path = ("plates", 0, "loads", 0, "force")
RAIL: Path = ("frame", "ladder", "rail", "section")
(SECTION,) = in_member(0, "section")
TIP, LOAD = at_point("tip", "y"), in_case("vertical bump, 3 g", 0, 0)
BARE = (
    RAIL, *in_crossmembers(0, 1, 2), *(("frame", "ladder", "crossmembers", number, "x") for number in (0, 1, 2)),
    *(("frame", "ladder", "crossmembers", number, "ends") for number in (0, 1, 2)),
)  # fmt: skip
STARTS = (
    Start(
        "notch", "May I notch it?", "A rail with a notch: what the cut leaves.", "notched-rail", "notched-rail.yaml",
        (*in_member(0, "section"), *in_cut("side", "at", "depth", "length", "corner radius"),
         in_case("vertical bump, 3 g", 0, 0), in_case("vertical bump, 3 g", 0, 1), TARGET),
    ),
    Start(
        "crossmember", "Will the crossmember carry it?", "A crossmember or gearbox mount between two rails.", "crossmember",
        "crossmember.yaml",
        (*in_member(0, "section", "ends"), at_point("left mount", "y"), at_point("left mount", "z"), at_point("right mount", "y"),
         at_point("right mount", "z"), in_case("rough ground, 3 g", 0, 0), in_case("rough ground, 3 g", 0, 1), TARGET),
    ),
    Start(
        "skid-plate", "Will the skid plate hold?", "A plate on crossmembers, set down on a rock.", "skid-plate", "skid-plate.yaml",
        (*in_plate("length", "width", "thickness", "material", "gap"), FORCE, RAIL, *in_crossmembers(0, 1, 2), TARGET),
    ),
    Start(
        "bolts", "Do the bolts hold?", "An arm bolted to a rail: bolts, slip, the parts that they hold.", "bolted-joint",
        "bolted-joint.yaml",
        (SECTION, TIP, LOAD, in_joint("grid", "across"), in_joint("grid", "along"), in_joint("grid", "pitch across"),
         in_joint("grid", "pitch along"), in_joint("bolt", "thread"), in_joint("bolt", "grade"), *in_plies(0, 1), TARGET),
    ),
    Start(
        "welds", "Do the welds hold?", "An arm welded to a rail all round: the weld metal, the sheet beside it.", "welded-joint",
        "welded-joint.yaml",
        (SECTION, TIP, LOAD, in_joint("around", "across"), in_joint("around", "along"), in_joint("around", "leg"),
         in_joint("electrode"), in_joint("parts", 0, "thickness"), in_joint("parts", 1, "thickness"), TARGET),
    ),
    Start(
        "stitches", "Are the stitches near enough?", "A plate stitched to a rail: each stitch, and the sheet between them.",
        "stitched-rail", "stitched-rail.yaml",
        (in_doubler("base"), *(in_doubler("plates", 0, key) for key in ("side", "width", "thickness")),
         *(in_doubler("joined", "stitches", key) for key in ("length", "pitch", "leg")), TARGET),
    ),
    Start(
        "frame", "Is the whole frame strong enough?", "A ladder frame with the vehicle on it.", "ladder", "my-frame.yaml",
        (RAIL, *in_crossmembers(0, 1, 2, 3, 4), *in_masses(0, 1, 2, 3, 4), TARGET),
    ),
    Start(
        "body", "What does a unit body hold?", "Rails, rockers and sheet that share the load, with the vehicle on them.", "body",
        "my-body.yaml",
        (*in_body("front rails", "rear rails", "stiffeners"), ("frame", "body", "sheet", "thickness"),
         ("sections", "rocker", "wall"), ("sections", "torque box", "wall"), *in_masses(0, 1, 2), TARGET),
    ),
    Start(
        "test", "What would a twist test read?", "A bare frame on stands: the load to hang on, what each dial should read.",
        "bare-ladder", "test-frame.yaml", BARE, test=RigKind.TORSION,
    ),
    Start(
        "bend-test", "What would a bending test read?", "A bare frame loaded between its axles: how far, and what dials should read.",
        "bare-ladder", "test-frame.yaml", BARE, test=RigKind.BEAMING,
    ),
)  # fmt: skip


def start_of(key: str) -> Start:
    """Return the start of a key; KeyError where there is none."""
    return {each.key: each for each in STARTS}[key]


def text_of(start: Start) -> str:
    """Return the file that a question starts from, with the usual answers."""
    kind = KINDS[start.starter]
    title = kind.about.removeprefix("a ").removeprefix("one ").capitalize()
    answers = answers_of(start.file, kind, title, kind.made_of[1], kind.length[1], kind.load[1])
    return filled((STARTERS / f"{start.starter}.yaml").read_text(encoding="utf-8"), answers)
