"""A unit body: rails, rockers and sheet of a shell with two like sides, told part by part."""

from __future__ import annotations

from dataclasses import replace

from framecheck.model.frame import Kinks
from framecheck.reading.blocks.common import LENGTH, POSITIVE_LENGTH
from framecheck.reading.blocks.frame import CROSS_SIDES, MADE, MID_POINT, POINT_NAME, RAIL_SIDES, end_field
from framecheck.reading.blocks.panels import PANEL
from framecheck.reading.form import Field, Form, ListOf
from framecheck.reading.kinds import NameOf, TextKind, YesNo, choice_of

AT = TextKind("the name of a station")
OF_PANEL = {each.key: each for each in PANEL.fields}
ENDS = (
    end_field("ends", "how both ends are made"),
    end_field("start", "how its first end is made, where the two differ"),
    end_field("end", "how its last end is made, where the two differ"),
)
SHEET = (
    replace(OF_PANEL["thickness"], default=None, shown="that of `sheet`"),
    replace(OF_PANEL["material"], default=None, shown="that of `sheet`"),
    replace(OF_PANEL["seam"], shown="that of `sheet`"),
    OF_PANEL["swages"],
    OF_PANEL["holes"],
    OF_PANEL["cells"],
)
MEETS = (
    replace(OF_PANEL["joined to"], about="members of your own that lie on it or pass through it and are joined to it"),
    replace(OF_PANEL["loose from"], about="members that touch it and are not joined to it"),
)


def of_section(what: str) -> Field:
    """Return the field of a part's section."""
    return Field("section", NameOf("section"), what)


def station_field(key: str, about: str, shown: str = "") -> Field:
    """Return the field of a station by its name, needed where nothing is shown in its place."""
    return Field(key, AT, about, None, shown) if shown else Field(key, AT, about)


