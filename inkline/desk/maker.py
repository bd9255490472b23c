"""What is being made from the recipe on the desk, and how far it is."""

from __future__ import annotations

import contextlib
import json
import signal
import subprocess
import sys
import threading
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from inkline.errors import InputError

_INTERRUPT = signal.SIGINT if sys.platform != "win32" else signal.SIGTERM
_BEGUN: Mapping[str, Any] = MappingProxyType({"state": "making", "done": 0, "total": 0, "name": ""})
_STOP_S = 10.0
"""How long a run may take to stop in order before it is ended."""


@dataclass(slots=True)
class Maker:
    """Does orders one at a time, each in a process of its own; see `making`.

    Attributes:
        news: how far the latest is, as JSON.
    """

    news: dict[str, Any] = field(default_factory=lambda: {"state": "idle"})
    _process: subprocess.Popen[str] | None = None
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def start(self, order: Mapping[str, Any]) -> None:
        """Begin what `order` says, with JSON's values.

        Raises:
            InputError: another order is being done.
        """
        with self._lock:
            if self._process is not None and self._process.poll() is None:
                self._end_if_done(self._process)
            if self._process is not None and self._process.poll() is None:
                raise InputError("something is being made; stop it first, or wait until it is done")
            self.news = {**_BEGUN, "what": order["what"], "kits": []}
            self._process = subprocess.Popen(
                [sys.executable, "-m", "inkline.desk.making", json.dumps(order)],
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                stdin=subprocess.DEVNULL,
                text=True,
                encoding="utf-8",
            )
            threading.Thread(target=self._follow, args=(self._process,), daemon=True).start()

    def _end_if_done(self, process: subprocess.Popen[str]) -> None:
        """Wait for a run that has told its end already."""
        if self.news["state"] != "making":
            with contextlib.suppress(subprocess.TimeoutExpired):
                process.wait(_STOP_S)

    def stop(self) -> None:
        """Let the run end in order; what was finished is kept."""
        process = self._process
        if process is None or process.poll() is not None:
            return
        self.interrupt()
        try:
            process.wait(_STOP_S)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()

    def interrupt(self) -> None:
        """Tell the run to end, and don't wait until it has."""
        if self._process is not None:
            with contextlib.suppress(OSError):
                self._process.send_signal(_INTERRUPT)

    def _follow(self, process: subprocess.Popen[str]) -> None:
        assert process.stdout is not None  # noqa: S101 - asked for above
        with process.stdout as lines:
            for line in lines:
                with contextlib.suppress(ValueError):
                    self._hear(json.loads(line))
        process.wait()
        if process is self._process and self.news["state"] == "making":
            self.news = {**self.news, "state": "stopped"}

    def _hear(self, said: dict[str, Any]) -> None:
        kind = said.pop("kind")
        if kind == "step":
            self.news = {**self.news, **said}
        elif kind == "kit":
            self.news = {**self.news, "kits": [*self.news["kits"], said]}
        elif kind in {"proof", "shop"}:
            self.news = {**self.news, kind: said}
        else:
            self.news = {**self.news, **said, "state": kind}
