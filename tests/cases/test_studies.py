"""The study in cases/: what the page says of its winner is what `framecheck check` says of that truck alone."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from framecheck.cli.main import entry
from framecheck.cli.size_command import means_of, studied
from framecheck.study.engines import run_variants

CASES = Path(__file__).parents[2] / "cases"
BUTTED = "rear crossmember, x: -126 in, section: tube 3 x 2 x 11 ga, ends: {make: butt on one face, leg: 3/16 in}"
THROUGH = BUTTED.replace("butt on one face", "through both faces")


@pytest.fixture(scope="module", autouse=True)
def store(tmp_path_factory: pytest.TempPathFactory) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FRAMECHECK_STORE", str(tmp_path_factory.mktemp("store")))


def test_the_stiffener_study(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The truck as it is misses the stiffness asked; the same steel put through both faces of the rails meets it. The winner written
    as a case of its own and given to `framecheck check` says the same to 1e-9."""
    file = studied(str(CASES / "stiffener-study.yaml"))
    rows = run_variants(file.study, means_of(file))
    as_it_is, through = next(rows), next(rows)
    assert as_it_is.values[-1] == "butt on one face"
    assert as_it_is.governs is not None
    assert (as_it_is.passes, as_it_is.governs.aim) == (False, "torsional stiffness")
    assert through.passes
    assert through.mass == as_it_is.mass
    text = (CASES / "hill-truck.yaml").read_text(encoding="utf-8")
    assert text.count(BUTTED) == 1
    (tmp_path / "winner.yaml").write_text(text.replace(BUTTED, THROUGH), encoding="utf-8")
    assert entry(["check", str(tmp_path / "winner.yaml"), "--json", str(tmp_path / "winner.json"), "--quiet"]) == 0
    capsys.readouterr()
    alone = json.loads((tmp_path / "winner.json").read_text(encoding="utf-8"))
    assert through.safety_factor == pytest.approx(alone["governing"]["safety_factor"], rel=1e-9)
    assert through.governs is not None
    assert through.governs.ratio <= alone["governing"]["safety_factor"] / alone["governing"]["target"] * (1 + 1e-9)
