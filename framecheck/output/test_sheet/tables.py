"""The tables of a test sheet, as the terminal and the page show them."""

from __future__ import annotations

from framecheck.output.display import Units, bare, number, shown_unit
from framecheck.output.html_report.tables import HtmlTable, numbers, words
from framecheck.output.test_sheet.wording import fixed, letter, ranged, reads, where
from framecheck.rig.setup import Stand
from framecheck.rig.sheet import Sheet
from framecheck.units import GRAVITY, POUND_FORCE


def stands(sheet: Sheet, units: Units) -> HtmlTable:
    """Return what holds the frame up."""
    rows = tuple(
        (stand.name, place_of(sheet, stand, units), stand.words, *(bare(each, "force", units) for each in (rest, least, most)))
        for stand, rest, least, most in zip(sheet.rig.stands, sheet.rest, sheet.at_top, sheet.most, strict=True)
    )
    unit = shown_unit("force", units).label
    headings = (*words("stand", "where", "what to put there"), *numbers(f"at rest, {unit}", f"least, {unit}", f"most, {unit}"))
    said = "Least and most: at the top load, whichever way. Stands, straps and chains must bear that and more."
    lifting = " Below zero the frame pulls up there, and the chain holds it down." if min(sheet.at_top) < 0 else ""
    return HtmlTable("Where the frame is held, and how freely", headings, rows, said + lifting)


def place_of(sheet: Sheet, stand: Stand, units: Units) -> str:
    """Return where a stand is: at its one spot, or by x and y."""
    if len(stand.parts) == 1:
        return where(sheet.rig, stand.parts[0].spot, units)
    x, y = (bare(round(each, 6) + 0.0, "length", units) for each in stand.at[:2])
    return f"x {x}, y {y} {shown_unit('length', units).label}"


def steps(sheet: Sheet) -> HtmlTable:
    """Return the load of each step in pounds, kilograms and newtons, and the torque of a rig that twists."""
    twists = bool(sheet.rig.torque)
    rows = []
    for count, load in enumerate(sheet.loads.tolist(), start=1):
        torque = abs(sheet.rig.torque) * load
        cells = (number(load / POUND_FORCE), number(load / GRAVITY), number(load))
        both = (bare(torque, "moment", Units.US), bare(torque, "moment", Units.SI)) if twists else ()
        rows.append((str(count), *cells, *both))
    headings = numbers("step", "lb", "kg", "N", *(("lb·ft", "N·m") if twists else ()))
    return HtmlTable("Loads of the steps", headings, tuple(rows))


def dials(sheet: Sheet, units: Units) -> HtmlTable:
    """Return where each dial stands, which way it reads, and how far off zero it may stay."""
    allowed = sheet.set_allowed
    rows = tuple(
        (letter(row), dial.name, where(sheet.rig, dial.spot, units), reads(dial.direction), set_words(float(allowed[row]), units))
        for row, dial in enumerate(sheet.rig.dials)
    )
    headings = (*words("dial", "name", "where", "reads"), *numbers(f"set allowed, {shown_unit('deflection', units).label}"))
    note = (
        "Set allowed: what a dial may stay off zero after unloading; 5 % of its greatest reading or twice its error "
        "(common practice, no source)."
    )
    return HtmlTable("Dials", headings, rows, note)


def set_words(metres: float, units: Units) -> str:
    """Return a small length in hundredths of a millimetre or ten-thousandths of an inch."""
    return fixed(metres / shown_unit("deflection", units).size, 2 if units is Units.SI else 4)


def expected(sheet: Sheet, units: Units) -> HtmlTable:
    """Return what each dial should read at each step, with its range."""
    band = sheet.dials
    rows = tuple(
        (
            letter(row),
            *(
                ranged(float(band.low[row, step]), float(band.mid[row, step]), float(band.high[row, step]), "deflection", units)
                for step in range(len(sheet.loads))
            ),
        )
        for row in range(len(sheet.rig.dials))
    )
    heads = tuple(f"step {count}" for count in range(1, len(sheet.loads) + 1))
    unit = shown_unit("deflection", units).label
    note = "On stands that don't give. A dial at a stand should read nothing: what it does read is the stand's give."
    return HtmlTable(f"Expected readings, {unit}, with the range in brackets", (*words("dial"), *numbers(*heads)), rows, note)


