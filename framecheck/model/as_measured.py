"""What a test found a frame to be against its drawing."""

from __future__ import annotations

from framecheck.value_class import value_class


@value_class
class AsMeasured:
    """Factors that a fit found: how soft joints are, walls by section, the modulus, sheet of panels. because: by which test."""

    because: str
    joints: float = 1.0
    walls: tuple[tuple[str, float], ...] = ()
    modulus: float = 1.0
    panels: float = 1.0
