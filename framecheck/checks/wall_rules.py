"""Which sections the buckling and plastic checks can judge, and by which rules their walls buckle: those of their metal."""

from __future__ import annotations

import numpy as np

from framecheck.checks.effective import WallState, can_buckle, wall_state
from framecheck.checks.formulas import en1999_1_1
from framecheck.checks.formulas.en1999_1_1 import SOURCE as ALUMINIUM
from framecheck.checks.formulas.en1999_1_1 import aluminium_state
from framecheck.checks.formulas.plate_buckling import epsilon_of
from framecheck.checks.heat import SoftenedShare
from framecheck.checks.member_rows import material_at, section_words
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Member, sections_at
from framecheck.model.shapes import RoundBar, RoundTube, Shape
from framecheck.model.shop_tables import Material
from framecheck.section.properties import SectionProperties

STEEL = "EN 1993-1-5:2006, 4.4 (effective width at yield); class: EN 1993-1-1:2005, table 5.2, compressed share from elastic stress"
YOUNG = 210e9
"""Young's modulus that the European limits for steel hold for, Pa. EN 1993-1-1:2005, 3.2.6."""


def is_steel(metal: Material) -> bool:
    """Return whether the rules for steel hold."""
    return metal.kind == "steel"


def state_of(section: SectionProperties, forces: Array, metal: Material, near: SoftenedShare) -> WallState:
    """Return the state of every wall under rows of forces (n_bound, n_row, n_case, 9); near: how the rows stand to welds."""
    return wall_state(section, forces) if is_steel(metal) else aluminium_state(section, forces, metal, near)


def source_of(metal: Material) -> str:
    """Return where the rules stand."""
    return STEEL if is_steel(metal) else ALUMINIUM


def shear_epsilon(metal: Material, yield_strength: Array) -> Array:
    """Return epsilon of the limits of webs in shear, wall by wall; for another modulus than steel's times sqrt(E / 210 GPa).

    The limits stand for sqrt(shear yield / critical stress), and that goes by fy / E: EN 1993-1-5:2006, 5.3(3). EN 1999-1-1:2007,
    6.7.4, has lambda = 0.35 (h/t) sqrt(fo / E), which is the same.
    """
    return epsilon_of(yield_strength) * (1.0 if is_steel(metal) else float(np.sqrt(metal.youngs_modulus / YOUNG)))


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
        return en1999_1_1.round_class(shape.diameter / shape.wall, metal)
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
