"""Skid plates at random against shells. openseespy and clarabel: installed by hand, no dependency (see shells.py, plate_limit.py).

Axes as the case file has them: x along the length, y along the width, z up; mm, N. A plate of S235 on 3 to 12 point bolts, pressed
on a patch. `spacers`: bolts hold both ways and nothing else does, plates with and without ribs (flat bars as shells standing on it);
`held`: bolts keep the sheet from drawing in under their seats, large deflections (ASDShellQ4, corotational: large_deflection.py);
`crossmembers`: the sheet lies under tubes fixed at both ends, which bend, shear and twist (Timoshenko's beam), push at both edges of
their face (their webs; between them the wall is soft) and never pull, bolts to their lines; `crossed`: with a tube among them that no
bolt goes into. Their sheet is of Kirchhoff's shells: into one of Mindlin's a bolt at a point sinks without end as the mesh is refined
(crossmembers 39, the bolt 20 mm from the patch: 62.5 N at 13 mm, 57.0 at 6 mm; by Kirchhoff's 79.6 at 13 mm, 81.5 at 7 mm).
Values: greatest movement, what each bolt takes (spacers, held: pressed up or down; crossmembers: pull), and the limit load from below:
bolts that hold under their seats, and at points alone.
Usage: python plates.py [kinds] > rows.yaml
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from importlib.metadata import version
from itertools import pairwise
from random import Random

import numpy as np
import openseespy.opensees as ops
import yaml
from plate_limit import limit_load
from ribbed_limit import ribbed_limit_load, strip_of
from shells import Shell

YOUNG, SHEAR, YIELD = 210e3, 81e3, 235.0
POISSON = YOUNG / 2 / SHEAR - 1
MESH = 13.0
SEAT = 24
RIBBED = 24.0  # mesh of the limit analysis of plates with ribs
STIFF = 1e8  # of a bolt, N/mm
PUSH = 1e7  # of a place of contact, N/mm
SMALL, LARGE, THIN = ("ShellMITC4",), ("ASDShellQ4", "-corotational"), ("ShellDKGQ",)
Row = dict[str, object]


def lines(length: float, exact: list[float], size: float) -> np.ndarray:
    """Return mesh lines: all exact places, none further apart than a size."""
    places = sorted({0.0, float(length), *(float(each) for each in exact)})
    parts = [np.linspace(a, b, max(1, int(np.ceil((b - a) / size - 1e-9))) + 1)[:-1] for a, b in pairwise(places)]
    return np.concatenate([*parts, [float(length)]])


def mesh_lines(row: Row, size: float) -> tuple[np.ndarray, np.ndarray]:
    """Return the mesh lines along x and y: at bolts, seats, the patch, ribs and the faces of crossmembers."""
    found = []
    for axis in (0, 1):
        exact = [row["patch"][axis] + way * row["patch"][2 + axis] / 2 for way in (-1, 1)]
        for bolt in row["bolts"]:
            exact += [bolt[axis]] + [bolt[axis] + way * SEAT / 2 for way in (-1, 1)] * (row["kind"] == "held")
        for rib in row.get("ribs", ()):
            exact += [rib["at"]] if axis == ("x", "y").index(rib["runs"]) ^ 1 else [rib["from"], rib["to"]]
        if axis == 0:
            exact += [each + way * row["tube"][1] / 2 for each in row.get("crossmembers", ()) for way in (-1, 0, 1)]
        found.append(lines(row["size"][axis], [each for each in exact if 0 <= each <= row["size"][axis]], size))
    return found[0], found[1]


@dataclass
class Model:
    """A plate in openseespy: tags (nx, ny) of its nodes, lines xs, ys."""

    row: Row
    xs: np.ndarray
    ys: np.ndarray
    tags: np.ndarray
    shell: Shell

    def near(self, at: tuple[float, float]) -> int:
        """Return the node at a place."""
        return int(self.tags[int(np.argmin(abs(self.xs - at[0]))), int(np.argmin(abs(self.ys - at[1])))])

    def force(self) -> dict[int, float]:
        """Return one newton spread over the patch, by node."""
        x, y, a, b = self.row["patch"]
        shares = []
        for places, at, size in ((self.xs, x, a), (self.ys, y, b)):
            share = np.zeros(len(places))
            for n, (one, two) in enumerate(pairwise(places)):
                if abs((one + two) / 2 - at) < size / 2:
                    share[n : n + 2] += (two - one) / 2 / size
            shares.append(share)
        both = np.outer(*shares)
        return {int(self.tags[i, j]): float(both[i, j]) for i, j in zip(*np.nonzero(both), strict=True)}

    def moved(self) -> np.ndarray:
        """Return the movement upward of all nodes, mm."""
        return np.array([[ops.nodeDisp(int(tag), 3) for tag in line] for line in self.tags])


def meshed(row: Row, element: tuple[str, ...] = SMALL) -> Model:
    """Return the sheet with its ribs as shells."""
    xs, ys = mesh_lines(row, MESH)
    shell = Shell(MESH, YOUNG, POISSON)
    tags = np.array([[shell.node((x, y, 0.0)) for y in ys] for x in xs])
    strip(shell, element, tags, row["thickness"])
    for rib in row.get("ribs", ()):
        places = xs if rib["runs"] == "x" else ys
        levels = np.linspace(0, row["thickness"] / 2 + rib["height"], max(3, round(rib["height"] / 8)) + 1)
        along = [each for each in places if rib["from"] - 1e-6 <= each <= rib["to"] + 1e-6]
        wall = [[shell.node((each, rib["at"], z) if rib["runs"] == "x" else (rib["at"], each, z)) for z in levels] for each in along]
        strip(shell, element, np.array(wall), rib["thickness"])
    return Model(row, xs, ys, tags, shell)


def strip(shell: Shell, element: tuple[str, ...], tags: np.ndarray, wall: float) -> None:
    """Make the elements between the nodes of a grid."""
    section = shell.section(wall)
    for i in range(tags.shape[0] - 1):
        for j in range(tags.shape[1] - 1):
            shell.elements += 1
            corners = tags[i, j], tags[i + 1, j], tags[i + 1, j + 1], tags[i, j + 1]
            ops.element(element[0], shell.elements, *(int(each) for each in corners), section, *element[1:])


def solved(model: Model, force: float, steps: int = 1) -> None:
    """Put a force on the patch."""
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    for tag, share in model.force().items():
        ops.load(tag, 0.0, 0.0, force * share, 0.0, 0.0, 0.0)
    ops.system("UmfPack")
    ops.numberer("RCM")
    ops.constraints("Transformation")
    ops.test("NormDispIncr", 1e-7 if steps == 1 else 1e-6, 200)
    ops.algorithm("Newton" if steps == 1 else "KrylovNewton")
    ops.integrator("LoadControl", 1.0 / steps)
    ops.analysis("Static", "-noWarnings")
    if ops.analyze(steps) != 0:
        raise RuntimeError("the shell model could not be solved")


def on_spacers(row: Row) -> Row:
    """Return movement and bolt forces of a plate whose bolts hold both ways."""
    model = meshed(row)
    tags = [model.near(bolt) for bolt in row["bolts"]]
    for n, tag in enumerate(tags):
        ops.fix(tag, int(n == 0), int(n == 0), 1, 0, 0, int(n == 0))
    solved(model, row["force"])
    ops.reactions()
    return {"moves_mm": float(abs(model.moved()).max()), "bolts_N": [abs(float(ops.nodeReaction(tag, 3))) for tag in tags]}


def held_in_plane(row: Row) -> Row:
    """Return movement, and pull and shear of each bolt, of a plate that can't draw in, at large deflections."""
    model = meshed(row, LARGE)
    seats = []
    for bolt in row["bolts"]:
        away = np.hypot(model.xs[:, None] - bolt[0], model.ys[None, :] - bolt[1])
        seats.append([int(tag) for tag in model.tags[away <= SEAT / 2 + 1e-6]])
        for tag in seats[-1]:
            ops.fix(tag, 1, 1, int(tag == model.near(bolt)), 0, 0, 0)
    solved(model, row["force"], 4)
    ops.reactions()
    shear = [float(np.hypot(*(sum(ops.nodeReaction(tag, way) for tag in seat) for way in (1, 2)))) for seat in seats]
    pull = [abs(float(ops.nodeReaction(model.near(bolt), 3))) for bolt in row["bolts"]]
    return {"moves_mm": float(abs(model.moved()).max()), "bolts_N": pull, "shear_N": shear}


