"""Shell reference for notched tubes and channels. openseespy: installed by hand, no dependency (see shells.py).

Cantilever along x, held at x = 0 with warping, a rigid plate at the tip; y left, z up from the middle of the outline's box.
The cut takes all that lies beyond the stated share of the middle-line size from its side, centred at `centre_mm`.
Values: tip movement in mm under 1000 N up and to the left, tip twist in rad under 100 Nm about the box's middle.
A channel has its web on the left. Usage: python notch.py > rows.yaml
"""

from __future__ import annotations

from itertools import pairwise

from shells import Shell

SIDES = {"top": (1, 1), "bottom": (1, -1), "left": (0, 1), "right": (0, -1)}  # which of (y, z), and its sign


def walls(case: dict[str, object]) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Return the section's walls as pairs of points (y, z)."""
    height, width, wall = case["size_mm"]
    z = (height - wall) / 2
    if case["shape"] == "tube":
        y = (width - wall) / 2
        corners = [(y, z), (y, -z), (-y, -z), (-y, z), (y, z)]
        return list(pairwise(corners))
    tip, web = -width / 2, (width - wall) / 2
    return list(pairwise([(tip, -z), (web, -z), (web, z), (tip, z)]))


def floor_of(case: dict[str, object]) -> float:
    """Return the cut's floor, as a distance towards its side from the middle of the box."""
    height, width, wall = case["size_mm"]
    axis, _ = SIDES[case["side"]]
    if axis == 0 and case["shape"] == "channel":
        return width / 2 - case["cut_depth_mm"]
    full = (height if axis else width) - wall
    return full * (0.5 - case["cut_depth_share_of_midline"])


def pieces(case: dict[str, object]) -> list[tuple[tuple[float, float], tuple[float, float], bool]]:
    """Return the walls split at the cut's floor, each with whether the cut takes it."""
    axis, sign = SIDES[case["side"]]
    floor, out = floor_of(case), []
    for a, b in walls(case):
        p, q = sign * a[axis], sign * b[axis]
        ends = [a, b]
        if (p - floor) * (q - floor) < 0:
            share = (floor - p) / (q - p)
            ends.insert(1, tuple(m + share * (n - m) for m, n in zip(a, b, strict=True)))
        for c, d in pairwise(ends):
            out.append((c, d, sign * (c[axis] + d[axis]) / 2 > floor + 1e-9))
    return out


def tip(case: dict[str, object]) -> dict[str, float]:
    """Return the three tip movements."""
    import openseespy.opensees as ops

    length, cut = case["length_mm"], case["cut_length_mm"]
    centre = case["centre_mm"]
    shell = Shell(case["mesh_mm"])
    for a, b in pairwise((0.0, centre - cut / 2, centre + cut / 2, length)):
        for (y0, z0), (y1, z1), gone in pieces(case):
            if not (gone and a == centre - cut / 2):
                shell.panel((a, y0, z0), (b - a, 0, 0), (0, y1 - y0, z1 - z0), case["size_mm"][2])
    for tag in shell.where(0, 0.0):
        ops.fix(tag, 1, 1, 1, 1, 1, 1)
    plate = shell.rigid_plate(0, length, (length, 0.0, 0.0))
    loads = {"vertical_1000N": (2, 1000.0), "sideways_1000N": (1, 1000.0), "torque_100Nm": (3, 1e5)}
    return {
        name: float(shell.solve(plate, tuple(load if i == axis else 0.0 for i in range(6)))[axis])
        for name, (axis, load) in loads.items()
    }


def tube(size, side, length, share, member=1000.0, centre=None, mesh=4.0) -> dict[str, object]:
    """Return the description of one notched tube."""
    return {
        "shape": "tube",
        "size_mm": size,
        "side": side,
        "cut_length_mm": length,
        "cut_depth_share_of_midline": share,
        "length_mm": member,
        "centre_mm": centre or member / 2,
        "mesh_mm": mesh,
    }


def channel(size, side, length, depth, member=1000.0, mesh=4.0) -> dict[str, object]:
    """Return the description of one notched channel; a depth from the open side is in mm, else a share."""
    key = "cut_depth_mm" if side == "right" else "cut_depth_share_of_midline"
    return {
        "shape": "channel",
        "size_mm": size,
        "side": side,
        "cut_length_mm": length,
        key: depth,
        "length_mm": member,
        "centre_mm": member / 2,
        "mesh_mm": mesh,
    }


CASES = [
    tube([80, 80, 4.0], "top", 60.0, 0.4),
    tube([120, 60, 4.0], "bottom", 200.0, 0.6, 1400.0, mesh=5.0),
    tube([60, 40, 2.0], "top", 40.0, 0.3, 700.0, mesh=2.5),
    tube([150, 50, 3.0], "top", 120.0, 0.5, 1500.0, 500.0, mesh=5.0),
    tube([100, 50, 3.0], "left", 100.0, 0.5),
    tube([100, 50, 5.0], "right", 60.0, 0.35),
    tube([50, 100, 3.0], "top", 150.0, 0.5),
    tube([100, 100, 2.0], "bottom", 250.0, 0.25, 1200.0, mesh=5.0),
    tube([76, 51, 6.0], "top", 30.0, 0.5, 800.0, mesh=3.0),
    tube([100, 50, 3.0], "top", 400.0, 0.5, 1400.0),
    tube([100, 50, 1.5], "top", 150.0, 0.5),
    tube([120, 80, 3.0], "top", 100.0, 0.75, 1200.0, mesh=5.0),
    channel([100, 50, 4.0], "top", 100.0, 0.4),
    channel([100, 50, 4.0], "bottom", 200.0, 0.4),
    channel([150, 60, 5.0], "top", 80.0, 0.25, 1200.0, mesh=5.0),
    channel([100, 50, 4.0], "right", 100.0, 25.0),
    channel([120, 60, 3.0], "right", 150.0, 40.0, 1200.0),
]

if __name__ == "__main__":
    for case in CASES:
        for key, value in {**case, **tip(case)}.items():
            print(f"{'- ' if key == 'shape' else '  '}{key}: {value}", flush=True)
