"""Load cases written force by force, and sums of others (those of the vehicle follow shared/load_cases.yaml); targets."""

from __future__ import annotations

from framecheck.reading.blocks.common import (
    FORCE,
    LENGTH,
    LENGTH_OR_ZERO,
    LOAD_PER_LENGTH,
    MOMENT,
    POSITIVE_LENGTH,
    RATIO,
)
from framecheck.reading.blocks.frame import DIRECTIONS, SUPPORT
from framecheck.reading.form import Either, Field, Form, ListOf, Named
from framecheck.reading.kinds import Amount, Choice, NameOf, Number

POINT_LOAD = Form(
    "point load",
    "What acts on a frame point.",
    (
        Field("point", NameOf("point"), "which point"),
        Field("force", FORCE, "along the vehicle's axes", None, "none"),
        Field("moment", MOMENT, "about the vehicle's axes", None, "none"),
    ),
    "{point: gearbox mount, force: {z: -500 lb}}",
)
MEMBER_LOAD = Form(
    "member load",
    "What acts along a member: a load per length between two places, or a force at one.",
    (
        Field("member", NameOf("member"), "which member"),
        Field("load", LOAD_PER_LENGTH, "per length", None, "none"),
        Field("load at the end", LOAD_PER_LENGTH, "where it changes along the way", None, "as `load`"),
        Field("from", LENGTH_OR_ZERO, "where it begins, along the member", 0.0, "the member's first point"),
        Field("to", POSITIVE_LENGTH, "where it ends", float("inf"), "the member's last point"),
        Field("force", FORCE, "one force, in place of a load per length", None, "none"),
        Field("at", LENGTH_OR_ZERO, "where that force acts, along the member", None, "none"),
    ),
    "{member: left rail, load: {z: -20 lb/ft}, from: 40 in, to: 90 in}",
)
WARMING = Form(
    "warming",
    "A member warmer than when it was built.",
    (Field("member", NameOf("member"), "which member"), Field("rise", Amount("temperature difference"), "by how much")),
)
MOVED = Form(
    "moved support",
    "A held direction of a support that is moved by a known amount.",
    (
        Field("point", NameOf("point"), "which support"),
        Field("direction", Choice(DIRECTIONS), "x, y, z, turn x, turn y, turn z"),
        Field("amount", Either(Amount("length"), LENGTH), "how far", None, "none"),
        Field("angle", Amount("angle"), "how far, for a turn", None, "none"),
    ),
)
WRITTEN = Form(
    "written load case",
    "A load case force by force; the supports of the frame hold it, or its own.",
    (
        Field("forces", ListOf(POINT_LOAD, 1, 1000), "on points", (), "none"),
        Field("member loads", ListOf(MEMBER_LOAD, 1, 1000), "along members", (), "none"),
        Field("own weight", Number(), "how many g the frame's own mass is pulled down with", 0.0, "0, not counted"),
        Field("warmings", ListOf(WARMING, 1, 500), "members warmer than when built", (), "none"),
        Field("moved supports", ListOf(MOVED, 1, 200), "supports that give way or are jacked", (), "none"),
        Field("supports", ListOf(SUPPORT, 1, 200), "what holds the frame here, in place of its own", None, "the frame's own"),
    ),
    "{forces: [{point: left front end, force: {z: 500 lb}}], supports: [{point: left rear end, held: place}]}",
)
SUM = Form(
    "sum of load cases",
    "Load cases of the vehicle added up, each times a factor.",
    (Field("sum of", Named(Number(), "the name of a load case"), "factors by load case"),),
    "{sum of: {vertical bump: 0.5, cornering left: 1.0}}",
)
TARGETS = Form(
    "targets",
    "The least safety factors that you ask for.",
    (
        Field("safety factor", RATIO, "on yield, in every load case", 1.5, "1.5"),
        Field("load cases", Named(RATIO, "the name of a load case"), "for a load case of its own", {}, "none"),
    ),
    "{safety factor: 1.5, load cases: {curb strike sideways: 1.1}}",
)
