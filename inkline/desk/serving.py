"""Serving the desk on the loopback address, and opening the browser at it."""

from __future__ import annotations

import re
import secrets
import socket
import sys
import webbrowser
from collections.abc import Callable
from contextlib import suppress
from types import FrameType

import uvicorn

from inkline.desk.app import desk_app
from inkline.desk.desk import Desk
from inkline.desk.guard import Guard
from inkline.desk.maker import Maker
from inkline.desk.memory import DeskMemory
from inkline.errors import InputError

_LOOPBACK = "127.0.0.1"
_MOST_BYTES = 60_000_000
"""The largest file that the page may send: a painting of 10 000 px as JPEG has less."""
_LAST_ANSWERS_S = 2
"""How long what is being answered may take once the desk is told to end."""
_TOKEN = re.compile(r"[A-Za-z0-9_-]{43}")
_LAST_PORT = 65_535


def serve(
    desk: Desk, *, port: int = 0, opens_browser: bool = True, told: Callable[[str], None]
) -> None:
    """Serve `desk` until it is interrupted.

    Args:
        desk: what is served.
        port: of the loopback address; any that is free if 0.
        opens_browser: whether the browser is opened.
        told: gets the address of the page.

    Raises:
        InputError: the port is taken.
    """
    memory, maker = DeskMemory.of(desk.document.path), Maker()
    desk.document.remember(memory)
    token = _token_in(memory)
    with _listening_as_before(port, memory) as listening:
        port = listening.getsockname()[1]
        memory.keep(port=port, token=token)
        guarded = Guard(
            desk_app(desk, token=token, maker=maker), port=port, token=token, most_bytes=_MOST_BYTES
        )
        config = uvicorn.Config(
            guarded,
            log_level="error",
            access_log=False,
            server_header=False,
            lifespan="off",
            timeout_graceful_shutdown=_LAST_ANSWERS_S,
        )
        address = f"http://{_LOOPBACK}:{port}/?key={token}"
        told(address)
        desk.start()
        if opens_browser:
            webbrowser.open(address)
        try:
            _Server(config, desk, maker).run(sockets=[listening])
        except KeyboardInterrupt:
            pass
        finally:
            desk.stop()
            maker.stop()


class _Server(uvicorn.Server):
    """A server that, told to end, waits for no picture."""

    def __init__(self, config: uvicorn.Config, desk: Desk, maker: Maker) -> None:
        super().__init__(config)
        self._desk, self._maker = desk, maker

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """End what draws, then serving."""
        self._desk.stop()
        self._maker.interrupt()
        super().handle_exit(sig, frame)


def _token_in(memory: DeskMemory) -> str:
    """The token of last time, so that a page that is open still may go on; else a fresh one."""
    token = memory.values.get("token")
    return (
        token if isinstance(token, str) and _TOKEN.fullmatch(token) else secrets.token_urlsafe(32)
    )


def _listening_as_before(port: int, memory: DeskMemory) -> socket.socket:
    """A socket on `port`, or, where any will do, on that of last time if it is free.

    Raises:
        InputError: the port is taken.
    """
    before = memory.values.get("port")
    if port == 0 and isinstance(before, int) and 1024 <= before <= _LAST_PORT:
        with suppress(InputError):
            return _listening(before)
    return _listening(port)


def _listening(port: int) -> socket.socket:
    """A socket that listens on the loopback address.

    Raises:
        InputError: the port is taken.
    """
    own = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if sys.platform != "win32":  # there it would let others share the port
        own.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        own.bind((_LOOPBACK, port))
    except OSError as problem:
        own.close()
        raise InputError(f"port {port} is taken; leave it out for any that is free") from problem
    own.listen(128)
    return own
