"""The words of a test sheet: where things stand, how much to load, what to do in which order, what a result would mean."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.output.display import Units, bare, factor, number, shown_unit, with_unit
from framecheck.rig.letters import letter as letter
from framecheck.rig.rigs import direction_words
from framecheck.rig.setup import ForceBy, HeldFront, Rig, RigKind, Spot
from framecheck.rig.sheet import Sheet
from framecheck.rig.stop import Stop, StopBy
from framecheck.units import GRAVITY, POUND_FORCE

AT = 1e-3
"""m; a place as near as this to a stand is at it."""
TITLES = {
    RigKind.TORSION: "Torsion test: the front twisted, the rear held",
    RigKind.CORNER: "Corner test: one wheel jacked up on a scale",
    RigKind.BEAMING: "Beaming test: the frame bent down between its axles",
    RigKind.BRACKET: "Bracket test: one point pulled",
    RigKind.CROSSMEMBER: "Crossmember test: pressed down in its middle",
}
FORCE_WORDS = {
    ForceBy.WEIGHTS: "hung weights, each weighed to 0.5 %",
    ForceBy.SCALE: "a platform scale, good to 1 %",
    ForceBy.GAUGE: "the gauge of a jack, good to 5 % at best: a scale or weights would halve the doubt",
}
def title(sheet: Sheet) -> str:
    """Return the rig in words, with how its front stands."""
    held = f", {sheet.rig.asked.held.value}" if sheet.rig.asked.kind is RigKind.TORSION else ""
    blocked = f", suspension {sheet.rig.asked.suspension.value}" if sheet.rig.asked.kind is RigKind.CORNER else ""
    at = f" ({sheet.rig.asked.at})" if sheet.rig.asked.at else ""
    return f"{TITLES[sheet.rig.asked.kind]}{held}{blocked}{at}"


def force(newtons: float) -> str:
    """Return a force in pounds, kilograms and newtons: what a scale shows in any shop."""
    return f"{number(newtons / POUND_FORCE, 3)} lb = {number(newtons / GRAVITY, 3)} kg = {number(newtons, 3)} N"


def where(rig: Rig, spot: Spot, units: Units) -> str:
    """Return where a spot is, so that it can be found with a tape."""
    on = f"point {spot.point}" if spot.point else spot.member
    first = max(rig.stands, key=lambda stand: stand.at[0])
    apart = first.at[0] - spot.at[0]
    if abs(apart) < AT:
        return f"{on}, over the {first.name}" if not spot.point else on
    side = "behind" if apart > 0 else "ahead of"
    return f"{on}, {with_unit(abs(apart), 'length', units)} {side} the {first.name}"


def reads(direction: tuple[float, float, float]) -> str:
    """Return what a dial's + means."""
    return f"+ {direction_words(direction)}"


def ranged(low: float, mid: float, high: float, quantity: str, units: Units) -> str:
    """Return an expected value with its range, in hundredths of a millimetre or thousandths of an inch."""
    places = {"deflection": 2 if units is Units.SI else 3, "angle": 3}.get(quantity)
    size = shown_unit(quantity, units).size
    low, mid, high = (each / size for each in (low, mid, high))
    if places is None:
        return f"{number(mid, 3)} ({number(low, 3)} to {number(high, 3)})"
    return f"{fixed(mid, places)} ({fixed(low, places)} to {fixed(high, places)})"


def fixed(value: float, places: int) -> str:
    """Return a number with so many decimals; nothing has no sign."""
    return f"{round(value, places) + 0.0:.{places}f}"


