"""A frame made ideal, so that a general library can solve the very same: joints rigid, warping free, members on their lines."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import inf

from framecheck.frame.solve import Structure, structure_of
from framecheck.model.frame import EndWarping, Frame, Make, Member, MemberEnd
from framecheck.section.properties import SectionProperties

LEFT_OUT = (
    "softness of joints, notches, held warping and shear flexibility",
    "offsets of centroid and shear centre from the members' lines",
    "what forces do on the moved frame",
)
"""What the ideal frame leaves out, in both programs."""


def ideal_structure(frame: Frame, sections: Mapping[str, SectionProperties]) -> Structure:
    """Return our own model of the ideal frame: pins stay pins, every other end is rigid."""
    return structure_of(ideal_frame(frame), {name: ideal_section(each) for name, each in sections.items()})


def ideal_frame(frame: Frame) -> Frame:
    """Return a frame without notches whose joints are rigid and whose members warp freely."""
    return replace(frame, members=tuple(ideal_member(member) for member in frame.members))


def ideal_member(member: Member) -> Member:
    """Return a member without notches and with ideal ends."""
    return replace(member, cuts=(), start=ideal_end(member.start), end=ideal_end(member.end))


def ideal_end(end: MemberEnd) -> MemberEnd:
    """Return an end that is pinned where it was, else rigid; its arm stays."""
    return MemberEnd(Make.PINNED if end.make is Make.PINNED else Make.RIGID, EndWarping.FREE, arm=end.arm)


def ideal_section(section: SectionProperties) -> SectionProperties:
    """Return a section whose axis is its member's line, without warping and without shear flexibility."""
    return replace(
        section,
        centroid=(0.0, 0.0),
        shear_centre=(0.0, 0.0),
        warping_constant=0.0,
        closed=True,
        shear_area_vertical=inf,
        shear_area_sideways=inf,
    )
