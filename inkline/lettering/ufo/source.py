"""What the files of a UFO folder say, as plain values, before any of it is taken for letters."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

from inkline.lettering.errors import FamilyError
from inkline.lettering.recordings import (
    Recording,
    as_family_error,
    check_strokes,
    recordings_from_files,
)

if TYPE_CHECKING:
    from fontTools.ufoLib import UFOReader

_FACTS = (
    "unitsPerEm",
    "capHeight",
    "familyName",
    "openTypeNameLicense",
    "versionMajor",
    "versionMinor",
)
"""Of a family's information what is used."""
_OWN = "inkline."
"""What the keys begin with that are used of a family's lib."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class UfoSource:
    """A UFO folder, read.

    Attributes:
        info: what is used of its information, by the standard's names; what it doesn't say is
            missing.
        lib: what its lib has under keys of our own.
        kerning: by the names of glyphs or groups, in font units.
        groups: the glyphs of each group.
        recordings: its glyphs by their names.
        names: the names of glyphs by their characters.
    """

    info: Mapping[str, Any]
    lib: Mapping[str, Any]
    kerning: Mapping[tuple[str, str], float]
    groups: Mapping[str, Sequence[str]]
    recordings: Mapping[str, Recording]
    names: Mapping[str, str]


def source_from_files(folder: Path) -> UfoSource:
    """The UFO in `folder`, every file of it read and checked. Cost: about 1 ms a glyph.

    Raises:
        FamilyError: it is no UFO, a file in it is broken, which is named, or it is a font of
            outlines.
    """
    from fontTools.ufoLib import UFOReader  # noqa: PLC0415 - slow to import; a fast file needs none

    with as_family_error(folder, "is not a UFO folder that can be read"):
        reader = UFOReader(str(folder), validate=True)
    with reader:
        info, lib = _information(reader, folder)
        with as_family_error(folder, "has kerning or groups that cannot be read"):
            kerning, groups = reader.readKerning(), reader.readGroups()
        recordings, names = recordings_from_files(reader, folder)
    check_strokes(recordings, folder)
    return UfoSource(
        info=info, lib=lib, kerning=kerning, groups=groups, recordings=recordings, names=names
    )


def _information(reader: UFOReader, folder: Path) -> tuple[dict[str, Any], dict[str, Any]]:
    """What is used of the family's information and of its lib."""
    info = SimpleNamespace()
    with as_family_error(folder / "fontinfo.plist", "cannot be read"):
        reader.readInfo(info)
    if not getattr(info, "unitsPerEm", 0):
        path = folder / "fontinfo.plist"
        raise FamilyError(f"{path} must give unitsPerEm, a number above 0", path=str(path))
    with as_family_error(folder / "lib.plist", "cannot be read"):
        lib = reader.readLib()
    facts = {fact: getattr(info, fact, None) for fact in _FACTS}
    return (
        {fact: value for fact, value in facts.items() if value is not None},
        {key: value for key, value in lib.items() if key.startswith(_OWN)},
    )
