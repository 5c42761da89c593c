"""Where computed sections are kept: what a store must offer, and the name under which a section is kept."""

from __future__ import annotations

from hashlib import blake2b
from typing import Protocol

import numpy as np

from framecheck.model.frame import Cut, Section
from framecheck.section.mesh import MESH_SETTING
from framecheck.section.metals import is_mixed, numbers_of, stiffness_of, strength_shares

ENGINE = 9
"""Raised whenever a change in this room changes a number: older entries are then no longer found."""


class SectionStore(Protocol):
    """Keeps bytes by name. A store that can't read or write says nothing: the section is computed again."""

    def get(self, key: str) -> bytes | None:
        """Return what was kept under a key, None where there is nothing sound."""
        ...

    def put(self, key: str, content: bytes) -> None:
        """Keep bytes under a key, whole or not at all."""
        ...


def section_key(section: Section, cut: Cut | None = None) -> str:
    """Return the name of a section's numbers: of its geometry, the one material constant they hang on, and how they are made.

    The versions of the libraries are the store's matter: it knows what is installed without loading it.
    """
    notch = (cut.side, cut.depth) if cut else None
    what = repr((ENGINE, MESH_SETTING, section.shape, section.material.poissons_ratio, notch, _metals(section), section.action.name))
    return blake2b(what.encode(), digest_size=16).hexdigest()


def _metals(section: Section) -> object:
    """Return what the numbers hang on where parts are of different metals: which are alike, moduli, strengths."""
    if not is_mixed(section):
        return ()
    kinds = numbers_of(section, np.arange(len(section.metals)))
    return tuple(kinds.tolist()), stiffness_of(section), tuple(strength_shares(section, kinds).tolist())
