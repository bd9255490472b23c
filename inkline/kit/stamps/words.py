"""The stamps of words used alone: months, years, digits and captions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from operator import itemgetter
from typing import Any

from inkline.calendar.months import MONTHS_PER_YEAR
from inkline.calendar.names import LetterCase, NameWidth, month_names, runs_right_to_left
from inkline.calendar.numbering import NumberingError, in_digits
from inkline.drawing import Role
from inkline.geometry.boxes import Interval
from inkline.kit.recipe.choices import MonthNames, Sizes
from inkline.kit.recipe.model import Recipe, language_tags
from inkline.kit.stamps.content import TextContent
from inkline.kit.stamps.forms import chosen_forms, one_drawings
from inkline.kit.stamps.names import WORDS, StampName, Subject
from inkline.kit.stamps.pieces import PlacedText
from inkline.kit.stamps.plan import StampPlan
from inkline.kit.stamps.word_sheets import Word, sheets_of_one_width, word_sheets
from inkline.lettering.face import Face, Figures
from inkline.lettering.setting import (
    EN_DASH,
    LineSetter,
    TypeSize,
    figure_line,
    ink_width,
    leftward_span_line,
    line_ink,
    size_from_height,
    spaced_words,
    span_line,
    stems_high,
)
from inkline.source.faults import RecipeError

_ROOM_AS_WRITTEN = "Hbdfgjklpqy"
"""Canvases of words that aren't all capitals have room for letters as high and as low as these, so
that all of them, whenever they are added, share one height and one baseline."""
_NUMBERING = "lettering.numbering"


@dataclass(frozen=True, slots=True, kw_only=True)
class WordSet:
    """Words that are set alike, with the names of their stamps.

    Attributes:
        key: the recipe's key that a fault of theirs is laid to.
        names: the stamps' names.
        texts: what is set, one a stamp.
        setter: how it is set.
        sizes: whether they have one letter height, or each fills the kit's width of words.
        room: letters that their canvases are high enough for as well as for the months and the
            digits, where they have one letter height.
    """

    key: str
    names: tuple[str, ...]
    texts: tuple[str, ...]
    setter: LineSetter
    sizes: Sizes = Sizes.SAME_HEIGHT
    room: str = ""


def month_name(month: int, *, short: bool = False, language: str = "") -> str:
    """The name of the stamp of a month's name, such as `words/month-01`."""
    name = StampName(
        folder=WORDS, subject=Subject.MONTH, month=month, short=short, language=language
    )
    return name.text


def year_name(year: int) -> str:
    """The name of the stamp of a year, such as `words/year-2027`."""
    return StampName(folder=WORDS, subject=Subject.YEAR, year=year).text


def word_sets(recipe: Recipe) -> tuple[WordSet, ...]:
    """The months of each language, the digits, years, spans and captions that there are.

    Raises:
        RecipeError: the digits usual for the first language are not known here.
    """
    digits = _digits(recipe)
    ten = WordSet(
        key="lettering" if recipe.numbering == "latn" else _NUMBERING,
        names=tuple(
            StampName(folder=WORDS, subject=Subject.DIGIT, digit=digit).text for digit in range(10)
        ),
        texts=tuple(digits),
        setter=figure_line,
    )
    sets = (
        *_months(recipe),
        ten,
        _years(recipe, digits),
        _spans(recipe, digits),
        *_captions(recipe),
    )
    return tuple(one for one in sets if one.texts)


def word_size(recipe: Recipe, face: Face) -> TypeSize:
    """Size of the words used alone, by the height of a capital.

    It is that of all of them, or of those that needn't grow to fill a width.
    """
    words, design = recipe.words, face.cap_height_em
    is_asked = "stem" in words.stems_asked
    stem = stems_high(face, words.stem, is_asked=is_asked, design_em=design)
    return size_from_height(face, height_px=recipe.px(words.height), stem=stem, design_em=design)


def width_to_fill(recipe: Recipe, face: Face) -> float:
    """The width in px that words fill where each is to fill one.

    It is that of the first language's longest month at the height of words.

    So it depends on no other word, and what is added to a kit changes nothing that is there.
    """
    return _widest(recipe, face, (next(_months(recipe)),))[1]


