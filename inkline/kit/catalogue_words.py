"""Words used alone, each on a canvas of its own: months, digits and years."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from inkline.calendar.names import NameWidth, month_names
from inkline.drawing import Role
from inkline.kit.catalogue_content import TextContent
from inkline.kit.catalogue_part import StampPlan
from inkline.kit.layout_forms import chosen_forms, one_drawings
from inkline.kit.layout_text import (
    LineSetter,
    PlacedText,
    TypeSize,
    Word,
    figure_line,
    size_from_height,
    spaced_words,
    word_sheets,
)
from inkline.kit.recipe_model import Recipe
from inkline.lettering.face import Face

DIGITS = tuple("0123456789")


@dataclass(frozen=True, slots=True, kw_only=True)
class WordSet:
    """Words that are set alike, with the names of their stamps.

    Attributes:
        key: the recipe's key that a fault of theirs is laid to.
        names: the stamps' names.
        texts: what is set, one a stamp.
        setter: how it is set.
    """

    key: str
    names: tuple[str, ...]
    texts: tuple[str, ...]
    setter: LineSetter


def word_sets(recipe: Recipe) -> tuple[WordSet, ...]:
    """The months, the digits and the years, those of them that there are."""
    words = recipe.words
    months = month_names(words.language, width=NameWidth(words.months.value), case=words.letters)
    years = tuple(str(year) for year in words.years)
    sets = (
        WordSet(
            key="words.language",
            names=tuple(f"words/month-{number:02d}" for number in range(1, 13)),
            texts=months,
            setter=spaced_words(words.spacing),
        ),
        WordSet(key="lettering", names=tuple(f"words/digit-{d}" for d in DIGITS), texts=DIGITS, setter=figure_line),
        WordSet(key="words.years", names=tuple(f"words/year-{y}" for y in years), texts=years, setter=figure_line),
    )
    return tuple(one for one in sets if one.texts)


def word_size(recipe: Recipe, face: Face) -> TypeSize:
    """Size of the words used alone: the same for all, by the height of a capital."""
    words = recipe.words
    return size_from_height(face, height_px=recipe.px(words.height), stem=words.stem, design_em=face.cap_height_em)


def word_parts(recipe: Recipe, face: Face) -> Iterator[tuple[str, partial[Any], int]]:
    """Name of each word's stamp, what sets its whole set, and its place in it."""
    size, margin = word_size(recipe, face), recipe.px(recipe.words.margin)
    for words in word_sets(recipe):
        texts = zip(words.names, words.texts, strict=True)
        words_set = tuple(_word(recipe, face, name, text) for name, text in texts)
        sheets = partial(word_sheets, face, recipe.figures, size, margin, words_set, words.setter)
        for index, name in enumerate(words.names):
            yield name, sheets, index


def _word(recipe: Recipe, face: Face, name: str, text: str) -> Word:
    """A word with its forms and drawings; a single digit keeps its usual form, which whoever composes years of it relies on."""
    if len(text) == 1:
        return Word(text=text)
    return Word(text=text, forms=chosen_forms(recipe, face, text, name), drawings=one_drawings(recipe, text))


def word_plan(name: str, recipe: Recipe, sheets: partial[Any], index: int) -> StampPlan:
    """The plan of a word used alone: the word at `index` of what `sheets` sets."""
    sheet = sheets()[index]
    content = TextContent(role=Role.WORD, layer_name="words", labels=(), setting=partial(_one_text, sheets, index))
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
