"""`framecheck bench`: a page in the person's own browser, with forms and a picture that answer while one types."""

from __future__ import annotations

import socket
import webbrowser
from importlib.util import find_spec
from pathlib import Path
from secrets import token_urlsafe
from urllib.parse import quote

import click

from framecheck.errors import Fault, InputError

NEEDED = ("starlette", "uvicorn")
HOST = "127.0.0.1"


@click.command(name="bench", short_help="Open a page with forms and a picture that answer while you type.")
@click.argument("file", required=False)
@click.option("--port", type=click.IntRange(0, 65535), default=0, metavar="N", help="The port to listen on; a free one unless told.")
@click.option("--no-browser", is_flag=True, help="Open no browser; print the address alone.")
def bench_command(file: str | None, port: int, no_browser: bool) -> int:
    """Open a page in your own browser: forms, a picture and the answer of a case FILE, or of one that is begun there.

    The file stays the truth: the page reads and writes the same YAML, in this folder and below, and keeps comments. It listens on
    this machine alone. Ctrl-C ends it.
    """
    missing = [name for name in NEEDED if find_spec(name) is None]
    if missing:
        fault = f"the page needs {' and '.join(missing)}"
        raise InputError([Fault("", "bench", fault, 'install them: pip install "framecheck[bench]"')])
    if file is not None:
        from framecheck.bench.files import Folder

        Folder(Path.cwd().resolve()).load(file)
    listening = listen(port)
    token = token_urlsafe(24)
    address = f"http://{HOST}:{listening.getsockname()[1]}/{token}/" + (f"edit?file={quote(file)}" if file else "")
    click.echo(f"{address}\nOpen this address on this machine. Ctrl-C ends it; what is not saved stays in the browser.")
    if not no_browser:
        webbrowser.open(address)
    serve(listening, token)
    return 0


def listen(port: int) -> socket.socket:
    """Return a socket that listens on this machine alone; InputError where the port is taken."""
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listening.bind((HOST, port))
        listening.listen()  # before the address is told: who opens it at once waits, and is not refused
    except OSError as error:
        listening.close()
        fault = Fault("", f"port {port}", f"can't be listened on ({error.strerror})", "leave out --port, or give another")
        raise InputError([fault]) from None
    return listening


def serve(listening: socket.socket, token: str) -> None:
    """Serve the page until Ctrl-C."""
    import uvicorn

    from framecheck.bench.app import application
    from framecheck.bench.guard import Guard
    from framecheck.bench.worker import Worker

    worker, printer = Worker(), Worker(is_ready=False)
    try:
        guarded = Guard(application(Path.cwd(), worker, printer), token, listening.getsockname()[1])
        config = uvicorn.Config(guarded, log_level="error", access_log=False, server_header=False)
        uvicorn.Server(config).run(sockets=[listening])
    finally:
        worker.stop()
        printer.stop()
