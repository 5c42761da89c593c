"""Panels: flat sheet between points that shares the frame's load."""

from __future__ import annotations

from framecheck.model.panels import PanelCarries, Runs, SeamKind
from framecheck.reading.blocks.common import NAME, OFFSET, POSITIVE_LENGTH, THICKNESS
from framecheck.reading.form import Field, Form, ListOf
from framecheck.reading.kinds import AllowedSign, NameOf, Number, Whole, choice_of

MOST_HOLES = Number(AllowedSign.NOT_NEGATIVE, 0.5)
PANEL_SEAM = Form(
    "panel seam",
    "What joins a panel to its members and neighbours; rigid in the frame, judged by what passes through each length of it.",
    (
        Field("kind", choice_of(SeamKind), "what it is"),
        Field(
            "pitch", POSITIVE_LENGTH, "of spots or plugs, middle to middle", None, "needed but for a continuous weld"
        ),
        Field("diameter", POSITIVE_LENGTH, "of plugs: of the hole", None, "needed for plugs"),
    ),
)
SWAGES = Form(
    "swages",
    "Beads pressed into sheet from edge to edge, all one way.",
    (
        Field("run", choice_of(Runs), "which way"),
        Field("pitch", POSITIVE_LENGTH, "middle to middle"),
        Field("depth", POSITIVE_LENGTH, "of each"),
        Field("width", POSITIVE_LENGTH, "of each at its foot"),
    ),
)
OPENING = Form(
    "opening",
    "A door's, a windscreen's or a back light's opening, whose diagonals are watched: a door that binds, glass that cracks.",
    (
        Field("name", NAME, "of the opening"),
        Field("corners", ListOf(NameOf("point"), 4, 4), "its four points, in order round it"),
        Field("gap", POSITIVE_LENGTH, "round the door in it", None, "a diagonal's change is told in length alone"),
    ),
)
PANEL = Form(
    "panel",
    "A flat sheet between points: floor, tunnel wall, firewall, roof. It carries what acts in its plane, and nothing across it."
    " Where an edge runs along a member, within the box that its section fills, it is joined to it; it is divided by itself wherever"
    " members, points or other panels meet it. Draw it where the sheet is: on the members' faces, not on their middle lines.",
    (
        Field("name", NAME, "of the panel"),
        Field(
            "corners",
            ListOf(NameOf("point"), 3, 4),
            "three or four points, in order round it; no member need meet them",
        ),
        Field("thickness", THICKNESS, "of the sheet, as it is left where it has rusted"),
        Field("material", NameOf("material"), "of the sheet"),
        Field("offset", OFFSET, "of the sheet from its corners' points", None, "none"),
        Field(
            "carries",
            choice_of(PanelCarries),
            "what it carries; shear alone: beaded or buckled sheet, a parallelogram between members along its edges",
            PanelCarries.ALL,
            "shear and direct stress",
        ),
        Field(
            "joined to",
            ListOf(NameOf("member"), 1, 100),
            "members that lie on it or pass through it elsewhere than along an edge, and are joined to it",
            (),
            "none",
        ),
        Field(
            "loose from", ListOf(NameOf("member"), 1, 100), "members that touch it and are not joined to it", (), "none"
        ),
        Field(
            "free edges",
            ListOf(ListOf(NameOf("point"), 2, 2), 1, 4),
            "edges that nothing holds, each by its two corners",
            (),
            "none",
        ),
        Field("seam", PANEL_SEAM, "what joins it, all round and along its members", None, "not judged"),
        Field(
            "swages",
            SWAGES,
            "beads pressed into it: they keep it from waving, and are not counted in the frame",
            None,
            "none",
        ),
        Field(
            "holes",
            MOST_HOLES,
            "openings spread over it, as a share of its face: it carries by what is left between round holes in rows",
            0.0,
            "none; one large opening is drawn as sheet that is not there",
        ),
        Field("cells", Whole(1, 32), "each way between two lines where something meets it, for a finer answer", 1, "1"),
    ),
)
