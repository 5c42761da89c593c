"""What is said of the stiffness of bodies."""

from __future__ import annotations

from dataclasses import replace

from framecheck.frame.solve import solve_frame, structure_of
from framecheck.frame.stiffness import FLOOR_SHARE, UPPER_BOUND, energy_shares, sheet_says
from framecheck.model.loads import CaseLoads, PointLoad
from framecheck.section.analysis import section_properties
from tests.properties.test_panels import body, sizes


def test_panels_take_their_shares() -> None:
    """All shares of one test make up the whole energy: members, panels; seams between members at one place hold next to nothing."""
    frame = body(sizes(2))
    structure = structure_of(frame, {key: section_properties(section) for key, section in frame.sections.items()})
    pull = CaseLoads("twist", point_loads=(PointLoad("load", (0.0, 0.0, -1000.0)),))
    shares = energy_shares(solve_frame(structure, [pull]))
    assert {"panel floor", "panel firewall"} <= {each.member for each in shares}
    assert 0.97 < sum(each.twist for each in shares) <= 1.0 + 1e-9


def test_rigid_ends_of_a_body_are_an_upper_bound() -> None:
    frame = body(sizes(0))
    assert sheet_says(frame) == (FLOOR_SHARE, UPPER_BOUND)
    assert sheet_says(replace(frame, panels=())) == ()