def rounded(tube: list[float]) -> tuple[float, float, float, float]:
    """Return A, I about the level and the upright axis, and J of a tube (height, width, wall, outside radius): rounded corners,
    Bredt's torsion constant.
    """
    h, b, t, r = tube
    def parts(u: float, v: float, q: float) -> tuple[float, float]:
        corner, arm = (1 - np.pi / 4) * q**2, v / 2 - q * (10 - 3 * np.pi) / (12 - 3 * np.pi)
        own = q**4 * (1 / 3 - np.pi / 16 - 1 / (9 * (4 - np.pi)))
        return u * v - 4 * corner, u * v**3 / 12 - 4 * (own + corner * arm**2)

    inner = max(r - t, 0.0)
    area = parts(b, h, r)[0] - parts(b - 2 * t, h - 2 * t, inner)[0]
    level, upright = (parts(u, v, r)[1] - parts(u - 2 * t, v - 2 * t, inner)[1] for u, v in ((b, h), (h, b)))
    middle = r - t / 2
    cell = (h - t) * (b - t) - (4 - np.pi) * middle**2
    round_ = 2 * (h - t + b - t) - (8 - 2 * np.pi) * middle
    return area, level, upright, 4 * cell**2 * t / round_


def shear_area(deep: float, wide: float, wall: float) -> float:
    """Return the shear area of a tube (mid-line deep and wide, sharp corners): from the energy of its shear flow, Simpson's rule."""
    second = wall * deep**3 / 6 + wall * wide * deep**2 / 2
    corner = deep * wide / 4  # first moment at a corner over the wall; it grows from none in the middle of a flange
    middle = corner + deep**2 / 8
    quarter = corner + deep**2 * 3 / 32
    flanges = 4 * corner**2 / 3 * wide / 2
    webs = 4 * (corner**2 + 4 * quarter**2 + middle**2) / 6 * deep / 2
    return second**2 / (wall * (flanges + webs))


