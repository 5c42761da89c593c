"""What a test found, as a case file tells it, checked against the frame."""

from __future__ import annotations

from framecheck.model.as_measured import AsMeasured
from framecheck.model.frame import Frame
from framecheck.reading.blocks.as_measured import ENDS, KINKS
from framecheck.reading.diagnostics import Diagnostics, did_you_mean, refuse_faults
from framecheck.reading.form import Record


def found_by_test(diagnostics: Diagnostics, frame: Frame, found: Record) -> AsMeasured:
    """Return what a test found. InputError with every fault."""
    def refuse(key: str, fault: str, remedy: str) -> None:
        diagnostics.refuse(found.line_of(key), f"{found.subject} > {key}", fault, remedy)

    for name in found["walls"]:
        if name not in frame.sections:
            refuse("walls", f"no member has a section '{name}'", "use a section's name")
    for name in found["ends"]:
        if name not in ENDS:
            refuse("ends", f"'{name}' is no kind of end", did_you_mean(name, ENDS, f"write one of: {', '.join(ENDS)}"))
    for name in found["kinks"]:
        if name not in KINKS:
            refuse("kinks", f"'{name}' is no kind of kink", did_you_mean(name, KINKS, f"write one of: {', '.join(KINKS)}"))
    if found["splices"] != 1.0 and not frame.splices:
        refuse("splices", "the frame has no splices", "leave it out")
    ranges = {key: (min(found[key]), max(found[key])) if found[key] else None for key in ("body torsion", "body bending")}
    for key in (each for each in ranges if ranges[each] is not None and frame.body is None):
        refuse(key, "the frame has no stated body", "leave it out, or write `stated body`")
    if ranges["body bending"] is not None and frame.body is not None and not frame.body.middle:
        refuse("body bending", "the stated body has no bending stiffness", "leave it out, or write its `middle` and `bending`")
    refuse_faults(diagnostics)
    return AsMeasured(
        found["because"],
        found["joints"],
        tuple(found["walls"].items()),
        found["modulus"],
        found["panels"],
        tuple((ENDS[name], factor) for name, factor in found["ends"].items()),
        ranges["body torsion"],
        ranges["body bending"],
        tuple((KINKS[name], factor) for name, factor in found["kinks"].items()),
        found["splices"],
    )
