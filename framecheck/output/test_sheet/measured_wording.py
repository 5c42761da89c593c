"""What readings say, in words: the stiffness beside the expected one, where the frame gives more, what is odd and what to do of it."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.output.display import Units, bare, number, shown_unit, with_unit
from framecheck.output.html_report.tables import HtmlTable, numbers, words
from framecheck.output.test_sheet.tables import set_words
from framecheck.output.test_sheet.wording import force, letter
from framecheck.rig.findings import Odd, OddReading
from framecheck.rig.measured import Amount, Bay, MeasuredTest

NOTHING = "-"
REMEDIES = {
    Odd.NO_ZERO: "Set and seating can't be told. Read every dial at zero load first and last.",
    Odd.SEATING: "The slope of all steps is used, not the first. Load and unload twice before the next test.",
    Odd.BENT: "Softening: slip, a wall that buckles or metal that yields; stiffening: something comes to bear. The slope is a mean.",
    Odd.ONE_WAY: "A crack or a seam that opens, a joint loose one way, or a stand that lifts: look at it loaded each way.",
    Odd.LOOP: "Slip in bolts, rivets or stands; the slope is that of both ways together.",
    Odd.SET: "Something yielded, slid or settled. Unload, look for cracks and folds, and test again before driving.",
    Odd.REVERSED: "Turn its sign round in the file if it was set the other way; else the frame does what nobody expects.",
    Odd.SILENT: "Its stem sticks, or it was read wrongly.",
    Odd.GIVES: "It is taken out of the other readings.",
    Odd.STAND_MOVED: "Readings after the jump belong to another rig: chain the stand, and repeat the test.",
    Odd.STANDS_NOT_READ: "The stiffness holds stands and frame together: the frame's own is higher.",
    Odd.BEYOND_STOP: "Look for set, cracks and folded walls before anything else.",
    Odd.ANOTHER_FRAME: "Check arm, force and units; a fit to these readings would mend the wrong thing.",
}
LENGTHS = {Odd.BENT, Odd.LOOP, Odd.SET, Odd.SILENT, Odd.GIVES, Odd.STAND_MOVED}


def stiffness_kind(found: MeasuredTest) -> str:
    """Return the quantity of the whole's stiffness."""
    return "twist stiffness" if found.sheet.rig.torque else "stiffness"


def plus_minus(amount: Amount, kind: str, units: Units) -> str:
    """Return a measured number with two standard deviations."""
    return f"{number(amount.value / shown_unit(kind, units).size, 4)} ± {number(2 * amount.sigma / shown_unit(kind, units).size, 2)}"


def first_lines(found: MeasuredTest, units: Units) -> Iterator[str]:
    """Yield the answer: the stiffness, and how far the file was off."""
    kind, whole = stiffness_kind(found), found.stiffness
    if whole is None:
        yield "No stiffness: the dials that tell it were not all read, or did not move."
        return
    other = Units.US if units is Units.SI else Units.SI
    label, second = shown_unit(kind, units).label, shown_unit(kind, other).label
    both = f"{plus_minus(whole, kind, units)} {label} = {plus_minus(whole, kind, other)} {second}"
    yield f"Measured: {both} (± two standard deviations)."
    low, mid, high = (float(each[0]) for each in (found.sheet.stiffness.low, found.sheet.stiffness.mid, found.sheet.stiffness.high))
    ratio = whole.value / mid
    side = "stiffer" if ratio > 1 else "softer"
    within = low - 2 * whole.sigma <= whole.value <= high + 2 * whole.sigma
    said = "within what was expected" if within else f"OUTSIDE what was expected: {side} than anything that the file allows"
    yield (
        f"The file says {bare(mid, kind, units)} ({bare(low, kind, units)} to {bare(high, kind, units)}) {label}: the frame is "
        f"{abs(100 * (ratio - 1)):.1f} % {side} than drawn, {said}."
    )
    yield from target_line(found, whole, units)


def target_line(found: MeasuredTest, whole: Amount, units: Units) -> Iterator[str]:
    """Yield whether what is asked for was reached."""
    target = found.sheet.target
    if target is None or target.stiffness is None or not found.sheet.rig.torque:
        return
    sure = abs(whole.value - target.stiffness) > 2 * whole.sigma
    met = whole.value >= target.stiffness
    said = ("reached" if met else "NOT REACHED") if sure else "not told apart by this test"
    yield f"Asked for ({target.name}): {with_unit(target.stiffness, 'twist stiffness', units)}: {said}. Source: {target.source}."


def bay_lines(found: MeasuredTest) -> Iterator[str]:
    """Yield how each bay came out, in words."""
    for bay in found.bays:
        yield f"{bay.first} to {bay.second}: {bay_words(bay)}"


