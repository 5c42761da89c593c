"""Small frames for rigs, as case files, and the command as a person types it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from framecheck.cli.main import entry

LADDER = """\
title: Two rails on a bench
origin: on the floor below the rear end
sections:
  rail: {{shape: rectangular tube, height: 100 mm, width: 50 mm, wall: 4 mm, outside radius: 8 mm, material: S355}}
  cross: {{shape: rectangular tube, height: 50 mm, width: 50 mm, wall: 3 mm, outside radius: 6 mm, material: S355}}
frame:
  ladder:
    rail:
      section: rail
      front end: {{cap: 4 mm}}
      rear end: {{cap: 4 mm}}
      stations:
        - {{name: front, x: 3000 mm, y: 400 mm, z: 500 mm}}
        - {{name: rear, x: 0 mm, y: 400 mm, z: 500 mm}}
    crossmembers:
      - {{name: front crossmember, x: 2750 mm, section: cross, ends: {ends}}}
      - {{name: middle crossmember, x: 1500 mm, section: cross, ends: {ends}}}
      - {{name: rear crossmember, x: 250 mm, section: cross, ends: {ends}}}
load cases:
  - push:
      forces: [{{point: left front, force: {{z: 10 N}}}}, {{point: right front, force: {{z: -10 N}}}}]
      supports:
        - {{point: left rear, held: place}}
        - {{point: right rear, held: [x, z]}}
        - {{point: left middle crossmember, held: [z]}}
"""


def ladder(folder: Path, ends: str = "{make: butt on one face, leg: 4 mm}", **changes: str) -> str:
    """Return the path of a ladder's case file; changes: text by the text that it takes the place of (underscores for blanks)."""
    text = LADDER.format(ends=ends)
    for old, new in changes.items():
        assert old.replace("_", " ") in text
        text = text.replace(old.replace("_", " "), new)
    path = folder / "ladder.yaml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def sheet(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    """Return the JSON of a test sheet."""
    code = entry(["test", *words, "--json", "-"])
    out, err = capsys.readouterr()
    assert (code, err) == (0, ""), err
    found: dict[str, Any] = json.loads(out)
    return found


def said(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return exit code, output and errors of the command."""
    code = entry(["test", *words])
    out, err = capsys.readouterr()
    return code, out, err


def answer(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    """Return the JSON of a command."""
    code = entry([*words, "--json", "-"])
    out, err = capsys.readouterr()
    assert (code in (0, 1), err) == (True, ""), err
    found: dict[str, Any] = json.loads(out)
    return found
