"""Joints: more bolts, thicker parts, better grades and larger legs never carry less (hypothesis)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from framecheck.checks.bolts.group_rows import check_group as check_bolts
from framecheck.checks.joint_rows import Line
from framecheck.checks.welds.check import check_fillets as check_welds
from framecheck.checks.welds.spots import check_spots as check_spots
from framecheck.checks.welds.spots import check_stitches as check_stitch
from framecheck.model.joints import BoltGroup, JointLoad, Ply
from framecheck.model.weld_joints import (
    SeamForces,
    ShearWay,
    SpotGroup,
    SpotKind,
    Stitch,
    WeldedPart,
    WeldGroup,
    WeldRun,
)
from framecheck.results.row import CheckResult
from tests.unit.checks.joint_samples import (
    BOLTS,
    NOWHERE,
    SIDE,
    STEEL,
    WELDS,
    four_bolts,
    grade,
    m10,
    plate,
    weld_group,
)
from tests.unit.checks.lines import mode_of

STRENGTH = ("N", "N/m", "1")
Way = tuple[float, float, float]
forces = st.tuples(*(st.floats(-2e4, 2e4) for _ in range(3)))
moments = st.tuples(*(st.floats(-1e3, 1e3) for _ in range(3)))
growths = st.floats(1.0, 2.0)
few = settings(max_examples=60, deadline=None)


def factors(lines: Iterable[Line]) -> dict[str, float]:
    """Return the safety factor of each mode of strength; rules of layout (lengths) apart."""
    return {mode_of(row): row.safety_factor for row in lines if isinstance(row, CheckResult) and row.unit in STRENGTH}


def never_less(before: dict[str, float], after: dict[str, float]) -> None:
    """Fail where a mode carries less than before, or the least of all does; a mode that begins to apply may do so."""
    assert before
    for mode in before.keys() & after.keys():
        assert after[mode] >= before[mode] * (1 - 1e-9), mode
    assert min(after.values()) >= min(before.values()) * (1 - 1e-9)


def bolted(group: BoltGroup, force: Way, moment: Way) -> dict[str, float]:
    return factors(check_bolts(group, (JointLoad("any", force, moment),), BOLTS.edges))


def welded(group: WeldGroup, force: Way, moment: Way) -> dict[str, float]:
    return factors(check_welds(group, (JointLoad("any", force, moment),), WELDS.least_legs))


def grid(columns: int) -> tuple[tuple[float, float], ...]:
    """Return two rows of evenly spaced places over one span: its corners stay where they are."""
    return tuple((float(x), y) for y in (-0.03, 0.03) for x in np.linspace(-0.06, 0.06, columns))


@few
@given(forces, moments, st.integers(2, 5))
def test_more_bolts_over_the_same_span(force: Way, moment: Way, columns: int) -> None:
    """Each share is F / n and M r / sum r2: both fall at the corner bolt, which is the worst."""
    before, after = (bolted(four_bolts(positions=grid(n)), force, moment) for n in (columns, columns + 1))
    # more holes leave less metal between them, and each bolt has less of the plate that bends beside it
    less = ("tear-out", "net section", "a block", "bolt tension with prying", "bolt shear with tension")
    alike = {mode for mode in before if not mode.startswith(less)}
    never_less({mode: before[mode] for mode in alike}, {mode: after[mode] for mode in alike & after.keys()})


@few
@given(forces, moments, growths)
def test_a_thicker_ply(force: Way, moment: Way, growth: float) -> None:
    thin, thick = (four_bolts(plies=(plate(0.004 * times),)) for times in (1.0, growth))
    never_less(bolted(thin, force, moment), bolted(thick, force, moment))


@few
@given(forces, moments, growths)
def test_a_stronger_ply(force: Way, moment: Way, growth: float) -> None:
    stronger = replace(STEEL, yield_strength=growth * STEEL.yield_strength, ultimate_strength=growth * STEEL.ultimate_strength)
    soft, hard = (four_bolts(plies=(Ply("plate", 0.004, metal, 0.025),)) for metal in (STEEL, stronger))
    never_less(bolted(soft, force, moment), bolted(hard, force, moment))


@few
@given(forces, moments, st.sampled_from([("8.8", "10.9"), ("10.9", "12.9"), ("grade 5", "grade 8")]))
def test_a_higher_grade_of_bolt(force: Way, moment: Way, grades: tuple[str, str]) -> None:
    low, high = (four_bolts(bolt=m10(grade=grade(name))) for name in grades)
    never_less(bolted(low, force, moment), bolted(high, force, moment))


@few
@given(forces, moments, growths)
def test_a_tighter_bolt_slips_no_sooner(force: Way, moment: Way, growth: float) -> None:
    loose, tight = (four_bolts(bolt=m10(clamp_share=0.45 * times)) for times in (1.0, growth))
    never_less(bolted(loose, force, moment), bolted(tight, force, moment))


def square(leg: float, side: float = 0.08) -> tuple[WeldRun, ...]:
    corners = [(0.0, 0.0, 0.0), (side, 0.0, 0.0), (side, 0.0, side), (0.0, 0.0, side)]
    return tuple(WeldRun(a, b, leg) for a, b in zip(corners, corners[1:] + corners[:1], strict=True))


@few
@given(forces, moments, growths)
def test_a_larger_leg(force: Way, moment: Way, growth: float) -> None:
    small, large = (weld_group(square(0.003 * times)) for times in (1.0, growth))
    never_less(welded(small, force, moment), welded(large, force, moment))


@few
@given(forces, moments, growths)
def test_a_thicker_wall_beside_a_weld(force: Way, moment: Way, growth: float) -> None:
    thin, thick = (weld_group(square(0.003), thickness=0.003 * times) for times in (1.0, growth))
    never_less(welded(thin, force, moment), welded(thick, force, moment))


@few
@given(forces, moments, st.permutations(range(len(WELDS.electrodes))))
def test_a_stronger_filler(force: Way, moment: Way, order: list[int]) -> None:
    weak, strong = sorted((WELDS.electrodes[n] for n in order[:2]), key=lambda each: each.shear)
    groups = [weld_group(square(0.003), electrode=each) for each in (weak, strong)]
    never_less(*(welded(group, force, moment) for group in groups))


@few
@given(st.floats(1e2, 2e4), growths, st.sampled_from(["leg", "length", "pitch", "wall"]))
def test_more_stitch(shear: float, growth: float, what: str) -> None:
    seam = Stitch(
        "seam", "rail", 0.04, 0.12, 0.003, 2, ShearWay.VERTICAL, 4e-5, 4e-6, WELDS.electrodes[0],
        (WeldedPart("cap", 0.003, STEEL), WeldedPart("rail", 0.004, STEEL)),
    )  # fmt: skip
    more = {
        "leg": replace(seam, leg=seam.leg * growth),
        "length": replace(seam, length=seam.length * growth),
        "pitch": replace(seam, pitch=seam.pitch / growth),
        "wall": replace(seam, parts=tuple(replace(part, thickness=part.thickness * growth) for part in seam.parts)),
    }[what]
    loads = (SeamForces("any", 0.0, shear, 0.0, 0.0),)
    before, after = (factors(check_stitch(each, loads)) for each in (seam, more))
    if what == "length":  # the tearing strength of sheet falls with length over thickness, that of the whole stitch does not
        before, after = ({mode: each[mode] for mode in each if not mode.startswith("tearing")} for each in (before, after))
    never_less(before, after)


@few
@given(forces, moments, st.sampled_from(SpotKind), st.integers(2, 5))
def test_more_spots_over_the_same_span(force: Way, moment: Way, kind: SpotKind, columns: int) -> None:
    parts = (WeldedPart("outer", 0.002, STEEL), WeldedPart("inner", 0.003, STEEL))
    few, more = (SpotGroup("spots", NOWHERE, SIDE, grid(n), kind, 0.01, WELDS.electrodes[0], parts) for n in (columns, columns + 1))
    before, after = (factors(check_spots(group, (JointLoad("any", force, moment),))) for group in (few, more))
    for each in before, after:
        each.pop("pull on spots, not counted in peel", None)  # more spots share what presses too: at the edge it may turn to a pull
    never_less(before, after)


def test_a_twist_about_the_normal_pulls_on_no_spot() -> None:
    """Found by hypothesis: a pull of rounding alone was called LOW."""
    parts = (WeldedPart("outer", 0.002, STEEL), WeldedPart("inner", 0.003, STEEL))
    places = (*grid(2), (0.015625, 0.004706635652647952), (-0.015625, -0.004706635652647952))
    group = SpotGroup("spots", NOWHERE, SIDE, places, SpotKind.PLUG, 0.01, WELDS.electrodes[0], parts)
    found = factors(check_spots(group, (JointLoad("twist", (0.0, 0.0, 0.0), (0.0, 1.0, 0.0)),)))
    assert not [mode for mode in found if "pull" in mode]
