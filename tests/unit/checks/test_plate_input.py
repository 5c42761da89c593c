"""Plates that grow, and plates that cannot be as written."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pytest import approx

from framecheck.checks.plate import check, solve
from framecheck.checks.plate.bending import bendings, sheet_of
from framecheck.errors import InputError, MechanismError
from framecheck.model.plate import (
    Bead,
    Drop,
    Edge,
    EdgeHold,
    HeldEdge,
    InPlane,
    Patch,
    PlateBolt,
    PlateSide,
    Press,
    Rib,
    StiffenerRun,
    Strike,
    Uniform,
)
from tests.unit.checks.plates import skid

PATCH = Patch((0.3, 0.2), (0.1, 0.08), drag=0.5, drag_angle=0.4, rock=0.02)


# Growth


@settings(max_examples=8, deadline=None)
@given(t=st.floats(0.002, 0.008), more=st.floats(1.05, 2.0), x=st.floats(0.06, 0.74), y=st.floats(0.06, 0.44))
def test_a_thicker_plate_gives_less_and_carries_more(t, more, x, y):
    loads = (Press("press", Patch((x, y), (0.1, 0.08)), 3000.0),)
    thin, thick = (solve(replace(skid(loads=loads), thickness=each)).loads[0] for each in (t, t * more))
    assert thick.deflection == approx(thin.deflection / more**3, rel=1e-5)  # Kirchhoff: t3, t2, t2
    assert thick.stress.stress == approx(thin.stress.stress / more**2, rel=1e-5)
    assert thick.collapse >= thin.collapse * more**2 * 0.999


@settings(max_examples=8, deadline=None)
@given(x=st.floats(0.05, 0.75), y=st.floats(0.05, 0.45), spot=st.tuples(st.floats(0.02, 0.78), st.floats(0.02, 0.48)))
def test_another_bolt_gives_less(x, y, spot):
    """Another support can only lower the energy; 0.5 %: the mesh is another one."""
    press = Uniform("even", 1.0) if x < 0.1 else Press("press", Patch((x, y), (0.1, 0.1)), 1.0)
    plate = skid(loads=(press,))
    if any(np.hypot(*(np.array(spot) - np.array(bolt.at))) < 1e-3 for bolt in plate.bolts):
        return
    more = replace(plate, bolts=(*plate.bolts, PlateBolt("more", spot, 0.02)))
    works = [bendings(sheet_of(each), each.loads)[0].work for each in (plate, more)]
    assert works[1] <= works[0] * 1.005


# Bad input


def faults_of(plate) -> str:
    with pytest.raises(InputError) as caught:
        check(plate)
    return str(caught.value)


def test_bolt_outside_the_plate():
    plate = skid()
    plate = replace(plate, bolts=(replace(plate.bolts[0], at=(0.9, 0.1)), *plate.bolts[1:]))
    assert faults_of(plate) == (
        "plate skid, bolt b0: at (900, 100) mm it is outside the plate; keep it between (0, 0) and (800, 500) mm"
    )


def test_bead_taller_than_the_gap():
    bead = Bead("bead", StiffenerRun.X, 0.12, 0.1, 0.7, 0.1, 0.032, 0.02, PlateSide.UP)
    assert "bead bead: 32 mm tall, it fills the gap of 30 mm above the plate; make it lower" in faults_of(skid(stiffeners=(bead,)))


def test_every_fault_is_told_at_once():
    press = Press("press", Patch((0.8, 0.2), (0.1, 0.1)), 1.0)
    rib = Rib("rib", StiffenerRun.X, 0.6, 0.1, 0.9, 0.02, 0.005)
    held = (HeldEdge(Edge.REAR, EdgeHold.ELASTIC), HeldEdge(Edge.RIGHT, EdgeHold.SIMPLE))
    said = faults_of(skid(loads=(press, Press("none", PATCH, 0.0)), stiffeners=(rib,), edges=held))
    for part in ("patch of (100, 100) mm at (800, 200) mm is outside", "force is zero", "rib: its run", "rib: on its line",
                 "without stiffness"):  # fmt: skip
        assert part in said


BOLT, BLOW = skid().bolts[0], Drop(50.0, 0.1)
EDGES = HeldEdge(Edge.LEFT, EdgeHold.SIMPLE), HeldEdge(Edge.RIGHT, EdgeHold.SIMPLE)
WRONG: tuple[tuple[str, dict[str, object]], ...] = (
    ("a length, width or thickness is not above zero", {"thickness": 0.0}),
    ("nothing acts on it", {"loads": ()}),
    ("nothing keeps it from drawing in", {"bolts": (), "in_plane": InPlane.HELD}),
    ("bolt b0: its seat has no diameter", {"bolts": (replace(BOLT, seat=0.0),)}),
    ("bolt b0: what it hangs on has no stiffness", {"bolts": (replace(BOLT, stiffness=0.0),)}),
    ("it sits on the right edge, which is held", {"bolts": (replace(BOLT, at=(0.4, 0.0)),), "edges": EDGES}),
    ("right edge: it is held twice", {"edges": (*EDGES, HeldEdge(Edge.RIGHT, EdgeHold.CLAMPED))}),
    ("bead b: a size is not above zero", {"stiffeners": (Bead("b", StiffenerRun.X, 0.25, 0.1, 0.7, 0.1, 0.0),)}),
    ("its crest is not narrower than its foot", {"stiffeners": (Bead("b", StiffenerRun.X, 0.25, 0.1, 0.7, 0.1, 0.02, 0.1),)}),
    ("load press: its patch has no size", {"loads": (Press("press", Patch((0.3, 0.2), (0.1, 0.0)), 1.0),)}),
    ("the rock's sharp end has no diameter", {"loads": (Press("press", replace(PATCH, rock=0.0), 1.0),)}),
    ("nothing strikes: its mass is not above zero", {"loads": (Strike("drop", PATCH, replace(BLOW, mass=0.0)),)}),
)


@pytest.mark.parametrize(("words", "changes"), WRONG, ids=[words for words, _ in WRONG])
def test_what_a_plate_can_not_be(words, changes):
    thickness = changes.get("thickness")
    assert words in faults_of(replace(skid(), thickness=thickness) if thickness is not None else skid(**changes))


def test_elastic_edges_that_only_turn_let_it_move_up_and_down():
    edges = tuple(HeldEdge(edge, EdgeHold.ELASTIC, 0.0, 100.0) for edge in Edge)
    with pytest.raises(MechanismError, match="it moves up and down freely"):
        check(skid(bolts=(), edges=edges))


@pytest.mark.parametrize(
    ("count", "words"),
    [(0, "nothing holds it up"), (1, "held at one point and tips every way about (30, 30) mm"),
     (2, "its supports lie in one line"), (3, "a push up at (400, 250) mm lifts its left end")],
)  # fmt: skip
def test_too_few_supports_tip(count, words):
    plate = skid()
    with pytest.raises(MechanismError) as caught:
        check(replace(plate, bolts=plate.bolts[:count]))
    assert words in str(caught.value)


def test_one_simply_supported_edge_tips_and_a_clamped_one_does_not():
    for edge in Edge:
        with pytest.raises(MechanismError, match="tips about that line"):
            check(skid(bolts=(), edges=(HeldEdge(edge, EdgeHold.SIMPLE),)))
        check(skid(bolts=(), edges=(HeldEdge(edge, EdgeHold.CLAMPED),)))
