"""How a stamp's files look, whatever their form: ground, ink, depth, colours, and what they say."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum

from inkline.errors import InputError
from inkline.output.profiles import Profile

_COLOUR = re.compile(r"#[0-9a-fA-F]{6}", re.ASCII)
_MOST_BLEED_MM = 50.0
"""More than any printer asks for."""


class Ground(StrEnum):
    """What lies under the ink."""

    CLEAR = "clear"
    WHITE = "white"
    BLACK = "black"


class Grain(StrEnum):
    """What a form of curves holds where paper or medium break the ink up."""

    OUTLINES = "outlines"
    PICTURE = "picture"


class Sheets(StrEnum):
    """How a PDF file shows a format: a stamp a page, or all stamps on one page as layers."""

    PAGES = "pages"
    LAYERS = "layers"


def colour_from_text(text: str, *, setting: str = "ink") -> str:
    """The colour that `text` says, as `#rrggbb`.

    Raises:
        InputError: it is none.
    """
    if not _COLOUR.fullmatch(text.strip()):
        raise InputError(
            f'a colour is written as "#" and six of the digits 0 to 9 and a to f, such as '
            f'"#27343d", not {text[:40]!r}',
            setting=setting,
        )
    return text.strip().lower()


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """What a file says of itself, each "" if it says nothing.

    Attributes:
        title: of the kit.
        author: who made it.
        licence: under which it may be used.
    """

    title: str = ""
    author: str = ""
    licence: str = ""

    def chunks(self) -> dict[str, str]:
        """What is said, by the keywords of PNG (ISO/IEC 15948, 11.3.4.2)."""
        said = {"Title": self.title, "Author": self.author, "Copyright": self.licence}
        return {key: text for key, text in said.items() if text}


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundPicture:
    """A picture under the ink of finished months.

    Attributes:
        file: where it lies.
        checksum: of what it shows.
    """

    file: str
    checksum: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FileLook:
    """How files look.

    Attributes:
        ground: what lies under the ink.
        ink: its colour as `#rrggbb`, on a clear ground; on white it is black, on black white.
        bits: of a value of a picture, 8 or 16.
        profile: what a picture says of its colours.
        grain: what curves hold where the ink is broken up.
        sheets: how a PDF file shows a format.
        bleed_mm: how far the page of a PDF file goes beyond the canvas; the canvas is then its
            trim box, and the page its bleed box.
        words: what files say of themselves.
        paper: colour of the ground of finished months, as `#rrggbb`, or "".
        picture: that is their ground, or None.

    Raises:
        InputError: a colour that is none, on a ground that isn't clear, or a number out of range.
    """

    ground: Ground = Ground.CLEAR
    ink: str = "#000000"
    bits: int = 8
    profile: Profile = Profile.NONE
    grain: Grain = Grain.OUTLINES
    sheets: Sheets = Sheets.PAGES
    bleed_mm: float = 0.0
    words: Words = Words()
    paper: str = ""
    picture: GroundPicture | None = None

    def __post_init__(self) -> None:
        if self.paper:
            colour_from_text(self.paper, setting="ground")
        colour = colour_from_text(self.ink)
        if self.ground is not Ground.CLEAR and colour != "#000000":
            raise InputError(
                f"a colour stands on a clear ground; on {self.ground} the ink is "
                f"{'black' if self.ground is Ground.WHITE else 'white'}, not {self.ink}",
                setting="ink",
            )
        if self.bits not in {8, 16}:
            raise InputError(f"a value has 8 or 16 bits, not {self.bits}", setting="bits")
        if not 0.0 <= self.bleed_mm <= _MOST_BLEED_MM:
            raise InputError(
                f"bleed must be from 0 mm to {_MOST_BLEED_MM:g} mm, not {self.bleed_mm:g} mm",
                setting="bleed",
            )

    @property
    def ink_on_ground(self) -> str:
        """The colour of the ink."""
        return "#ffffff" if self.ground is Ground.BLACK else self.ink

    @property
    def ground_colour(self) -> str | None:
        """The colour of the ground, None if it is clear or a picture."""
        if self.paper:
            return self.paper
        return {Ground.WHITE: "#ffffff", Ground.BLACK: "#000000"}.get(self.ground)
