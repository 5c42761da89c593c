"""What is to be said of a suspension's travel."""

from __future__ import annotations

from collections.abc import Iterator


def travel_notes(name: str, travel: float, bump: float | None, droop: float | None) -> Iterator[str]:
    """Say where something would travel further than it can, m; bump, droop: its limits up and down from rest."""
    if bump is not None and travel > bump:
        yield f"the {name} is on its bump stop: {travel * 1e3:.0f} mm asked of {bump * 1e3:.0f} mm"
    if droop is not None and -travel > droop:
        yield f"the {name} is at full droop: {-travel * 1e3:.0f} mm asked of {droop * 1e3:.0f} mm"
