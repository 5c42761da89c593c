"""T joints of many shapes and makes against shell models of our own, made after the joint model (joints_shell_further.yaml)."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from framecheck.frame.results import Bound, Warping
from framecheck.model.frame import EndWarping, Frame, Make, Member, MemberEnd, Orientation, Section, Stretch
from framecheck.model.joining import Cap, EndFinish, GussetPair, GussetPlace
from framecheck.model.loads import Support
from framecheck.model.shapes import (
    Angle,
    BoxedChannel,
    Channel,
    Flat,
    Hat,
    IShape,
    RectTube,
    Shape,
    Side,
    ZShape,
)
from framecheck.model.shop_tables import Material
from tests.unit.frame.frames import HELD, bar
from tests.verification.manual import Held, Kind, proof
from tests.verification.test_frame_joints import tip_turns

ROWS = yaml.safe_load((Path(__file__).parent / "joints_shell_further.yaml").read_text(encoding="utf-8"))
STEEL = Material("steel", 205e9, 205e9 / 2.6, 7850.0, 350e6, 450e6, "the shell references' E 205 GPa, nu 0.3")
TIP = 0.198


def box(height: float, width: float, wall: float) -> Shape:
    """Return a box by its middle lines, mm."""
    return RectTube(*(each / 1000 for each in (height + wall, width + wall, wall)))


def channel(height: float, flange: float, wall: float) -> Shape:
    """Return a channel by its middle lines, mm: flange from the web's middle to its tip."""
    return Channel((height + wall) / 1000, (flange + wall / 2) / 1000, wall / 1000, 0.0)


def hat(height: float, crown: float, brim: float, wall: float) -> Shape:
    """Return a hat by its middle lines, mm: brim from the web's middle."""
    return Hat(*(each / 1000 for each in (height + wall, crown + wall, brim - wall / 2, wall)))


R, B, C = box(96, 48, 3), box(48, 48, 3), channel(96, 48, 3)
BOXED = BoxedChannel(Channel(0.100, 0.049, 0.004, 0.0), 0.002)
BUTT = {"make": Make.BUTT}


def gussets(leg: float, wall: float, place: GussetPlace = GussetPlace.MIDDLE, height: float | None = None) -> dict[str, Any]:
    return {"make": Make.GUSSETED, "gussets": GussetPair(leg / 1000, leg / 1000, wall / 1000, place, height)}


def ends(finish: EndFinish, at: float, wall: float = 3.0) -> dict[str, Any]:
    return {"cap": Cap(finish, wall / 1000), "at": at / 1000}


SIDES = (Side.LEFT, Side.RIGHT)
JOINTS: dict[str, tuple[Shape, Shape, dict[str, Any], dict[str, Any]]] = {
    "hat": (R, hat(48, 48, 18, 3), BUTT, {}),
    "channel 60 x 36": (R, channel(60, 36, 3), BUTT, {}),
    "I 60 x 48": (R, IShape(0.064, 0.048, 0.003, 0.004), BUTT, {}),
    "angle 48 x 48": (R, Angle(0.050, 0.050, 0.004), BUTT, {}),
    "Z 48 x 24": (R, ZShape(0.051, 0.0255, 0.003), BUTT, {}),
    "flat 60": (R, Flat(0.060, 0.006), BUTT, {}),
    "flat 60 lying": (R, Flat(0.006, 0.060), BUTT, {}),
    "box, rail open at 60": (R, B, BUTT, ends(EndFinish.OPEN, 60)),
    "box, rail plated at 60": (R, B, BUTT, ends(EndFinish.PLATE, 60)),
    "box, rail open at its wall": (R, B, BUTT, ends(EndFinish.OPEN, 30)),
    "gussets 36 middle": (R, B, gussets(36, 3), {}),
    "gussets 60 top": (R, B, gussets(60, 5, GussetPlace.TOP), {}),
    "gussets 36 both": (R, B, gussets(36, 3, GussetPlace.BOTH), {}),
    "gussets 48 at 12": (R, B, gussets(48, 4, height=0.012), {}),
    "sides only": (R, box(72, 36, 3), {**BUTT, "welded": SIDES}, {}),
    "bottom loose": (R, box(72, 36, 3), {**BUTT, "welded": (*SIDES, Side.TOP)}, {}),
    "channel rail, box outside, open at 60": (C, B, BUTT, ends(EndFinish.OPEN, 60)),
    "channel rail, box inside": (C, box(60, 36, 3), BUTT, {"inside": True}),
    "channel rail, hat outside": (C, hat(48, 48, 18, 3), BUTT, {}),
    "channel rail, gussets top": (C, B, gussets(48, 4, GussetPlace.TOP), {}),
    "I rail, box on its web": (IShape(0.125, 0.072, 0.004, 0.005), B, BUTT, {"face": 0.0}),
    "hat rail, box on its side": (hat(72, 60, 24, 3), box(48, 36, 3), BUTT, {"face": 0.030}),
    "hat rail, box on its crown": (hat(48, 72, 24, 3), box(48, 36, 3), BUTT, {"lies": Orientation(1), "face": 0.024}),
    "boxed channel, box on its web": (BOXED, B, BUTT, {"face": 0.0255 - 0.002}),
    "boxed channel, box through": (BOXED, B, {"make": Make.THROUGH}, {"face": 0.0255 - 0.002}),
    "thin plated rail end at 90": (box(120, 60, 2), box(60, 60, 2), BUTT, ends(EndFinish.PLATE, 90, 2)),
}


def face_of(rail: Shape, inside: bool) -> float:
    """Return how far the met wall's middle plane lies from the rail's axis, towards the crossmember, m."""
    if isinstance(rail, Channel):
        return (-1 if inside else 1) * (rail.flange - rail.wall) / 2
    assert isinstance(rail, RectTube)
    return (rail.width - rail.wall) / 2


def joint(name: str) -> Frame:
    """Return a joint as a frame: its open ends held against warping, as clamps and rigid plates hold them."""
    rail, cross, made, more = JOINTS[name]
    inside = bool(more.get("inside"))
    face = more["face"] if "face" in more else face_of(rail, inside)
    at = more.get("at", 0.3)
    lies = more.get("lies", Orientation(mirrored=not inside))
    held = MemberEnd(warping=EndWarping.FIXED)
    last = MemberEnd(cap=more["cap"], warping=EndWarping.FREE) if "cap" in more else held
    points = {"a": (-0.3, 0.0, 0.0), "m": (0.0, 0.0, 0.0), "b": (at, 0.0, 0.0), "tip": (0.0, -(face + TIP), 0.0)}
    members = (
        Member("rail", ("a", "m", "b"), (Stretch("rail"),), lies, held, last, role="rail"),
        bar("cross", "m", "tip", start=MemberEnd(**made), end=held, of="cross"),
    )
    of = {"rail": Section("rail", rail, STEEL), "cross": Section("cross", cross, STEEL)}
    supports = (Support("a", HELD), *(() if "cap" in more else (Support("b", HELD),)))
    return Frame(points, members, of, supports)


@proof(Kind.SHELL, "openseespy shells of our own, joints_shell_further.yaml: turn of the tip about x and z, rad; 15 % asked")
@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["name"])
def test_a_joint_bends_as_its_shell_model(held: Held, row: dict[str, Any]) -> None:
    """Both bending turns; an open crossmember's twist is the frame's own, by its ends' warping."""
    found = tip_turns(joint(row["name"]), Bound(warping=Warping.FREE))
    held([found[0], found[2]], [row["turns"][0], row["turns"][2]], rel=0.15)
