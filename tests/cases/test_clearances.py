"""Gaps that are left, as a file asks for them, against hand calculation and an independent solution."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from pytest import approx

from tests.cases.answers import checked, stored

PAN = "pan to crossmember"
GRAVITY = 9.80665


def test_a_pan_moves_with_its_engine_on_the_mounts(tmp_path: Path) -> None:
    """Three springs by statics: 280 kg at 0.2 m behind the front pair, the rear mount 0.8 m behind it.

    One more g makes the front pair (800 N/mm) give 3/4 m g / 800 and the rear one (300 N/mm) 1/4 m g / 300; the pan is 0.3 m ahead
    of the front pair. Bump 3 adds two g to what stands at rest; a gap of an unloaded drawing meets all three. The frame gives 5 um.
    """
    weight = 280 * GRAVITY
    front, rear = 0.75 * weight / 800, 0.25 * weight / 300
    per_g = front + (front - rear) / 0.8 * 0.3
    answer = checked(stored("engine-on-mounts.yaml"), tmp_path)
    assert answer.gaps[PAN, "static"] * 1e3 == approx(20.0, abs=1e-9)
    assert answer.gaps[PAN, "vertical bump"] * 1e3 == approx(20.0 - 2 * per_g, abs=0.01)
    assert answer.gaps[f"{PAN}, by the drawing", "vertical bump"] * 1e3 == approx(20.0 - 3 * per_g, abs=0.01)


def test_the_rest_is_known_where_no_load_case_asks_for_it(tmp_path: Path) -> None:
    """The same truck, the same bump: leaving `static` out of the list changes no gap."""
    text = stored("engine-on-mounts.yaml")
    asked, unasked = checked(text, tmp_path), checked(text.replace("  - static\n", ""), tmp_path)
    assert unasked.gaps[PAN, "vertical bump"] == approx(asked.gaps[PAN, "vertical bump"], rel=1e-9)
    assert (PAN, "static") not in unasked.gaps


def test_written_loads_count_the_worse_of_with_and_without_the_weight_at_rest(tmp_path: Path) -> None:
    """A written case that hangs nothing on the engine moves it by nothing: the gap is not said to open by the sag at rest."""
    answer = checked(stored("engine-on-mounts.yaml"), tmp_path)
    assert 19.9 < answer.gaps[PAN, "written bump"] * 1e3 <= 20.0


def test_the_hill_truck_with_rigid_ends_leaves_what_an_independent_solution_leaves(tmp_path: Path) -> None:
    """3.0 mm of 5/16 in: an independent solution of frame, engine and mounts (by the person who found it), its crossmembers with their
    nominal walls; the design walls of the table change it by less than 0.1 mm. With the pan on a frame point 7.44 mm were said.
    """
    answer = checked(stored("pan-on-its-mounts.yaml"), tmp_path)
    assert answer.gaps["oil pan to suspension crossmember", "vertical bump"] * 1e3 == approx(3.0, abs=0.1)


def test_a_part_without_mounts_moves_nothing_of_its_own(tmp_path: Path) -> None:
    text = stored("engine-on-mounts.yaml").replace("{body: engine, x: 0 m", "{body: gearbox, x: 0 m")
    answer = checked(text, tmp_path)
    assert answer.code == 2
    assert "there is no mass on mounts 'gearbox'; there are: engine" in answer.err


def test_a_place_on_a_body_needs_its_coordinates(tmp_path: Path) -> None:
    text = stored("engine-on-mounts.yaml").replace(
        "{body: engine, x: 0 m, y: 0 m, z: 0.67 m}", "{body: engine, x: 0 m}"
    )
    answer = checked(text, tmp_path)
    assert answer.code == 2
    assert "does not say where on the body it is; write x, y and z of the place" in answer.err


def test_an_engine_turns_on_its_mounts_under_its_own_torque(tmp_path: Path) -> None:
    """A stiff body on three springs a place (x, y, z), by its 6 x 6 stiffness about its centre of mass: K q = torque about x.

    300 Nm at the gearbox output (100 Nm x gear 3). Two gaps 0.3 m left and right of the middle differ by 2 x 0.3 m x the roll; all
    else that happens is the same on both sides.
    """
    torque, stiffness = 300.0, {-1.0: (3e5, 3e5, 4e5), 1.0: (3e5, 3e5, 4e5), 0.0: (3e5, 3e5, 3e5)}
    places = {-1.0: (0.2, -0.4, -0.2), 1.0: (0.2, 0.4, -0.2), 0.0: (-0.6, 0.0, -0.2)}
    whole = np.zeros((6, 6))
    for side, (x, y, z) in places.items():
        arm = np.hstack([np.eye(3), [[0, z, -y], [-z, 0, x], [y, -x, 0]]])
        whole += arm.T @ np.diag(stiffness[side]) @ arm
    roll = np.linalg.solve(whole, [0, 0, 0, torque, 0, 0])[3]
    gaps = "".join(
        f"    - name: {name}\n      of: {{body: engine, x: 0 m, y: {y} m, z: 0.67 m}}\n"
        f"      to: {{point: below the pan, y: {y} m, z: 0.65 m}}\n      gap: 20 mm\n"
        for name, y in (("left", 0.3), ("right", -0.3))
    )
    text = stored("engine-on-mounts.yaml").replace("  clearances:\n", f"  clearances:\n{gaps}")
    mounts = "[left engine mount, right engine mount, gearbox mount]"
    driveline = f"  driveline: {{engine torque: 100 Nm, gear: 3, final drive: 1, mounts: {mounts}}}\n"
    text = text.replace("  axles:\n", f"{driveline}  axles:\n").replace("rear: {x: -2.8 m,", "rear: {x: -2.8 m, driven: yes,")
    text = text.replace("  - static\n", "  - static\n  - drive torque: {snatch: 1}\n")
    answer = checked(text, tmp_path)
    apart = answer.gaps["left", "drive torque"] - answer.gaps["right", "drive torque"]
    assert abs(apart) == approx(2 * 0.3 * abs(roll), rel=0.01)
    assert abs(apart) > 1e-3


SPRINGS = (
    "suspension: {kind: leaf springs, eye: {point: left rear crossmember, x: -2.3 m, y: 0.5 m, z: 0.45 m}, "
    "shackle: {point: left rear crossmember, x: -3.3 m, y: 0.5 m, z: 0.6 m}, shackle eye: {x: -3.3 m, y: 0.5 m, z: 0.45 m}, "
    "rate: 40 N/mm, bump: BUMP, droop: 150 mm}"
)
TYRE = """    - name: tyre to arch
      of: {point: left rear crossmember, x: -2.8 m, y: 0.75 m, z: 0.9 m}
      to: {wheel: rear left, x: -2.8 m, y: 0.75 m, z: 0.7 m}
      gap: 200 mm
