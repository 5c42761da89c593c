"""Member mass on the frame's points: it must weigh and turn as the thing itself does."""

from __future__ import annotations

import numpy as np
import pytest

from framecheck.frame.vibration import member_mass, pieces, refined, section_axes
from framecheck.model.frame import Frame, Member, Orientation, Stretch
from framecheck.section.properties import SectionProperties

A, MASS, IV, IS = 8e-4, 6.28, 1.1e-6, 3.6e-7
PLAIN = Orientation()


def section(centroid: tuple[float, float]) -> SectionProperties:
    return SectionProperties(
        "tube", A, MASS, centroid, IV, IS, 0.0, 8e-7, 0.0, (0.0, 0.0), 4e-4, 3e-4, 0.0, 0.0, (0.0,) * 4, True,
        200e9, 77e9, 250e6, "given",
    )  # fmt: skip


def frame(end: tuple[float, float, float], orientation: Orientation = PLAIN) -> Frame:
    member = Member("rail", ("a", "b"), (Stretch("tube"),), orientation)
    return Frame({"a": (0.5, -0.2, 0.1), "b": end}, (member,), {})


def rigid(points: Frame) -> np.ndarray:
    """Return (n, 6): unit movements, then unit turns about the origin."""
    rows = []
    for x, y, z in points.points.values():
        block = np.eye(6)
        block[:3, 3:] = [[0, z, -y], [-z, 0, x], [y, -x, 0]]
        rows.append(block)
    return np.concatenate(rows)


@pytest.mark.parametrize("end", [(2.5, -0.2, 0.1), (0.5, 1.0, 0.1), (0.5, -0.2, 1.1), (1.5, 0.6, 0.7)])
def test_it_weighs_and_turns_as_a_bar(end: tuple[float, float, float]) -> None:
    # a uniform bar whose centroid line lies beside the reference line: mass, first moment, and parallel axes by hand
    made = refined(frame(end), 0.3)
    mass = member_mass(made, {"tube": section((0.02, -0.03))}, 6 * len(made.points))
    whole = rigid(made).T @ (mass @ rigid(made))
    a, b = np.array(made.points["a"]), np.array(end)
    length, axes = np.linalg.norm(b - a), section_axes(next(iter(pieces(made))))
    total = MASS * length
    cg = (a + b) / 2 + 0.02 * axes[1] - 0.03 * axes[2]
    own = total * np.diag([(IV + IS) / A, length**2 / 12 + IV / A, length**2 / 12 + IS / A])
    inertia = axes.T @ own @ axes + total * (np.eye(3) * (cg @ cg) - np.outer(cg, cg))
    first = total * np.array([[0, cg[2], -cg[1]], [-cg[2], 0, cg[0]], [cg[1], -cg[0], 0]])
    assert whole[:3, :3] == pytest.approx(total * np.eye(3), rel=1e-12, abs=1e-9)
    assert whole[:3, 3:] == pytest.approx(first, abs=1e-9)
    assert whole[3:, 3:] == pytest.approx(inertia, abs=1e-9)


def test_a_mirrored_section_has_its_centroid_on_the_other_side() -> None:
    for mirrored, side in ((False, 1.0), (True, -1.0)):
        made = frame((2.5, -0.2, 0.1), Orientation(0, mirrored))
        axes = section_axes(next(iter(pieces(made))))
        assert axes[1] == pytest.approx([0.0, side, 0.0])
        assert axes[2] == pytest.approx([0.0, 0.0, 1.0])


def test_a_quarter_turn_takes_left_to_up() -> None:
    made = frame((2.5, -0.2, 0.1), Orientation(1, False))
    axes = section_axes(next(iter(pieces(made))))
    assert axes[1] == pytest.approx([0.0, 0.0, 1.0])
    assert axes[2] == pytest.approx([0.0, -1.0, 0.0])


def test_more_points_along_a_member_keep_its_ends_and_line() -> None:
    made = refined(frame((2.5, -0.2, 0.1)), 0.3)
    names = made.members[0].points
    assert (names[0], names[-1]) == ("a", "b")
    assert [made.points[name][0] for name in names] == pytest.approx(np.linspace(0.5, 2.5, 8))