def at_top(sheet: Sheet, units: Units) -> HtmlTable:
    """Return what each dial should read at the top load, with its range."""
    band, last = sheet.dials, len(sheet.loads) - 1
    rows = tuple(
        (
            letter(row),
            dial.name,
            *(fixed(each / shown_unit("deflection", units).size, 2 if units is Units.SI else 3) for each in band.mid[row].tolist()),
            ranged(float(band.low[row, last]), float(band.mid[row, last]), float(band.high[row, last]), "deflection", units)
            .partition(" ")[2],
        )
        for row, dial in enumerate(sheet.rig.dials)
    )
    heads = tuple(f"step {count}" for count in range(1, last + 2))
    unit = shown_unit("deflection", units).label
    return HtmlTable(
        f"Expected readings, {unit}",
        (*words("dial", "name"), *numbers(*heads), *numbers("range at the last step")),
        rows,
    )


def turns(sheet: Sheet, units: Units) -> HtmlTable:
    """Return the turn of each pair of dials under the top load, less that of the rear pair."""
    rows = tuple(
        (
            plane.name,
            f"{letter(plane.left)} − {letter(plane.right)}",
            bare(plane.x, "length", units),
            bare(plane.span, "length", units),
            ranged(float(sheet.turns.low[row, -1]), float(sheet.turns.mid[row, -1]), float(sheet.turns.high[row, -1]), "angle", units),
        )
        for row, plane in enumerate(sheet.rig.planes)
    )
    length = shown_unit("length", units).label
    headings = (*words("pair", "dials"), *numbers(f"x, {length}", f"apart, {length}", "turn at the top load, deg"))
    return HtmlTable("Twist along the frame, from the rear pair", headings, rows)


def meanings(sheet: Sheet) -> HtmlTable:
    """Return what the stiffness would be if something were not as drawn."""
    kind = "twist stiffness" if sheet.rig.torque else "stiffness"
    with_share = any(each.ahead is not None for each in sheet.meanings)
    rows = tuple(
        (
            each.what,
            bare(each.stiffness, kind, Units.US),
            bare(each.stiffness, kind, Units.SI),
            *((f"{100 * each.ahead:.1f}",) if each.ahead is not None else ()),
        )
        for each in sheet.meanings
    )
    labels = (shown_unit(kind, Units.US).label, shown_unit(kind, Units.SI).label)
    shape = ("twist ahead of the middle, %",) if with_share else ()
    return HtmlTable("What a result would mean", (*words("if"), *numbers(*labels, *shape)), rows)


def at_top_load(sheet: Sheet, row: int, units: Units) -> str:
    """Return what a dial should read at the top load."""
    return fixed(float(sheet.dials.mid[row, -1]) / shown_unit("deflection", units).size, 2 if units is Units.SI else 3)


def form(sheet: Sheet, units: Units) -> HtmlTable:
    """Return the form to fill in: what is expected at the top load, then loads up and down by rows, dials by columns."""
    count, twists = len(sheet.loads), bool(sheet.rig.torque) and not any(stand.lifts for stand in sheet.rig.stands)
    up = [0, *range(1, count + 1), *range(count - 1, -1, -1)]
    order = [*up, *(-each for each in up[1:])] if twists else up
    blank = ("",) * len(sheet.rig.dials)
    expected = (f"expected, +{count}", "", *(at_top_load(sheet, row, units) for row in range(len(sheet.rig.dials))))
    rows = (expected, *((f"{step:+d}".replace("-", "−").replace("+0", "0"), "", *blank) for step in order))
    heads = words("step", "load as read", *(letter(each) for each in range(len(sheet.rig.dials))))
    return HtmlTable(f"Readings, {shown_unit('deflection', units).label}", heads, rows)
