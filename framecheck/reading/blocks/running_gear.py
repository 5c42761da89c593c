"""The running gear of a trailer, or of a vehicle of three axles and more: masses, axles, coupling."""

from __future__ import annotations

from framecheck.model.running_gear import BrakedBy
from framecheck.model.vehicle import Use
from framecheck.reading.blocks.common import LENGTH, MASS, NAME, POSITIVE_LENGTH, RATIO, SHARE
from framecheck.reading.blocks.vehicle import POINTS, POINTS_OF_LEFT
from framecheck.reading.form import Field, Form, ListOf
from framecheck.reading.kinds import Amount, Sign, Words, choice_of

GEAR_MASS = Form(
    "mass on running gear",
    "A mass with the frame points that carry it.",
    (
        Field("name", NAME, "bed, tank, load ..."),
        Field("mass", MASS, "how heavy"),
        Field("x", LENGTH, "of its centre, forward"),
        Field("y", LENGTH, "of its centre, to the left", 0.0, "0"),
        Field("z", LENGTH, "of its centre, up"),
        Field("on", POINTS, "frame points that carry it"),
        Field("kind", Words("a word"), "part, payload ...", "part", "part"),
    ),
)
GEAR_AXLE = Form(
    "axle of running gear",
    "Two wheels across. Three supports and more share a load by their springs, or as the file says.",
    (
        Field("name", NAME, "first, second ..."),
        Field("x", LENGTH, "forward"),
        Field("track", POSITIVE_LENGTH, "between the middles of the tyres"),
        Field("tyre radius", POSITIVE_LENGTH, "under load"),
        Field("unsprung mass", Amount("mass", Sign.NOT_NEGATIVE), "what the frame does not carry", 0.0, "0"),
        Field("on", POINTS_OF_LEFT, "frame points of the left side that it hangs on"),
        Field(
            "spring rate",
            Amount("stiffness", Sign.POSITIVE),
            "of the whole axle, springs and tyres together: how axles share where statics can't tell",
            None,
            "not known: refused where the loads hang on it",
        ),
        Field("load share", SHARE, "of the load of all axles that have one (on a balance, or weighed)", None, "none"),
    ),
    "{name: first, x: -80 in, track: 60 in, tyre radius: 14 in, on: [left front hanger, left rear hanger]}",
)
COUPLING = Form(
    "coupling",
    "What tows it holds it there: in all three directions, against no turn.",
    (
        Field("x", LENGTH, "forward"),
        Field("y", LENGTH, "to the left", 0.0, "0"),
        Field("z", LENGTH, "up"),
        Field("on", POINTS, "frame points that carry it"),
        Field("braked by", choice_of(BrakedBy), "its own wheels as far as they hold, or what tows it"),
    ),
    "{x: 60 in, z: 18 in, on: nose, braked by: coupling}",
)
RUNNING_GEAR = Form(
    "running gear",
    "In place of `vehicle`: a trailer (a coupling and one axle or more), or three axles and more.",
    (
        Field("masses", ListOf(GEAR_MASS, 1, 200), "everything but the frame itself"),
        Field("axles", ListOf(GEAR_AXLE, 1, 8), "its axles, front to rear"),
        Field("coupling", COUPLING, "where it is towed", None, "none: it stands on its axles alone"),
        Field("use", choice_of(Use), "road, track or off road", None, "not said: as on the road"),
        Field("ground", LENGTH, "z of the ground", 0.0, "0"),
        Field("tyre friction", RATIO, "of the tyres on the road", 1.0, "1.0"),
    ),
)
