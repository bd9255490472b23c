"""What a desk remembers of a recipe from one time to the next: its history, and its address.

It lies in the system's folder for the state of programs (XDG Base Directory Specification,
freedesktop.org; the usual places on macOS and Windows), readable by its owner alone. Without it
nothing is lost but the way back.
"""

from __future__ import annotations

import json
import os
import sys
from contextlib import suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from inkline.errors import InklineError
from inkline.folder.disk import write_whole

_MOST_TEXTS = 200
_MOST_CHARACTERS = 2_000_000
"""Of all texts of a history together; some thousand recipes as most are."""
_MOST_FILES = 100
"""Recipes that are remembered; beyond them those go that lay on the desk longest ago."""
_NAME = "inkline"


@dataclass(slots=True)
class DeskMemory:
    """What is remembered of one recipe.

    Attributes:
        path: the file of the recipe; where it lies is what it is remembered by.
        values: what was remembered last time, and is next.
    """

    path: Path
    values: dict[str, Any]

    @classmethod
    def of(cls, path: Path) -> DeskMemory:
        """What is remembered of the recipe at `path`: nothing, if that can't be read."""
        memory = cls(path=path, values={})
        with suppress(OSError, ValueError, RecursionError):
            values = json.loads(memory.file.read_text(encoding="utf-8"))
            if isinstance(values, dict):
                memory.values = values
        return memory

    @property
    def file(self) -> Path:
        """Where it is kept."""
        digest = sha256(str(self.path.resolve()).encode("utf-8", "surrogateescape")).hexdigest()
        return _state_folder() / f"{digest[:32]}.json"

    def texts(self, name: str) -> list[str]:
        """The texts remembered as `name`, oldest first."""
        given = self.values.get(name)
        return [one for one in given if isinstance(one, str)] if isinstance(given, list) else []

    def keep_history(self, text: str, past: list[str], future: list[str]) -> None:
        """Remember what the recipe says, and what it said before and after that."""
        self.keep(text=text, past=_bounded(past), future=_bounded(future))

    def keep(self, **values: Any) -> None:
        """Remember `values`; where that can't be written, the recipe is as safe as before."""
        self.values.update(values)
        with suppress(OSError, InklineError):
            folder = self.file.parent
            folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            _make_room(folder, besides=self.file)
            if not self.file.exists():
                self.file.touch(mode=0o600)
            write_whole(self.file, json.dumps(self.values).encode())
            self.file.chmod(0o600)


def _state_folder() -> Path:
    """The folder for what desks remember."""
    if sys.platform == "win32":
        base = Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = Path.home() / "Library" / "Application Support"
    else:
        base = Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state")
    return base / _NAME / "desk"


def _bounded(texts: list[str]) -> list[str]:
    """The last of `texts`, as many as there is room for."""
    kept, room = texts[-_MOST_TEXTS:], _MOST_CHARACTERS
    for count, text in enumerate(reversed(kept)):
        room -= len(text)
        if room < 0:
            return kept[len(kept) - count :]
    return kept


def _make_room(folder: Path, *, besides: Path) -> None:
    others = [path for path in folder.glob("*.json") if path != besides]
    others.sort(key=lambda path: path.stat().st_mtime)
    for path in others[: max(0, len(others) - _MOST_FILES + 1)]:
        path.unlink()
