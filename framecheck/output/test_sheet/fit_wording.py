"""A fit in words: what was found, what the readings can't tell apart, and what it changes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import degrees, exp

from framecheck.output.display import Units, number, shown_unit, with_unit
from framecheck.output.html_report.tables import HtmlTable, numbers, words
from framecheck.output.test_sheet.tables import set_words
from framecheck.rig.fit import FitOfReadings, Told, told_of
from framecheck.rig.fitted import Fitted, Next
from framecheck.rig.foretold import Foretold
from framecheck.rig.letters import letter
from framecheck.rig.sampled import Sampled
from framecheck.rig.setup import RigKind
from framecheck.rig.told_apart import Apart, apart
from framecheck.rig.unknowns import OF_THE_TEST, Sort, of_frame

WORTH = 0.9
"""A dial that leaves more than this of what is not known tells little."""
FITS = 2.0
"""Chi square over degrees of freedom above which the model or the test is wrong in a way that no unknown mends."""

STATED = (Sort.TORSION, Sort.BENDING)
ENOUGH = 100.0
"""Draws that a chain must be worth: a standard deviation is then known to 7 %."""
ROUGH = 1.0
"""Standard deviations of a slope by which the chain's surface may miss a solved frame."""
NAUGHT = 1e-6
"""A singular value below this is none: what the solver rounds."""
GIVE_TOLD = 1e-4
"""m and m per m; what stands did at the largest load is told where it is more than this."""


def lines(found: Fitted, units: Units) -> Iterator[str]:
    """Yield what the fit says."""
    fit = found.fit
    yield stiffness_words(found, units)
    yield from count_words(fit)
    yield from left_out_words(found)
    rows = [row for row in told_of(fit) if row.unknown.sort is not Sort.FORCE]
    yield from (told_words(row) for row in rows if row.is_told)
    yield from untold_words([row for row in rows if not row.is_told])
    yield from (apart_words(each) for each in apart(fit) if each.unknown.sort not in OF_THE_TEST)
    yield from give_words(fit, units)
    yield from (foretold_words(each, units) for each in found.others)
    if found.sampled is not None:
        yield sampled_words(fit, found.sampled)
    if found.next is not None:
        yield next_words(found.next, fit, units)
    if fit.bound.name:
        yield f"The file leaves ends open; the readings fit best with {fit.bound.name}."


def stiffness_words(found: Fitted, units: Units) -> str:
    """Return the stiffness as drawn and as fitted."""
    kind = "twist stiffness" if found.is_twist else "stiffness"
    size, label = shown_unit(kind, units).size, shown_unit(kind, units).label
    return (
        f"Stiffness of the frame on this rig: {number(found.drawn / size)} {label} as drawn, {number(found.stiffness / size)} "
        f"± {number(2 * found.sigma / size, 2)} as fitted (± two standard deviations)."
    )


def foretold_words(of: Foretold, units: Units) -> str:
    """Return what a test that was not made would tell."""
    kind = "twist stiffness" if of.is_twist else "stiffness"
    size, label = shown_unit(kind, units).size, shown_unit(kind, units).label
    low, high = (number(of.stiffness * exp(way * 2 * of.sigma / of.stiffness) / size) for way in (-1, 1))
    both = f"{number(of.stiffness / size)} ({low} to {high}) {label}, {number(of.drawn / size)} as drawn"
    return f"A {of.kind.value} test was not made; by this fit it should give {both}."


def left_out_words(found: Fitted) -> Iterator[str]:
    """Yield which dials were left out, because they read the wrong way round or not at all."""
    for test in found.tests:
        if test.wrong:
            yield f"LEFT OUT of the fit, for they read wrong: dials {', '.join(letter(row) for row in sorted(test.wrong))}."


def count_words(fit: FitOfReadings) -> Iterator[str]:
    """Yield how much the readings tell, and whether they are too few or fit badly."""
    count = sum(len(each.slopes) for each in fit.data)
    rows = of_frame(fit.unknowns)
    unknowns, combos = (counted(*each) for each in ((len(rows), "unknown"), (fit.told, "combination")))
    yield f"{count} dials, {unknowns} of the frame: the readings tell {combos} of these better than known before (the table below)."
    if count < len(fit.unknowns):
        yield (
            f"FEWER READINGS THAN UNKNOWNS: {count} dials for {len(fit.unknowns)}, force and stands among them. What they don't tell "
            "stays as it was known before: that is no measurement."
        )
    if fit.misfit > FITS:
        yield f"THE FIT IS POOR (chi square {number(fit.misfit, 3)} a reading): something moves that no unknown here stands for."


def counted(count: int, what: str) -> str:
    """Return how many of a thing there are."""
    return f"{count or 'no'} {what}{'' if count == 1 else 's'}"


def apart_words(each: Apart) -> str:
    """Return how an unknown hangs together with another in what the readings tell."""
    return (
        f"Not told apart: {each.unknown.name} and {each.partner.name} move the dials nearly alike, so that what is told of one hangs "
        f"on the other (correlation {each.correlation:+.2f}). Measure one of the two by other means, or read where they differ."
    )


