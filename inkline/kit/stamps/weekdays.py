"""The rows of weekdays over a format's columns, and over each day of a strip."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.calendar.names import NameWidth, weekday_letters, weekday_names
from inkline.drawing import Role
from inkline.kit.recipe.choices import Shows, WeekdayNames
from inkline.kit.recipe.key import FIT
from inkline.kit.recipe.model import FormatRecipe, Recipe, language_tags
from inkline.kit.recipe.numbers import NUMERALS
from inkline.kit.stamps.content import TextContent
from inkline.kit.stamps.forms import chosen_forms
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.names import WEEKDAY_LABELS, StampName, Subject, part_name
from inkline.kit.stamps.pieces import PlacedText
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.plan import Part
from inkline.lettering.face import Face
from inkline.lettering.line import SetLine
from inkline.lettering.setting import (
    FIT_HEIGHT,
    FIT_INK,
    FIT_WIDTH,
    TypeSize,
    ink_width,
    line_ink,
    size_from_height,
    spaced_words,
    stems_high,
)

_ONE_LETTER = frozenset({Shows.STRIP, Shows.SMALL})
_LETTERS = {WeekdayNames.ONE: 1, WeekdayNames.TWO: 2, WeekdayNames.THREE: 3}
_WITHOUT_ROWS = frozenset({Shows.DAY, Shows.SMALL})
"""A day has no weekdays, and a small month holds its own."""

Row = tuple[StampName, tuple[tuple[str, str], ...]]
"""A stamp's name, and for each of its header cells the part's name and the label of the weekday in
it."""


def weekday_parts(place: Place) -> Iterator[Part]:
    """A row of weekdays in each language for each day on which weeks begin.

    Of strips there is one for each day on which months begin.
    """
    for language, tag in language_tags(place.recipe).items():
        for name, cells in weekday_rows(place):
            own = replace(name, language=tag)
            setting = partial(_weekday_texts, place, language, own.text, cells)
            labels = tuple(label for label, _ in cells)
            content = TextContent(
                role=Role.WORD, layer_name="words", labels=labels, setting=setting
            )
            yield Part(name=own, kind="words", content=content)


def weekdays_name(place: Place, start: str, language: str) -> StampName:
    """The name of the stamp of a month's weekdays in weeks that begin on `start`."""
    tag = language_tags(place.recipe)[language]
    return StampName(folder=place.shape.name, subject=Subject.WEEKDAYS, start=start, language=tag)


def weekday_rows(place: Place) -> Iterator[Row]:
    """The rows of weekdays of a format in reading order from each row's first, but for languages.

    A strip's parts are named by the day of the month that they stand over, other rows' by their
    weekday.
    """
    shape, n_cells = place.shape, len(place.layout.header_cells)
    if shape.shows in _WITHOUT_ROWS:
        return
    if shape.shows is Shows.STRIP:
        for first, label in enumerate(WEEKDAY_LABELS):
            days = (
                WEEKDAY_LABELS[(first + day) % DAYS_PER_WEEK]
                for day in range(min(len(NUMERALS), n_cells))
            )
            name = StampName(folder=shape.name, subject=Subject.STRIP_WEEKDAYS, first=label)
            yield name, tuple(zip(NUMERALS, days, strict=False))
        return
    for day, start in place.recipe.starts.items():
        labels = (
            WEEKDAY_LABELS[(start + column) % DAYS_PER_WEEK]
            for column in range(min(DAYS_PER_WEEK, n_cells))
        )
        name = StampName(folder=shape.name, subject=Subject.WEEKDAYS, start=day)
        yield name, tuple((label, label) for label in labels)


def weekday_texts(
    recipe: Recipe, language: str = "", *, shows: Shows = Shows.MONTH
) -> dict[str, str]:
    """The weekdays' names by their labels, Monday first.

    They are in `language` or, if it is "", in the kit's first one.

    Over the days of a strip and in a small month there is room for one letter, whatever the recipe
    says of rows of weekdays.
    """
    words, language = recipe.words, language or recipe.words.language
    count = 1 if shows in _ONE_LETTER else _LETTERS.get(words.weekdays)
    if count is None:
        names = weekday_names(language, width=NameWidth(words.weekdays.value), case=words.letters)
    else:
        names = weekday_letters(language, count=count, case=words.letters)
    return dict(zip(WEEKDAY_LABELS, names, strict=True))


