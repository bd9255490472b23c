"""Artwork that is brought to the page, and named in the recipe."""

from __future__ import annotations

from pathlib import Path, PurePath
from tempfile import TemporaryDirectory

from inkline.artwork.picture.file import PICTURES
from inkline.desk.artwork.reading import read_pictures
from inkline.desk.bringing import keep_beside, name_to_keep
from inkline.desk.desk import Desk
from inkline.desk.editing import Edit, value_at
from inkline.desk.limited import limited
from inkline.errors import InklineError, InputError
from inkline.finishing.request import FinishRequest

_WAY = ("finish", "files")
_SUFFIXES = frozenset({".svg", ".svgz", ".pdf"}) | PICTURES
_MOST_FILES = 40


def take_artwork(desk: Desk, name: str, data: bytes) -> None:
    """Have artwork that was brought drawn; it is kept beside the recipe.

    It is read in a process of its own first.

    Args:
        desk: whose recipe names it.
        name: what the file was called.
        data: what it holds.

    Raises:
        InputError: it is no artwork that can be read.
        WorkError: it can't be written.
    """
    kept = name_to_keep(name, otherwise="artwork")
    if PurePath(kept).suffix not in _SUFFIXES:
        raise InputError(
            f"artwork is a file of SVG, PDF, PNG, JPEG, TIFF or WebP, not {name!r:.80}"
        )
    files = _files(desk)
    if len(files) >= _MOST_FILES:
        raise InputError(f"there are {len(files)} files of artwork already; take some off first")
    with TemporaryDirectory() as folder:
        file = Path(folder) / kept
        file.write_bytes(data)
        try:
            limited(read_pictures, FinishRequest(files=(file,)))
        except InklineError as error:
            raise InputError(str(error).replace(f"{file}", kept)) from error
    place = keep_beside(desk.document.path.parent.resolve(), kept, data)
    if place.name not in files:
        desk.edit([Edit(way=_WAY, value=[*files, place.name])])


def leave_artwork(desk: Desk, name: str) -> None:
    """Ask for the file `name` no more. It stays where it is.

    Raises:
        InputError: the recipe doesn't name it.
    """
    files = _files(desk)
    if name not in files:
        raise InputError(f"the recipe names no artwork {name!r:.80}")
    left = [one for one in files if one != name]
    desk.edit([Edit(way=_WAY, value=left or None)])


def _files(desk: Desk) -> list[str]:
    """The files that the kit which is looked at names, or the recipe."""
    own = value_at(desk.document.text, ("kits", desk.kit, *_WAY)) if desk.kit else None
    said = value_at(desk.document.text, _WAY) if own is None else own
    return [str(one) for one in said] if isinstance(said, list) else []
