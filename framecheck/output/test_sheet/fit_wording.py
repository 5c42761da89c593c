"""A fit in words: what was found, what the readings can't tell apart, and what it changes."""

from __future__ import annotations

from collections.abc import Iterator
from math import exp

from framecheck.output.display import Units, number, shown_unit, with_unit
from framecheck.output.html_report.tables import HtmlTable, numbers, words
from framecheck.rig.fit import FitOfReadings, Told, told_of
from framecheck.rig.fitted import Fitted, Next
from framecheck.rig.sampled import Sampled
from framecheck.rig.unknowns import Sort, of_frame

WORTH = 0.9
"""A dial that leaves more than this of what is not known tells little."""
FITS = 2.0
"""Chi square over degrees of freedom above which the model or the test is wrong in a way that no unknown mends."""


def lines(found: Fitted, units: Units) -> Iterator[str]:
    """Yield what the fit says."""
    fit = found.fit
    kind = "twist stiffness" if found.is_twist else "stiffness"
    size, label = shown_unit(kind, units).size, shown_unit(kind, units).label
    yield (
        f"Stiffness of the frame on this rig: {number(found.drawn / size)} {label} as drawn, {number(found.stiffness / size)} "
        f"± {number(2 * found.sigma / size, 2)} as fitted (± two standard deviations)."
    )
    count = sum(len(each.slopes) for each in fit.data)
    yield f"{count} dials tell {fit.told} of {len(fit.unknowns)} unknowns; {still(fit)} of these are what stands and force may do."
    if count < len(fit.unknowns):
        yield (
            f"FEWER READINGS THAN UNKNOWNS: {count} dials for {len(fit.unknowns)}. What they don't tell stays as it was known before: "
            "that is no measurement."
        )
    if fit.misfit > FITS:
        yield f"THE FIT IS POOR (chi square {number(fit.misfit, 3)} a reading): something moves that no unknown here stands for."
    for row in told_of(fit):
        if row.unknown.sort is not Sort.FORCE:
            yield told_words(row)
    for a, b in fit.alike:
        yield f"Not told apart by this test: {fit.unknowns[a].name} and {fit.unknowns[b].name}; only the two together are."
    if found.sampled is not None:
        yield sampled_words(fit, found.sampled)
    if found.next is not None:
        yield next_words(found.next, units)
    if fit.bound.name:
        yield f"The file leaves ends open; the readings fit best with {fit.bound.name}."


def sampled_words(fit: FitOfReadings, of: Sampled) -> str:
    """Return what sampling says of the spread."""
    rows = of_frame(fit.unknowns)
    most = max(rows, key=lambda row: abs(of.sigma[row] / fit.sigma[row] - 1.0))
    ratio = float(of.sigma[most] / fit.sigma[most])
    return (
        f"{of.count} draws, worth {of.worth:.0f}: standard deviations are as told within {100 * abs(ratio - 1):.0f} % (most off: "
        f"{fit.unknowns[most].name}, {ratio:.2f} times)."
    )


def still(fit: FitOfReadings) -> int:
    """Return how many unknowns are of the test and not of the frame."""
    return sum(each.sort in (Sort.FORCE, Sort.GIVE) for each in fit.unknowns)


def told_words(row: Told) -> str:
    """Return one unknown in words."""
    low, high = (row.factor * exp(way * 2 * row.after) for way in (-1, 1))
    what = {Sort.JOINTS: "Joints are {} times as soft as drawn", Sort.MODULUS: "The modulus is {} of the table's"}
    said = what.get(row.unknown.sort, f"{row.unknown.name[:1].upper()}{row.unknown.name[1:]} are {{}} of what is drawn")
    known = "" if row.is_told else "; NOT TOLD by this test, it hardly knows more than before"
    return f"{said.format(f'{row.factor:.2f}')} ({low:.2f} to {high:.2f}){known}."


def next_words(of: Next, units: Units) -> str:
    """Return what one more dial would tell."""
    place = f"{of.place}, x {with_unit(of.x, 'length', units)}"
    if of.after > WORTH * of.before:
        return f"No one dial more would tell much (the best place, {place}, a tenth at most): another test would, such as beaming."
    return (
        f"One more dial would tell most at {place}: {of.unknown} would then be known to ± {100 * of.after:.0f} % in place of "
        f"± {100 * of.before:.0f} % (one standard deviation)."
    )


def singular_table(fit: FitOfReadings) -> HtmlTable:
    """Return what the readings can tell: the singular values and what is in each combination."""
    rows = []
    for size, combo in zip(fit.singular.tolist(), fit.combos, strict=True):
        order = sorted(range(len(combo)), key=lambda row: -abs(combo[row]))[:3]
        parts = ", ".join(f"{combo[row]:+.2f} {fit.unknowns[row].name}" for row in order if abs(combo[row]) > 0.2)
        rows.append((number(size, 3), "yes" if size > 1.0 else "no", parts.replace("-", "−")))
    note = "Combinations of unknowns, each counted by what was known of it before; above 1 the readings tell more than was known."
    return HtmlTable("What the readings tell", (*numbers("singular value"), *words("told", "mostly of")), tuple(rows), note)