def crossmember(model: Model, x: float, number: int) -> list[tuple[int, int]]:
    """Make a tube under which the plate lies; return its springs of contact (element, plate's node)."""
    row, springs = model.row, []
    area, level, upright, torsion = rounded(row["tube"])
    height, width, wall, _ = row["tube"]
    shears = (shear_area(*each, wall) for each in ((height - wall, width - wall), (width - wall, height - wall)))
    stiff = (YOUNG, SHEAR, area, torsion, upright, level, *shears, number + 1)
    base, beyond = 1_000_000 * (number + 1), row["beyond"]
    places = [-beyond, *model.ys, row["size"][1] + beyond]
    for n, y in enumerate(places):
        ops.node(base + n, x, float(y), 0.0)
    for n in (0, len(places) - 1):
        ops.fix(base + n, 1, 1, 1, 1, 1, 1)
    for n in range(len(places) - 1):
        ops.element("ElasticTimoshenkoBeam", base + n, base + n, base + n + 1, *stiff)
    line = [n for n, each in enumerate(places) if any(abs(bolt[0] - x) < 1e-6 and abs(bolt[1] - each) < 1e-6 for bolt in row["bolts"])]
    for n in line:
        ops.element("zeroLength", base + 100_000 + n, base + n, model.near((x, float(places[n]))), "-mat", 1, "-dir", 3)
    for side, way in enumerate((-1, 1)):
        edge = x + way * row["tube"][1] / 2
        if not 0 <= edge <= row["size"][0]:
            continue
        for n, y in enumerate(places[1:-1], 1):
            slave = base + 200_000 + 10_000 * side + n
            ops.node(slave, float(edge), float(y), 0.0)
            ops.rigidLink("beam", base + n, slave)
            ops.element("zeroLength", slave, model.near((edge, float(y))), slave, "-mat", 2, "-dir", 3)
            springs.append((slave, model.near((edge, float(y)))))
    return springs


def von_mises(row: Row, end: np.ndarray) -> float:
    """Return von Mises' stress at a tube's corner, outside, under its forces and moments (6,) at an end of an element: what bends it
    upright, shears and twists it (Bredt's flow, and what grows across a flat wall).
    """
    height, width, wall, _ = row["tube"]
    (_, level, _, torsion), deep, wide = rounded(row["tube"]), height - wall, width - wall
    shear = abs(end[2]) * deep * wide / 4 / level + abs(end[4]) * (1 / (2 * deep * wide * wall) + wall / torsion)
    return float(np.hypot(end[3] * height / 2 / level, np.sqrt(3) * shear))


