"""`slopewise serve`: the page on this machine alone, until Ctrl-C."""

from __future__ import annotations

import contextlib
import socket
import sys
import threading
import webbrowser
from collections.abc import Iterator

import uvicorn

from rewriter.web.app import build_app

_ADDRESS = "127.0.0.1"


class PortTaken(OSError):
    """The port that was asked for cannot be had; the message says what to do."""


@contextlib.contextmanager
def listening(port: int) -> Iterator[socket.socket]:
    """Yield a socket of this machine alone; port 0 takes a free one. Raises PortTaken."""
    # the protocol is named: only then does asyncio send what is small at once. Else the body of an answer
    # waits behind its head until the browser acknowledges that, which takes it 40 ms
    sock = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        if sys.platform != "win32":
            # a server that was just stopped may be started again at the same port
            sock.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            sock.bind((_ADDRESS, port))
            sock.listen(64)
        except (OSError, OverflowError) as error:
            raise PortTaken(
                f"port {port} cannot be had ({error}); leave out --port and a free one is taken"
            ) from None
        yield sock
    finally:
        sock.close()


def serve(port: int = 0, browser: bool = True) -> None:
    """Serve the page until Ctrl-C, and open it in the browser. Raises PortTaken."""
    with listening(port) as sock:
        url = f"http://{_ADDRESS}:{sock.getsockname()[1]}/"
        print(f"Slopewise is open at {url}", "Ctrl-C stops it.", sep="\n", flush=True)
        if browser:
            # the socket already listens, so the page comes as soon as the server is ready
            threading.Thread(target=webbrowser.open, args=(url,), daemon=True).start()
        config = uvicorn.Config(
            build_app(),
            log_level="error",
            access_log=False,
            server_header=False,
            timeout_graceful_shutdown=1,
            lifespan="on",
        )
        with contextlib.suppress(KeyboardInterrupt):
            uvicorn.Server(config).run(sockets=[sock])
    print("Stopped.", flush=True)
