"""A case as measured: its frame with the factors that a test found."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from framecheck.model.as_measured import AsMeasured
from framecheck.model.case import Case
from framecheck.model.frame import Frame, Section
from framecheck.model.shop_tables import Material
from framecheck.rig.variants import section_thicker, with_kinks, with_panels, with_softness


def as_measured(case: Case, found: AsMeasured) -> Case:
    """Return the case with its frame as measured; as_drawn: itself as it was."""
    return replace(case, frame=frame_as_measured(case.frame, found), as_drawn=replace(case, measured_by=()), measured=found)


def frame_as_measured(frame: Frame, found: AsMeasured) -> Frame:
    """Return a frame with softer joints, other walls, another modulus; walls are those of whole sections, their welds as drawn."""
    sections = sections_as_measured(frame.sections, found)
    panels = tuple(replace(each, material=stiffer(each.material, found.modulus)) for each in frame.panels)
    changed = replace(frame, sections=sections, panels=panels if found.modulus != 1.0 else frame.panels)
    ends = [(make, each / found.joints) for make, each in found.ends]
    given = with_kinks(with_panels(changed, found.panels), found.kinks, found.splices)
    return body_as_measured(with_softness(given, found.joints, ends), found)


def body_as_measured(frame: Frame, found: AsMeasured) -> Frame:
    """Return a frame whose stated body is as stiff as a test found it; what the test did not tell stays as stated."""
    if frame.body is None or not found.tells_body:
        return frame
    body = frame.body
    return replace(frame, body=replace(body, torsion=found.torsion or body.torsion, bending=found.bending or body.bending))


def sections_as_measured(sections: Mapping[str, Section], found: AsMeasured) -> dict[str, Section]:
    """Return sections by name as a test found them."""
    walls = dict(found.walls)
    return {name: section_as_measured(each, walls.get(name, 1.0), found.modulus) for name, each in sections.items()}


def section_as_measured(section: Section, walls: float, modulus: float) -> Section:
    """Return a section with its walls and its modulus times so much."""
    thick = section if walls == 1.0 else section_thicker(section, walls)
    if modulus == 1.0:
        return thick
    return replace(thick, material=stiffer(thick.material, modulus), metals=tuple(stiffer(each, modulus) for each in thick.metals))


def stiffer(metal: Material, factor: float) -> Material:
    """Return a metal with both moduli times a factor."""
    return replace(metal, youngs_modulus=metal.youngs_modulus * factor, shear_modulus=metal.shear_modulus * factor)
