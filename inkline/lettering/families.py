"""The stroke families that come with inkline, by their names."""

from __future__ import annotations

from pathlib import Path

from inkline.lettering.errors import FamilyError
from inkline.lettering.family import UFO_SUFFIX, open_family
from inkline.source.places import path_from_folder


def family_names() -> tuple[str, ...]:
    """Names of the stroke families that come with inkline, sorted."""
    return tuple(
        sorted({path.stem for folder in _family_folders() for path in folder.glob("*.ufo")})
    )


def families_with(text: str) -> tuple[str, ...]:
    """Names of the families that come with inkline that have every character of `text`.

    Broken ones are passed over.

    Cost: opens them all, some 0.1 s each the first time.
    """
    found = []
    for name in family_names():
        try:
            family = open_family(family_path(name))
        except FamilyError:
            continue
        if all(family.has(character) for character in text):
            found.append(name)
    return tuple(found)


def family_path(name: str) -> Path:
    """The folder of a stroke family: that of one that comes with inkline, or of a UFO of one's own.

    Args:
        name: the name of one that comes with inkline, in a checkout as in an installed package, or
            the place of a UFO, which ends in `.ufo`.

    Raises:
        FamilyError: there is no family of that name; those that there are are listed.
    """
    if name.endswith(UFO_SUFFIX):
        return path_from_folder(Path(), name)
    names = family_names()
    if name not in names:
        raise FamilyError(
            f"there is no stroke family {name!r}; there is {', '.join(names) or 'none at all'}, "
            f"and a family of your own is a folder ending in {UFO_SUFFIX}",
            path=name,
        )
    return next(
        folder / f"{name}.ufo" for folder in _family_folders() if (folder / f"{name}.ufo").is_dir()
    )


def _family_folders() -> list[Path]:
    """Where families may lie: beside the package in a checkout, within it when installed."""
    package = Path(__file__).resolve().parents[1]
    return [
        folder
        for folder in (package.parent / "glyphs", package / "data" / "glyphs")
        if folder.is_dir()
    ]
