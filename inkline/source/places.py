"""Where values of a recipe stand, and where the files lie that they name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from inkline.source.faults import Fault, Fix, text_on_one_line


@dataclass(frozen=True, slots=True, kw_only=True)
class FileLine:
    """A line of a file.

    Attributes:
        source: the file's name.
        line: from 1.
        folder: where the file lies; places that it names are seen from there.
    """

    source: str
    line: int
    folder: Path = field(default_factory=Path)


def place_of(key: str, places: Mapping[str, FileLine]) -> FileLine | None:
    """Where the value at `key` stands, else the nearest table around it, else `None`."""
    while key and key not in places:
        key = key.rpartition(".")[0]
    return places.get(key)


def fault_at(
    key: str,
    sentence: str,
    *,
    places: Mapping[str, FileLine],
    source: str,
    fixes: Iterable[Fix] = (),
) -> Fault:
    """A fault of the value at `key`, with the file and line where it stands, else of `source`."""
    place = place_of(key, places)
    return Fault(
        source=place.source if place else source,
        line=place.line if place else 0,
        key=key,
        sentence=text_on_one_line(sentence),
        fixes=tuple(fixes),
    )


def path_from_folder(folder: Path, text: str) -> Path:
    """The path that `text` names, seen from `folder`; `~` is the user's own folder."""
    try:
        return folder / Path(text).expanduser()
    except RuntimeError:  # a user whom this machine doesn't know
        return folder / text


def has_file(path: Path) -> bool:
    """Whether there is a file at `path`; a path that no system can hold names none."""
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


def has_folder(path: Path) -> bool:
    """Whether there is a folder at `path`; a path that no system can hold names none."""
    try:
        return path.is_dir()
    except (OSError, ValueError):
        return False
