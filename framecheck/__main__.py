"""`python -m framecheck`, and the installed command. Nothing is loaded here, so that Ctrl-C is answered in words from the first."""

import _thread
import sys
import time
from types import FrameType

AGAIN_S = 0.02
"""How long after a lost Ctrl-C it is sent again, s: by then Python is out of the place that lost it."""
AS_ONE_S = 0.5
"""Keys pressed so soon after each other are one, s: the second must not fall into the tidying up after the first."""


def main() -> None:
    """Run the command line."""
    sys.unraisablehook = send_again
    try:
        listen()
        from framecheck.cli.main import run_and_exit

        run_and_exit()
    except KeyboardInterrupt:
        sys.stderr.write("stopped by the keyboard; nothing was left half written\n")
        sys.exit(130)


class Key:
    """When Ctrl-C last stopped what was going on, by time.monotonic, s."""

    stopped = float("-inf")


def listen() -> None:
    """Let stop() answer Ctrl-C; whoever has made the command deaf to it, as a shell does in the background, is obeyed."""
    import signal

    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, stop)


def stop(_number: int, _frame: FrameType | None) -> None:
    """Stop what is going on, once for keys pressed one upon another."""
    now = time.monotonic()
    if now - Key.stopped > AS_ONE_S:
        Key.stopped = now
        raise KeyboardInterrupt


def send_again(lost: "sys.UnraisableHookArgs") -> None:
    """Send a Ctrl-C again that fell where Python lets no error out (the end of an object, of a module's lock), and would be lost.

    It comes from a thread of its own, a moment later: sent from here, it would fall into this very function, and be lost again.
    """
    if lost.exc_type is KeyboardInterrupt:
        _thread.start_new_thread(interrupt_soon, (_thread.get_ident(),))
    else:
        sys.__unraisablehook__(lost)


def interrupt_soon(thread: int) -> None:
    """Press Ctrl-C once more, for the thread that lost it: one that waits is woken by a true signal alone."""
    import signal

    time.sleep(AGAIN_S)
    Key.stopped = float("-inf")
    if hasattr(signal, "pthread_kill"):
        signal.pthread_kill(thread, signal.SIGINT)
    else:
        _thread.interrupt_main()


if __name__ == "__main__":
    main()
