"""A small truck as a case file, and the shop's library, for the tests of reading."""

from __future__ import annotations

from pathlib import Path

from framecheck.model.case import Case
from framecheck.reading.case_file import read_case
from framecheck.reading.library import Library, load_library

ROOT = Path(__file__).parents[3]
FILES = sorted([*ROOT.glob("sections/*.yaml"), *ROOT.glob("shared/*.yaml")])
LIBRARY: Library = load_library({f"{path.parent.name}/{path.name}": path.read_text(encoding="utf-8") for path in FILES})

TRUCK = """\
title: Small truck
origin: on the ground below the middle of the front axle
sections:
  rail tube: {shape: rectangular tube, height: 4 in, width: 2 in, wall: 11 ga tube, material: A500 grade B}
  stamped: {shape: channel, height: 4 in, flange: 1 3/4 in, wall: 12 ga sheet, inside radius: 1/8 in, material: S235}
frame:
  ladder:
    rail:
      section: stamped
      stations:
        - {name: front horn, x: 30 in, y: 13 in, z: 22 in}
        - {name: front axle, x: 0 in, y: 13 in, z: 24 in}
        - {name: kick-up, x: -70 in, y: 15 in, z: 20 in, section: rail tube}
        - {name: front eye, x: -90 in}
        - {name: tail, x: -140 in, y: 16 in, z: 24 in}
    crossmembers:
      - {name: front crossmember, station: front horn, section: rail tube}
      - name: gearbox crossmember
        x: -40 in
        section: stamped
        ends: butt on one face
        drop: 3 in
        points: [{name: gearbox mount}]
      - {name: tail crossmember, station: tail, section: tube 2 x 2 x 11 ga, ends: through both faces}
vehicle:
  masses:
    - {name: engine, mass: 520 lb, x: -6 in, z: 28 in, on: [left front axle, right front axle, gearbox mount]}
    - {name: bed, mass: 800 lb, x: -110 in, z: 35 in, kind: payload, on: [left kick-up, right kick-up, left tail, right tail]}
  axles:
    front: {x: 0 in, track: 58 in, tyre radius: 14.5 in, unsprung mass: 180 lb, on: front axle}
    rear: {x: -110 in, track: 58 in, tyre radius: 14.5 in, unsprung mass: 250 lb, on: [front eye, tail], driven: yes}
load cases:
  - static
  - vertical bump: {factor: 3}
  - big bump: {kind: vertical bump, factor: 4}
  - jacked at a point: {point: left front axle}
  - mine: {forces: [{point: gearbox mount, force: {z: -500 lb}}]}
  - both: {sum of: {vertical bump: 0.5, static: 1}}
targets: {safety factor: 1.5, load cases: {big bump: 1.2}}
"""


def truck(*changes: tuple[str, str]) -> Case:
    """Return the small truck with texts of its file changed."""
    return read_case(changed(*changes), "truck.yaml", LIBRARY)


def changed(*changes: tuple[str, str]) -> str:
    """Return the truck's file with texts changed, each of which stands there once."""
    text = TRUCK
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text
