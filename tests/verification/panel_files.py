"""Case files of sheet: a panel in a frame of rods, a box of six panels, and the open tubs of unit_body_shell.yaml."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise, product

METAL = """materials:
  - {name: reference steel, youngs modulus: 200 GPa, shear modulus: 76.923076923076923 GPa, density: 7850 kg/m3,
     yield strength: 250 MPa, ultimate strength: 400 MPa, source: reference model}
"""
Place = tuple[float, float, float]


def rods(area_mm2: float) -> str:
    """Return a section that pulls and pushes alone, to all purposes."""
    tiny = "1e-4 mm4"
    return (
        f"  rod: {{shape: given properties, area: {area_mm2} mm2, second moment vertical: {tiny}, second moment sideways: {tiny}, "
        f"torsion constant: {tiny}, material: reference steel}}\n"
    )


def points_block(points: Mapping[str, Place]) -> str:
    """Return the points of a frame; mm."""
    rows = (f"    {name}: {{x: {x} mm, y: {y} mm, z: {z} mm}}" for name, (x, y, z) in points.items())
    return "frame:\n  points:\n" + "\n".join(rows) + "\n"


def forces(by_point: Mapping[str, float], way: str = "z") -> str:
    """Return forces along one axis on points, N."""
    return (
        "[" + ", ".join(f"{{point: {point}, force: {{{way}: {value} N}}}}" for point, value in by_point.items()) + "]"
    )


def panel_in_rods(area_mm2: float, carries: str, cells: int = 1) -> str:
    """Return body F: sheet 400 x 300 x 0.9 in four pinned rods, 1000 N up at the right top corner, the left corners held."""
    points = {"a": (0.0, 0.0, 0.0), "b": (400.0, 0.0, 0.0), "c": (400.0, 300.0, 0.0), "d": (0.0, 300.0, 0.0)}
    members = [f"    - {{name: {a}{b}, points: [{a}, {b}], section: rod, ends: pinned}}" for a, b in pairwise("abcda")]
    return (
        f"title: panel in rods\n{METAL}sections:\n{rods(area_mm2)}{points_block(points)}  members:\n"
        + "\n".join(members)
        + "\n"
        "  panels:\n    - {name: sheet, corners: [a, b, c, d], thickness: 0.9 mm, material: reference steel, "
        f"carries: {carries}, cells: {cells}}}\n"
        "  supports:\n    - {point: a, held: all}\n    - {point: d, held: [x, z, turn x, turn y, turn z]}\n"
        "    - {point: b, held: [z]}\n    - {point: c, held: [z]}\n"
        "load cases:\n  - up: {forces: [{point: c, force: {y: 1000 N}}]}\n"
    )


def box_of_panels(length: float, width: float, height: float) -> str:
    """Return body G: six panels with wires of no account along their edges, couples of 1000 N along the upright edges of both ends."""
    points = {f"p{i}{j}{k}": (length * i, width * (j - 0.5), height * k) for i, j, k in product((0, 1), repeat=3)}
    faces = {
        "front": ("p100", "p110", "p111", "p101"),
        "rear": ("p000", "p010", "p011", "p001"),
        "left": ("p010", "p110", "p111", "p011"),
        "right": ("p000", "p100", "p101", "p001"),
        "top": ("p001", "p101", "p111", "p011"),
        "bottom": ("p000", "p100", "p110", "p010"),
    }
    edges = sorted({tuple(sorted(edge)) for face in faces.values() for edge in pairwise((*face, face[0]))})
    members = "\n".join(f"    - {{name: {a}{b}, points: [{a}, {b}], section: rod, ends: pinned}}" for a, b in edges)
    panels = "\n".join(
        f"    - {{name: {name}, corners: [{', '.join(face)}], thickness: 0.9 mm, material: reference steel}}"
        for name, face in faces.items()
    )
    couple = {f"p{i}{j}{k}": 500.0 * (2 * i - 1) * (2 * j - 1) for i, j, k in product((0, 1), repeat=3)}
    held = "    - {point: p000, held: [x, y, z]}\n    - {point: p010, held: [x, z]}\n    - {point: p001, held: [x]}\n"
    return (
        f"title: box of six panels\n{METAL}sections:\n{rods(1e-4)}{points_block(points)}  members:\n{members}\n  panels:\n{panels}\n"
        f"  supports:\n{held}load cases:\n  - twist: {{forces: {forces(couple)}}}\n"
    )


SIDES = {"left": 1, "right": -1}
BUTT = "butt on one face"


def tub(rocker_wall: float = 1.2, stiffeners: bool = False, crossmembers: bool = True) -> str:
    """Return body A, C (stiffeners between the capped rail ends, loose from the floor), or A without crossmembers."""
    points, members, panels = dict[str, Place](), list[str](), list[str]()
    for side, sign in SIDES.items():
        points.update(_side_points(side, sign, crossmembers))
        members += _side_members(side, sign, stiffeners, crossmembers)
        panels.append(_floor(side, stiffeners, crossmembers))
    for wall, x, rail in (("firewall", 2100.0, "front"), ("bulkhead", 500.0, "rear")):
        points.update(_wall_points(wall, x))
        panels += _wall(wall, rail)
    members += [_middle(which) for which in ("front", "rear")] if crossmembers else []
    panels += _tunnel()
    held = "    - {point: left seat, held: [x, y, z]}\n    - {point: right seat, held: [z]}\n    - {point: left tip, held: [y, z]}\n"
    return (
        f"title: open tub\n{METAL}sections:\n{_tubes(rocker_wall)}{points_block(points)}  members:\n"
        + "\n".join(members)
        + "\n"
        "  panels:\n" + "\n".join(panels) + f"\n  supports:\n{held}{_loads()}"
    )


def tub_told(rocker_wall: float = 1.2, stiffeners: bool = False) -> str:
    """Return the same body told part by part, `frame > body`; its sheet lies on the tubes' outer faces, half a wall from middles."""
    stations = (
        ("tip", 3000.0), ("firewall", 2100.0), ("front cross", 1825.0), ("front rail end", 1800.0), ("middle", 1300.0),
        ("rear rail end", 800.0), ("rear cross", 775.0), ("bulkhead", 500.0), ("seat", 0.0),
    )  # fmt: skip
    ends = dict.fromkeys(("tip", "seat"), ", y: 350 mm, z: -38.5 mm")
    rows = "".join(f"      - {{name: {name}, x: {x} mm{ends.get(name, '')}}}\n" for name, x in stations)
    boxes, across = (
        "".join(f"      - {{name: {w} {what}, station: {w} cross, section: cross box, ends: {BUTT}}}\n" for w in ("front", "rear"))
        for what in ("torque box", "crossmember")
    )
    held = "    - {point: left seat, held: [x, y, z]}\n    - {point: right seat, held: [z]}\n    - {point: left tip, held: [y, z]}\n"
    loads = _loads().replace("rocker front,", "rocker firewall,").replace("rocker rear,", "rocker bulkhead,")
    return (
        f"title: open tub\n{METAL}sections:\n{_tubes(rocker_wall)}frame:\n  body:\n"
        f"    sheet: {{thickness: 0.9 mm, material: reference steel}}\n    stations:\n{rows}"
        "    front rails: {section: rail, to: front rail end, start: rigid, end: {make: rigid, cap: 2 mm}}\n"
        "    rear rails: {section: rail, from: rear rail end, start: {make: rigid, cap: 2 mm}, end: rigid}\n"
        + ("    stiffeners: {section: stiffener box, ends: rigid}\n" if stiffeners else "")
        + "    rockers: {section: rocker box, y: 610 mm, z: 0 mm, ends: rigid}\n"
        f"    torque boxes:\n{boxes}    crossmembers:\n{across}"
        "    floor: {z: 0 mm}\n    tunnel: {width: 200 mm, height: 150 mm}\n"
        "    firewall: {station: firewall, top: 450 mm}\n    rear bulkhead: {station: bulkhead, top: 450 mm}\n"
        f"  supports:\n{held}{loads}"
    )