def all_weekday_texts(recipe: Recipe, shape: FormatRecipe) -> tuple[str, ...]:
    """The weekdays' names of a format in all languages of the kit, each once."""
    texts = (
        weekday_texts(recipe, language, shows=shape.shows) for language in language_tags(recipe)
    )
    return tuple(dict.fromkeys(text for names in texts for text in names.values()))


def weekday_size_of(place: Place) -> TypeSize:
    """Size of the weekdays' letters of a format: one for all its rows, in whatever language."""
    texts = all_weekday_texts(place.recipe, place.shape)
    return weekday_size(place, texts, partial(_plain_word, place.recipe, place.face))


def _weekday_texts(
    place: Place, language: str, stamp: str, cells: tuple[tuple[str, str], ...]
) -> tuple[PlacedText, ...]:
    recipe, shape, face = place.recipe, place.shape, place.face
    texts, setter = (
        weekday_texts(recipe, language, shows=shape.shows),
        spaced_words(recipe.words.spacing),
    )
    size = weekday_size_of(place)
    lines = []
    for label, weekday in cells:
        forms = chosen_forms(recipe, face, texts[weekday], part_name(stamp, label))
        lines.append((label, setter(face, texts[weekday], recipe.figures, forms)))
    return texts_over_columns(size, place.layout, lines)


def _plain_word(recipe: Recipe, face: Face, text: str) -> SetLine:
    return spaced_words(recipe.words.spacing)(face, text, recipe.figures, ())


def weekday_size(
    place: Place,
    names: tuple[str, ...],
    set_word: Callable[[str], SetLine],
    *,
    heavier: float = 1.0,
) -> TypeSize:
    """Size of the weekdays' letters: as asked, or as large as fits; with a pen `heavier` times so.

    The widest of `names`, as `set_word` sets it, then fits its column with room at both sides.
    """
    shape, layout, face = place.shape, place.layout, place.face
    design, is_asked = face.cap_height_em, "weekday_stem" in shape.stems_asked
    stem = stems_high(face, shape.weekday_stem, is_asked=is_asked, design_em=design)
    unit = size_from_height(face, height_px=1.0, stem=stem / heavier, design_em=design)
    if shape.weekday != FIT:
        return unit.times(float(shape.weekday) * layout.header_height)
    lines = [set_word(name) for name in names]
    fits = [FIT_WIDTH * layout.cell_width / max(ink_width(line, unit) for line in lines)]
    if any(_has_capitals(line) for line in lines):
        fits.append(FIT_HEIGHT * layout.header_height)
    without = [line for line in lines if not _has_capitals(line)]
    if without:
        top, bottom = _ink_span(without, unit)
        fits.append(FIT_INK * layout.header_height / (bottom - top))
    return unit.times(min(fits))


def texts_over_columns(
    size: TypeSize, layout: FormatLayout, lines: Sequence[tuple[str, SetLine]]
) -> tuple[PlacedText, ...]:
    """Weekdays over their columns, their ink in the middle from left to right.

    From top to bottom capitals stand in the middle, or all ink where there are none.

    Args:
        size: how large.
        layout: the format's measures.
        lines: label of each header cell in reading order, and what is set in it; cells beyond them
            stay empty.
    """
    plain = [line for _, line in lines if not _has_capitals(line)]
    sunk = _below_baseline(size, lines)
    top, bottom = (
        _ink_span(plain, size) if len(plain) == len(lines) else (sunk - size.height_px, sunk)
    )
    texts = []
    for (label, line), cell in zip(lines, layout.header_cells, strict=False):
        x0, _, x1, _ = line_ink(line, size)
        baseline = ((cell[0] + cell[2] - x0 - x1) / 2.0, (cell[1] + cell[3] - top - bottom) / 2.0)
        texts.append(PlacedText(label=label, line=line, size=size, baseline=baseline, cell=cell))
    return tuple(texts)


def _below_baseline(size: TypeSize, lines: Sequence[tuple[str, SetLine]]) -> float:
    """How far flat capitals reach below the baseline in px, drawn with this pen."""
    face = lines[0][1].face
    return (
        0.5 * (size.pen_px - face.nominal_stem_em * size.em_px) if face.is_drawn_with_pen else 0.0
    )


def _has_capitals(line: SetLine) -> bool:
    """Whether it is written in a script that has capitals."""
    return any(letter.upper() != letter.lower() for letter in line.text)


def _ink_span(lines: Sequence[SetLine], size: TypeSize) -> tuple[float, float]:
    """Highest and lowest point of all lines' ink in px from their common baseline, y down."""
    inks = [line_ink(line, size) for line in lines]
    return min(ink[1] for ink in inks), max(ink[3] for ink in inks)
