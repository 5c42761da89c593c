"""Options that say which rig: of `framecheck test`."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

import click

from framecheck.cli.files import library
from framecheck.cli.options import LARGEST
from framecheck.errors import Fault, InputError
from framecheck.reading.diagnostics import Diagnostics, refuse_faults
from framecheck.reading.kinds import AllowedSign, QuantityKind
from framecheck.reading.test_targets import target_named
from framecheck.reading.yamltext import Text
from framecheck.rig.setup import AskedTest, ForceBy, HeldFront, RigKind, Suspension
from framecheck.rig.targets import TestTarget

F = TypeVar("F", bound=Callable[..., Any])
WAYS = {"up": (0.0, 0.0, 1.0), "down": (0.0, 0.0, -1.0), "forward": (1.0, 0.0, 0.0), "rearward": (-1.0, 0.0, 0.0),
        "left": (0.0, 1.0, 0.0), "right": (0.0, -1.0, 0.0)}  # fmt: skip


def words(of: Any) -> click.Choice[str]:
    """Return the choice of an enum's words."""
    return click.Choice([str(each.value) for each in of])


OPTIONS = (
    click.option("--rig", type=words(RigKind), default="torsion", show_default=True, help="What is done to the frame."),
    click.option("--held", type=words(HeldFront), default="three points", show_default=True,
                 help="Torsion: the front on one pivot, or on a jack under each side."),
    click.option("--suspension", type=words(Suspension), default="blocked", show_default=True, help="Corner: whether springs work."),
    click.option("--at", default="", metavar="NAME", help="The corner, the frame point or the crossmember that is loaded."),
    click.option("--direction", type=click.Choice(list(WAYS)), default="up", show_default=True, help="Bracket: the way it is pulled."),
    click.option("--front", nargs=2, metavar="LEFT RIGHT", help="Frame points at the front, in place of the rails at the axle."),
    click.option("--rear", nargs=2, metavar="LEFT RIGHT", help="Frame points at the rear."),
    click.option("--steps", type=click.IntRange(2, 20), default=5, show_default=True, help="Load steps."),
    click.option("--load", metavar="FORCE", help="The largest load, as in '500 lb'; proposed where left out."),
    click.option("--arm", metavar="LENGTH", help="Torsion on three points: from the pivot to the weight; 1 m where left out."),
    click.option("--jack", metavar="FORCE", help="The most that the jack or the scale bears."),
    click.option("--force-by", type=words(ForceBy), default="weights", show_default=True, help="What tells the force."),
    click.option("--planes", type=click.IntRange(0, 12), default=3, show_default=True, help="Pairs of dials between front and rear."),
    click.option("--resolution", metavar="LENGTH", default="0.01 mm", show_default=True, help="Of the dials."),
    click.option("--bodies", is_flag=True, help="Leave on what stands on mounts (engine, cab); else the frame is bare."),
    click.option("--target", "target_name", metavar="NAME", help="A limit of shared/test_targets.yaml."),
    click.option("--least-stiffness", metavar="STIFFNESS", help="The torsional stiffness asked for, as in '4000 Nm/deg'."),
    click.option("--most-sag", metavar="LENGTH", help="The sag allowed under the top load."),
)  # fmt: skip


def rig_options(function: F) -> F:
    """Add the options of a rig."""
    for option in reversed(OPTIONS):
        function = option(function)
    return function


def asked_from(given: Mapping[str, Any]) -> AskedTest:
    """Return the test that the options ask for. InputError: an amount can't be read."""
    if (given["front"] is None) != (given["rear"] is None):
        raise click.UsageError("--front and --rear go together")
    return AskedTest(
        kind=RigKind(given["rig"]),
        held=HeldFront(given["held"]),
        suspension=Suspension(given["suspension"]),
        force_by=ForceBy(given["force_by"]),
        at=given["at"],
        direction=WAYS[given["direction"]],
        front=given["front"],
        rear=given["rear"],
        steps=given["steps"],
        top=amount("--load", given["load"], "weight"),
        arm=amount("--arm", given["arm"], "length"),
        jack=amount("--jack", given["jack"], "weight"),
        planes=given["planes"],
        resolution=amount("--resolution", given["resolution"], "length") or 1e-5,
        bodies=given["bodies"],
    )


def amount(option: str, text: str | None, quantity: str) -> float | None:
    """Return an amount written on the command line, SI, above zero; None where it is left out."""
    if text is None:
        return None
    diagnostics = Diagnostics("")
    found = QuantityKind(quantity, AllowedSign.POSITIVE).read(Text(0, text, quoted=True), option, diagnostics)
    refuse_faults(diagnostics)
    if not isinstance(found, float) or found > LARGEST:
        raise InputError([Fault("", option, "is beyond what is asked of a test", "check the number")])
    return found


def target_from(given: Mapping[str, Any]) -> TestTarget | None:
    """Return what is asked of the test: a named limit, or one's own."""
    if given["target_name"] is not None:
        return target_named(library(), given["target_name"])
    stiffness = amount("--least-stiffness", given["least_stiffness"], "turning stiffness")
    sag = amount("--most-sag", given["most_sag"], "length")
    return None if stiffness is None and sag is None else TestTarget("your own", stiffness, sag)
