"""Answers are worked out in a process of its own, which is ended when it takes too long or too much memory, or is no longer asked."""

from __future__ import annotations

import multiprocessing
import sys
import threading
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path
from time import monotonic
from typing import Any

from framecheck.bench.asked import Answer, Asked

SECONDS = 30.0
MEMORY = 2 * 2**30
"""What one answer may take: time, s, and memory beyond what the loaded program has, bytes."""
STEP = 0.01
MOST_TABS = 100
FORKS = "forkserver" in multiprocessing.get_all_start_methods()
START: Any = multiprocessing.get_context("forkserver" if FORKS else "spawn")
if FORKS:
    START.set_forkserver_preload(["framecheck.bench.loaded"])


def work(asked: Connection) -> None:
    """Answer what comes in until nothing more does."""
    from framecheck.bench.answer import made_of
    from framecheck.cli.context import section_store
    from framecheck.cli.drawings import library_beside

    bound_memory()
    store = section_store()
    with suppress(EOFError, OSError, KeyboardInterrupt):
        while True:
            question = asked.recv()
            try:
                found = made_of(question, library_beside(question.file), store)
            except MemoryError:
                found = broken("It needs more than 2 GB of memory: make it smaller, or run `framecheck check` on it.")
            except Exception as error:  # told on the page: the page goes on
                found = broken(f"framecheck's own fault ({type(error).__name__}): run `framecheck --debug check` on the file.")
            asked.send(found)


def bound_memory() -> None:
    """Let this process grow by no more memory than an answer may take, on a system that tells how large it is."""
    if not sys.platform.startswith("linux"):
        return
    import resource

    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0])
    most = pages * resource.getpagesize() + MEMORY
    with suppress(ValueError, OSError):
        resource.setrlimit(resource.RLIMIT_AS, (most, most))


def broken(words: str) -> Answer:
    """Return what is shown where there is no answer."""
    return {"state": "no answer", "verdict": words, "faults": []}


GIVEN_UP: Answer = {"state": "given up", "verdict": "", "faults": []}


class Worker:
    """One process that answers, begun anew after it was ended. Of the questions of one tab that wait, only the newest is asked.

    is_ready: whether it is begun at once, so that it has loaded the program before the first question.
    """

    def __init__(self, seconds: float = SECONDS, is_ready: bool = True) -> None:
        self.seconds = seconds
        self.newest: dict[str, int] = {}
        self.turn = threading.Lock()
        self.process: Any = None
        self.line: Connection | None = None
        if is_ready:
            threading.Thread(target=self.make_ready, daemon=True).start()

    def make_ready(self) -> None:
        """Start the process while nobody waits."""
        with self.turn:
            if self.line is None:
                self.begin()

    def begin(self) -> None:
        """Start the process."""
        ours, theirs = START.Pipe()
        process = START.Process(target=work, args=(theirs,), daemon=True)
        process.start()
        theirs.close()
        self.process, self.line = process, ours

    def ask(self, question: Asked) -> Answer:
        """Return the answer to a question; a newer one of the same tab ends the work on it, and it is told as given up."""
        own = self.newest.pop(question.tab, 0) + 1
        self.newest[question.tab] = own
        while len(self.newest) > MOST_TABS:
            self.newest.pop(next(iter(self.newest)), None)
        with self.turn:
            return self.answered(own, question) if self.is_newest(own, question) else dict(GIVEN_UP)

    def is_newest(self, own: int, question: Asked) -> bool:
        """Return whether nothing newer was asked by the same tab."""
        return self.newest.get(question.tab, own) == own

    def answered(self, own: int, question: Asked) -> Answer:
        """Send a question and wait for its answer."""
        if self.line is None:
            self.begin()
        elif not self.process.is_alive():  # ended while nobody asked: nothing is lost by it
            self.ended({})
        assert self.line is not None
        try:
            self.line.send(question)
            begun = monotonic()
            while not self.line.poll(STEP):
                if not self.is_newest(own, question):
                    return self.ended(dict(GIVEN_UP))
                if monotonic() - begun > self.seconds:
                    words = f"It took longer than {self.seconds:g} s and was ended: make it smaller, or run `framecheck check` on it."
                    return self.ended(broken(words))
                if not self.process.is_alive():
                    raise EOFError
            found: Answer = self.line.recv()
        except (EOFError, OSError):
            words = "The process that works it out was ended from outside. A new one is ready: change anything, or ask again."
            return self.ended(broken(words))
        return found

    def ended(self, words: Answer) -> Answer:
        """End the process, begin another, and return what to tell."""
        self.stop()
        self.begin()
        return words

    def stop(self) -> None:
        """End the process, if there is one."""
        if self.process is None or self.line is None:
            return
        self.process.kill()
        self.process.join(5)
        self.line.close()
