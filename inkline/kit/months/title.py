"""The title of a finished month: its name and year over the calendar, level with its sides.

The letters are those of the words used alone, and are as large as these where there is room. All
months of a kit have one size and one baseline, so that nothing jumps from one month to the next.
"""

from __future__ import annotations

from dataclasses import dataclass

from inkline.calendar.months import MONTHS_PER_YEAR
from inkline.calendar.names import NameWidth, month_names
from inkline.calendar.numbering import in_digits
from inkline.drawing import Mark, Role
from inkline.kit.recipe.choices import MonthNames, Side
from inkline.kit.recipe.model import Recipe, language_tags
from inkline.kit.stamps.forms import chosen_forms, one_drawings
from inkline.kit.stamps.pieces import PlacedText
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.words import month_name, word_size, year_name
from inkline.lettering.face import Face
from inkline.lettering.line import SetLine
from inkline.lettering.setting import (
    LineSetter,
    TypeSize,
    figure_line,
    ink_width,
    line_ink,
    spaced_words,
)

_BETWEEN = 1.0
"""Least white between name and year, in letter heights."""
_MOST_OF_CALENDAR = 0.35
"""The letters are at most this share of the calendar's height, or a strip would go under in its
title. Chosen by eye."""
_WHITE_BELOW = 0.42
"""White between the letters' foot and the calendar's frame, in letter heights; more where letters
hang lower. Chosen by eye."""
_BELOW_DESCENDERS = 0.18
"""White under the lowest letter, likewise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleSetting:
    """How the titles of one format are set.

    Attributes:
        size: how large.
        above: from the baseline to the top of the highest letter of any month, in px.
        below: from the baseline to the calendar's frame.
    """

    size: TypeSize
    above: float
    below: float


def title_setting(place: Place, year: int, *, language: str) -> TitleSetting:
    """How titles of months of `year` in `language` are set over a format, as the kit has it."""
    recipe, layout, face = place.recipe, place.layout, place.face
    left, top, right, bottom = layout.full_grid.outer_box
    names = [
        (_name_of(recipe, month, language), _stamp_of(recipe, month, language))
        for month in range(1, MONTHS_PER_YEAR + 1)
    ]
    lines = [_line(recipe, face, text, name, _setter(recipe)) for text, name in names]
    year_line = _line(recipe, face, _year_of(recipe, year), year_name(year), figure_line)
    size = word_size(recipe, face)
    needed = (
        max(ink_width(line, size) for line in lines)
        + ink_width(year_line, size)
        + _BETWEEN * size.height_px
    )
    size = size.times(
        min(1.0, (right - left) / needed, _MOST_OF_CALENDAR * (bottom - top) / size.height_px)
    )
    inks = [line_ink(line, size) for line in (*lines, year_line)]
    deepest = max(0.0, *(ink[3] for ink in inks))
    frame = max(layout.rule, layout.heavy) / 2.0
    below = frame + max(_WHITE_BELOW * size.height_px, deepest + _BELOW_DESCENDERS * size.height_px)
    return TitleSetting(size=size, above=-min(ink[1] for ink in inks), below=below)


def name_texts(
    place: Place, setting: TitleSetting, month: int, *, language: str
) -> tuple[PlacedText, ...]:
    """The month's name over the first day's column, drawn as the kit's own stamp of it."""
    recipe, name = place.recipe, _stamp_of(place.recipe, month, language)
    side = Side.RIGHT if place.layout.mirrored else Side.LEFT
    line = _line(recipe, place.face, _name_of(recipe, month, language), name, _setter(recipe))
    return (_text_level_with_side(place, setting, line, name, side),)


def name_line(place: Place, month: int, *, language: str) -> tuple[SetLine, str, dict[int, str]]:
    """The month's name set, the kit's own stamp of it, and whose drawings its letters share."""
    recipe, name = place.recipe, _stamp_of(place.recipe, month, language)
    line = _line(recipe, place.face, _name_of(recipe, month, language), name, _setter(recipe))
    return line, name, dict(one_drawings(recipe, line.text))


def year_texts(place: Place, setting: TitleSetting, year: int) -> tuple[PlacedText, ...]:
    """The year over the last day's column, drawn as the kit's own stamp of it."""
    recipe, name = place.recipe, year_name(year)
    side = Side.LEFT if place.layout.mirrored else Side.RIGHT
    line = _line(recipe, place.face, _year_of(recipe, year), name, figure_line)
    return (_text_level_with_side(place, setting, line, name, side),)


def year_marks(
    recipe: Recipe, face: Face, year: int, *, middle: float, baseline: float, height_px: float
) -> tuple[tuple[Mark, ...], float]:
    """The marks of the kit's own stamp of `year`, enlarged, and how many times as large they are.

    Args:
        recipe: the kit's.
        face: its letters.
        year: which.
        middle: x of the middle of its ink.
        baseline: y of its baseline.
        height_px: how high its figures stand, > 0.
    """
    name, size = year_name(year), word_size(recipe, face)
    larger = height_px / size.height_px
    size = size.times(larger)
    line = _line(recipe, face, _year_of(recipe, year), name, figure_line)
    x0, _, x1, _ = line_ink(line, size)
    placed = PlacedText(
        label="",
        line=line,
        size=size,
        baseline=(middle - (x0 + x1) / 2.0, baseline),
        cell=(0.0, 0.0, 0.0, 0.0),
        drawings=dict(one_drawings(recipe, line.text)),
        drawn_as=name,
    )
    return placed.marks(name, Role.WORD), larger


def _text_level_with_side(
    place: Place,
    setting: TitleSetting,
    line: SetLine,
    name: str,
    side: Side,
) -> PlacedText:
    """`line` with its ink level with one side of the calendar's frame.

    It has room beyond that side, since the hand strays over any edge that letters stand flush with.
    """
    recipe, layout = place.recipe, place.layout
    left, top, right, _ = layout.full_grid.outer_box
    x0, _, x1, _ = line_ink(line, setting.size)
    baseline = top - setting.below
    return PlacedText(
        label="",
        line=line,
        size=setting.size,
        baseline=(left - x0 if side is Side.LEFT else right - x1, baseline),
        cell=(layout.safe, baseline - setting.above, layout.canvas[0] - layout.safe, top),
        drawings=dict(one_drawings(recipe, line.text)),
        drawn_as=name,
    )


def _line(recipe: Recipe, face: Face, text: str, name: str, setter: LineSetter) -> SetLine:
    """`text` set as the stamp `name` sets it."""
    return setter(face, text, recipe.figures, chosen_forms(recipe, face, text, name))


def _setter(recipe: Recipe) -> LineSetter:
    return spaced_words(recipe.words.spacing)


def _stamp_of(recipe: Recipe, month: int, language: str) -> str:
    """The name of the kit's stamp of a month's name."""
    return month_name(month, language=language_tags(recipe)[language])


def _name_of(recipe: Recipe, month: int, language: str) -> str:
    words = recipe.words
    width = NameWidth.ABBREVIATED if words.months is MonthNames.ABBREVIATED else NameWidth.WIDE
    return month_names(language, width=width, case=words.letters)[month - 1]


def _year_of(recipe: Recipe, year: int) -> str:
    return in_digits(str(year), recipe.digits)
