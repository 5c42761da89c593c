"""What a seam asks of its welds or bolts where their size is not given, in words."""

from __future__ import annotations

from math import pi, sqrt

from framecheck.checks.throats import THROAT
from framecheck.model.joining import BoltRow, Joining, StitchWeld
from framecheck.model.joints import ASKED
from framecheck.value_class import value_class

GRADE_5 = 0.6 * 827e6
"""Shear strength of a grade 5 or 8.8 bolt, Pa: 0.6 x 120 ksi (SAE J429, table; EN 1993-1-8:2005, table 3.4)."""


@value_class
class Flow:
    """The largest shear flow at a seam in one load case, N/m, and the station where it is, m."""

    seam: str
    load_case: str
    flow: float
    station: float

    @property
    def where(self) -> str:
        """Return where it is, in words."""
        return f"{self.seam}, '{self.load_case}', at {1000 * self.station:.0f} mm"


def asked_of(joining: Joining, worst: Flow) -> str:
    """Return what each seam, and each weld or bolt of it, must carry, and the size that would do."""
    said = f"each seam must carry up to {worst.flow / 1000:.1f} N/mm ({worst.where})"
    if isinstance(joining, BoltRow):
        return f"{said}; {bolt_asked(joining, worst.flow * joining.pitch)}"
    if isinstance(joining, StitchWeld):
        return f"{said}; {stitch_asked(joining, worst.flow * joining.pitch)}"
    return f"{said}; no leg is given: {leg_asked(worst.flow, joining.shear_strength)}"


def sleeve_words(joining: Joining, worst: Flow) -> str:
    """Return what joins a sleeve to its core must carry across."""
    if isinstance(joining, BoltRow):
        return bolt_asked(joining, worst.flow * joining.pitch) + f" ({worst.where})"
    weld = "the welds between sleeve and core are not judged"
    return f"{weld}: the core's share of the forces comes to {worst.flow / 1000:.1f} N/mm ({worst.where})"


def remedy_of(joining: Joining, worst: Flow) -> str:
    """Return what to write so that the seam is judged."""
    if isinstance(joining, BoltRow):
        force = ASKED.strength * worst.flow * joining.pitch
        return f"write what one holds: joined: {{bolts: {{pitch: ..., holds: ...}}}}, {force:.0f} N or more"
    length, key = (joining.length / joining.pitch, "stitches") if isinstance(joining, StitchWeld) else (1.0, "weld")
    leg = worst.flow / length * ASKED.strength / (joining.shear_strength * THROAT)
    return f"write the leg: joined: {{{key}: {{leg: ...}}}}, {1000 * leg:.1f} mm or more"


def bolt_asked(joining: BoltRow, force: float) -> str:
    """Return what one bolt must carry, N, and the bolt that would."""
    each = f"each bolt, rivet or spot weld at a pitch of {1000 * joining.pitch:.0f} mm {force:.0f} N"
    least = 1000 * sqrt(4 * force * ASKED.strength / (pi * GRADE_5))
    return f"{each}; its size is not given: a grade 5 or 8.8 bolt would do from {least:.1f} mm at the root of its thread"


def stitch_asked(joining: StitchWeld, force: float) -> str:
    """Return what one stitch must carry, N, and the leg that would."""
    each = f"each stitch of {1000 * joining.length:.0f} mm every {1000 * joining.pitch:.0f} mm {force:.0f} N"
    return f"{each}; no leg is given: {leg_asked(force / joining.length, joining.shear_strength)}"


def leg_asked(flow: float, shear_strength: float) -> str:
    """Return the leg that the weld metal asks for under a flow, N/m. ANSI/AISC 360-22, J2.4."""
    leg = flow * ASKED.strength / (shear_strength * THROAT)
    return f"weld metal asks for {1000 * leg:.1f} mm, rules for the least leg may ask for more"
