"""Every library that pyproject.toml names stands with its licence in docs/dependencies.md."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_every_dependency_is_listed_with_its_licence() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = [*project["dependencies"], *(each for extra in project["optional-dependencies"].values() for each in extra)]
    names = {match[0] for match in (re.match(r"[\w.-]+", each) for each in asked) if match}
    page = (ROOT / "docs" / "dependencies.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| ([^|]+) \| [^|]+ \| ([^|]+) \|$", page, re.MULTILINE)
    listed = {name.strip() for libraries, _ in rows for name in libraries.split(",")}
    assert names <= listed
    assert all(re.search(r"BSD|MIT|LGPL|PSF|ISC|MPL|Apache", licence) for _, licence in rows if licence not in ("licence", "---"))