def stiffness_words(sheet: Sheet, units: Units) -> str:
    """Return the expected stiffness in one sentence."""
    kind = "twist stiffness" if sheet.rig.torque else "stiffness"
    low, mid, high = (float(each[0]) for each in (sheet.stiffness.low, sheet.stiffness.mid, sheet.stiffness.high))
    what = "twist between the front and the rear dials" if sheet.rig.torque else sag_words(sheet.rig)
    other = Units.US if units is Units.SI else Units.SI
    both = f"{with_unit(mid, kind, units)} ({bare(low, kind, units)} to {bare(high, kind, units)}), in {shown_unit(kind, other).label}"
    return f"Expected of the {what}: {both} {bare(mid, kind, other)} ({bare(low, kind, other)} to {bare(high, kind, other)})."


def sag_words(rig: Rig) -> str:
    """Return what the sag is read by."""
    letters = " and ".join(letter(each) for each in rig.sag)
    return f"load over the mean of dials {letters}" if len(rig.sag) > 1 else f"load over what dial {letters} reads"


def stop_line(stop: Stop) -> str:
    """Return a stop load with what sets it."""
    if stop.by is StopBy.CHECK and stop.row is not None:
        row = stop.row
        return f"{force(stop.load)}: {row.check.words} of {row.where} comes to its target (factor {factor(row.target)})"
    return f"{force(stop.load)}: {stop.by.value}{f': {stop.where}' if stop.where else ''}"


def first_lines(sheet: Sheet, units: Units) -> Iterator[str]:
    """Yield what to know before anything is touched: the top load, the stop load, the stiffness expected."""
    top = float(sheet.loads[-1])
    torque = abs(sheet.rig.torque) * top
    twist = f", {with_unit(torque, 'moment', Units.US)} = {with_unit(torque, 'moment', Units.SI)}" if sheet.rig.torque else ""
    yield f"Load: {sheet.rig.load_words}{arm_words(sheet.rig)}. In {len(sheet.loads)} steps up to {force(top)}{twist}."
    if sheet.stops:
        yield f"NEVER PASS {stop_line(sheet.stops[0])}."
    else:
        yield "No check misses its target by any load that moves a dial less than 64 mm: the jack or the scale sets the limit."
    yield stiffness_words(sheet, units)
    yield from target_lines(sheet, units)


def arm_words(rig: Rig) -> str:
    """Return how far from the pivot the weight hangs."""
    if rig.asked.kind is not RigKind.TORSION or rig.asked.held is not HeldFront.THREE:
        return ""
    return f"; it hangs {with_unit(rig.torque, 'length', Units.US)} = {with_unit(rig.torque, 'length', Units.SI)} from the pivot"


def target_lines(sheet: Sheet, units: Units) -> Iterator[str]:
    """Yield what a code or the shop asks for, and whether the expected range reaches it."""
    target = sheet.target
    if target is None:
        return
    if target.stiffness is not None and sheet.rig.torque:
        low, high = float(sheet.stiffness.low[0]), float(sheet.stiffness.high[0])
        least = with_unit(target.stiffness, "twist stiffness", units)
        yield f"Asked for ({target.name}): at least {least}; {beside(low, high, target.stiffness)}. Source: {target.source}."
    if target.sag is not None and not sheet.rig.torque:
        top = float(sheet.loads[-1])
        low, high = top / float(sheet.stiffness.high[0]), top / float(sheet.stiffness.low[0])
        yield (
            f"Asked for ({target.name}): at most {with_unit(target.sag, 'deflection', units)} of sag; under the top load "
            f"{with_unit(low, 'deflection', units)} to {with_unit(high, 'deflection', units)} is expected. Source: {target.source}."
        )
    if target.note:
        yield target.note


def beside(low: float, high: float, asked: float) -> str:
    """Return how an expected range lies beside what is asked at least."""
    if low >= asked:
        return "the whole range is above it"
    return "the whole range is below it" if high < asked else "the range lies on both sides of it: only the test tells"


def safety_lines(sheet: Sheet) -> Iterator[str]:
    """Yield what keeps people whole."""
    yield "Nobody under the frame while it is loaded; hands out from between frame and stand."
    yield "Stands on solid floor, none of them on wheels of its own."
    if any(stand.lifts for stand in sheet.rig.stands):
        yield "Wheels chocked; a stand close below the sill of the jacked corner, followed up step by step."
    else:
        yield "Chain the frame down at every stand, so that it can't jump; block the way of jack or weight just beyond the top load."
    yield "Look along every seam and weld before and after. Stop at a noise, at a step in a dial, at a dial that does not come back."


