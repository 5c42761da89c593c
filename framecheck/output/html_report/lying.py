"""How a section lies on the paper as it sits in the vehicle, and what lies on each side of it."""

from __future__ import annotations

from framecheck.model.arrays import Array
from framecheck.output.charts.drawings import Lying
from framecheck.results.places import SectionView
from framecheck.results.summary import facings


def lying(view: SectionView, at: Array) -> Lying:
    """Return how a section lies on the paper as it sits in the vehicle, with what lies on each side of it; at: (3,) where it is."""
    right, up = view.ways
    sides = tuple(side_words(way, at) for way in (-right, right, -up, up))
    return Lying(view.turn, "from the centroid", "from the centroid", sides)


def side_words(way: Array, at: Array) -> str:
    """Return the side of a member that lies a way."""
    x, y, z = way.tolist()
    at_x, at_y, at_z = at.tolist()
    return " ".join(each.value for each in facings((x, y, z), (at_x, at_y, at_z)))