def widest_word(recipe: Recipe, face: Face) -> tuple[str, float]:
    """The word whose ink is the widest at the height of words, and its width in px.

    Words that fill a width are made to fit it; of them only the months count that decide on it.
    """
    first, *others = word_sets(recipe)
    return _widest(
        recipe, face, (first, *(words for words in others if words.sizes is Sizes.SAME_HEIGHT))
    )


def _widest(recipe: Recipe, face: Face, sets: tuple[WordSet, ...]) -> tuple[str, float]:
    size = word_size(recipe, face)
    lines = (
        (text, words.setter(face, text, recipe.figures, ()))
        for words in sets
        for text in words.texts
    )
    return max(((text, ink_width(line, size)) for text, line in lines), key=itemgetter(1))


def word_parts(recipe: Recipe, face: Face) -> Iterator[tuple[str, partial[Any], int]]:
    """Name of each word's stamp, what sets its whole set, and its place in it."""
    size, margin = word_size(recipe, face), recipe.px(recipe.words.margin)
    width = width_to_fill(recipe, face) if recipe.words.sizes is Sizes.FILL_EACH else 0.0
    common = _common_room(recipe, face)
    for words in word_sets(recipe):
        texts = zip(words.names, words.texts, strict=True)
        words_set = tuple(_word(recipe, face, name, text) for name, text in texts)
        alike = (face, recipe.figures, size, margin, words_set, words.setter)
        if words.sizes is Sizes.FILL_EACH:
            sheets = partial(sheets_of_one_width, *alike, width)
        else:
            sheets = partial(word_sheets, *alike, _room(recipe, face, common, words.room))
        for index, name in enumerate(words.names):
            yield name, sheets, index


def _room(recipe: Recipe, face: Face, common: Interval, letters: str) -> Interval:
    """From where to where below the baseline the canvases of words have room, in px.

    It is what all words have in common, and as much more above and below as `letters` need.
    """
    low, high = common
    setter = spaced_words(recipe.words.spacing)
    least, most = _with_lift(face, [*letters], setter, recipe.figures, word_size(recipe, face))
    lacking = max(0.0, low - least, most - high)
    return low - lacking, high + lacking


def _common_room(recipe: Recipe, face: Face) -> Interval:
    """From where to where below the baseline all words have room, in px.

    It is what months of the first language and digits need: what else a kit has or comes to have
    changes nothing that is there.
    """
    words, size, setter = recipe.words, word_size(recipe, face), spaced_words(recipe.words.spacing)
    texts = [
        name
        for width in (NameWidth.WIDE, NameWidth.ABBREVIATED)
        for name in month_names(words.language, width=width, case=words.letters)
        if all(map(face.has, name.replace(" ", "")))
    ]
    own = _ROOM_AS_WRITTEN if words.letters is LetterCase.AS_WRITTEN else ""
    low, high = _with_lift(face, [*texts, *own], setter, recipe.figures, size)
    first, last = _heights(face, [*_digits(recipe)], figure_line, recipe.figures, size)
    return min(low, first), max(high, last)


def _with_lift(
    face: Face, texts: Sequence[str], setter: LineSetter, figures: Figures, size: TypeSize
) -> Interval:
    """As `_heights`, with the room that letters need to stand off their line in a word."""
    low, high = _heights(face, texts, setter, figures, size)
    return low - face.lift_em * size.em_px, high + face.lift_em * size.em_px


def _heights(
    face: Face, texts: Sequence[str], setter: LineSetter, figures: Figures, size: TypeSize
) -> Interval:
    """From where to where below the baseline the ink of `texts` lies, in px.

    Letters that the face lacks count for nothing; without any it is the baseline alone.
    """
    inks = [line_ink(setter(face, text, figures, ()), size) for text in texts if face.has(text[0])]
    return min((ink[1] for ink in inks), default=0.0), max((ink[3] for ink in inks), default=0.0)


