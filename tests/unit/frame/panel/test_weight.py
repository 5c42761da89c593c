"""Sheet that hangs on other sheet alone weighs on the members near it."""

from __future__ import annotations

import numpy as np
import pytest

from framecheck.frame.panel.weight import carrying
from framecheck.frame.solve import solve_frame, structure_of
from framecheck.model.loads import CaseLoads, Motion
from framecheck.reading.case_file import read_case
from framecheck.section.analysis import section_properties
from framecheck.study.frame_measures import fitted_mass
from tests.cases.test_sections import LIBRARY
from tests.memory import Memory
from tests.verification.panel_files import panel_in_rods, tub


def test_the_top_of_a_tunnel_is_carried() -> None:
    """Statics: the supports carry all mass; the top, 1.6 m x 0.2 m x 0.9 mm, lies on the tunnel's walls and on no member."""
    frame, store = read_case(tub(), "case.yaml", LIBRARY).frame, Memory()
    structure = structure_of(
        frame, {key: section_properties(section, store) for key, section in frame.sections.items()}
    )
    assert structure.sheets is not None
    number = next(place for place, panel in enumerate(frame.panels) if panel.name == "tunnel top")
    names, reached = list(frame.points), {name for member in frame.members for name in member.points}
    assert all(node >= len(names) or names[node] in reached for node in carrying(frame, structure.sheets, number))
    found = solve_frame(structure, [CaseLoads("weight", motion=Motion(linear=(0.0, 0.0, -9.81)))])
    mass = sum(np.linalg.norm(np.subtract(b, a)) * each for a, b, each in structure.mass_lines())
    assert sum(float(each[0, 2]) for each in found.reactions.values()) == pytest.approx(9.81 * mass, rel=1e-9)
    assert [each for each in found.self_checks if not each.holds] == []


def test_sheet_counts_in_what_a_variant_weighs() -> None:
    """By hand: 400 x 300 x 0.9 mm at 7850 kg/m3; the lightest variant is not the one with the heaviest sheet."""
    case = read_case(panel_in_rods(100.0, "shear alone"), "rods.yaml", LIBRARY)
    assert fitted_mass(case) == pytest.approx(0.4 * 0.3 * 0.9e-3 * 7850, rel=1e-12)
