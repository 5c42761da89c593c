"""What is to be said of a suspension's travel."""

from __future__ import annotations

from collections.abc import Iterator

from framecheck.model.said import Amount, Said, Topic, said


def travel_notes(name: str, travel: float, bump: float | None, droop: float | None) -> Iterator[Said]:
    """Say where something would travel further than it can, m; bump, droop: its limits up and down from rest."""
    if bump is not None and travel > bump:
        yield said(f"the {name} is on its bump stop: ", asked(travel), " asked of ", asked(bump), topic=Topic.TRAVEL)
    if droop is not None and -travel > droop:
        yield said(f"the {name} is at full droop: ", asked(-travel), " asked of ", asked(droop), topic=Topic.TRAVEL)


def asked(travel: float) -> Amount:
    """Return a travel, m."""
    return Amount(travel, "deflection")