def word_plan(name: str, recipe: Recipe, sheets: partial[Any], index: int) -> StampPlan:
    """The plan of a word used alone: the word at `index` of what `sheets` sets."""
    sheet = sheets()[index]
    content = TextContent(
        role=Role.WORD, layer_name="words", labels=(), setting=partial(_one_text, sheets, index)
    )
    return StampPlan(
        name=name,
        kind="words",
        format=None,
        canvas=sheet.canvas,
        sheet_px=float(recipe.side_px),
        content=content,
    )


def _one_text(sheets: partial[Any], index: int) -> tuple[PlacedText, ...]:
    return (sheets()[index].text,)


def _months(recipe: Recipe) -> Iterator[WordSet]:
    """The months of each language, in full, abbreviated, or both.

    Each language and width is a set of its own.
    """
    months = recipe.words.months
    if months is MonthNames.BOTH:
        widths = {False: NameWidth.WIDE, True: NameWidth.ABBREVIATED}
    else:
        widths = {False: NameWidth(months.value)}
    for language, tag in language_tags(recipe).items():
        for short, width in widths.items():
            names = month_names(language, width=width, case=recipe.words.letters)
            same = months_as_short(recipe, language) if short else ()
            own = [n for n in range(1, MONTHS_PER_YEAR + 1) if n not in same]
            yield WordSet(
                key="words.language",
                names=tuple(month_name(number, short=short, language=tag) for number in own),
                texts=tuple(names[number - 1] for number in own),
                setter=spaced_words(recipe.words.spacing),
                sizes=recipe.words.sizes,
            )


def months_as_short(recipe: Recipe, language: str) -> tuple[int, ...]:
    """The months, 1 to 12, whose full names in `language` are as short as their abbreviated ones.

    Where both are asked for, one stamp does for them; there are none where one is.
    """
    if recipe.words.months is not MonthNames.BOTH:
        return ()
    wide, short = (
        month_names(language, width=width, case=recipe.words.letters)
        for width in (NameWidth.WIDE, NameWidth.ABBREVIATED)
    )
    return tuple(
        number
        for number, names in enumerate(zip(wide, short, strict=True), start=1)
        if names[0] == names[1]
    )


def _years(recipe: Recipe, digits: str) -> WordSet:
    years = tuple(str(year) for year in recipe.words.years)
    return WordSet(
        key="words.years",
        names=tuple(year_name(year) for year in recipe.words.years),
        texts=tuple(in_digits(year, digits) for year in years),
        setter=figure_line,
        sizes=recipe.words.sizes,
    )


def _spans(recipe: Recipe, digits: str) -> WordSet:
    spans = recipe.words.spans
    return WordSet(
        key="words.spans",
        names=tuple(
            StampName(folder=WORDS, subject=Subject.YEARS, year=first, last_year=last).text
            for first, last in spans
        ),
        texts=tuple(in_digits(f"{first}{EN_DASH}{last}", digits) for first, last in spans),
        setter=leftward_span_line if runs_right_to_left(recipe.words.language) else span_line,
        sizes=recipe.words.sizes,
    )


def _captions(recipe: Recipe) -> Iterator[WordSet]:
    """The captions as the user wrote them, each for itself."""
    for number, caption in enumerate(recipe.words.captions, start=1):
        yield WordSet(
            key="words.captions",
            names=(StampName(folder=WORDS, subject=Subject.CAPTION, number=number).text,),
            texts=(caption,),
            setter=spaced_words(recipe.words.spacing),
            sizes=recipe.words.sizes,
            room=_ROOM_AS_WRITTEN,
        )


def _digits(recipe: Recipe) -> str:
    try:
        return recipe.digits
    except NumberingError as error:
        raise RecipeError([recipe.fault(_NUMBERING, f"{_NUMBERING}: {error}")]) from error


def _word(recipe: Recipe, face: Face, name: str, text: str) -> Word:
    """A word with its forms and drawings.

    A single digit keeps its usual form, which whoever composes years of it relies on.
    """
    if len(text) == 1:
        return Word(text=text)
    return Word(
        text=text, forms=chosen_forms(recipe, face, text, name), drawings=one_drawings(recipe, text)
    )
