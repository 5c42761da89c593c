"""Plates for the tests: invented, in round numbers."""

from __future__ import annotations

from framecheck.checks.plate.bending import PlateMesh, bendings, sheet_of
from framecheck.checks.plate.moments import moments
from framecheck.model.arrays import Array
from framecheck.model.plate import BoltedPlate, Edge, EdgeHold, HeldEdge, Patch, PlateBolt, Press, Uniform
from framecheck.model.shop_tables import Material
from tests.unit.checks.joint_samples import m10

STEEL = Material("steel", 200e9, 200e9 / 2.6, 7850.0, 250e6, 400e6, "round numbers for a test, nu 0.3")
T = 0.004
EVEN = Uniform("even", 1.0)


def edges(hold: EdgeHold) -> tuple[HeldEdge, ...]:
    return tuple(HeldEdge(edge, hold) for edge in Edge)


def plain(length: float, width: float = 1.0, **changes: object) -> BoltedPlate:
    return BoltedPlate("plate", length, width, **{"thickness": T, "material": STEEL, "loads": (EVEN,), **changes})  # type: ignore[arg-type]


def central(plate_length: float, size: float, plate_width: float = 1.0) -> Press:
    return Press("central", Patch((plate_length / 2, plate_width / 2), (size, size)), 1.0)


def round_bolts(length: float, count: int, width: float = 1.0, seat: float = 1e-4) -> tuple[PlateBolt, ...]:
    """Return 4 bolts at the corners, 6 with those at the middles of the long sides, 8 with all sides'."""
    spots = [(0.0, 0.0), (length, 0.0), (0.0, width), (length, width), (length / 2, 0.0), (length / 2, width),
             (0.0, width / 2), (length, width / 2)]  # fmt: skip
    return tuple(PlateBolt(f"b{n}", spot, seat) for n, spot in enumerate(spots[:count]))


def skid(**changes: object) -> BoltedPlate:
    """Return a skid plate of 800 x 500 x 4 mm on six M10 bolts, 30 mm under a pan, pressed by 5 kN in the middle."""
    spots = [(x, y) for y in (0.03, 0.47) for x in (0.03, 0.4, 0.77)]
    bolts = tuple(PlateBolt(f"b{n}", spot, 0.02, f"point {n}", m10()) for n, spot in enumerate(spots))
    press = Press("press", Patch((0.4, 0.25), (0.1, 0.1), rock=0.02), 5000.0)
    given: dict[str, object] = {"bolts": bolts, "loads": (press,), "gap": 0.03, **changes}
    return BoltedPlate("skid", 0.8, 0.5, T, STEEL, **given)  # type: ignore[arg-type]


def middle(plate: BoltedPlate) -> list[tuple[float, float, float]]:
    """Return deflection (m) and moments M_x, M_y (N) in the plate's middle, per unit of each load."""
    sheet = sheet_of(plate)
    at = sheet.x.index(plate.length / 2), sheet.y.index(plate.width / 2)
    return [(float(each.shape[::2, ::2][at]), *moment_at(sheet, each.shape, at)) for each in bendings(sheet, plate.loads)]


def moment_at(sheet: PlateMesh, shape: Array, at: tuple[int, int]) -> tuple[float, float]:
    values = moments(sheet, shape).values
    return abs(float(values[0][at])), abs(float(values[1][at]))
