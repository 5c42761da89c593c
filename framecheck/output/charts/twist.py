"""The twist along the frame under a couple at the front axle, the rear axle held."""

from __future__ import annotations

from collections.abc import Sequence

from framecheck.frame.stiffness import FrameStiffness
from framecheck.output.charts.chart import Chart, Drawn, Line, Note, Side, Stroke, level, span, upright
from framecheck.output.charts.colours import LINE, QUIET, WARN
from framecheck.output.display import Units, shown_unit, with_unit
from framecheck.output.stiffness_text import shown_couple

STROKES = (Stroke.SOLID, Stroke.DASHED, Stroke.DOTTED, Stroke.CHAIN)


def twist_chart(found: Sequence[FrameStiffness], units: Units) -> Chart:
    """Return the twist along the frame, front at the left, one line per bound; a steep stretch is a soft one."""
    couple = shown_couple(found, units)
    along, turn = shown_unit("length", units), shown_unit("angle", units)
    lines = [
        Line(
            each.x / along.size,
            each.twist * couple / turn.size,
            (LINE, WARN)[number % 2],
            stroke=STROKES[number % len(STROKES)],
            label=each.bound.name or "as written",
        )
        for number, each in enumerate(found)
    ]
    rear, front = span(*(each.x for each in lines), room=0.02)
    y = span(*(each.y for each in lines), 0.0)
    marks: list[Drawn] = [*lines, level((front, rear), 0.0, QUIET)]
    for place, name in ((found[0].front / along.size, "front axle"), (found[0].rear / along.size, "rear axle")):
        marks += [upright(place, y, QUIET), Note(name, (place, y[1] - 0.03 * (y[1] - y[0])), Side.RIGHT)]
    title = f"twist under {with_unit(couple, 'moment', units)} between the axles"
    across = f"x, {along.label} (front at the left)"
    return Chart(title, across, f"twist, {turn.label}", (front, rear), y, tuple(marks))
