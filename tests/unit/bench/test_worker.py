"""The process that answers: ended when it takes too long, when a newer question of its tab comes, or from outside; begun anew."""

from __future__ import annotations

from pathlib import Path
from threading import Thread
from time import sleep
from typing import Any

from framecheck.bench.asked import Asked
from framecheck.bench.worker import Worker

CASES = Path(__file__).parents[3] / "cases"


def test_work_that_lasts_too_long_or_is_ended_from_outside_is_told(tmp_path: Path) -> None:
    hasty = Worker(seconds=0.0)
    text = (CASES / "notched-rail.yaml").read_text(encoding="utf-8")
    question = Asked(text, str(tmp_path / "notched-rail.yaml"))
    try:
        assert "took longer" in hasty.ask(question)["verdict"]
        hasty.seconds = 60.0
        hasty.process.kill()
        hasty.process.join()
        assert hasty.ask(question)["state"] == "met so far"  # nobody asked when it was ended: nothing is lost
    finally:
        hasty.stop()


def test_a_newer_question_of_a_tab_ends_the_older_one_and_no_other_tab_s(tmp_path: Path) -> None:
    """The older question is let run until it is at work: frames of many members take a second and more."""
    worker = Worker()
    slow = (CASES / "coast-coupe.yaml").read_text(encoding="utf-8")
    quick = (CASES / "notched-rail.yaml").read_text(encoding="utf-8")
    file = str(tmp_path / "notched-rail.yaml")
    answers: dict[str, Any] = {}

    def ask(name: str, text: str, tab: str) -> Thread:
        thread = Thread(target=lambda: answers.update({name: worker.ask(Asked(text, file, tab=tab))}))
        thread.start()
        return thread

    try:
        worker.ask(Asked(quick, file))
        process = worker.process
        first = ask("older", slow, "one")
        while not worker.turn.locked():
            sleep(0.01)
        waiting = ask("other tab's", quick, "two")
        newer = ask("newer", quick, "one")
        for thread in (first, waiting, newer):
            thread.join(60)
        assert {name: found["state"] for name, found in answers.items()} == {
            "older": "given up", "other tab's": "met so far", "newer": "met so far"
        }  # fmt: skip
        assert worker.process is not process
        assert not process.is_alive()
    finally:
        worker.stop()


def test_a_process_that_is_ended_at_work_says_so(tmp_path: Path) -> None:
    worker = Worker()
    text = (CASES / "coast-coupe.yaml").read_text(encoding="utf-8")
    told: dict[str, Any] = {}
    try:
        worker.ask(Asked("title: x", str(tmp_path / "x.yaml")))
        thread = Thread(target=lambda: told.update(worker.ask(Asked(text, str(tmp_path / "x.yaml")))))
        thread.start()
        while not worker.turn.locked():
            sleep(0.01)
        sleep(0.1)
        worker.process.kill()
        thread.join(60)
        assert "ended from outside" in told["verdict"]
    finally:
        worker.stop()