def _tubes(wall: float) -> str:
    sizes = {
        "rail": (77, 52, 2),
        "rocker box": (100 + wall, 80 + wall, wall),
        "cross box": (51.2, 51.2, 1.2),
        "stiffener box": (52, 52, 2),
    }
    return "".join(
        f"  {name}: {{shape: rectangular tube, height: {h} mm, width: {w} mm, wall: {t} mm, material: reference steel}}\n"
        for name, (h, w, t) in sizes.items()
    )


def _side_points(side: str, sign: int, crossmembers: bool) -> Iterator[tuple[str, Place]]:
    for name, x in (
        ("tip", 3000.0), ("firewall rail", 2100.0), ("front cross", 1825.0), ("front rail end", 1800.0),
        ("rear rail end", 800.0), ("rear cross", 775.0), ("bulkhead rail", 500.0), ("seat", 0.0),
    ):  # fmt: skip
        yield f"{side} {name}", (x, 350.0 * sign, -37.5)
    at_crossmembers = (("at front cross", 1825.0), ("at rear cross", 775.0)) if crossmembers else ()
    for name, x in (("front", 2100.0), ("middle", 1300.0), ("rear", 500.0), *at_crossmembers):
        yield f"{side} rocker {name}", (x, 610.0 * sign, 0.0)
    for number, (x, y) in enumerate(((2100.0, 100.0), (2100.0, 570.0), (500.0, 570.0), (500.0, 100.0)), 1):
        yield f"{side} floor {number}", (x, y * sign, 0.0)
    for which, x in (("front", 2100.0), ("rear", 500.0)):
        yield f"tunnel {which} {side}", (x, 100.0 * sign, 150.0)


def _wall_points(wall: str, x: float) -> Iterator[tuple[str, Place]]:
    for number, (y, z) in enumerate(((570.0, -75.0), (-570.0, -75.0), (-570.0, 450.0), (570.0, 450.0)), 1):
        yield f"{wall} {number}", (x, y, z)
    for side, sign in SIDES.items():
        for number, (y, z) in enumerate(((570.0, -50.0), (650.0, -50.0), (650.0, 450.0)), 1):
            yield f"{side} {wall} {number}", (x, y * sign, z)


