"""Which sections the buckling and plastic checks can judge: flat walls known, or round."""

from __future__ import annotations

from framecheck.checks import aluminium_walls
from framecheck.checks.effective import can_buckle
from framecheck.checks.member_rows import material_at, section_words
from framecheck.checks.plate_buckling import epsilon_of
from framecheck.checks.wall_rules import is_steel
from framecheck.model.frame import Frame, Member, sections_at
from framecheck.model.materials import Material
from framecheck.model.shapes import RoundBar, RoundTube, Shape
from framecheck.section.properties import SectionProperties

ROUND_LIMITS = (50.0, 70.0, 90.0)
"""Diameter over wall, over epsilon squared, up to which a round tube is of class 1, 2, 3: EN 1993-1-1:2005, table 5.2, sheet 3."""


MIXED = "the parts of section {} are of several metals, not all of steel: no rule for their walls together is built in"


def any_mixed(section: SectionProperties) -> bool:
    """Return whether a section is of several metals that are not all steel."""
    return any(not is_steel(each.material) for each in section.metals)


def shape_at(frame: Frame, member: Member, station: float) -> Shape | None:
    """Return the whole shape that a member has at a station (m) within one of its lengths; None in a notch."""
    if any(abs(station - cut.at) <= cut.length / 2 for cut in member.cuts):
        return None
    return frame.sections[sections_at(member, station)[0]].shape


def metal_of(frame: Frame, member: Member, section: SectionProperties, station: float) -> Material:
    """Return the metal of a section that a member has at a station (m)."""
    known = frame.sections.get(section.name)
    return material_at(frame, member, station) if known is None else known.material


def round_class(shape: Shape | None, yield_strength: float, metal: Material | None = None) -> int:
    """Return the class 1 to 4 of a round tube (a bar is of class 1), 0 for any other shape; metal None: steel."""
    if isinstance(shape, RoundBar):
        return 1
    if not isinstance(shape, RoundTube):
        return 0
    if metal is not None and not is_steel(metal):
        return aluminium_walls.round_class(shape.diameter / shape.wall, metal)
    ratio = shape.diameter / shape.wall / epsilon_of(yield_strength) ** 2
    return 1 + sum(bool(ratio > limit) for limit in ROUND_LIMITS)


def reason_against(frame: Frame, member: Member, section: SectionProperties, station: float) -> str:
    """Return why a section at a station can't be judged, "" where it can."""
    name = section_words(member, section, station)
    if any_mixed(section):
        return MIXED.format(name)
    if section.fields is None:
        return f"the stress of section {name} is not known"
    if can_buckle(section):
        return ""
    metal = metal_of(frame, member, section, station)
    rank = round_class(shape_at(frame, member, station), section.yield_strength, metal)
    if rank == 4:
        return f"the round tube {name} is thinner than class 3 ({'EN 1993-1-6' if is_steel(metal) else 'EN 1999-1-5'} would apply)"
    return "" if rank else f"the walls of section {name} are not known"
