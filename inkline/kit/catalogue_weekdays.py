"""The rows of weekdays over a format's columns."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.calendar.names import NameWidth, weekday_letters, weekday_names
from inkline.drawing import Role
from inkline.kit.catalogue_content import TextContent
from inkline.kit.catalogue_part import WEEKDAY_LABELS, Part, Place
from inkline.kit.layout import FormatLayout
from inkline.kit.layout_forms import chosen_forms
from inkline.kit.layout_text import PlacedText, TypeSize, placed_weekdays, spaced_words, weekday_size
from inkline.kit.recipe_model import FormatRecipe, Recipe
from inkline.kit.schema_words import WeekdayNames
from inkline.lettering.face import Face
from inkline.lettering.line import SetLine

_LETTERS = {WeekdayNames.ONE: 1, WeekdayNames.TWO: 2, WeekdayNames.THREE: 3}


def weekday_parts(place: Place) -> Iterator[Part]:
    """A row of weekdays for each day on which weeks begin."""
    for day, start in place.recipe.starts.items():
        labels = tuple(WEEKDAY_LABELS[(start + column) % DAYS_PER_WEEK] for column in range(DAYS_PER_WEEK))
        setting = partial(_weekdays, place, day, labels)
        content = TextContent(role=Role.WORD, layer_name="words", labels=labels, setting=setting)
        yield Part(stem=f"weekdays-{day}", kind="words", content=content)


def weekday_texts(recipe: Recipe, language: str = "") -> dict[str, str]:
    """The weekdays' names by their labels, Monday first, in `language` or, if it is "", in the first one."""
    words, language = recipe.words, language or recipe.words.language
    if words.weekdays in _LETTERS:
        names = weekday_letters(language, count=_LETTERS[words.weekdays], case=words.letters)
    else:
        names = weekday_names(language, width=NameWidth(words.weekdays.value), case=words.letters)
    return dict(zip(WEEKDAY_LABELS, names, strict=True))


def _weekdays(place: Place, first: str, labels: tuple[str, ...]) -> tuple[PlacedText, ...]:
    recipe, shape, face = place.recipe, place.shape, place.face
    texts, setter = weekday_texts(recipe), spaced_words(recipe.words.spacing)
    size = fitted_weekdays(recipe, shape, place.layout, face)
    lines = []
    for label in labels:
        forms = chosen_forms(recipe, face, texts[label], f"{shape.name}/weekdays-{first}/{label}")
        lines.append((label, setter(face, texts[label], recipe.figures, forms)))
    return placed_weekdays(size, place.layout, lines)


def _plain_word(recipe: Recipe, face: Face, text: str) -> SetLine:
    return spaced_words(recipe.words.spacing)(face, text, recipe.figures, ())


def fitted_weekdays(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout, face: Face) -> TypeSize:
    """Size of the weekdays' letters of a format."""
    texts = tuple(weekday_texts(recipe).values())
    return weekday_size(shape, layout, face, texts, partial(_plain_word, recipe, face))
