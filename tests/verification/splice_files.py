"""Case files of two box tubes that lap, as a person would write them, from rows of splice_shell.yaml."""

from __future__ import annotations

from typing import Any

METAL = """materials:
  - {name: mild, youngs modulus: 205 GPa, poissons ratio: 0.3, density: 7850 kg/m3, yield strength: 250 MPa,
     ultimate strength: 400 MPa}
"""
WALLS = {1: "left, right", 2: "top, bottom"}


def tube(name: str, size: list[float]) -> str:
    """Return a section by its middle-line height, width and wall, mm."""
    height, width, wall = size
    return (
        f"  {name}: {{shape: rectangular tube, height: {height + wall} mm, width: {width + wall} mm, wall: {wall} mm,"
        " outside radius: 0 mm, material: mild}\n"
    )


def splice_text(row: dict[str, Any]) -> str:
    """Return the splice's block."""
    welds = [each for each in row["holds"] if each != "by their fit"]
    parts = ["name: lap", "members: [first, second]"]
    parts += [f"welds: [{', '.join(welds)}], leg: 3 mm"] if welds else []
    parts += ["bears: yes"] if "by their fit" in row["holds"] else []
    if "spots" in row:
        on = f"on: [{', '.join(WALLS[each] for each in row['walls'])}], " if "walls" in row else ""
        along = ", ".join(f"{each} mm" for each in row["spots"])
        parts.append(f"plugs: {{{on}along: [{along}], diameter: {row['diameter']} mm}}")
    return f"    - {{{', '.join(parts)}}}\n"


def lap_file(row: dict[str, Any], extra: str = "") -> str:
    """Return the case of a row, with moments of 100 Nm about x, y and z on its tip."""
    first, second, lap, out = row["first"], row["second"], row["lap"], 300.0
    off = (first[1] + first[2] + second[1] + second[2]) / 2 if row["how"] == "side by side" else 0.0
    cases = "".join(f"  - {axis}: {{forces: [{{point: tip, moment: {{{axis}: 100 N·m}}}}]}}\n" for axis in "xyz")
    return (
        f"title: two tubes that lap\norigin: the held end\n{METAL}sections:\n{tube('a', first)}{tube('b', second)}"
        "frame:\n  points:\n"
        f"    held: {{x: 0 mm}}\n    first end: {{x: {out + lap} mm}}\n"
        f"    second end: {{x: {out} mm, y: {off} mm}}\n    tip: {{x: {2 * out + lap} mm, y: {off} mm}}\n"
        "  members:\n    - {name: first, points: [held, first end], section: a, ends: rigid}\n"
        "    - {name: second, points: [second end, tip], section: b, ends: rigid}\n"
        f"  splices:\n{splice_text(row)}"
        f"  supports:\n    - {{point: held, held: all}}\nload cases:\n{cases}{extra}"
    )
