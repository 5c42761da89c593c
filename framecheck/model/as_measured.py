"""What a test found a frame to be against its drawing."""

from __future__ import annotations

from framecheck.model.body import Range
from framecheck.model.frame import Kinks, Make
from framecheck.value_class import value_class


@value_class
class AsMeasured:
    """Factors that a fit found: how soft joints are, walls by section, the modulus, sheet of panels. because: by which test.

    ends: how soft joints of one kind of end are, in place of `joints`; kinks, splices: how soft those are. torsion, bending: of a
    stated body, least and most, Nm/rad and N/m; None: as stated.
    """

    because: str
    joints: float = 1.0
    walls: tuple[tuple[str, float], ...] = ()
    modulus: float = 1.0
    panels: float = 1.0
    ends: tuple[tuple[Make, float], ...] = ()
    torsion: Range | None = None
    bending: Range | None = None
    kinks: tuple[tuple[Kinks, float], ...] = ()
    splices: float = 1.0

    @property
    def tells_body(self) -> bool:
        """Return whether the test told the stiffness of a stated body."""
        return self.torsion is not None or self.bending is not None
