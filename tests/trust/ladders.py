"""Ladder frames of any size as case files: for tests and benchmarks of how much work a case is."""

from __future__ import annotations

HEAD = """title: a ladder
origin: its rear end
sections:
  rail: {shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 4 mm, outside radius: 8 mm, material: S235}
  cross: {shape: rectangular tube, height: 60 mm, width: 60 mm, wall: 3 mm, material: S355}
frame:
  points:
"""


def ladder(crossmembers: int, cases: int, ends: str = "rigid") -> str:
    """Return the case file of a ladder under so many load cases; ends: how its members are made, "" leaves them open."""
    made = f", ends: {ends}" if ends else ""
    numbers, lines = range(crossmembers), [HEAD.rstrip("\n")]
    for side, y in (("l", 400), ("r", -400)):
        lines += [f"    {side}{number}: {{x: {-100 * number} mm, y: {y} mm, z: 300 mm}}" for number in numbers]
    lines.append("  members:")
    for side in "lr":
        points = ", ".join(f"{side}{number}" for number in numbers)
        lines.append(f"  - {{name: {side} rail, points: [{points}], section: rail{made}}}")
    lines += [f"  - {{name: cross {number}, points: [l{number}, r{number}], section: cross{made}}}" for number in numbers]
    held = ("l0", "r0", f"l{crossmembers - 1}")
    lines += ["  supports:", *(f"  - {{point: {point}, held: place}}" for point in held), "load cases:"]
    for number in range(cases):
        point, down = f"l{(7 * number + 1) % crossmembers}", 300 + number
        lines.append(f"- case {number}: {{own weight: '1', forces: [{{point: {point}, force: {{x: 100 N, y: 200 N, z: {down} N}}}}]}}")
    return "\n".join(lines) + "\n"
