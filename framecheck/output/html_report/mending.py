"""What would mend a finding, or what it has to spare, in sentences."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.output.display import Units, factor
from framecheck.output.terminal import amount
from framecheck.results.row import Check, CheckResult, Grade, Kind
from framecheck.run import Results

MENDS = {
    Check.YIELD: "a thicker wall or a deeper section there, a doubler, or the load brought nearer to a joint",
    Check.LOCAL_BUCKLING: "a thicker wall, or a bend or rib that halves the flat width",
    Check.SHEAR_BUCKLING: "a thicker web, or an upright stiffener",
    Check.DISTORTION: "a longer lip, a thicker sheet, or a closing plate",
    Check.BUCKLING: "a shorter free length (a crossmember between), or a section stiffer about its weak axis",
    Check.FRAME_BUCKLING: "a stiffer section in compression, or a crossmember between",
    Check.KINK: "an inner plate at the kink, a thicker wall there, or a bend in place of the mitre",
    Check.NOTCH: "less depth, a larger corner radius, or a repair plate over it; `framecheck notch` shows what each brings",
    Check.SEAMS: "longer welds or a closer pitch",
    Check.HOLES: "a smaller hole, or one nearer to the middle of the wall",
    Check.FATIGUE: "a better detail (ground toe, no weld on the flange), or a lower stress range there",
    Check.PERMANENT_SET: "a section with more plastic moment, or a lower rare load",
    Check.FISH_PLATES: "thicker or deeper plates",
    Check.BOLTS: "more, larger or stronger bolts, or a wider pattern",
    Check.PINNED_SLEEVE: "larger bolts, a longer sleeve, or a closer fit",
    Check.WELDS: "a longer or larger weld",
    Check.STITCH_WELD: "longer stitches or a closer pitch",
    Check.SPOTS: "more spots, or a weld in their place",
    Check.BOLTS_WITH_WELDS: "let either the bolts or the welds carry it all",
    Check.WALL_UNDER_BRACKET: "a longer or wider pad, or a doubler under it",
    Check.FACE: "the member through both faces, a doubler on the face, or a gusset",
    Check.END_WELD: "a larger leg all round",
    Check.CRUSH_SLEEVE: "a crush sleeve in the tube, or a larger washer",
    Check.PLATE: "a thicker plate, a rib, or more bolts",
    Check.PANEL: "a thicker sheet, or swages",
    Check.PANEL_SEAM: "a closer pitch",
    Check.STRAPS: "a strap of a higher working load limit, or one more",
    Check.CLEARANCE: "move one of the two, or a stiffer frame between",
}  # fmt: skip
"""What helps, by the kind of check. Common practice, no source."""


def times(share: float) -> str:
    """Return how many times, in two decimals, of a small share three digits, of a large one whole."""
    return f"{share:.2f}" if 0.1 <= share < 100 or not 0.0 < share < float("inf") else f"{share:.2g}" if share < 1 else f"{share:.0f}"


def mending(results: Results, row: CheckResult, units: Units, file: str) -> Iterator[str]:
    """Yield what would mend a finding that misses, what one that does not has to spare, and what the joints ask of the shop."""
    named = file or "CASE"
    if row.kind is Kind.CLEARANCE:
        yield f"What helps: {MENDS[row.check]}."
    elif row.grade is Grade.LOW:
        ask = row.target / row.safety_factor if row.safety_factor > 0 else float("inf")
        yield f"It must carry {times(ask)} times as much, or be loaded to {times(1 / ask)} of it. What helps: {MENDS[row.check]}."
        yield f"Depths that do: framecheck notch {named}." if row.check is Check.NOTCH else "Sizes that do: framecheck size STUDY."
    else:
        spare = row.safety_factor / row.target
        yield f"Nothing needs mending: {factor(spare)} times this load would still be met. What would help first: {MENDS[row.check]}."
    for each in results.sizings:
        if each.where == row.where or each.where == row.subject.name:
            given = "" if each.given is None else f" (as drawn {amount(each, each.given, units)})"
            yield f"{each.what[:1].upper()}{each.what[1:]}: {amount(each, each.value, units)}{given}."
