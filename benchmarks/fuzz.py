"""Run many inputs from text to result and record how they ended: `python benchmarks/fuzz.py 100000 --first 0`.

One process does the work; should it die (a crash in compiled code), the one that watches notes the input and begins again behind it.
"""

from __future__ import annotations

import argparse
import os
import resource
import sys
import tempfile
import time
import warnings
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO

sys.path.insert(0, str(Path(__file__).parents[1]))
MOST_SECONDS = 20.0
MOST_MEMORY = 2**30
MOST_ADDRESSES = 4 * 2**30
"""Of an input that asks for more, the process gets no memory and the machine stays up."""
WORN = 2**29
"""Bytes beyond which the process is followed by a new one: what earlier inputs left must not count as the next one's."""


def main() -> None:
    """Run inputs first .. first + count, print findings as they come and totals at the end."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("count", type=int)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--minutes", type=float, default=1e9, help="stop after so long")
    chosen = parser.parse_args()
    end, until = chosen.first + chosen.count, time.monotonic() + 60 * chosen.minutes
    tally: Counter[str] = Counter()
    following = chosen.first
    while following < end and time.monotonic() < until:
        following = watched(following, end, until, tally)
    print(f"inputs {chosen.first} to {following - 1}: {following - chosen.first} run")
    for word, count in sorted(tally.items()):
        print(f"  {word}: {count}")
    print(f"  {WORST.seconds:.2f} s of processor time at most, seed {WORST.seed}", flush=True)


@dataclass
class Worst:
    """The input that took longest so far."""

    seconds: float = 0.0
    seed: int = -1


WORST = Worst()
EVERY = 1000
"""Inputs after which the totals so far are printed: a run may be ended at any time and still be read."""


def watched(first: int, end: int, until: float, tally: Counter[str]) -> int:
    """Run inputs in a child and count what it tells; return the first input that is left."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        os.close(reading)
        with os.fdopen(writing, "w", buffering=1) as told:
            resource.setrlimit(resource.RLIMIT_AS, (MOST_ADDRESSES, MOST_ADDRESSES))
            worked(first, end, until, told)
        os._exit(0)
    os.close(writing)
    done, peak = first, 0
    with os.fdopen(reading) as heard:
        for line in heard:
            seed, kind, command, code, seconds, memory, fault = line.rstrip("\n").split("\t")
            if int(memory) > peak + 100_000 and peak:
                print(f"seed {seed} ({kind}, {command}): memory grew to {int(memory) // 1000} MB", flush=True)
            done, peak = int(seed) + 1, int(memory)
            if float(seconds) > WORST.seconds:
                WORST.seconds, WORST.seed = float(seconds), int(seed)
            if done % EVERY == 0:
                told = ", ".join(f"{word}: {count}" for word, count in sorted(tally.items()) if word.startswith(("exit", "with")))
                print(f"{done} done; {told}; worst {WORST.seconds:.2f} s (seed {WORST.seed})", flush=True)
            tally.update((f"kind {kind}", f"command {command}", f"exit {code}", "with a fault" if fault else "sound"))
            if fault:
                print(f"seed {seed} ({kind}, {command}, {float(seconds):.1f} s): {fault}", flush=True)
    _, status = os.waitpid(child, 0)
    tally["peak memory of a process, MB"] = max(tally["peak memory of a process, MB"], peak // 1000)
    if os.WIFSIGNALED(status):
        print(f"seed {done}: the process died of signal {os.WTERMSIG(status)}", flush=True)
        tally["process died"] += 1
        return done + 1
    return done


def worked(first: int, end: int, until: float, told: TextIO) -> None:
    """Run inputs one after the other and tell a line about each."""
    from tests.trust.texts import SMALL, drawn
    from tests.trust.trial import tried

    warnings.simplefilter("error")
    for module in ("sectionproperties", "pythoncdt"):
        warnings.filterwarnings("ignore", category=DeprecationWarning, module=module)
    with tempfile.TemporaryDirectory() as folder:
        os.environ["FRAMECHECK_STORE"] = f"{folder}/store"
        for warm_up in (b"", SMALL.encode()):
            tried(warm_up, Path(folder), 0, 10 * MOST_SECONDS)
        for seed in range(first, end):
            if time.monotonic() > until:
                return
            kind, text = drawn(seed)
            trial = tried(text, Path(folder), seed, MOST_SECONDS)
            memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
            fault = trial.fault or ("more than 1 GB of memory" if memory * 1024 > MOST_MEMORY else "")
            words = (seed, kind, trial.command, trial.code, f"{trial.seconds:.2f}", memory, " ".join(fault.split()))
            print(*words, sep="\t", file=told)
            if trial.stopped or memory * 1024 > WORN:
                return  # what was broken off may be half done, and memory is not given back: go on in a new process


if __name__ == "__main__":
    main()