def under_crossmembers(row: Row) -> Row:
    """Return movement, pull of each bolt, and the greatest moment and stress of each crossmember, of a plate pressed up on them."""
    model = meshed(row, THIN)
    ops.fix(model.near(row["bolts"][0]), 1, 1, 0, 0, 0, 1)
    ops.uniaxialMaterial("Elastic", 1, STIFF)
    ops.uniaxialMaterial("ENT", 2, PUSH)
    for number, x in enumerate(row["crossmembers"]):
        ops.geomTransf("Linear", number + 1, 1.0, 0.0, 0.0)
        crossmember(model, x, number)
    solved(model, row["force"])
    pulls, moments, stresses = [], [], []
    for number, x in enumerate(row["crossmembers"]):
        base, places = 1_000_000 * (number + 1), [-row["beyond"], *model.ys, row["size"][1] + row["beyond"]]
        ends = np.reshape([ops.eleResponse(base + n, "forces") for n in range(len(places) - 1)], (-1, 6))
        moments.append(float(abs(ends[:, 3]).max()))
        stresses.append(max(von_mises(row, end) for end in ends))
        for bolt in row["bolts"]:
            if abs(bolt[0] - x) < 1e-6:
                n = int(np.argmin(abs(np.array(places) - bolt[1])))
                pulls.append(max(float(ops.eleResponse(base + 100_000 + n, "force")[2]), 0.0))
    return {"moves_mm": float(model.moved().max()), "bolts_N": pulls, "moments_Nmm": moments, "stress_MPa": stresses}


SOLVERS = {"spacers": on_spacers, "held": held_in_plane, "crossmembers": under_crossmembers, "crossed": under_crossmembers}


