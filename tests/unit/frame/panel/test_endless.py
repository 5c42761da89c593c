"""Lines that run round a tunnel and don't close: said by the panel's line."""

from __future__ import annotations

import re

import pytest

from framecheck.errors import InputError
from framecheck.reading.case_file import read_case
from framecheck.run import run
from tests.cases.test_sections import LIBRARY
from tests.memory import SHARED
from tests.verification.panel_files import tub


def test_a_tunnel_with_one_corner_aside_is_refused_by_name() -> None:
    """Each turn round the skewed tunnel sets every line off a little, so it would be cut for ever."""
    text, count = re.subn(r"(tunnel front left: .*z: )150.0 mm", r"\g<1>160.0 mm", tub())
    assert count == 1
    with pytest.raises(InputError, match=r"case.yaml:\d+: panel '[a-z ]+': .* divide one another without end") as told:
        run(read_case(text, "case.yaml", LIBRARY), SHARED)
    (fault,) = told.value.faults
    line = text.splitlines()[int(fault.place.removeprefix("case.yaml:")) - 1]
    assert fault.subject == "panel 'tunnel top'"  # the one that the corner takes out of its plane
    assert f"name: {fault.subject.removeprefix('panel ').strip(chr(39))}," in line