def bay_words(bay: Bay) -> str:
    """Return how a bay twists beside what is expected."""
    value, doubt = bay.ratio.value, 2 * bay.ratio.sigma
    said = f"twists {value:.2f} ± {doubt:.2f} times as much as drawn ({bay.low:.2f} to {bay.high:.2f} expected)"
    if not bay.is_off:
        return f"{said}."
    there = f"; {', '.join(bay.crossmembers)} and its joints are there" if bay.crossmembers else "; only the rails are there"
    return f"{said}: {'SOFTER' if value > bay.high else 'STIFFER'} here{there}."


def finding_lines(found: MeasuredTest, units: Units) -> Iterator[str]:
    """Yield what is odd and what to do of it, each kind once: of the dial where it is most, and at which others."""
    kinds: dict[Odd, list[OddReading]] = {}
    for each in found.findings:
        kinds.setdefault(each.odd, []).append(each)
    for odd, alike in kinds.items():
        worst = max(alike, key=lambda each: -each.value if odd is Odd.SEATING else abs(each.value))
        others = ", ".join(each.dial.partition(" ")[0] for each in alike if each is not worst)
        also = f"; also {'dials' if len(alike) > 2 else 'dial'} {others}" if others else ""
        yield f"{finding_words(worst, units)}{also}. {REMEDIES[odd]}"


def finding_words(each: OddReading, units: Units) -> str:
    """Return what is odd, with its size."""
    where = f"dial {each.dial}: " if each.dial else ""
    unit = shown_unit("deflection", units).label
    if each.odd in LENGTHS:
        return f"{where}{each.odd.value}, by {set_words(abs(each.value), units)} {unit} ({set_words(abs(each.limit), units)} allowed)"
    if each.odd is Odd.BEYOND_STOP:
        return f"{each.odd.value}: {force(each.value)}, the stop load is {force(each.limit)}"
    if each.odd is Odd.ONE_WAY:
        return f"{where}{each.odd.value}, by {100 * each.value:.0f} % ({100 * each.limit:.0f} % allowed)"
    if each.odd is Odd.SEATING:
        return f"{where}{each.odd.value} (it moved {100 * each.value:.0f} % of what later steps move per load)"
    if each.odd is Odd.ANOTHER_FRAME:
        return f"{each.odd.value}: {each.value:.2f} times as stiff as drawn"
    return f"{where}{each.odd.value}"


def dial_table(found: MeasuredTest, units: Units) -> HtmlTable:
    """Return what each dial read per load beside what it should."""
    sheet, top = found.sheet, float(found.sheet.loads[-1])
    rows = []
    for row, (dial, slope) in enumerate(zip(sheet.rig.dials, found.slopes, strict=True)):
        if slope is None:
            rows.append((letter(row), dial.name, *(NOTHING,) * 5))
            continue
        expected = tuple(set_words(float(each[row, -1]), units) for each in (sheet.dials.low, sheet.dials.mid, sheet.dials.high))
        read = (set_words(slope.value * top, units), set_words(2 * slope.sigma * top, units))
        rows.append((letter(row), dial.name, *read, expected[1], f"{expected[0]} to {expected[2]}", str(slope.count)))
    unit = shown_unit("deflection", units).label
    heads = (*words("dial", "name"), *numbers(f"read, {unit}", "±", "expected", "range", "readings"))
    return HtmlTable(f"Dials under {force(top)}, by the line through all readings", heads, tuple(rows))


def pair_table(found: MeasuredTest, units: Units) -> HtmlTable:
    """Return each pair's stiffness: torque over the turn of that pair."""
    rows: list[tuple[str, ...]] = []
    for plane, amount, slope in zip(found.sheet.rig.planes, found.pairs, found.turn_slopes, strict=True):
        if amount is None or slope is None or amount.value == float("inf"):
            rows.append((plane.name, bare(round(plane.x, 6) + 0.0, "length", units), *(NOTHING,) * 4))
            continue
        both = (plus_minus(amount, "twist stiffness", each) for each in (Units.US, Units.SI))
        share = f"{100 * amount.scatter / amount.value:.1f}"
        turn = number(slope.value * float(found.sheet.loads[-1]) / shown_unit("angle", units).size, 3)
        rows.append((plane.name, bare(round(plane.x, 6) + 0.0, "length", units), turn, *both, share))
    us, si = (shown_unit("twist stiffness", each).label for each in (Units.US, Units.SI))
    heads = (*words("pair"), *numbers(f"x, {shown_unit('length', units).label}", "turn at the top load, deg", us, si, "scatter, %"))
    note = "Torque over turn; ± two standard deviations with force, arm and distances. Scatter: one, of the line alone."
    return HtmlTable("Stiffness from the held end to each pair", heads, tuple(rows), note)