BODY_STATION = Form(
    "body station",
    "A place along the body, from front to rear. Points there are called after it: 'left NAME' on the rail, 'left rocker NAME' on the"
    " rocker.",
    (
        Field("name", POINT_NAME, "of the station"),
        Field("x", LENGTH, "forward"),
        Field("y", POSITIVE_LENGTH, "of the left rail's middle there", None, "straight between its neighbours"),
        Field("z", LENGTH, "of the rails' middle there, up", None, "straight between its neighbours"),
    ),
)
BODY_SHEET = Form(
    "body sheet",
    "What the body's sheet is, where a part does not say otherwise.",
    (OF_PANEL["thickness"], OF_PANEL["material"], OF_PANEL["seam"]),
)
FRONT_RAILS = Form(
    "front rails",
    "Members 'left front rail' and 'right front rail', from the first station rearward.",
    (
        of_section("of the rails"),
        station_field("to", "the station where they end"),
        Field("open side", RAIL_SIDES, "where an open section looks", None, "inboard"),
        *ENDS,
        *MADE,
    ),
)
REAR_RAILS = Form(
    "rear rails",
    "Members 'left rear rail' and 'right rear rail', to the last station.",
    (
        of_section("of the rails"),
        station_field("from", "the station where they begin"),
        Field("open side", RAIL_SIDES, "where an open section looks", None, "inboard"),
        *ENDS,
        *MADE,
    ),
)
STIFFENERS = Form(
    "body stiffeners",
    "Members 'left stiffener' and 'right stiffener' from the front rails' end to the rear rails' beginning, below the floor.",
    (
        of_section("of each"),
        Field("joined to the floor", YesNo(), "whether they are joined to it along their length", default=False, shown="no"),
        Field("open side", RAIL_SIDES, "where an open section looks", None, "inboard"),
        *ENDS,
    ),
)
ROCKERS = Form(
    "rockers",
    "Members 'left rocker' and 'right rocker'; they have a point at each station that they pass.",
    (
        of_section("of the rockers"),
        Field("y", POSITIVE_LENGTH, "of the left one's middle"),
        Field("z", LENGTH, "of their middle, up"),
        station_field("from", "where they begin", "that of the firewall"),
        station_field("to", "where they end", "that of the rear bulkhead"),
        Field("open side", RAIL_SIDES, "where an open section looks", None, "inboard"),
        *ENDS,
    ),
)
TORQUE_BOX = Form(
    "torque box",
    "Members 'left NAME' and 'right NAME' from rocker to rail at a station.",
    (
        Field("name", POINT_NAME, "what both are called"),
        station_field("station", "where they stand"),
        of_section("of each"),
        Field("z", LENGTH, "of its middle, up", None, "its top against the floor; without a floor that of the rails"),
        Field("open side", CROSS_SIDES, "where an open section looks", None, "rearward"),
        *ENDS,
    ),
)
BODY_CROSSMEMBER = Form(
    "body crossmember",
    "A member across the body from rail to rail, where there are none from rocker to rocker.",
    (
        Field("name", POINT_NAME, "of the crossmember"),
        station_field("station", "where it stands"),
        of_section("of the crossmember"),
        Field("z", LENGTH, "of its middle, up", None, "its top against the floor; without a floor that of the rails"),
        Field("open side", CROSS_SIDES, "where an open section looks", None, "rearward"),
        *ENDS,
        Field("points", ListOf(MID_POINT, 1, 50), "named places on it", (), "none"),
    ),
)
SPAN = (
    station_field("from", "where it begins", "that of the firewall, or of the rockers"),
    station_field("to", "where it ends", "that of the rear bulkhead, or of the rockers"),
)
FLOOR = Form(
    "body floor",
    "Panels 'left floor' and 'right floor' from the tunnel to the rockers' inner faces; one panel 'floor' where there is no tunnel.",
    (
        Field("z", LENGTH, "of the sheet, up"),
        *SPAN,
        Field("y", POSITIVE_LENGTH, "of its left edge", None, "the rocker's inner face"),
        *SHEET,
        *MEETS,
    ),
)
TUNNEL = Form(
    "body tunnel",
    "Panels 'left tunnel wall', 'right tunnel wall' and 'tunnel top', as long as the floor.",
    (Field("width", POSITIVE_LENGTH, "of the tunnel"), Field("height", POSITIVE_LENGTH, "above the floor"), *SHEET, *MEETS),
)
BODY_WALL = Form(
    "body wall",
    "An upright wall across the body: a panel between the rockers, and one over each rocker's end ('left ...', 'right ...').",
    (
        station_field("station", "where it stands"),
        Field("foot", LENGTH, "of its lower edge between the rockers, up", None, "the rails' bottom there, else the rockers'"),
        Field("top", LENGTH, "of its upper edge, up"),
        *SHEET,
        *MEETS,
    ),
)
WAIST = Form(
    "waist of a pillar",
    "Where a pillar turns, below a windscreen.",
    (
        Field("x", LENGTH, "forward"),
        Field("y", POSITIVE_LENGTH, "of the left one", None, "that of the rocker"),
        Field("z", LENGTH, "up"),
    ),
)
PILLAR = Form(
    "pillar",
    "Members 'left NAME' and 'right NAME' from the rocker up, through 'left NAME waist' to 'left NAME top' on the cant rail. At the"
    " station of a wall they stand with their face against it.",
    (
        Field("name", POINT_NAME, "what both are called"),
        station_field("station", "where they stand on the rockers"),
        of_section("of each; its height lies along the body"),
        Field("waist", WAIST, "where it turns", None, "straight"),
        Field("top", LENGTH, "where it meets the cant rail, forward", None, "it ends at its waist"),
        *ENDS,
        *MADE,
    ),
)
CANT_RAILS = Form(
    "cant rails",
    "Members 'left cant rail' and 'right cant rail' along the roof's edges, through the tops of all pillars.",
    (
        of_section("of each"),
        Field("y", POSITIVE_LENGTH, "of the left one's middle"),
        Field("z", LENGTH, "of their middle, up"),
        *ENDS,
        Field(
            "corners",
            choice_of(Kinks, Kinks.UNSAID),
            "how they turn into the first and the last pillars; mitred, into the headers too",
            Kinks.UNSAID,
            "as both ends there say, else both ends of the range are solved",
        ),
        *(each for each in MADE if each.key in ("bend radius", "kink plate")),
    ),
)
COWL = Form(
    "cowl", "A member 'cowl' between the waists of the first pillars.", (of_section("of the cowl"), *ENDS)
)
HEADERS = Form(
    "headers",
    "Members 'front header' and 'rear header' between the cant rails, at the tops of the first and last pillars.",
    (of_section("of each"), *ENDS),
)
ROOF = Form(
    "body roof", "A panel 'roof' on the cant rails, from header to header.", (*SHEET, *MEETS)
)
BODY = Form(
    "body",
    "A unit body with two like sides, drawn from its parts as points, members and panels; every part but the stations may be left out."
    " A part that lies on sheet is joined to it.",
    (
        Field("stations", ListOf(BODY_STATION, 2, 100), "front to rear"),
        Field("sheet", BODY_SHEET, "of all panels that do not say otherwise", None, "each says its own"),
        Field("front rails", FRONT_RAILS, "from the front end to below the floor", None, "none"),
        Field("rear rails", REAR_RAILS, "from below the floor to the rear end", None, "none"),
        Field("stiffeners", STIFFENERS, "between front and rear rails", None, "none"),
        Field("rockers", ROCKERS, "the sills below the doors", None, "none"),
        Field("torque boxes", ListOf(TORQUE_BOX, 1, 50), "between rockers and rails", (), "none"),
        Field("crossmembers", ListOf(BODY_CROSSMEMBER, 1, 50), "across the body", (), "none"),
        Field("floor", FLOOR, "the floor", None, "none"),
        Field("tunnel", TUNNEL, "the tunnel", None, "none"),
        Field("firewall", BODY_WALL, "the wall ahead of the floor", None, "none"),
        Field("rear bulkhead", BODY_WALL, "the wall behind it", None, "none"),
        Field("pillars", ListOf(PILLAR, 1, 20), "front to rear", (), "none"),
        Field("cowl", COWL, "below the windscreen", None, "none"),
        Field("cant rails", CANT_RAILS, "along the roof's edges", None, "none"),
        Field("headers", HEADERS, "across the roof's ends", None, "none"),
        Field("roof", ROOF, "the roof", None, "none"),
        Field("door gap", POSITIVE_LENGTH, "round the doors", None, "diagonals of doors are told in length alone"),
    ),
)
