"""The command line: finds the command, turns errors into words and exit codes.

0 no target missed (--strict: and nothing open) · 1 a target missed · 2 bad input or usage · 3 not solved or not judged · 4 our fault
"""

from __future__ import annotations

import atexit
import errno
import gc
import importlib
import os
import signal
import sys
from collections.abc import Sequence
from contextlib import suppress

import click

from framecheck import __version__
from framecheck.cli.console import speak_plainly, waited_for
from framecheck.cli.places import begin
from framecheck.errors import InputError, UnsolvableError, was_interrupted

FULL = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO, errno.EROFS, errno.EBADF})
"""What a place to write to says when it is full, broken or closed."""
CAUTION = "framecheck informs; it does not approve. Local rules, a qualified engineer and an inspection decide."

COMMANDS = {
    "new": "Write a first case file from five answers.",
    "check": "Solve a case: what is missed, what is nearest, what is open.",
    "compare": "Two or more sections, or case files, side by side.",
    "stiffness": "Torsional, bending and lateral stiffness; which members give.",
    "modes": "First natural frequencies, bare, loaded and on the wheels.",
    "section": "One section: properties, and what its shape costs.",
    "notch": "One notch: what is left, how deep, where else, what mends it.",
    "test": "A test sheet: how to measure the frame, what dials should read.",
    "rate": "How much torque, g, curb speed, payload the frame can take.",
    "size": "The lightest of many variants that misses no target.",
    "draw": "Draw the frame moved, a member's diagrams, or the load cases.",
    "report": "Write a report for an engineer and an inspector.",
    "list": "List sections, materials or gauges of the shop's tables.",
    "selfcheck": "Check this installation on problems with known answers.",
    "bench": "Open a page with forms and a picture that answer while you type.",
    "schema": "Print what a case file may hold: for editors, or as a text.",
}

FILES = {
    **dict.fromkeys(("check", "report"), "check_commands"),
    **dict.fromkeys(("compare", "stiffness", "modes", "rate"), "study_commands"),
    **dict.fromkeys(("section", "notch"), "section_commands"),
    **dict.fromkeys(("new", "schema"), "case_file_commands"),
    **dict.fromkeys(("list", "selfcheck"), "shop_commands"),
}
"""Where commands stand that share a file; any other stands in one of its own name."""


class LateGroup(click.Group):
    """Loads a command's module only when that command is run, so that --help stays quick."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        name = f"{cmd_name}_command"
        room = "framecheck.bench.command" if cmd_name == "bench" else f"framecheck.cli.{FILES.get(cmd_name, name)}"
        module = importlib.import_module(room)
        command: click.Command = getattr(module, name)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(
    cls=LateGroup,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100, "color": True},
    epilog=CAUTION,
)
@click.version_option(__version__, prog_name="framecheck")
@click.option("--debug", is_flag=True, help="Show the traceback of an error.")
def group(debug: bool) -> None:
    """Check a vehicle frame before cutting steel: stress, deflection and safety factor in every load case."""


def entry(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    speak_plainly(sys.stdout, sys.stderr)
    begin()
    os.environ["MPLBACKEND"] = "agg"  # pictures go to files; what the user's own says is for windows, and may be one we have not
    try:
        with waited_for(next((word for word in words if word in COMMANDS), "")):
            result = group.main(args=words, standalone_mode=False)
        sys.stdout.flush()
        return result if isinstance(result, int) else 0
    except (KeyboardInterrupt, click.Abort):  # click makes the one of the other
        return stopped()
    except SystemExit:  # click's own end where nobody reads on
        return UNHEARD
    except Exception as error:
        if was_interrupted(error):
            return stopped()
        if "--debug" in words:
            raise
        return _said(error)


def stopped() -> int:
    """Say that a person stopped the command, and return its exit code."""
    say("stopped by the keyboard; nothing was left half written")
    return 130


LONGEST = 1000
"""Letters of a line on standard error: a name may be as long as its writer likes."""


def say(text: str) -> None:
    """Print on standard error. color: click would else drop escape codes unseen; our stream spells them out (cli/console.py)."""
    lines = (line if len(line) <= LONGEST else f"{line[:LONGEST]} ..." for line in text.split("\n"))
    with suppress(OSError):  # a full disk behind it must not change the exit code
        click.echo("\n".join(lines), err=True, color=True)


UNHEARD = 141
"""Who reads the answer has gone: 128 and the number of SIGPIPE, as shells have it. 0 would say that the case is met."""


def _said(error: Exception) -> int:
    """Print an error in words and return its exit code."""
    if isinstance(error, click.exceptions.Exit):
        return error.exit_code
    if isinstance(error, click.ClickException):
        with suppress(OSError):
            error.show()
        return 2
    if isinstance(error, InputError):
        say(str(error))
        return 2
    if isinstance(error, UnsolvableError):
        say(f"cannot be solved: {error}")
        return 3
    if isinstance(error, BrokenPipeError):
        return UNHEARD
    if isinstance(error, OSError) and error.errno in FULL:
        say(f"the answer can't be written ({error.strerror}); make room, or send it elsewhere")
        return 2
    if isinstance(error, MemoryError):
        say("cannot be solved: there is not memory enough; split the case, or use a larger machine")
        return 3
    say(
        f"framecheck's own fault: {type(error).__name__}: {error}\n"
        "Nothing was written. Run again with --debug and send the output to the maintainers.",
    )
    return 4


THREADS = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")
GARBAGE_AFTER = 100_000
"""Objects made before Python looks for unused cycles: a run makes few, and at the usual 700 it spends a fifth of its time looking."""


def settle_process() -> None:
    """Set what makes a short run quick: rare garbage collection, and one thread for matrices too small to share out.

    One thread also keeps the last digits of a sum the same on every machine. A user's own setting of a variable stands.
    """
    gc.set_threshold(GARBAGE_AFTER)
    for variable in THREADS:
        os.environ.setdefault(variable, "1")


def run_and_exit() -> None:
    """Entry point of the installed command."""
    settle_process()
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:  # closed by who called
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115
    code = entry()
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # all is said: a Ctrl-C while Python ends would change the exit code alone
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except OSError:  # said already; left open it would be tried, and told, once more
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
    atexit._run_exitfuncs()
    os._exit(code)
