"""What is asked of a numeral set, and all that is opened for it.

Whatever can be wrong with a request is found here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from inkline.chance import DEFAULT_NUMBER, refuse_number_out_of_range
from inkline.errors import InputError
from inkline.ink.style import Style
from inkline.lettering.face import Face
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.font import open_font
from inkline.lettering.writing import Way, face_in_way
from inkline.numerals.font import font_characters
from inkline.numerals.permission import (
    Permission,
    SourceFont,
    check_font_allowed,
    checked_font_name,
    source_font,
)
from inkline.numerals.setting import NumeralPlan, plans_of_texts
from inkline.numerals.texts import DEFAULT_LIST, groups_from_text
from inkline.pages.faces import USUAL_FAMILY
from inkline.styles.files import DEFAULT_STYLE, style_of
from inkline.units import Length, Unit

_DEFAULT_HEIGHT = Length(300.0, Unit.PX)
PPI = 300.0
OVERVIEW_FILE = "overview.png"
_LEAST_HEIGHT_PX, _MOST_HEIGHT_PX = 8.0, 5000.0
_FAMILY_SUFFIX = ".ufo"


class Ground(StrEnum):
    """What a picture's ink lies on."""

    BLACK = "black"
    """White ink on black, as the stamps of a kit."""
    CLEAR = "clear"
    """Black ink on nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NumeralRequest:
    """What is asked for.

    Attributes:
        family: a stroke family by its name, or the path of one that ends in .ufo; of no effect with
            a font.
        font: a font file instead, or None.
        way: how a font's letters are drawn; of no effect on a family.
        style: a style's name, or a file that ends in .toml.
        height: of a flat figure; a physical length is taken at 300 pixels to the inch.
        number: the drawing number.
        wanted: the list of texts; see `texts.groups_from_text`.
        ground: what the pictures' ink lies on.
        font_name: name of the font file to write, or None for none.
        permission: whether the user states to have the font owner's permission for a font file.
    """

    family: str = USUAL_FAMILY
    font: Path | None = None
    way: Way = Way.AUTO
    style: str = DEFAULT_STYLE
    height: Length = _DEFAULT_HEIGHT
    number: int = DEFAULT_NUMBER
    wanted: str = DEFAULT_LIST
    ground: Ground = Ground.BLACK
    font_name: str | None = None
    permission: Permission = Permission.UNSTATED


@dataclass(frozen=True, kw_only=True, eq=False)
class OpenSet:
    """A request, opened.

    Attributes:
        request: what it was opened for.
        source: what the font says of itself, or None for a family.
        face: the letters.
        style: the ink.
        height_px: of a flat figure.
        plans: every picture, folder by folder.
        characters: those of the font file, none if there is to be none.
    """

    request: NumeralRequest
    source: SourceFont | None
    face: Face
    style: Style
    height_px: float
    plans: tuple[NumeralPlan, ...]
    characters: tuple[str, ...]

    @property
    def font_file(self) -> str | None:
        """The font file to write, or None."""
        name = self.request.font_name
        return None if name is None else f"{name.replace(' ', '')}.otf"


def open_set(request: NumeralRequest) -> OpenSet:
    """What `request` names, opened.

    Raises:
        InputError: something in it can't be used.
    """
    refuse_number_out_of_range(request.number)
    groups = groups_from_text(request.wanted)
    source = None if request.font is None else source_font(request.font)
    if request.font_name is not None:
        checked_font_name(request.font_name)
        if source is not None:
            check_font_allowed(source, request.font_name, permission=request.permission)
    face = _face(request, [text for group in groups for text in group.texts])
    style = style_of(request.style, {}, where="style")
    height_px = _height_px(request.height)
    plans = plans_of_texts(face, groups, style, height_px=height_px)
    return OpenSet(
        request=request,
        source=source,
        face=face,
        style=style,
        height_px=height_px,
        plans=plans,
        characters=font_characters(plans, face) if request.font_name else (),
    )


def _face(request: NumeralRequest, texts: Iterable[str]) -> Face:
    if request.font is not None:
        return face_in_way(open_font(request.font), way=request.way, texts=texts)
    family = request.family
    return open_family(Path(family) if family.endswith(_FAMILY_SUFFIX) else family_path(family))


def _height_px(height: Length) -> float:
    """The height in px.

    Raises:
        InputError: a percentage, or out of range.
    """
    if height.unit is Unit.PERCENT:
        raise InputError(
            f'a length such as "300 px" or "25 mm" is required, not {height}', setting="height"
        )
    px = height.px(ppi=PPI)
    if not _LEAST_HEIGHT_PX <= px <= _MOST_HEIGHT_PX:
        raise InputError(
            f"{_LEAST_HEIGHT_PX:g} to {_MOST_HEIGHT_PX:g} px are required, not "
            f"{height} ({px:g} px)",
            setting="height",
        )
    return px
