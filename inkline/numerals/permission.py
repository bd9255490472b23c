"""Whether letters drawn from somebody's font may become a font file, and under which name.

This is caution and no legal advice: the licence text decides.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from inkline.errors import Action, InputError, Remedy
from inkline.lettering.font import open_font
from inkline.lettering.licence import Embedding, FontLicence, licence_of_font

_SETTING = "font name"
"""The setting that a font file is asked for by."""
_NAME = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 -]{0,27}[A-Za-z0-9])?")
"""Plain ASCII of at most 29 characters: with "-Regular" and without spaces it must fit 63 as a
PostScript name, and 31 suits old programs."""
_OPEN_FONT_LICENCE = re.compile(r"SIL\s+Open\s+Font|\bOFL\b|openfontlicense", re.IGNORECASE)
_RESERVED = re.compile(r"Reserved\s+Font\s+Names?:?\s+([^.\n]*)", re.IGNORECASE)
_QUOTED = re.compile(r"[\"'“”‘’]([^\"'“”‘’]+)[\"'“”‘’]")
_FAMILY_NAME, _TYPOGRAPHIC_NAME = 1, 16


class Permission(StrEnum):
    """Whether the user states to have the permission of the font's owner."""

    UNSTATED = "unstated"
    STATED = "stated"


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceFont:
    """The font that a set is drawn from.

    Attributes:
        licence: what the file says of its licence.
        names: its family names.
        reserved: names that its makers reserve under the SIL Open Font License.
    """

    licence: FontLicence
    names: tuple[str, ...]
    reserved: tuple[str, ...]

    @property
    def is_open(self) -> bool:
        """Whether it says that it is under the SIL Open Font License."""
        said = f"{self.licence.licence} {self.licence.address}"
        return _OPEN_FONT_LICENCE.search(said) is not None


def source_font(path: Path) -> SourceFont:
    """What the font in the file `path` says of itself.

    Raises:
        FontError: it cannot be used.
    """
    font = open_font(path)
    licence = licence_of_font(font)
    names = dict.fromkeys(
        name for key in (_TYPOGRAPHIC_NAME, _FAMILY_NAME) if (name := font.text(key))
    )
    return SourceFont(
        licence=licence,
        names=tuple(names) or (font.name,),
        reserved=tuple(_reserved_names(f"{licence.copyright}\n{licence.licence}")),
    )


def _reserved_names(text: str) -> Iterator[str]:
    """The names after the words "Reserved Font Name", quoted or set apart by commas and "and"."""
    for match in _RESERVED.finditer(text):
        quoted = _QUOTED.findall(match[1])
        yield from (
            name.strip() for name in quoted or re.split(r",|\band\b", match[1]) if name.strip()
        )


def checked_font_name(name: str) -> str:
    """`name` as a font's and a file's.

    Raises:
        InputError: it isn't plain or too long.
    """
    if not _NAME.fullmatch(name):
        raise InputError(
            f"a font's name is 1 to 29 letters, digits, spaces and hyphens without "
            f"accents, and begins and ends with "
            f"a letter or digit, not {name!r}",
            setting=_SETTING,
        )
    return name


def check_font_allowed(source: SourceFont, name: str, *, permission: Permission) -> None:
    """Refuse a font file called `name` that `source` says may not be written from it.

    Raises:
        InputError: the file forbids it and no permission is stated, or the name belongs to the
            font.
    """
    reasons = list(_forbidding(source.licence))
    if reasons and permission is Permission.UNSTATED:
        raise InputError(
            f"no font file is drawn from {source.licence.font}: {'; '.join(reasons)}. Pictures can "
            f"be drawn without one; the licence text decides",
            remedies=(
                Remedy(
                    action=Action.SAY_PERMISSION,
                    effect="if you have its owner's permission for a font file",
                ),
            ),
        )
    for own in source.names:
        if _plain(name).startswith(_plain(own)):
            raise InputError(
                f"the font needs a name of its own, and {name!r} is or begins with "
                f"that of {own}, which it is drawn from",
                setting=_SETTING,
            )
    for own in source.reserved:
        if _words(own) in _words(name) or _plain(name).startswith(_plain(own)):
            raise InputError(
                f"{own!r} is a reserved name of {source.licence.font}, and no changed "
                f"version may bear it; choose another "
                f"name than {name!r}",
                setting=_SETTING,
            )


def _forbidding(licence: FontLicence) -> Iterator[str]:
    """What in the font's bits speaks against a font file of drawn letters."""
    if licence.embedding is Embedding.RESTRICTED:
        yield "it says that nothing may be made of it without its owner's permission"
    if licence.embedding is Embedding.PREVIEW_AND_PRINT:
        yield "it allows documents for reading and printing only"
    if licence.embedding is Embedding.UNCLEAR:
        yield "its embedding number has no meaning that the standard defines"
    if licence.bitmaps_only:
        yield "it allows bitmaps only and no outlines"
    if licence.may_be_subset is False:
        yield "it must not be used in part"


def _plain(name: str) -> str:
    return "".join(character for character in name.casefold() if character.isalnum())


def _words(name: str) -> str:
    return f" {' '.join(re.split(r'[^0-9a-z]+', name.casefold()))} "
