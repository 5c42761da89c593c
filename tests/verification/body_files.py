"""Case files of unit bodies told part by part, from the sizes of unit_body_shell_further.yaml: middle lines, mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from tests.verification.panel_files import METAL, SIDES, forces

Sizes = Mapping[str, Any]
PARTS = ("crossmembers", "stiffeners", "pillars", "feet", "cowl")
RIGID = dict.fromkeys(PARTS, "rigid")
AS_MADE = RIGID | {"crossmembers": "butt on one face", "feet": "butt on one face", "cowl": "through one face"}


def body_told(sizes: Sizes, ends: Mapping[str, str] = RIGID, corners: str = "unsaid", capped: bool = False) -> str:
    """Return a body's case file; ends: how crossmembers' (torque boxes' too), stiffeners' and pillars' ends are made
    (of all above the rockers);
    feet: of pillars, where corners are said: how cant rails turn into pillars. capped: whether rails and rockers are closed.
    """
    made = {key: "" if value == "unsaid" else f", ends: {value}" for key, value in ends.items()}
    held = "    - {point: left seat, held: [x, y, z]}\n    - {point: right seat, held: [z]}\n    - {point: left tip, held: [y, z]}\n"
    return (
        f"title: unit body\n{METAL}sections:\n{''.join(_sections(sizes))}frame:\n  body:\n"
        f"    sheet: {{thickness: {sizes['floor']} mm, material: reference steel}}\n    stations:\n{''.join(_stations(sizes))}"
        f"    front rails: {{section: rail, to: front end, {_shut(sizes['rail'][2], 'end', capped)}}}\n"
        f"    rear rails: {{section: rail, from: rear end, {_shut(sizes['rail'][2], 'start', capped)}}}\n"
        f"{''.join(_stiffeners(sizes, made['stiffeners']))}"
        f"    rockers: {{section: rocker, y: {sizes['rocker_y']} mm, z: 0 mm, {_shut(1.0, 'ends', capped)}}}\n"
        f"{''.join(_crossmembers(sizes, made['crossmembers']))}    floor: {{z: 0 mm}}\n{''.join(_tunnel(sizes))}"
        f"    firewall: {{station: firewall, top: {sizes['wall_top']} mm, thickness: {sizes['wall']} mm}}\n"
        f"    rear bulkhead: {{station: bulkhead, top: {sizes['wall_top']} mm, thickness: {sizes['wall']} mm}}\n"
        f"{''.join(_closed(sizes, made, corners))}{''.join(_box_tunnel(sizes))}  supports:\n{held}{_loads(sizes)}"
    )


def _shut(plate: float, which: str, capped: bool) -> str:
    """Return ends that are rigid; which: those that a plate closes."""
    other = {"start": "end: rigid, ", "end": "start: rigid, "}.get(which, "")
    return f"{other}{which}: {{make: rigid, cap: {plate} mm}}" if capped else "ends: rigid"


def _sections(sizes: Sizes) -> Iterator[str]:
    boxes = {"rail": sizes["rail"], "rocker": sizes["rocker"], "cross": sizes["cross"]}
    if "stiffener" in sizes:
        boxes["stiffener"] = sizes["stiffener"]
    if "closed" in sizes:
        closed = sizes["closed"]
        deep, wide, wall = closed["pillar"]
        boxes |= {"pillar": (wide, deep, wall), "cant": closed["cant"], "cowl": closed["cowl"]}
        boxes["header"] = (deep, closed["cant"][1], closed["header_t"])
    for name, (wide, high, wall) in boxes.items():
        size = f"height: {high + wall:.6g} mm, width: {wide + wall:.6g} mm, wall: {wall} mm"
        yield f"  {name}: {{shape: rectangular tube, {size}, material: reference steel}}\n"


def _stations(sizes: Sizes) -> Iterator[str]:
    at_rail = f", y: {sizes['rail_y']} mm, z: {-(sizes['rail'][1] + sizes['rail'][2]) / 2:.6g} mm"
    named = {name.replace("_", " "): x for name, x in sizes["x"].items()}
    named |= {f"cross {number}": x for number, x in enumerate(sizes["cross_x"], 1)}
    for name, x in sorted(named.items(), key=lambda pair: -pair[1]):
        yield f"      - {{name: {name}, x: {x} mm{at_rail if name in ('tip', 'seat') else ''}}}\n"


def _stiffeners(sizes: Sizes, ends: str) -> Iterator[str]:
    if "stiffener" in sizes:
        yield f"    stiffeners: {{section: stiffener{ends}, joined to the floor: {'yes' if sizes['stiffener_joined'] else 'no'}}}\n"


def _passed_by_rail(sizes: Sizes, x: float) -> bool:
    at = sizes["x"]
    return x >= at["front_end"] or x <= at["rear_end"] or "stiffener" in sizes


def _crossmembers(sizes: Sizes, ends: str) -> Iterator[str]:
    by_rail = [number for number, x in enumerate(sizes["cross_x"], 1) if _passed_by_rail(sizes, x)]
    yield "    torque boxes:\n"
    for number in by_rail:
        yield f"      - {{name: torque box {number}, station: cross {number}, section: cross{ends}}}\n"
    yield "    crossmembers:\n"
    for number in range(1, len(sizes["cross_x"]) + 1):
        yield f"      - {{name: crossmember {number}, station: cross {number}, section: cross{ends}}}\n"


def _tunnel(sizes: Sizes) -> Iterator[str]:
    if sizes.get("tunnel"):
        yield f"    tunnel: {{width: {sizes['tunnel']['width']} mm, height: {sizes['tunnel']['height']} mm}}\n"


def _box_tunnel(sizes: Sizes) -> Iterator[str]:
    """Yield the sheet that closes a tunnel below: a panel beside the body's own."""
    if (sizes.get("tunnel") or {}).get("kind") == "box":
        across = [f"{side} floor {at} inner" for at in ("firewall", "bulkhead") for side in SIDES]
        corners = ", ".join((across[0], across[1], across[3], across[2]))
        joined = ", ".join(f"crossmember {number}" for number in range(1, len(sizes["cross_x"]) + 1))
        yield (
            f"  panels:\n    - {{name: tunnel floor, corners: [{corners}], thickness: {sizes['floor']} mm, "
            f"material: reference steel, joined to: [{joined}]}}\n"
        )


def _closed(sizes: Sizes, made: Mapping[str, str], corners: str) -> Iterator[str]:
    """Yield pillars, cowl, cant rails, headers and roof; a windscreen pillar turns at the cowl's middle."""
    if "closed" not in sizes:
        return
    closed, x = sizes["closed"], sizes["x"]
    waist, roof, half = sizes["wall_top"], closed["roof_z"], closed["pillar"][0] / 2
    cant, turn = roof - closed["cant"][1] / 2, waist - closed["cowl"][1] / 2
    lean = (closed["roof_front"] - x["firewall"]) / (roof - waist)
    top = x["firewall"] - half + lean * (cant - waist)
    ends = made["pillars"]
    foot, rail = (ends, ends) if corners == "unsaid" else (made["feet"].replace("ends:", "start:"), f", corners: {corners}")
    yield (
        "    pillars:\n      - {name: A pillar, station: firewall, section: pillar, "
        f"waist: {{x: {x['firewall'] - half} mm, z: {turn} mm}}, "
        f"top: {top:.6g} mm, kinks: mitred{foot}}}\n"
        f"      - {{name: B pillar, station: bulkhead, section: pillar, top: {x['bulkhead'] + half} mm{foot}}}\n"
        f"    cowl: {{section: cowl{made['cowl']}}}\n    headers: {{section: header{ends}}}\n"
        f"    cant rails: {{section: cant, y: {sizes['rocker_y']} mm, z: {cant} mm{rail}}}\n"
    )
    if closed["roof"] > 0:
        yield f"    roof: {{thickness: {closed['roof']} mm}}\n"


def _loads(sizes: Sizes) -> str:
    x = sizes["x"]
    share = (x["middle"] - x["seat"]) / (x["tip"] - x["seat"])
    signs = {"left": 1000.0, "right": -1000.0}
    twist = {f"{side} {name}": way * signs[side] for side in SIDES for name, way in (("tip", 1), ("seat", -1))}
    ends = {f"{side} rocker {name}": way * signs[side] for side in SIDES for name, way in (("firewall", 1), ("bulkhead", -1))}
    carried = {"rocker middle": -1000.0, "tip": 1000 * share, "seat": 1000 * (1 - share)}
    bending = {f"{side} {name}": force for side in SIDES for name, force in carried.items()}
    cases = {"twist": twist, "between rocker ends": ends, "bending": bending}
    return "load cases:\n" + "".join(f"  - {name}: {{forces: {forces(each)}}}\n" for name, each in cases.items())
