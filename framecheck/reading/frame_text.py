"""A first case file from a frame's centre lines: its points, members, and the frame standing on its outermost points."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence

from framecheck.reading.centre_lines import DrawnFrame
from framecheck.reading.line_meetings import Place
from framecheck.units import INCH
from framecheck.value_class import value_class

PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9 ./]*")
LOADS = ("load cases:", "  - own weight:", "      own weight: 1")
WORDS = frozenset(("yes", "no", "on", "off", "true", "false", "null", "y", "n"))


@value_class
class StarterFrame:
    """What is known when the lines are drawn. section: of members that don't say; inches: whether lengths are written in them."""

    title: str
    source: str
    file: str
    section: str
    inches: bool


def frame_text(frame: DrawnFrame, known: StarterFrame) -> str:
    """Return the text of a case: every point and member, supports at the four outermost points, its own weight and a twist."""
    points = [f"    {key(name)}: {{{place_text(at, known.inches)}}}" for name, at in frame.points.items()]
    members = [line for each in frame.members for line in member_lines(each.name, each.points, each.section or known.section)]
    stands = standing(outermost(frame.points))
    return "\n".join([*heading(frame, known), "frame:", "  points:", *points, "  members:", *members, *stands, *LOADS, ""])


def heading(frame: DrawnFrame, known: StarterFrame) -> list[str]:
    """Return the lines before the frame."""
    return [
        "# A frame by its middle lines.",
        "#",
        f"# framecheck wrote this file from {printable(known.source)}: {len(frame.points)} points, {len(frame.members)} members.",
        f"# Look at it first: framecheck draw {printable(known.file)}",
        "# Then put in each member's own section (framecheck list sections), how its ends are made, and what the frame carries.",
        "# x runs forward, y to the left, z up.",
        "",
        "framecheck: 1",
        f"title: {json.dumps(known.title, ensure_ascii=False)}",
        f"origin: {json.dumps('where ' + known.source + ' has it', ensure_ascii=False)}",
        "",
        "targets:",
        "  safety factor: 1.5",
        "",
    ]


def member_lines(name: str, points: Sequence[str], section: str) -> list[str]:
    """Return a member's lines."""
    listed = ", ".join(key(each) for each in points)
    return [f"    - name: {key(name)}", f"      points: [{listed}]", f"      section: {key(section)}"]


def standing(corners: Sequence[str]) -> list[str]:
    """Return supports that hold a frame without straining it: at its four outermost points, or at those there are."""
    held = dict(zip(corners, ("place", "[x, z]", "[z]", "[z]"), strict=False))
    return [
        "  # It stands on its outermost points. A vehicle's masses and axles, once written, take the place of these supports.",
        "  supports:",
        *(f"    - {{point: {key(name)}, held: {how}}}" for name, how in held.items()),
        "",
    ]


def outermost(points: Mapping[str, Place]) -> list[str]:
    """Return the points farthest to the left rear, right rear, left front and right front, each once."""
    ways = ((-1.0, 1.0), (-1.0, -1.0), (1.0, 1.0), (1.0, -1.0))
    far = [max(points, key=lambda name, way=way: way[0] * points[name][0] + way[1] * points[name][1]) for way in ways]  # type: ignore[misc]
    return list(dict.fromkeys(far))


def place_text(at: Place, inches: bool) -> str:
    """Return a point's three lengths: in inches to a thousandth, in millimetres to a tenth."""
    return ", ".join(f"{axis}: {length_text(value, inches)}" for axis, value in zip("xyz", at, strict=True))


def length_text(metres: float, inches: bool) -> str:
    """Return a length with its unit."""
    return f"{round(metres / INCH, 3) + 0.0:g} in" if inches else f"{round(metres * 1e3, 1) + 0.0:.10g} mm"


def key(name: str) -> str:
    """Return a name as YAML takes it: in quotes where it could be read as more."""
    return name if PLAIN.fullmatch(name) and name.lower() not in WORDS else json.dumps(name, ensure_ascii=False)


def printable(text: str) -> str:
    """Return a text that stays within its comment."""
    return "".join(letter if letter.isprintable() else "?" for letter in text)