"""


def with_tyre(bump: str) -> str:
    """Return the stiff frame with a rear axle of 100 kg on leaf springs and a gap over its left tyre."""
    text = stored("engine-on-mounts.yaml").replace("  clearances:\n", f"  clearances:\n{TYRE}")
    return text.replace("on: [left rear crossmember]}", f"unsprung mass: 100 kg, {SPRINGS.replace('BUMP', bump)}}}")


def test_a_wheel_comes_up_by_its_travel(tmp_path: Path) -> None:
    """Bump 3 puts twice the sprung load at rest on a spring of 40 N/mm: u = 2 F / k; on the stop, five times as stiff, the rest.

    F: the rear wheels' load at rest less the axle's weight, half of it a side. The frame gives some 0.1 mm.
    """
    free = checked(with_tyre("500 mm"), tmp_path)
    wheels = [row for row in free.data["wheels"] if row["load_case"] == "static" and row["wheel"].startswith("rear")]
    spring = (sum(row["force_n"][2] for row in wheels) - 100 * GRAVITY) / 2
    up = 2 * spring / 40e3
    assert free.gaps["tyre to arch", "static"] == approx(0.2, abs=1e-9)
    assert free.gaps["tyre to arch", "vertical bump"] == approx(0.2 - up, abs=5e-4)
    stopped = checked(with_tyre("20 mm"), tmp_path)
    assert up > 0.02
    on_stop = 0.02 + (2 * spring - 40e3 * 0.02) / (5 * 40e3)
    assert stopped.gaps["tyre to arch", "vertical bump"] == approx(0.2 - on_stop, abs=5e-4)


def test_a_wheel_that_is_not_known_leaves_its_gap_open(tmp_path: Path) -> None:
    """Written forces say nothing of wheels, and a suspension without springs nothing of travel: open, not clear."""
    answer = checked(with_tyre("500 mm"), tmp_path)
    assert ("tyre to arch", "written bump") not in answer.gaps
    assert any("the wheel's travel is not known in written bump" in str(row) for row in answer.data["verdict"]["open"])
    plain = stored("engine-on-mounts.yaml").replace("  clearances:\n", f"  clearances:\n{TYRE}")
    unknown = checked(plain, tmp_path)
    assert not any(name == "tyre to arch" for name, _ in unknown.gaps)
    assert any("the wheel's travel is not known in" in str(row) for row in unknown.data["verdict"]["open"])
