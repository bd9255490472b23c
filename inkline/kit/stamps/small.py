"""Small months, each whole in one stamp: the weekdays' letters and the dates.

They stand for the month before and the month after.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from inkline.calendar.months import DAYS_PER_WEEK
from inkline.drawing import Layer, Role
from inkline.kit.recipe.choices import Dates, Shows
from inkline.kit.recipe.model import language_tags
from inkline.kit.stamps.cells import LONGEST, date_texts
from inkline.kit.stamps.dates import LENGTHS
from inkline.kit.stamps.forms import chosen_forms
from inkline.kit.stamps.names import WEEKDAY_LABELS, StampName, Subject
from inkline.kit.stamps.pieces import PlacedText
from inkline.kit.stamps.place import Place
from inkline.kit.stamps.plan import SMALL_RAGGEDNESS, Part
from inkline.kit.stamps.weekdays import (
    texts_over_columns,
    weekday_size,
    weekday_texts,
    weekdays_name,
)
from inkline.lettering.line import SetLine
from inkline.lettering.setting import TypeSize, spaced_words
from inkline.lettering.small_cut import HEAVIER


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallMonth:
    """What a stamp of a small month holds.

    Attributes:
        place: the format.
        offset: columns before the first of the month.
        days: how many days it has.
        start: name of the day on which weeks begin.
        language: the language of the weekdays' letters.
    """

    place: Place
    offset: int
    days: int
    start: str
    language: str

    @property
    def labels(self) -> tuple[str, ...]:
        """The weekdays from the week's first, and the days."""
        return (*self._weekdays, *(str(day) for day in range(1, self.days + 1)))

    def layer(self, stamp: str) -> Layer:
        """Strokes or outlines of the weekdays' letters and of the dates."""
        letters = (mark for text in self.letters() for mark in text.marks(stamp, Role.WORD))
        dates = (mark for text in self.dates() for mark in text.marks(stamp, Role.NUMERAL))
        return Layer(name="month", marks=(*letters, *dates))

    def geometry(self, stamp: str) -> dict[str, Any]:  # noqa: ARG002 - texts say what they are
        """Each text with its cell and the bounds of its undrawn ink."""
        return {
            "glyphs": [
                {"text": text.line.text, "cell": list(text.cell), "ink": list(text.ink)}
                for text in (*self.letters(), *self.dates())
            ]
        }

    def letters(self) -> tuple[PlacedText, ...]:
        """A letter for each weekday, over its column.

        It is the same drawing on all small months of one week start.
        """
        recipe, face = self.place.recipe, self.place.face
        texts, setter = _one_letters(self.place, self.language), spaced_words(recipe.words.spacing)
        lines = []
        for label in self._weekdays:
            forms = chosen_forms(recipe, face, texts[label], self._name(label))
            lines.append((label, setter(face, texts[label], recipe.figures, forms)))
        placed = texts_over_columns(_letter_size(self.place), self.place.layout, lines)
        return tuple(replace(text, drawn_as=self._name(text.label)) for text in placed)

    def dates(self) -> tuple[PlacedText, ...]:
        """The days in their cells.

        They are the same drawing on all small months on which they stand there.
        """
        return date_texts(self.place, self.offset, days=range(1, self.days + 1))

    @property
    def _weekdays(self) -> tuple[str, ...]:
        first = self.place.recipe.starts[self.start]
        return tuple(
            WEEKDAY_LABELS[(first + column) % DAYS_PER_WEEK] for column in range(DAYS_PER_WEEK)
        )

    def _name(self, label: str) -> str:
        name = weekdays_name(self.place, self.start, self.language)
        return replace(name, part=label).text


def small_parts(place: Place) -> Iterator[Part]:
    """Small months in each language, for each column, length and day on which weeks begin."""
    shape = place.shape
    if shape.shows is not Shows.SMALL:
        return
    lengths = (LONGEST,) if shape.dates is Dates.TO_31 else LENGTHS
    ragged = SMALL_RAGGEDNESS if shape.is_small else 1.0
    for language, tag in language_tags(place.recipe).items():
        for start in place.recipe.starts:
            for offset in range(DAYS_PER_WEEK):
                for days in lengths:
                    content = SmallMonth(
                        place=place, offset=offset, days=days, start=start, language=language
                    )
                    name = StampName(
                        folder=shape.name,
                        subject=Subject.SMALL_MONTH,
                        column=offset + 1,
                        days=days,
                        start=start,
                        language=tag,
                    )
                    yield Part(name=name, kind="dates", content=content, raggedness=ragged)


def _one_letters(place: Place, language: str) -> dict[str, str]:
    """The weekdays in one letter each, as over the days of a strip."""
    return weekday_texts(place.recipe, language, shows=Shows.STRIP)


def _letter_size(place: Place) -> TypeSize:
    """Size of the weekdays' letters: one in all languages.

    In small use they have a heavier pen, as the dates have.
    """
    recipe, shape = place.recipe, place.shape
    texts = (
        text
        for language in language_tags(recipe)
        for text in _one_letters(place, language).values()
    )
    heavier = HEAVIER if shape.is_small else 1.0
    names = tuple(dict.fromkeys(texts))
    return weekday_size(place, names, partial(_plain_word, place), heavier=heavier)


def _plain_word(place: Place, text: str) -> SetLine:
    return spaced_words(place.recipe.words.spacing)(place.face, text, place.recipe.figures, ())