def give_words(fit: FitOfReadings, units: Units) -> Iterator[str]:
    """Yield what the stands of each test did at its largest load, where it is more than a dial's error."""
    for number_of, data in enumerate(fit.data):
        up, along, across = (
            float(value) * data.top
            for each, value in zip(fit.unknowns, fit.values, strict=True)
            if each.sort is Sort.GIVE and each.test[0] == number_of
        )
        if max(abs(up), abs(along), abs(across)) > GIVE_TOLD:
            which = f" in test {number_of + 1}" if len(fit.data) > 1 else ""
            rise = f"{set_words(up, units)} {shown_unit('deflection', units).label}"
            front, left = (round(degrees(each), 3) + 0.0 for each in (along, across))
            tilts = f"front end up by {front:.3f} deg, left side up by {left:.3f} deg"
            yield f"The stands gave{which}, at the largest load: up by {rise}, {tilts}. That is taken out."


def sampled_words(fit: FitOfReadings, of: Sampled) -> str:
    """Return what a chain says of the spread."""
    rows = of_frame(fit.unknowns)
    most = max(rows, key=lambda row: abs(of.sigma[row] / fit.sigma[row] - 1.0))
    ratio = float(of.sigma[most] / fit.sigma[most])
    short = "" if of.worth >= ENOUGH else " TOO SHORT to tell: ask for more steps."
    rough = "" if of.off <= ROUGH else " TOO ROUGH to check the spread by."
    return (
        f"A chain of {of.steps} steps of {of.walkers} walkers (emcee), worth {of.worth:.0f} draws:{short} standard deviations are as "
        f"told within {100 * abs(ratio - 1):.0f} % (most off: {fit.unknowns[most].name}, {ratio:.2f} times). It reads the dials off a "
        f"surface through {of.frames} solved frames, which missed ten of its draws, solved, by {of.off:.2g} of a slope's own standard "
        f"deviation at most.{rough}"
    )


def told_words(row: Told) -> str:
    """Return one unknown in words."""
    of = "the middle of what is stated" if row.unknown.sort in STATED else "what is drawn"
    return f"{capital(row.unknown.name)}: {ranged(row)} times {of}."


def ranged(row: Told) -> str:
    """Return a factor with its range."""
    low, high = (row.factor * exp(way * 2 * row.after) for way in (-1, 1))
    return f"{row.factor:.2f} ({low:.2f} to {high:.2f})"


def untold_words(rows: Sequence[Told]) -> Iterator[str]:
    """Yield what stays as it was known before."""
    if rows:
        names = "; ".join(f"{row.unknown.name} {ranged(row)}" for row in rows)
        yield f"NOT TOLD by this test, which hardly knows more of them than was known before: {names}."


def capital(words_of: str) -> str:
    """Return words that begin a sentence."""
    return f"{words_of[:1].upper()}{words_of[1:]}"


ANOTHER = {
    RigKind.TORSION: "a torsion test",
    RigKind.BEAMING: "a beaming test",
    RigKind.CROSSMEMBER: "a crossmember pressed in its middle (--rig crossmember --at NAME), which tells its ends",
}
"""Tests by what they tell best, of which the first that was not made is named."""


def another_test(fit: FitOfReadings) -> str:
    """Return which other test would tell more."""
    made = {each.rig.asked.kind for each in fit.data}
    return next((words_of for kind, words_of in ANOTHER.items() if kind not in made), "a bracket pulled")


def next_words(of: Next, fit: FitOfReadings, units: Units) -> str:
    """Return what one more dial would tell."""
    place = f"{of.place}, x {with_unit(of.x, 'length', units)}"
    if of.after > WORTH * of.before:
        return f"No one dial more would tell much (the best place, {place}, a tenth at most); another test would: {another_test(fit)}."
    return (
        f"One more dial would tell most at {place}: {of.unknown} would then be known to ± {100 * of.after:.0f} % in place of "
        f"± {100 * of.before:.0f} % (one standard deviation)."
    )


def singular_table(fit: FitOfReadings) -> HtmlTable:
    """Return what the readings can tell: the singular values and what is in each combination."""
    rows = []
    names = [fit.unknowns[row].name for row in of_frame(fit.unknowns)]
    for size, combo in zip(fit.singular.tolist(), fit.combos, strict=True):
        order = sorted(range(len(combo)), key=lambda row: -abs(combo[row]))[:3]
        parts = ", ".join(f"{combo[row]:+.2f} {names[row]}" for row in order if abs(combo[row]) > 0.2)
        rows.append((number(size, 3) if size > NAUGHT else "0", "yes" if size > 1.0 else "no", parts.replace("-", "−")))
    note = (
        "Combinations of the frame's unknowns, each counted by what was known of it before, force and stands taken out; above 1 the "
        "readings tell more than was known."
    )
    return HtmlTable("What the readings tell", (*numbers("singular value"), *words("told", "mostly of")), tuple(rows), note)
