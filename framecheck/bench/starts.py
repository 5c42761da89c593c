"""What a person may want to know, and the file that each question starts from: a starter with its usual answers."""

from __future__ import annotations

from framecheck.bench.document import Path
from framecheck.cli.case_file_commands import KINDS, STARTERS, answers_of, filled
from framecheck.value_class import value_class


@value_class
class Start:
    """One question. starter: which first file it begins from; first: the fields that answer it; file: a name to save under."""

    key: str
    question: str
    about: str
    starter: str
    file: str
    first: tuple[Path, ...] = ()


def in_member(number: int, *keys: str) -> tuple[Path, ...]:
    """Return fields of a member of a starter."""
    return tuple(("frame", "members", number, key) for key in keys)


def in_cut(*keys: str) -> tuple[Path, ...]:
    """Return fields of the notch of a starter."""
    return tuple(("frame", "cuts", 0, key) for key in keys)


def in_plate(*keys: str) -> tuple[Path, ...]:
    """Return fields of the skid plate of a starter."""
    return tuple(("plates", 0, key) for key in keys)


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
STARTS = (
    Start(
        "notch", "May I notch it?", "A rail with a notch: what the cut leaves.", "notched-rail", "notched-rail.yaml",
        (*in_member(0, "section"), *in_cut("side", "at", "depth", "length", "corner radius"), TARGET),
    ),
    Start(
        "crossmember", "Will the crossmember carry it?", "A crossmember or gearbox mount between two rails.", "crossmember",
        "crossmember.yaml", (*in_member(0, "section", "ends", "points"), ("frame", "points"), TARGET, ("load cases",)),
    ),
    Start(
        "skid-plate", "Will the skid plate hold?", "A plate on crossmembers, set down on a rock.", "skid-plate", "skid-plate.yaml",
        (*in_plate("length", "width", "thickness", "material", "gap", "lies"), FORCE, RAIL, *in_crossmembers(0, 1, 2), TARGET),
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
