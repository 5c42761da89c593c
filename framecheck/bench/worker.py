"""Answers are worked out in a process of its own, which is ended when it takes too long or too much memory, or is no longer asked."""

from __future__ import annotations

import multiprocessing
import sys
import threading
from contextlib import suppress
from multiprocessing.connection import Connection
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from framecheck.bench.answer import Answer

SECONDS = 30.0
MEMORY = 2 * 2**30
"""What one answer may take: time, s, and memory beyond what the loaded program has, bytes."""
STEP = 0.05
START = multiprocessing.get_context("spawn")


def work(asked: Connection) -> None:
    """Answer what comes in until nothing more does: (text, file) in, an answer out."""
    from framecheck.bench.answer import answer_of
    from framecheck.cli.context import section_store
    from framecheck.cli.files import library_beside

    bound_memory()
    with suppress(EOFError, OSError, KeyboardInterrupt):
        while True:
            text, file = asked.recv()
            try:
                found = answer_of(text, file, library_beside(file), section_store())
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


class Worker:
    """One process that answers, begun anew after it was ended. Of questions that wait, only the newest is asked."""

    def __init__(self, seconds: float = SECONDS) -> None:
        self.seconds = seconds
        self.newest = 0
        self.turn = threading.Lock()
        self.process: Any = None
        self.line: Connection | None = None
        self.begin()

    def begin(self) -> None:
        """Start the process; it loads the program while nobody waits."""
        self.line, theirs = START.Pipe()
        self.process = START.Process(target=work, args=(theirs,), daemon=True)
        self.process.start()
        theirs.close()

    def ask(self, text: str, file: str) -> Answer:
        """Return the answer to a text; a newer question ends the work on an older one, which is told as given up."""
        self.newest += 1
        own = self.newest
        with self.turn:
            if own != self.newest:
                return {"state": "given up", "verdict": "", "faults": []}
            return self.answered(own, text, file)

    def answered(self, own: int, text: str, file: str) -> Answer:
        """Send a question and wait for its answer."""
        assert self.line is not None
        try:
            self.line.send((text, file))
            waited = 0.0
            while not self.line.poll(STEP):
                waited += STEP
                if own != self.newest:
                    return self.ended({"state": "given up", "verdict": "", "faults": []})
                if waited > self.seconds:
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
        """End the process."""
        self.process.kill()
        self.process.join(5)
        if self.line is not None:
            self.line.close()
