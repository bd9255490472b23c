"""A recipe with the months that are to be finished from it, rather than its kit.

It is a recipe like any other, so all that builds a kit builds months as well; the catalogue sees
which it is and makes other plans.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields, replace

from inkline.calendar.months import FIRST_YEAR, LAST_YEAR, MONTHS_PER_YEAR
from inkline.calendar.names import LocaleError, language_tag
from inkline.errors import InputError
from inkline.kit.recipe.choices import Shows
from inkline.kit.recipe.key import WEEK_STARTS
from inkline.kit.recipe.model import FormatRecipe, Recipe, WordsRecipe
from inkline.source.faults import did_you_mean

_FINISHED = frozenset({Shows.MONTH, Shows.STRIP})
"""The kinds of format that months are finished in; the others show no month of a year, or only a
small one."""
_KINDS = {Shows.SMALL: "small month"}
"""What formats show that isn't called as the recipe calls it."""
_PLAIN_NAMES = "{name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthsRecipe(Recipe):
    """A recipe, and the months to be finished from it.

    Attributes:
        months: year and number of each month, in order.
        chosen: names of the formats that they are finished in.
        week_start: the day on which weeks begin, as `key.WEEK_STARTS` names it.
        language: the language of names and weekdays, one of the recipe's.
    """

    months: tuple[tuple[int, int], ...]
    chosen: tuple[str, ...]
    week_start: str
    language: str

    @property
    def shapes(self) -> tuple[FormatRecipe, ...]:
        """The formats that months are finished in."""
        return tuple(shape for shape in self.formats if shape.name in self.chosen)

    @property
    def full_years(self) -> tuple[int, ...]:
        """The years of which all twelve months are finished."""
        years = dict.fromkeys(year for year, _ in self.months)
        return tuple(
            year
            for year in years
            if all((year, month) in self.months for month in range(1, MONTHS_PER_YEAR + 1))
        )


def months_recipe(
    recipe: Recipe,
    months: Iterable[tuple[int, int]],
    *,
    formats: Sequence[str] = (),
    week_start: str | None = None,
    language: str | None = None,
) -> MonthsRecipe:
    """`recipe` for finishing `months`.

    Args:
        recipe: the kit's.
        months: year (1583 to 9999) and number (1 to 12) of each month.
        formats: names of the formats to finish them in; all that show months if empty.
        week_start: "sunday", "monday" or "saturday"; the first of the recipe's if None.
        language: of names and weekdays, as CLDR calls it; the first of the recipe's if None. Digits
            and the way in which columns run stay those of the first.

    Raises:
        InputError: no month, a month outside its range, a format that the recipe hasn't or that
            shows no months, another day, or no such language.
    """
    wanted = tuple(sorted(set(months)))
    if not wanted:
        raise InputError("at least one month is required")
    for year, month in wanted:
        _require_month(year, month)
    own = {field.name: getattr(recipe, field.name) for field in fields(Recipe)} | {
        "file_pattern": _PLAIN_NAMES
    }
    start = next(iter(recipe.starts)) if week_start is None else week_start
    if start not in WEEK_STARTS:
        raise InputError(f"weeks begin on {_or(WEEK_STARTS)}, not on {start!r}")
    spoken = language or recipe.words.language
    own["words"] = _words_with_language(recipe.words, spoken)
    return MonthsRecipe(
        **own,
        months=wanted,
        chosen=_chosen(recipe, formats),
        week_start=start,
        language=_spelled_as_there(recipe.words, spoken),
    )


def _words_with_language(words: WordsRecipe, language: str) -> WordsRecipe:
    """`words` with `language` among its languages."""
    if _spelled_as_there(words, language) in words.languages:
        return words
    return replace(words, languages=(*words.languages, language))


def _spelled_as_there(words: WordsRecipe, language: str) -> str:
    """`language` as the recipe spells it, where it is one of the recipe's."""
    try:
        tag = language_tag(language)
    except LocaleError as error:
        raise InputError(str(error), setting="language") from error
    return next((own for own in words.languages if language_tag(own) == tag), language)


def _require_month(year: int, month: int) -> None:
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise InputError(f"a year must lie between {FIRST_YEAR} and {LAST_YEAR}, not {year}")
    if not 1 <= month <= MONTHS_PER_YEAR:
        raise InputError(f"a month must lie between 1 and {MONTHS_PER_YEAR}, not {month}")


def _chosen(recipe: Recipe, formats: Sequence[str]) -> tuple[str, ...]:
    """The names of the formats to finish months in, in the recipe's order."""
    able = tuple(shape.name for shape in recipe.formats if shape.shows in _FINISHED)
    for name in formats:
        shape = next((shape for shape in recipe.formats if shape.name == name), None)
        if shape is None:
            raise InputError(f'the recipe has no format "{name}"{did_you_mean(name, able)}')
        if name not in able:
            raise InputError(
                f'the format "{name}" shows a {_KINDS.get(shape.shows, shape.shows.value)}, and '
                f"only months and strips can be finished"
            )
    if not able:
        raise InputError(
            "the recipe has no format that shows months or strips, so there is nothing to finish"
        )
    return tuple(name for name in able if not formats or name in formats)


def _or(names: Iterable[str]) -> str:
    *most, last = names
    return f"{', '.join(most)} or {last}"
