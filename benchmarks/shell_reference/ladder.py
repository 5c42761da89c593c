"""Shell reference for small ladders in twist. openseespy: installed by hand, no dependency (see shells.py).

Rails along x, middle-line depth D, webs at y = +-300 mm, flanges outward; a box is closed outward. Three box
crossmembers, the near wall at x = 48, 744 and L - 84, ends butt-welded to the rail webs only.
Supports and load on the rail webs at mid depth: z held at (0, 300), (0, -300), (L, -300); y held at (0, -300) and
(L, -300); x at (0, -300). 1000 N up at (L, 300). Value: its rise in mm. Usage: python ladder.py > rows.yaml
"""

from __future__ import annotations

import sys

from shells import Shell

HALF = 300.0


def rail(shell: Shell, side: int, case: dict[str, object]) -> None:
    """Mesh one rail; side +1 left, -1 right."""
    (depth, width), wall, x = case["rail_midline_mm"], case["rail_wall_mm"], (case["length_mm"], 0, 0)
    web = side * HALF
    for y in (web,) if case["rails"] == "channel" else (web, web + side * width):
        shell.panel((0, y, -depth / 2), x, (0, 0, depth), wall)
    for z in (-depth / 2, depth / 2):
        shell.panel((0, web, z), x, (0, side * width, 0), wall)


def crossmember(shell: Shell, x: float, case: dict[str, object]) -> None:
    """Mesh one box crossmember from web to web, its near wall at x."""
    (depth, width), wall = case["crossmember_midline_mm"], case["crossmember_wall_mm"]
    y = (0, 2 * HALF, 0)
    for z in (-depth / 2, depth / 2):
        shell.panel((x, -HALF, z), y, (width, 0, 0), wall)
    for at in (x, x + width):
        shell.panel((at, -HALF, -depth / 2), y, (0, 0, depth), wall)


def corner_rise(case: dict[str, object]) -> float:
    """Return the rise in mm of the loaded corner under 1000 N."""
    import openseespy.opensees as ops

    length = case["length_mm"]
    shell = Shell(case["mesh_mm"])
    for side in (-1, 1):
        rail(shell, side, case)
    for x in case["crossmembers_at_mm"]:
        crossmember(shell, x, case)
    ops.fix(shell.node((0.0, HALF, 0.0)), 0, 0, 1, 0, 0, 0)
    ops.fix(shell.node((0.0, -HALF, 0.0)), 1, 1, 1, 0, 0, 0)
    ops.fix(shell.node((length, -HALF, 0.0)), 0, 1, 1, 0, 0, 0)
    return float(shell.solve(shell.node((length, HALF, 0.0)), (0.0, 0.0, 1000.0, 0.0, 0.0, 0.0))[2])


def ladder(rails, rail_mm, rail_wall, cross_mm, cross_wall, length=1500.0) -> dict[str, object]:
    """Return the description of one ladder."""
    return {
        "rails": rails,
        "crossmembers": "box",
        "mesh_mm": 6.0,
        "rail_midline_mm": rail_mm,
        "rail_wall_mm": rail_wall,
        "crossmember_midline_mm": cross_mm,
        "crossmember_wall_mm": cross_wall,
        "length_mm": length,
        "crossmembers_at_mm": [48.0, length / 2 - 6.0 - (length / 2) % 6.0, length - 84.0],
    }


GIVEN = [ladder(kind, [96, 40], 3.0, [72, 36], 3.0) for kind in ("channel", "box")]
OTHER = [
    ladder("box", [96, 48], 2.0, [48, 36], 3.0),
    ladder("channel", [120, 48], 4.0, [60, 36], 3.0),
    ladder("box", [72, 48], 4.0, [48, 36], 2.0, 1200.0),
    ladder("channel", [96, 36], 3.0, [48, 36], 2.0, 1800.0),
]

if __name__ == "__main__":
    for case in GIVEN if "given" in sys.argv else OTHER:
        for key, value in {**case, "corner_mm_per_kN": corner_rise(case)}.items():
            print(f"{'- ' if key == 'rails' else '  '}{key}: {value}", flush=True)
