"""What an answer to readings holds beside the readings themselves."""

from __future__ import annotations

from framecheck.rig.change import BeforeAndAfter
from framecheck.rig.fitted import Fitted
from framecheck.value_class import array_class
from framecheck.versions import Origin


@array_class
class Also:
    """The files it is made from; a fit, where one was asked for; what changed, where readings after a change were given."""

    origins: tuple[Origin, ...] = ()
    fit: Fitted | None = None
    change: BeforeAndAfter | None = None


NOTHING = Also()
