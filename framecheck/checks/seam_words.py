"""What a seam asks of its welds or bolts where their size is not given, in words."""

from __future__ import annotations

from math import pi, sqrt

from framecheck.checks.throats import THROAT
from framecheck.model.joining import BoltRow, Joining, StitchWeld
from framecheck.model.joints import ASKED
from framecheck.model.said import Amount, Said, said
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
    def where(self) -> Said:
        """Return where it is, in words."""
        return said(f"{self.seam}, '{self.load_case}', at ", Amount(self.station, "station"))


def asked_of(joining: Joining, worst: Flow) -> Said:
    """Return what each seam, and each weld or bolt of it, must carry, and the size that would do."""
    carries = said("each seam must carry up to ", Amount(worst.flow, "line force"), " (", worst.where, ")")
    if isinstance(joining, BoltRow):
        return said(carries, "; ", bolt_asked(joining, worst.flow * joining.pitch))
    if isinstance(joining, StitchWeld):
        return said(carries, "; ", stitch_asked(joining, worst.flow * joining.pitch))
    return said(carries, "; no leg is given: ", leg_asked(worst.flow, joining.shear_strength))


def sleeve_words(joining: Joining, worst: Flow) -> Said:
    """Return what joins a sleeve to its core must carry across."""
    if isinstance(joining, BoltRow):
        return said(bolt_asked(joining, worst.flow * joining.pitch), " (", worst.where, ")")
    weld = "the welds between sleeve and core are not judged: the core's share of the forces comes to "
    return said(weld, Amount(worst.flow, "line force"), " (", worst.where, ")")


def remedy_of(joining: Joining, worst: Flow) -> Said:
    """Return what to write so that the seam is judged."""
    if isinstance(joining, BoltRow):
        force = ASKED.strength * worst.flow * joining.pitch
        return said("write what one holds: joined: {bolts: {pitch: ..., holds: ...}}, ", Amount(force, "force"), " or more")
    length, key = (joining.length / joining.pitch, "stitches") if isinstance(joining, StitchWeld) else (1.0, "weld")
    leg = worst.flow / length * ASKED.strength / (joining.shear_strength * THROAT)
    return said(f"write the leg: joined: {{{key}: {{leg: ...}}}}, ", Amount(leg, "size"), " or more")


def bolt_asked(joining: BoltRow, force: float) -> Said:
    """Return what one bolt must carry, N, and the bolt that would."""
    least = Amount(sqrt(4 * force * ASKED.strength / (pi * GRADE_5)), "size")
    each = said("each bolt, rivet or spot weld at a pitch of ", Amount(joining.pitch, "size"), " ", Amount(force, "force"))
    return said(each, "; its size is not given: a grade 5 or 8.8 bolt would do from ", least, " at the root of its thread")


def stitch_asked(joining: StitchWeld, force: float) -> Said:
    """Return what one stitch must carry, N, and the leg that would."""
    length, pitch = Amount(joining.length, "size"), Amount(joining.pitch, "size")
    each = said("each stitch of ", length, " every ", pitch, " ", Amount(force, "force"))
    return said(each, "; no leg is given: ", leg_asked(force / joining.length, joining.shear_strength))


def leg_asked(flow: float, shear_strength: float) -> Said:
    """Return the leg that the weld metal asks for under a flow, N/m. ANSI/AISC 360-22, J2.4."""
    leg = flow * ASKED.strength / (shear_strength * THROAT)
    return said("weld metal asks for ", Amount(leg, "size"), ", rules for the least leg may ask for more")
