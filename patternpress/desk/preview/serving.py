"""The page served: a port of this computer, a watch on the design's folder, a browser.

In: a design file.  Out: nothing; it runs until it is interrupted.
"""

from __future__ import annotations

import secrets
import socket
import threading
import webbrowser
from pathlib import Path

import click
import uvicorn
import watchfiles

from patternpress.desk.preview.server import application
from patternpress.desk.preview.workshop import Workshop

HOST = "127.0.0.1"


def serve(design: Path, out: Path, port: int, browser: bool) -> None:
    """Serve the page of a design until Ctrl+C; a plain error where the port is taken."""
    try:
        listening = bound(port)
    except OSError:
        raise click.ClickException(f"port {port} is taken; leave --port out.") from None
    token = secrets.token_urlsafe(24)
    real = listening.getsockname()[1]
    workshop = Workshop(design, out)
    stop = threading.Event()
    watch = threading.Thread(target=watched, args=(workshop, stop), daemon=True)
    address = f"http://{HOST}:{real}/?token={token}"
    click.echo(f"The page of {design}: {address}")
    click.echo("Ctrl+C ends it.")
    workshop.start()
    watch.start()
    server = uvicorn.Server(
        uvicorn.Config(
            application(workshop, token, real),
            log_level="error",
            access_log=False,
            server_header=False,
            timeout_graceful_shutdown=2,
        )
    )
    if browser:
        threading.Timer(0.5, webbrowser.open, (address,)).start()
    try:
        server.run(sockets=[listening])
    except KeyboardInterrupt:
        pass
    finally:
        stop.set()
        workshop.close()


def bound(port: int) -> socket.socket:
    """Return a listening socket of this computer alone; raises OSError where it is taken."""
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listening.bind((HOST, port))
        listening.listen(64)
    except OSError:
        listening.close()
        raise
    return listening


def watched(workshop: Workshop, stop: threading.Event) -> None:
    """Look at the design again whenever a file of its folder changes."""
    folder = workshop.path.parent.resolve()
    for _ in watchfiles.watch(folder, stop_event=stop, recursive=False, debounce=60, step=20):
        workshop.look()
