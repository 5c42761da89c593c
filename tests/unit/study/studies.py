"""A small ladder that stands on four supports under two written load cases, and studies of it."""

from __future__ import annotations

from functools import cache

from framecheck.reading.library import Library
from framecheck.reading.study_file import StudyFile, read_study
from framecheck.study.engines import Builders, run_variants
from framecheck.study.measure import VariantRow
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED

SUPPORTS = """\
    - {point: left front, held: [x, y, z]}
    - {point: right front, held: [x, z]}
    - {point: left rear, held: [z]}
    - {point: right rear, held: [z]}
"""

CASE = f"""\
title: A ladder on four supports
targets: {{safety factor: 1.5}}
sections:
  rail tube:
    shape: rectangular tube
    height: 100 mm
    width: 50 mm
    wall: 3 mm
    outside radius: 6 mm
    material: plain steel
  cross tube:
    shape: rectangular tube
    height: 50 mm
    width: 50 mm
    wall: 3 mm
    outside radius: 6 mm
    material: plain steel
materials:
  - name: plain steel
    kind: steel
    youngs modulus: 210 GPa
    poissons ratio: 0.3
    density: 7850 kg/m3
    yield strength: 355 MPa
    ultimate strength: 470 MPa
    source: invented for this test
frame:
  ladder:
    rail:
      section: rail tube
      stations:
        - {{name: front, x: 1 m, y: 400 mm, z: 0 mm}}
        - {{name: middle, x: 0 m, y: 400 mm, z: 0 mm}}
        - {{name: rear, x: -1 m, y: 400 mm, z: 0 mm}}
    crossmembers:
      - {{name: fore, x: 700 mm, section: cross tube, ends: rigid}}
      - {{name: aft, x: -700 mm, section: cross tube, ends: rigid}}
  supports:
{SUPPORTS}
load cases:
  - bed: {{forces: [{{point: left middle, force: {{z: -8 kN}}}}, {{point: right middle, force: {{z: -8 kN}}}}]}}
  - corner: {{forces: [{{point: left middle, force: {{z: -9 kN}}}}]}}
"""

WALLS = """\
title: How thick a rail
case: ladder.yaml
vary:
  - {field: sections.rail tube.wall, values: [2 mm, 2.5 mm, 3 mm, 4 mm, 5 mm, 6 mm]}
"""


MEMORY = SHARED


@cache
def rows_of_walls() -> tuple[VariantRow, ...]:
    """Return the variants of WALLS, each run by every check."""
    file = study_file(WALLS)
    return tuple(run_variants(file.study, Builders(file.build, MEMORY)))


def study_file(text: str, case: str = CASE, library: Library = LIBRARY) -> StudyFile:
    """Return a study of the ladder."""
    return read_study(text, "study.yaml", (case, "ladder.yaml"), library)
