"""Style files of the user's own that lie beside a recipe."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from inkline.errors import InputError
from inkline.styles.files import SUFFIX, load_style

_MOST_FILES = 60
"""Files of a folder that are looked at, and styles that a row has room for."""
_MOST_BYTES = 100_000


@dataclass(frozen=True, slots=True)
class OwnStyles:
    """The styles in a folder.

    Attributes:
        folder: where they lie.
    """

    folder: Path

    def names(self) -> list[str]:
        """Names of their files."""
        return [value["name"] for value in self.values()]

    def values(self) -> list[dict[str, Any]]:
        """What the page shows of each, as JSON; files that are no styles are passed over."""
        files = sorted(self.folder.glob(f"*{SUFFIX}"))[:_MOST_FILES]
        about = ((path, _about(path)) for path in files)
        return [{"name": path.name, "imitates": said} for path, said in about if said is not None]


def _about(path: Path) -> str | None:
    """What the style at `path` imitates, or None if it is no style."""
    try:
        found = path.stat()
    except OSError:
        return None
    if not path.is_file() or found.st_size > _MOST_BYTES:
        return None
    return _imitates(path, found.st_mtime_ns, found.st_size)


@lru_cache(maxsize=256)
def _imitates(path: Path, _changed: int, _size: int) -> str | None:
    try:
        return load_style(path).imitates
    except (InputError, UnicodeDecodeError):
        return None
