"""What can be wrong with a font, a stroke family, or a text that is to be set in one."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

from inkline.errors import InputError, Remedy

_MOST_DESCRIBED, _MOST_SHOWN = 3, 30
"""Missing characters that are told with code and name, and others that are shown."""


class FontError(InputError):
    """A font file that cannot be used.

    Attributes:
        path: the file.
    """

    def __init__(self, message: str, *, path: str) -> None:
        super().__init__(message)
        self.path = path


class FamilyError(InputError):
    """A stroke family that cannot be used.

    Attributes:
        path: the folder or the file in it that is at fault.
    """

    def __init__(self, message: str, *, path: str, remedies: Iterable[Remedy] = ()) -> None:
        super().__init__(message, remedies=remedies)
        self.path = path


class TextError(InputError):
    """A text that no line can be set from.

    Attributes:
        text: what was given.
    """

    def __init__(self, message: str, *, text: str) -> None:
        super().__init__(message)
        self.text = text


class MissingGlyphError(InputError):
    """A text has characters that its font or stroke family cannot draw.

    Attributes:
        characters: each missing character once, in the order of the text.
        face: the font's or family's name.
    """

    def __init__(self, characters: Iterable[str], *, face: str) -> None:
        self.characters = tuple(dict.fromkeys(characters))
        self.face = face
        super().__init__(f"{face} has no glyph for {_described(self.characters)}")


def _described(characters: tuple[str, ...]) -> str:
    """The first few of `characters` as a person can look them up, and the others by themselves."""
    first, rest = characters[:_MOST_DESCRIBED], characters[_MOST_DESCRIBED:]
    said = [description_of_character(one) for one in first]
    shown = [one for one in rest if one.isprintable() and not one.isspace()][:_MOST_SHOWN]
    if rest:
        more = f"{len(rest)} more"
        said[-1] += f" and {more}: {' '.join(shown)}" if shown else f" and {more}"
        said[-1] += " ..." if shown and len(shown) < len(rest) else ""
    return ", ".join(said)


def description_of_character(character: str) -> str:
    """A character as a person can look it up.

    Itself where it shows, its code and its Unicode name.
    """
    code = f"U+{ord(character):04X}"
    name = unicodedata.name(character, "")
    shown = f'"{character}" ' if character.isprintable() and not character.isspace() else ""
    return f"{shown}({code} {name})" if name else f"{shown}({code})"
