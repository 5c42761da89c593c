"""Ends that meet others with no wall between: the soft end of their range, whatever their order, side, names and exact sizes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from functools import cache

import numpy as np
import pytest

from framecheck.frame.joints import meetings_of
from framecheck.frame.meetings import EndHere, no_less, plate_gives, springs_at
from framecheck.frame.open_ends import open_ends
from framecheck.frame.stand_in import Unmodelled
from framecheck.frame.star_mitres import crowded_ends, star_mitres
from framecheck.model.arrays import Array
from framecheck.model.frame import Frame, Make, Member, MemberEnd, Section, Stretch
from framecheck.model.shapes import Angle, Channel, Flat, Hat, RectTube, RoundBar, RoundTube, Shape
from framecheck.model.shop_tables import Material
from tests.memory import SHARED

STEEL = Material("steel", 200e9, 200e9 / 2.6, 7850.0, 350e6, 450e6, "for tests")
SHAPES: tuple[Shape, ...] = (
    RectTube(0.06, 0.04, 0.003), RectTube(0.04, 0.08, 0.0025), RoundTube(0.05, 0.0025), Channel(0.08, 0.04, 0.004, 0.004),
    Flat(0.05, 0.006), Angle(0.05, 0.04, 0.004), Hat(0.05, 0.04, 0.02, 0.002), RoundBar(0.016),
)  # fmt: skip
MEMORY = SHARED
MIRROR = np.diag([1.0, -1.0, 1.0])


def grown_by(shape: Shape, by: float) -> Shape:
    """Return a shape of other sizes: each that is written times a factor."""
    sizes = {each.name: getattr(shape, each.name) for each in fields(shape)}
    return replace(shape, **{name: value * by for name, value in sizes.items() if isinstance(value, float)})


def star(number: int, makes: Sequence[Make] = (), step: float = 0.0, mirrored: bool = False) -> Frame:
    """Return three or four members of random shapes from one point; step: relative, of each size in turn up and down."""
    rng = np.random.default_rng((16, number))
    ways: list[Array] = []
    while len(ways) < 3 + number % 2:
        way = rng.normal(size=3) * np.array([1.0, 1.0, number % 3 / 2])
        way /= np.linalg.norm(way)
        ways += [way] if all(-0.65 < float(way @ each) < 0.8 for each in ways) else []
        ways = [] if rng.random() < 0.02 else ways
    grown = [1 + step * sign for sign in rng.choice([-1.0, 1.0], len(ways))]
    ends = [0.5 * way * grow for way, grow in zip(ways, grown, strict=True)]
    points = {f"p{n}": tuple((MIRROR @ end if mirrored else end).tolist()) for n, end in enumerate(ends)}
    shapes = [SHAPES[n] for n in rng.integers(0, len(SHAPES), len(ways))]
    shapes = [grown_by(each, grow) if step else each for each, grow in zip(shapes, grown, strict=True)]
    sections = {f"s{n}": Section(f"s{n}", shape, STEEL) for n, shape in enumerate(shapes)}
    made = (*makes, *[Make.UNSAID] * len(ways))
    members = tuple(Member(f"m{n}", ("o", f"p{n}"), (Stretch(f"s{n}"),), start=MemberEnd(made[n])) for n in range(len(ways)))
    return Frame({"o": (0.0, 0.0, 0.0), **points}, members, sections)  # type: ignore[dict-item]


def flexibilities(frame: Frame) -> dict[str, Array]:
    """Return, by member, how its end moves and turns (6, 3) per unit at the soft end, in the vehicle's axes."""
    found = {}
    for met in meetings_of(frame).values():
        axes, stiffness = springs_at(met, MEMORY)
        parts = [axes[n : n + 3].T @ np.diag(1 / np.array(stiffness[n : n + 3])) @ axes[n : n + 3] for n in (0, 3)]
        found[frame.members[met.number].name] = np.concatenate(parts)
    return found


@cache
def soft(number: int) -> dict[str, Array]:
    return flexibilities(star(number))


def are_alike(one: dict[str, Array], other: dict[str, Array], within: float) -> None:
    assert one.keys() == other.keys()
    for name, each in one.items():
        for part in (slice(0, 3), slice(3, 6)):
            assert np.abs(each[part] - other[name][part]).max() <= within * np.abs(each[part]).max()