def _member(name: str, points: Iterable[str], section: str, ends: str = "ends: rigid") -> str:
    return f"    - {{name: {name}, points: [{', '.join(points)}], section: {section}, {ends}}}"


def _side_members(side: str, sign: int, stiffeners: bool, crossmembers: bool) -> Iterator[str]:
    front, rear = (
        ("tip", "firewall rail", "front cross", "front rail end"),
        ("rear rail end", "rear cross", "bulkhead rail", "seat"),
    )
    capped = "{make: rigid, cap: 2 mm}"
    yield _member(f"{side} front rail", (f"{side} {name}" for name in front), "rail", f"start: rigid, end: {capped}")
    yield _member(f"{side} rear rail", (f"{side} {name}" for name in rear), "rail", f"start: {capped}, end: rigid")
    along = (
        ("front", "at front cross", "middle", "at rear cross", "rear") if crossmembers else ("front", "middle", "rear")
    )
    yield _member(f"{side} rocker", (f"{side} rocker {name}" for name in along), "rocker box")
    for which in ("front", "rear") if crossmembers else ():
        arms = f"start: {{make: butt on one face, arm: {{y: {-40 * sign} mm, z: -25 mm}}}}, "
        arms += f"end: {{make: butt on one face, arm: {{y: {25 * sign} mm, z: 12.5 mm}}}}"
        yield _member(
            f"{side} {which} crossmember",
            (f"{side} rocker at {which} cross", f"{side} {which} cross"),
            "cross box",
            arms,
        )
    if stiffeners:
        lifted = "ends: {make: rigid, arm: {z: 12.5 mm}}"
        yield _member(f"{side} stiffener", (f"{side} front rail end", f"{side} rear rail end"), "stiffener box", lifted)


def _middle(which: str) -> str:
    butt = "make: butt on one face"
    arms = f"start: {{{butt}, arm: {{y: -25 mm, z: 12.5 mm}}}}, end: {{{butt}, arm: {{y: 25 mm, z: 12.5 mm}}}}"
    return _member(f"middle {which} crossmember", (f"left {which} cross", f"right {which} cross"), "cross box", arms)


def _panel(name: str, corners: Iterable[str], more: str = "") -> str:
    return (
        f"    - {{name: {name}, corners: [{', '.join(corners)}], thickness: 0.9 mm, material: reference steel{more}}}"
    )


def _floor(side: str, stiffeners: bool, crossmembers: bool) -> str:
    joined = [f"{side} front rail", f"{side} rear rail"]
    joined += (
        [f"{of} {which} crossmember" for of in (side, "middle") for which in ("front", "rear")] if crossmembers else []
    )
    loose = f", loose from: [{side} stiffener]" if stiffeners else ""
    return _panel(
        f"{side} floor", (f"{side} floor {n}" for n in (1, 2, 3, 4)), f", joined to: [{', '.join(joined)}]{loose}"
    )


def _wall(wall: str, rail: str) -> Iterator[str]:
    free = f"[[{wall} 1, {wall} 2], [{wall} 3, {wall} 4]]"
    joined = f", joined to: [left {rail} rail, right {rail} rail], free edges: {free}"
    yield _panel(wall, (f"{wall} {n}" for n in (1, 2, 3, 4)), joined)
    for side, top in (("left", f"{wall} 4"), ("right", f"{wall} 3")):
        corners = (*(f"{side} {wall} {n}" for n in (1, 2, 3)), top)
        edges = ", ".join(f"[{a}, {b}]" for a, b in pairwise(corners))
        yield _panel(f"{side} {wall}", corners, f", joined to: [{side} rocker], free edges: [{edges}]")


def _tunnel() -> Iterator[str]:
    for side in SIDES:
        yield _panel(
            f"{side} tunnel wall", (f"{side} floor 1", f"{side} floor 4", f"tunnel rear {side}", f"tunnel front {side}")
        )
    yield _panel("tunnel top", ("tunnel front left", "tunnel rear left", "tunnel rear right", "tunnel front right"))


def _loads() -> str:
    twist = {"left tip": 1000.0, "right tip": -1000.0, "left seat": -1000.0, "right seat": 1000.0}
    ends = {
        "left rocker front": 1000.0,
        "right rocker front": -1000.0,
        "left rocker rear": -1000.0,
        "right rocker rear": 1000.0,
    }
    carried = {
        f"{side} {name}": 1000 * share
        for side in SIDES
        for name, share in (("tip", 1300 / 3000), ("seat", 1700 / 3000))
    }
    bending = {"left rocker middle": -1000.0, "right rocker middle": -1000.0, **carried}
    cases = {"twist": twist, "between rocker ends": ends, "bending": bending}
    return "load cases:\n" + "".join(f"  - {name}: {{forces: {forces(each)}}}\n" for name, each in cases.items())
