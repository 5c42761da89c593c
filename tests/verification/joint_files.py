"""The T joints of joints_shell.yaml as case files, and how far a tip turns in them: by hand prints ours beside the shells'.

    python -m tests.verification.joint_files
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

from framecheck.frame.results import Bound
from framecheck.frame.solve import bounds_of, solve_frame, structure_of
from framecheck.model.case import Case
from framecheck.model.loads import CaseLoads, PointLoad
from framecheck.reading.case_file import read_case
from framecheck.section.analysis import section_properties

HERE = Path(__file__).parent
T_JOINTS = yaml.safe_load((HERE / "joints_shell.yaml").read_text(encoding="utf-8"))["t_joints"]
Row = dict[str, Any]

def rows() -> Iterator[Row]:
    """Yield every T joint of the file; one that is 'as the first' has the first's rail and crossmember."""
    for value in T_JOINTS.values():
        cases = value["cases"] if isinstance(value, dict) else value if isinstance(value, list) else []
        for row in cases:
            yield {**{key: cases[0][key] for key in ("rail", "crossmember")}, **row}


def mm(value: float) -> str:
    return f"{round(value, 6):.9g} mm"


def shape_of(part: Row) -> tuple[str, float, float]:
    """Return a section block by outside sizes, and its outside height and width, m; a channel's flanges to the right."""
    wall, kind = part["wall"], part.get("kind", "box")
    if kind == "channel":
        height, flange = part["depth"] + wall, part["flange_web_middle_to_tip"] + wall / 2
        return f"{{shape: channel, height: {mm(height)}, flange: {mm(flange)}, wall: {mm(wall)}, inside radius: 0 mm", height, flange
    if kind == "round tube":
        outside = part["diameter"] + wall
        return f"{{shape: round tube, diameter: {mm(outside)}, wall: {mm(wall)}", outside, outside
    if kind.startswith("hat"):
        height, crown, brim = part["height"] + wall, part["crown_width"] + wall, part["brim_from_web_middle"] - wall / 2
        text = f"{{shape: hat, height: {mm(height)}, crown: {mm(crown)}, brim: {mm(brim)}, wall: {mm(wall)}, inside radius: 0 mm"
        return text, height, crown + 2 * brim
    height, width = part["height"] + wall, part["width"] + wall
    text = f"{{shape: rectangular tube, height: {mm(height)}, width: {mm(width)}, wall: {mm(wall)}, outside radius: 0 mm"
    return text, height, width


SIDES = {"no weld at the bottom": "top, left, right", "side walls only": "left, right", "welded at its top and bottom": "top, bottom"}


def end_of(row: Row) -> str:
    """Return how the crossmember's end is written."""
    name = row["joint"]
    make = "through both faces" if "through" in name or "rail's walls" in name else "butt on one face"
    if "web and flanges" in name:
        make = "on the web and both flanges"
    if "laid on" in name:
        make = "laid on top"
    sides = next((f", welded sides: [{each}]" for words, each in SIDES.items() if words in name), "")
    gussets = ""
    if "gusset" in name:
        made = row.get("gussets") or {"along_rail": 50.0, "along_crossmember": 50.0, "thickness": 4.0, "at_z": None}
        at = {0.0: "middle", 23.5: "top", None: "top and bottom"}[made["at_z"]]
        legs = f"along rail: {mm(made['along_rail'])}, along member: {mm(made['along_crossmember'])}"
        gussets = f", gussets: {{{legs}, thickness: {mm(made['thickness'])}, at: {at}}}"
    return f"{{make: {make}{sides}{gussets}}}"


def case_text(row: Row) -> str:
    """Return a T joint as a case file: rail along x, crossmember to its left, as the shell model has it."""
    rail, _, width = shape_of(row["rail"])
    cross, tall, _ = shape_of(row["crossmember"])
    wall, inside = row["rail"]["wall"], row["joint"].startswith("channel rail inside")
    channel = row["rail"].get("kind") == "channel"
    face = width / 2 - wall / 2
    tip = (-face if inside else face) + 200.0
    level = row["rail"].get("height", 0.0) / 2 if "laid on" in row["joint"] else 0.0
    end = row.get("rail_end")
    right = end["at_mm_from_crossmember_middle"] if end else 300.0
    cap = "" if end is None else f", end: {{cap: {'open' if end['make'] == 'open' else mm(wall)}}}"
    held = "" if end else "    - {point: b, held: all}\n"
    lies = f", open side: {'left' if inside else 'right'}" if channel else ""
    fixed = ", start: {warping: fixed}, end: {warping: fixed}" if channel else ""
    raised = f", arm: {{z: {mm(level + wall / 2 + tall / 2)}}}" if level else ""
    return f"""title: T joint
{STEEL_BLOCK}
sections:
  rail: {rail}, material: steel of the shells}}
  cross: {cross}, material: steel of the shells}}
frame:
  points:
    a: {{x: -300 mm}}
    m: {{x: 0 mm}}
    b: {{x: {mm(right)}}}
    tip: {{x: 0 mm, y: {mm(tip)}}}
  members:
    - {{name: rail, points: [a, m, b], section: rail{lies}{fixed}{cap}}}
    - {{name: cross, points: [m, tip], section: cross, start: {end_of(row)}, end: {{warping: fixed{raised}}}}}
  supports:
    - {{point: a, held: all}}
{held}load cases:
  - about x: {{forces: [{{point: tip, moment: {{x: 100 N·m}}}}]}}
  - about y: {{forces: [{{point: tip, moment: {{y: 100 N·m}}}}]}}
  - about z: {{forces: [{{point: tip, moment: {{z: 100 N·m}}}}]}}
"""


STEEL_BLOCK = """materials:
  - name: steel of the shells
    youngs modulus: 205 GPa
    poissons ratio: 0.3
    density: 7850 kg/m3
    yield strength: 350 MPa
    ultimate strength: 450 MPa
    source: E and nu of the shell models"""


def turns(case: Case) -> list[list[float]]:
    """Return the tip's turn about x, y, z under 100 Nm about each, rad, at every bound that is solved."""
    sections = {name: section_properties(each) for name, each in case.frame.sections.items()}
    return [_tip_turns(case, sections, bound) for bound in bounds_of(case.frame, sections)]


def _tip_turns(case: Case, sections: Any, bound: Bound) -> list[float]:
    ways = zip("xyz", ((100.0, 0.0, 0.0), (0.0, 100.0, 0.0), (0.0, 0.0, 100.0)), strict=True)
    loads = [CaseLoads(way, (PointLoad("tip", (0.0, 0.0, 0.0), moment),)) for way, moment in ways]
    found = solve_frame(structure_of(case.frame, sections, bound), loads)
    tip = found.points.index("tip")
    return [float(found.displacements[tip, k, 3 + k]) for k in range(3)]


if __name__ == "__main__":
    import sys

    from tests.cases.test_sections import LIBRARY

    for each in rows():
        found = turns(read_case(case_text(each), "joint.yaml", LIBRARY))
        shares = [[f"{truth / ours:.3f}" for truth, ours in zip(each["turn_rad_per_100Nm"], one, strict=True)] for one in found]
        sys.stdout.write(f"{each['joint'][:44]:44} shell over ours: {'; '.join(' '.join(one) for one in shares)}\n")