def drawn(random: Random, kind: str, ribbed: bool, number: int) -> Row:
    """Return a plate at random."""
    length, width = random.randrange(400, 900), random.randrange(300, 700)
    row: Row = {"name": f"{kind} {number}", "kind": kind, "size": [length, width], "thickness": random.choice([3, 4, 5, 6, 8])}
    a, b = random.randrange(50, 130), random.randrange(50, 130)
    row["patch"] = [random.randrange(a // 2 + 2, length - a // 2 - 2), random.randrange(b // 2 + 2, width - b // 2 - 2), a, b]
    if kind in ("crossmembers", "crossed"):
        row["tube"] = [random.choice([40, 50, 60, 80]), random.choice([40, 50, 60]), random.choice([3, 4, 5]), 6]
        row["beyond"] = random.randrange(40, 120)
        count = random.choice([2, 2, 3])
        places = np.linspace(40, length - 40, count) + [random.randrange(-12, 13) for _ in range(count)]
        row["crossmembers"] = [round(float(each)) for each in places]
        row["bolts"] = [[x, y] for x in row["crossmembers"] for y in spaced(random, width, random.choice([2, 2, 3, 4]))]
    else:
        row["bolts"] = scattered(random, length, width, random.randrange(3, 13))
    if ribbed:
        runs = random.choice(["x", "y"])
        along, across = (length, width) if runs == "x" else (width, length)
        row["ribs"] = [{"runs": runs, "at": round(across * share), "from": round(0.1 * along), "to": round(0.92 * along),
                        "height": random.randrange(20, 45), "thickness": random.choice([4, 5, 6])}
                       for share in random.choice([[0.5], [0.35, 0.7]])]  # fmt: skip
    row["force"] = 1000.0
    return row


def spaced(random: Random, width: int, count: int) -> list[int]:
    """Return places of bolts along a crossmember."""
    return [round(float(each)) + random.randrange(-10, 11) for each in np.linspace(30, width - 30, count)]


def scattered(random: Random, length: int, width: int, count: int) -> list[list[int]]:
    """Return bolts round the rim and within, none within 80 mm of another, a triangle of them at least a third of the plate wide."""
    while True:
        found: list[list[int]] = []
        while len(found) < count:
            spot = [random.randrange(20, length - 20), random.randrange(20, width - 20)]
            if random.random() < 0.7:
                axis = random.randrange(2)
                spot[axis] = random.choice([25, (length, width)[axis] - 25])
            if all(np.hypot(spot[0] - x, spot[1] - y) > 80 for x, y in found):
                found.append(spot)
        if np.linalg.svd(np.array(found) - np.mean(found, axis=0))[1][1] / np.sqrt(count) > 0.15 * min(length, width):
            return found


def answered(row: Row) -> Row:
    """Return a plate with its values."""
    if row["kind"] == "held":
        small = on_spacers({**row, "kind": "spacers"})["moves_mm"] / row["force"]
        row = {**row, "force": round(row["share"] * row["thickness"] / small)}
    found = {key: rounded_to_six(value) for key, value in SOLVERS[row["kind"]](row).items()}
    if "ribs" in row:
        found |= ribbed_limits(row)
    else:
        points = [(*bolt, 0.0) for bolt in row["bolts"]]
        lines_ = mesh_lines({**row, "kind": "spacers"}, 15.0)
        found["limit_points_N"] = rounded_to_six(limit_load(*lines_, points, tuple(row["patch"]), YIELD * row["thickness"] ** 2 / 4))
        found["limit_N"] = rounded_to_six(limit(row))
    return {**row, **found}


def limit(row: Row) -> float:
    """Return the limit load from below, N. The three bolts nearest to the patch hold the sheet under their seats, the others at a
    point: no more than the bolts' true hold. A point alone takes but 4 pi / sqrt 3 Mp, and the mesh that shows it is boundless.
    """
    x, y = row["patch"][:2]
    nearest = sorted(row["bolts"], key=lambda bolt: np.hypot(bolt[0] - x, bolt[1] - y))[:3]
    places = [lines(row["size"][axis], [each for each in seat_lines(row, nearest, axis) if 0 <= each <= row["size"][axis]], 15.0)
              for axis in (0, 1)]  # fmt: skip
    bolts = [(*bolt, SEAT / 2 * (bolt in nearest)) for bolt in row["bolts"]]
    return limit_load(*places, bolts, tuple(row["patch"]), YIELD * row["thickness"] ** 2 / 4)


def ribbed_limits(row: Row) -> Row:
    """Return the limit loads from below of a plate with ribs, N: bolts as in `limit`, and at points alone."""
    x, y = row["patch"][:2]
    nearest, found = sorted(row["bolts"], key=lambda bolt: np.hypot(bolt[0] - x, bolt[1] - y))[:3], {}
    for name, seated in (("limit_points_N", []), ("limit_N", nearest)):
        places = [lines(row["size"][axis], [each for each in (*seat_lines(row, seated, axis), *rib_lines(row, axis))
                                            if 0 <= each <= row["size"][axis]], RIBBED) for axis in (0, 1)]  # fmt: skip
        bolts = [(*bolt, SEAT / 2 * (bolt in seated)) for bolt in row["bolts"]]
        found[name] = rounded_to_six(ribbed_limit_load(row, tuple(places), bolts, YIELD))
    return found


def rib_lines(row: Row, axis: int) -> list[float]:
    """Return the lines along an axis at the ribs: their ends, or themselves and their strips' edges."""
    found = []
    for rib in row["ribs"]:
        half = strip_of(row, rib)
        found += [rib["from"], rib["to"]] if ("x", "y")[axis] == rib["runs"] else [rib["at"] - half, rib["at"], rib["at"] + half]
    return found


def seat_lines(row: Row, nearest: list[list[int]], axis: int) -> list[float]:
    """Return the lines along an axis at the patch, bolts, and through the seats of the nearest."""
    edges = [row["patch"][axis] + way * row["patch"][2 + axis] / 2 for way in (-1, 1)]
    seats = [bolt[axis] + way * SEAT / 4 for bolt in nearest for way in (-2, -1, 1, 2)]
    return [*edges, *(bolt[axis] for bolt in row["bolts"]), *seats]


def rounded_to_six(value: object) -> object:
    """Return a number or a list of numbers with six digits."""
    return [rounded_to_six(each) for each in value] if isinstance(value, list) else float(f"{value:.6g}")


def every_plate() -> list[Row]:
    """Return all plates as drawn, without values."""
    random, rows = Random(20260), []
    kinds = [("spacers", False)] * 12 + [("spacers", True)] * 8 + [("held", False)] * 8 + [("crossmembers", False)] * 12
    for n, (kind, ribbed) in enumerate(kinds):
        row = drawn(random, kind, ribbed, n)
        rows.append(row | {"share": random.choice([0.5, 1.0, 2.0])} if kind == "held" else row)
    return [*rows, *(crossed(Random(20261 + number), number) for number in range(40, 46))]


def crossed(random: Random, number: int) -> Row:
    """Return a plate bolted under two crossmembers with a third between them that no bolt goes into; the patch is near that."""
    row = drawn(random, "crossed", False, number)
    first, *_, last = row["crossmembers"]
    between = round((first + last) / 2) + random.randrange(-40, 41)
    row["patch"][0] = between + random.randrange(-60, 61)
    row["bolts"] = [bolt for bolt in row["bolts"] if bolt[0] in (first, last)]
    row["crossmembers"] = [first, between, last]
    return row


def main() -> None:
    """Print the rows, those of the kinds named alone where some are."""
    versions = {"openseespy": version("openseespy"), "clarabel": version("clarabel")}
    print("# Skid plates at random, by benchmarks/shell_reference/plates.py (which see). Computed for this project, not published.")
    yaml.safe_dump({"made with": versions}, sys.stdout)
    print("cases:")
    for row in every_plate():
        if row["kind"] in (sys.argv[1:] or SOLVERS):
            yaml.safe_dump([answered(row)], sys.stdout, sort_keys=False, default_flow_style=None, width=130)
            sys.stdout.flush()


if __name__ == "__main__":
    main()
