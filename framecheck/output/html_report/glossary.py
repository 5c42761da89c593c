"""The words that the report uses and does not explain where they stand, each in a sentence."""

from __future__ import annotations

GLOSSARY = (
    ("used", "the share of what is allowed that is used: what it bears times the factor asked, over what it can bear; 100 % is all."),
    ("safety factor", "what it can bear over what it bears. It counts no dynamic factor: those are in the loads."),
    ("asked", "the safety factor that the file, or the rule named beside it, asks for."),
    ("LOW", "more than is allowed is used: the target is missed."),
    ("open", "not judged: no word of the verdict is about it until it is judged or accepted."),
    ("accepted", "not judged, and the file says why that is accepted."),
    ("governs", "leaves the least room to what is asked, of all that were judged."),
    ("load case", "one way of loading the frame, at one instant, dynamic factor included."),
    ("station", "a place on a member: the length along it from its first point."),
    ("axial force, shear, bending, torsion", "what the part of a member beyond a cut does to the part before it: along it, across it, "
     "bending and twisting it. Pull is +, bending is + with the tension on top or on the left."),
    ("bimoment", "two equal bending moments the opposite way in two flanges: how an open section resists twist where it cannot warp."),
    ("von Mises stress", "one stress that counts pull and shear together and is held to the yield strength of a pull test."),
    ("nominal face", "the stress on the flat faces, away from sharp inner corners, where the calculated peak has no end."),
    ("centroid, shear centre", "where a pull makes no bending; where a side force makes no twist."),
    ("bound", "one end of a range that the file leaves open, such as how stiff a joint is: both are solved, the worse one is shown."),
    ("inboard, outboard", "towards the middle of the vehicle; away from it. x is forward, y to the left, z up (ISO 8855)."),
)  # fmt: skip
LINKED = {
    "used": "used", "safety factor": "safety factor", "asked": "asked", "load case": "load case", "station": "station",
    "bimoment": "bimoment", "side": "inboard, outboard", "left open, taken as": "bound", "grade": "LOW",
}  # fmt: skip
"""Headings of tables, and the words that explain them."""


def anchor(word: str) -> str:
    """Return the place on the page that explains a word."""
    return "word-" + "-".join("".join(each if each.isalnum() else " " for each in word.lower()).split())


def anchors() -> dict[str, str]:
    """Return the place that explains each heading that needs it."""
    return {heading: anchor(word) for heading, word in LINKED.items()}
