"""Values of a recipe, each read as its key's row in the schema says."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from inkline.kit.recipe import lists
from inkline.kit.recipe import numbers as values
from inkline.kit.recipe.key import Key, Kind
from inkline.kit.recipe.numbers import Scale


def checked_value(key: Key, value: Any, scale: Scale) -> Any:
    """`value` as the program uses it: int, float, str, `Length`, or a tuple of years, words, shifts and the like.

    Raises:
        RefusedError: a wrong type, unit, range or word.
    """
    return _READERS[key.kind](key, value, scale)


_READERS: Mapping[Kind, Callable[[Key, Any, Scale], Any]] = MappingProxyType(
    {
        Kind.WHOLE: values.whole_from,
        Kind.NUMBER: values.number_from,
        Kind.PERCENT: values.percent_from,
        Kind.TEXT: values.line_from,
        Kind.CHOICE: values.choice_from,
        Kind.SIDE: values.side_from,
        Kind.LENGTH: values.measure_from,
        Kind.SHARE_OR_LENGTH: values.share_or_length_from,
        Kind.SHARE_OR_FIT: values.share_or_fit_from,
        Kind.YEARS: lists.years_from,
        Kind.SPANS: lists.spans_from,
        Kind.WORDS: lists.words_from,
        Kind.WHOLES: lists.wholes_from,
        Kind.MARGIN: lists.margin_from,
        Kind.LANGUAGES: lists.languages_from,
        Kind.CAPTIONS: lists.captions_from,
        Kind.BLOCK_NAMES: lists.block_names_from,
        Kind.PATTERN: lists.pattern_from,
        Kind.SHIFTS: lists.shifts_from,
        Kind.SWAPS: lists.swaps_from,
        Kind.AXES: lists.axes_from,
    }
)