def order_lines(sheet: Sheet) -> Iterator[str]:
    """Yield what to do, in order."""
    rig, steps = sheet.rig, len(sheet.loads)
    yield "Set dials on the floor or on a bar that carries no load, never on a loaded stand. Tap each, then note what it reads."
    yield f"Load to step {max(1, steps // 2)} and take all off again, twice, so that everything seats. Then set every dial to zero."
    yield f"Load step by step to step {steps}; at each wait until the dials rest, then write them down. Unload by the same steps."
    if rig.torque and rig.asked.kind is not RigKind.CORNER:
        yield "Do the same the other way round (−). A frame that is sound reads the same both ways."
    if rig.asked.kind is RigKind.TORSION and rig.asked.held is HeldFront.THREE:
        drop = abs(rig.torque) * float(sheet.turns.high[0, -1])
        both = f"{with_unit(drop, 'deflection', Units.US)} = {with_unit(drop, 'deflection', Units.SI)}"
        yield f"Leave the beam's end room: it goes down by up to {both}, and up by as much the other way."
    yield "At zero load every dial is back within its allowed set; else say so on the sheet, and look for what moved."
    if any(dial.at_stand for dial in rig.dials):
        yield give_line(rig)
    yield f"The force is told by {FORCE_WORDS[rig.asked.force_by]}."


def give_line(rig: Rig) -> str:
    """Return how what stands give is taken out."""
    names = [letter(number) for number, dial in enumerate(rig.dials) if dial.at_stand]
    if rig.planes:
        last = rig.planes[-1]
        return (
            f"Stands give: dials {' and '.join(names)} read how much. Turn at a pair = (left − right) / distance between the two; "
            f"take from each the turn of {letter(last.left)} and {letter(last.right)}. What is left is the frame's own."
        )
    return (
        f"Stands give: dials {', '.join(names)} read how much. Take from each other dial what a straight line (or plane) "
        "through these would read there."
    )


def meaning_lines(sheet: Sheet) -> Iterator[str]:
    """Yield what other results would mean."""
    yield (
        "Softer than the range: a joint, a seam or a wall gives more than the file says. The place tells: where the twist (or "
        "the sag) grows faster than expected."
    )
    yield (
        "Stiffer than the range: something not in the file carries (a cab, a chain pulled sideways, a stand that binds), or the "
        "force reads too high."
    )
    yield "A kink in the twist along the frame: the joint there. A step or a jump between two steps: something slips."
    yield (
        "Unloading reads other than loading, and comes back to zero: slip in bolts, rivets or stands. It does not come back: set; "
        "look for cracks and folds."
    )
    yield "One way softer than the other: a crack or a seam that opens, or a joint loose one way."
    if sheet.bounds:
        yield (
            f"The file leaves something open, such as how stiff joints are: {len(sheet.bounds)} ways were solved, and the "
            "range spans all of them. The readings will close it."
        )


def range_line(sheet: Sheet) -> str:
    """Return of what the ranges are made."""
    return (
        "Ranges: every wall 10 % thinner or thicker (ASTM A500/A500M for tubes; taken for all), all that the file leaves open, "
        f"modulus ± 2 %, force as said above, dial {sheet.dial_error * 1e3:.3f} mm, dial placed ± 5 mm along the frame"
        f"{', arm ± 3 mm' if sheet.rig.torque else ''} (common practice, no source)."
    )


def notes(sheet: Sheet) -> Iterator[str]:
    """Yield what was chosen and what is not counted."""
    yield from sheet.rig.notes
    yield range_line(sheet)
    yield "A frame on stands is not a car on the road: the test tells stiffness and where it is lost, not strength."
