"""A case given to the command line: exit code, JSON and what is said, as a user has them."""

from __future__ import annotations

import json
from contextlib import redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path
from typing import Any

from framecheck.cli.main import entry
from framecheck.value_class import value_class

ROOT = Path(__file__).parents[2]
VERDICT = Path(__file__).parent / "verdict"


@value_class
class Answer:
    """What a command answers. data: its JSON, empty where it wrote none."""

    code: int
    data: Any
    out: str
    err: str

    @property
    def gaps(self) -> dict[tuple[str, str], float]:
        """Return gaps left, m, by clearance and load case."""
        return {(row["clearance"], row["load_case"]): row["left_m"] for row in self.data["clearances"]}

    @property
    def faults(self) -> list[str]:
        """Return the faults, a line each."""
        return self.err.splitlines()


def checked(text: str, folder: Path, name: str = "case.yaml") -> Answer:
    """Return what `check` answers to a case file of some text."""
    (folder / name).write_text(text, encoding="utf-8")
    (folder / "answer.json").unlink(missing_ok=True)
    return told("check", str(folder / name), "--json", str(folder / "answer.json"))


def told(*words: str) -> Answer:
    """Return what a command answers; its JSON where `--json` names a file that it wrote."""
    out, err = StringIO(), StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = entry(words)
    written = Path(words[words.index("--json") + 1]) if "--json" in words else None
    data = json.loads(written.read_text(encoding="utf-8")) if written is not None and written.exists() else {}
    return Answer(code, data, out.getvalue(), err.getvalue())


def stored(name: str) -> str:
    """Return the text of a file of tests/cases/verdict."""
    return (VERDICT / name).read_text(encoding="utf-8")