DRAWN = range(3)


@pytest.mark.parametrize("number", DRAWN)
def test_an_end_gives_the_same_in_any_order_and_in_the_mirror(number: int) -> None:
    frame = star(number)
    backward = replace(frame, members=frame.members[::-1])
    are_alike(soft(number), flexibilities(backward), 1e-9)
    mirrored = {name: np.concatenate([MIRROR @ each[n : n + 3] @ MIRROR for n in (0, 3)]) for name, each in soft(number).items()}
    are_alike(mirrored, flexibilities(star(number, mirrored=True)), 1e-9)


@pytest.mark.parametrize("number", DRAWN)
def test_a_millionth_of_every_size_moves_no_give(number: int) -> None:
    """Issue's measure for joints: a relative step of 1e-6 moves nothing by more than 1e-4."""
    are_alike(soft(number), flexibilities(star(number, step=1e-6)), 1e-4)


def test_the_bound_on_gives_is_above_each_of_them() -> None:
    """Positive matrices at random: what is taken less any of them has no negative eigenvalue."""
    rng = np.random.default_rng(3)
    for _ in range(100):
        roots = rng.normal(size=(int(rng.integers(1, 6)), 3, 3)) * 10.0 ** rng.uniform(-2, 0, (1, 1, 3))
        gives = [each @ each.T for each in roots]
        bound = no_less(gives)
        assert all(np.linalg.eigvalsh(bound - each).min() >= -1e-7 * np.trace(bound) for each in gives)


def test_an_end_on_which_the_others_are_said_to_stand_gives_nothing_itself() -> None:
    """Two butt-welded to a third: each of the two is named, the third is what they stand on."""
    frame = star(0, makes=(Make.UNSAID, Make.BUTT, Make.BUTT))
    assert {each.member for each in open_ends(frame)} == {"m1", "m2"}
    assert {each.why for each in open_ends(star(0))} == {Unmodelled.MEETING}
    assert not list(open_ends(star(0, makes=(Make.RIGID,) * 3)))


def test_ends_that_say_nothing_may_be_mitred_to_each_other() -> None:
    """Each with each other one, in the order of pairs; of more than are judged so, all are named."""
    assert len(star_mitres(star(0))) == 3 * 2
    assert not star_mitres(star(0, makes=(Make.RIGID,) * 3))
    four = star(1)
    assert not list(crowded_ends(four))
    fifth = replace(four.members[0], name="m4", points=("o", "p4"))
    five = replace(four, points={**four.points, "p4": (0.0, 0.0, 0.5)}, members=(*four.members, fifth))
    assert {name for name, _ in crowded_ends(five)} == {each.name for each in five.members}


def end_on_plate(shape: Shape, plate: float = 0.0, up: float = 0.0) -> EndHere:
    """Return an end along x, so far above its point, that a plate closes."""
    return EndHere(Section("s", shape, STEEL), *np.eye(3), np.array([0.0, 0.0, up]), plate)


def test_a_plate_over_an_end_bends_as_plates_do() -> None:
    """A square plate simply held, a load at its middle: 0.0116 P a^2 / D (Timoshenko and Woinowsky-Krieger, table 23; from memory)."""
    side, thick = 0.1, 0.002
    stiffness = STEEL.youngs_modulus * thick**3 / (12 * (1 - STEEL.poissons_ratio**2))
    post = end_on_plate(RectTube(side + thick, side + thick, thick), thick)
    out, left, up = plate_gives(end_on_plate(RectTube(0.0012, 0.0012, 0.0002)), post)
    assert out == pytest.approx(0.0116 * side**2 / stiffness, rel=0.01)
    assert left == pytest.approx(up, rel=1e-9)


def test_a_foot_nearer_the_plates_edge_is_held_better() -> None:
    post = end_on_plate(RectTube(0.1, 0.06, 0.002), 0.002)
    gives = [plate_gives(end_on_plate(RectTube(0.04, 0.04, 0.002), up=high), post)[0] for high in (0.0, 0.01, 0.02, 0.03)]
    assert gives == sorted(gives, reverse=True)
