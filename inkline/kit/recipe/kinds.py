"""The kinds of a recipe's values: how each is read, what is allowed there, and its JSON Schema."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from inkline.kit.recipe import lists, numbers, pictures
from inkline.kit.recipe.fragments import (
    LENGTH_SCHEMA,
    SIZE_UNITS,
    any_of,
    list_schema,
    measure_schema,
    number_schema,
    text_schema,
    whole_schema,
)
from inkline.kit.recipe.key import CANVAS, FIT, Key, KeyKind, Schema
from inkline.source.values import choice_in_words, range_text

_SPAN_OF_YEARS = r"^\s*[0-9]{4}\s*[-–]\s*[0-9]{4}\s*$"
_HAS_INK = r"\S"


def _other_spellings(key: Key) -> list[str]:
    """Other spellings of a key's choices."""
    return [one for one, meant in numbers.OTHER_SPELLINGS.items() if meant in key.choices]


WHOLE = KeyKind(
    read=numbers.whole_from,
    allowed=lambda key: f"a whole number {range_text(key.low, key.high)}",
    schema=lambda key: whole_schema(key.low, key.high),
)
NUMBER = KeyKind(
    read=numbers.number_from,
    allowed=lambda key: f"a number {range_text(key.low, key.high)}",
    schema=lambda key: number_schema(key.low, key.high),
)
PERCENT = KeyKind(
    read=numbers.percent_from,
    allowed=lambda key: f'a percentage {range_text(key.low, key.high)}, such as 25 or "25 %"',
    schema=lambda key: any_of(number_schema(key.low, key.high), measure_schema("%")),
)
TEXT = KeyKind(
    read=numbers.text_from,
    allowed=lambda key: f"a text of at most {key.high:g} letters on one line",
    schema=lambda key: text_schema(key.high),
)
CHOICE = KeyKind(
    read=numbers.choice_from,
    allowed=lambda key: choice_in_words(key.choices),
    schema=lambda key: {"enum": [*key.choices, *_other_spellings(key)]},
)
COLOUR = KeyKind(
    read=numbers.colour_from,
    allowed=lambda _: 'a colour of sRGB such as "#27343d"',
    schema=lambda _: {"type": "string", "pattern": numbers.COLOUR_PATTERN},
)
SIDE = KeyKind(
    read=numbers.side_from,
    allowed=lambda key: (
        f"a length from {key.low:g} px to {key.high:g} px with a unit other than %, such as "
        f'"2500 px" or "20 cm"'
    ),
    schema=lambda _: measure_schema(f"px|{SIZE_UNITS}"),
)
LENGTH = KeyKind(
    read=numbers.measure_from,
    allowed=lambda key: (
        f'a length from {key.low:g} % to {key.high:g} % of the canvas side, such as "5 pt", '
        f'"0.4 mm" or "1.5 %"'
    ),
    schema=lambda _: LENGTH_SCHEMA,
)
SHARE_OR_LENGTH = KeyKind(
    read=numbers.share_or_length_from,
    allowed=lambda key: (
        f"a share of the cell's width {range_text(key.low, key.high)}, or a length such as "
        f'"75 pt" of at most {numbers.MOST_LENGTH_OF_SHARE:g} % of the canvas side'
    ),
    schema=lambda key: any_of(number_schema(key.low, key.high), LENGTH_SCHEMA),
)
SHARE_OR_FIT = KeyKind(
    read=numbers.share_or_fit_from,
    allowed=lambda key: f'"{FIT}", or a share {range_text(key.low, key.high)}',
    schema=lambda key: any_of({"const": FIT}, number_schema(key.low, key.high)),
)


def _one_or_list(items: Schema, *, least: int = 0, most: int | None = None) -> Schema:
    """One of `items`, or a list of them."""
    return any_of(items, list_schema(items, least=least, most=most))


def _years_schema(key: Key) -> Schema:
    """Years and ranges of them, each once."""
    one = any_of(whole_schema(key.low, key.high), {"type": "string", "pattern": _SPAN_OF_YEARS})
    return any_of(one, list_schema(one, most=lists.MOST_YEARS) | {"uniqueItems": True})


YEARS = KeyKind(
    read=lists.years_from,
    allowed=lambda key: (
        f"a list of at most {lists.MOST_YEARS} years {range_text(key.low, key.high)}, or ranges of "
        f'them such as "2027-2031"'
    ),
    schema=_years_schema,
)
SPANS = KeyKind(
    read=lists.spans_from,
    allowed=lambda key: (
        f"a list of at most {lists.MOST_YEARS} ranges of years {range_text(key.low, key.high)}, "
        f'such as "2027-2028"'
    ),
    schema=lambda _: _one_or_list(
        {"type": "string", "pattern": _SPAN_OF_YEARS}, most=lists.MOST_YEARS
    ),
)
CHOICES = KeyKind(
    read=lists.choices_from,
    allowed=lambda key: f"a list of one or more of {choice_in_words(key.choices)}",
    schema=lambda key: _one_or_list(
        {"enum": list(key.choices)}, least=0 if key.default == [] else 1
    ),
)
WHOLES = KeyKind(
    read=lists.wholes_from,
    allowed=lambda key: f"a list of whole numbers {range_text(key.low, key.high)}",
    schema=lambda key: _one_or_list(whole_schema(key.low, key.high), least=1),
)
MARGIN = KeyKind(
    read=lists.margin_from,
    allowed=lambda key: (
        f'"{CANVAS}", a length from {key.low:g} % to {key.high:g} % of the canvas side, or a list '
        f"of four, clockwise from the top"
    ),
    schema=lambda _: any_of(
        {"const": CANVAS}, LENGTH_SCHEMA, list_schema(LENGTH_SCHEMA, least=4, most=4)
    ),
)


def _languages_schema(key: Key) -> Schema:
    """The name of a language, or a list of names."""
    name = {"type": "string", "maxLength": 32, "minLength": 2}
    return any_of(name, list_schema(name, least=1, most=int(key.high)))


LANGUAGES = KeyKind(
    read=lists.languages_from,
    allowed=lambda key: (
        f'a language as CLDR names it, such as "en", "de" or "pt_BR", or a list of at most '
        f"{key.high:g} of them"
    ),
    schema=_languages_schema,
)
CAPTIONS = KeyKind(
    read=lists.captions_from,
    allowed=lambda key: (
        f"a list of at most {lists.MOST_YEARS} texts of at most {key.high:g} letters each on one "
        f"line"
    ),
    schema=lambda key: _one_or_list(
        text_schema(key.high) | {"pattern": _HAS_INK}, most=lists.MOST_YEARS
    ),
)
BLOCK_NAMES = KeyKind(
    read=lists.block_names_from,
    allowed=lambda key: f'a list of at most {key.high:g} names of blocks such as "r5c4" or "c1"',
    schema=lambda key: _one_or_list(
        {"type": "string", "pattern": "^(r[1-9][0-9]?)?c[1-9][0-9]?$"}, most=int(key.high)
    ),
)


def _pattern_schema(key: Key) -> Schema:
    """Letters, doubled braces and the known parts, {name} among them."""
    parts = "|".join(lists.PATTERN_PARTS)
    pieces = rf"([^{{}}\u0000-\u001f\u007f]|\{{\{{|\}}\}}|\{{({parts})\}})*"
    pattern = rf"^{pieces}\{{name\}}{pieces}$"
    return {"type": "string", "maxLength": int(key.high), "pattern": pattern}


PATTERN = KeyKind(
    read=lists.pattern_from,
    allowed=lambda key: (
        f"a text of at most {key.high:g} letters with {{name}} in it; of braces only "
        f"{', '.join(f'{{{part}}}' for part in lists.PATTERN_PARTS)}"
    ),
    schema=_pattern_schema,
)
SHIFTS = KeyKind(
    read=lists.shifts_from,
    allowed=lambda _: (
        f"a table of numerals from 1 to 31, each with two lengths of at most "
        f"{lists.FARTHEST_SHIFT:g} % of the canvas side, to the right and down"
    ),
    schema=lambda _: {
        "type": "object",
        "propertyNames": {"enum": list(numbers.NUMERALS)},
        "additionalProperties": list_schema(LENGTH_SCHEMA, least=2, most=2),
    },
    has_entries=True,
)
SWAPS = KeyKind(
    read=lists.swaps_from,
    allowed=lambda _: (
        "a table of single characters, each with a glyph's name, a family's glyph such as "
        '"scullery:seven", or a file ending in .glif'
    ),
    schema=lambda _: {
        "type": "object",
        "additionalProperties": text_schema(lists.LONGEST_GLYPH),
    },
    has_entries=True,
)
LETTERS = KeyKind(
    read=lists.letters_from,
    allowed=lambda _: (
        "a table with a family, by its name or as a UFO folder, or with a font file, which goes "
        "before a family"
    ),
    schema=lambda _: {
        "type": "object",
        "properties": {name: text_schema(lists.LONGEST_PLACE) for name in lists.LETTERS_FROM},
        "additionalProperties": False,
    },
    has_entries=True,
)
AXES = KeyKind(
    read=lists.axes_from,
    allowed=lambda _: "a table of axes by their four letters, each with a number",
    schema=lambda _: {
        "type": "object",
        "propertyNames": {"pattern": r"^[\u0000-\u007f]{4}$"},
        "additionalProperties": {"type": "number"},
    },
    has_entries=True,
)
PALETTE = KeyKind(
    read=pictures.palette_from,
    allowed=lambda _: 'a list of five colours of sRGB such as "#27343d"',
    schema=lambda _: list_schema(
        {"type": "string", "pattern": numbers.COLOUR_PATTERN}, least=5, most=5
    ),
)
PICTURE_SIZES = KeyKind(
    read=pictures.sizes_from,
    allowed=lambda _: (
        f"a list of at most {pictures.MOST_SIZES} sizes such as "
        f'"2000 x 2000", each side from {pictures.LEAST_SIDE} px to {pictures.MOST_SIDE} px'
    ),
    schema=lambda _: _one_or_list(
        {"type": "string", "pattern": pictures.SIZE_PATTERN}, least=1, most=pictures.MOST_SIZES
    ),
)


def choice_key(
    table: str,
    name: str,
    enum: type[StrEnum],
    default: StrEnum,
    *,
    sentence: str,
    defaults: Mapping[str, str] | None = None,
) -> Key:
    """The key of a choice among the members of `enum`."""
    return Key(
        table=table,
        name=name,
        kind=CHOICE,
        default=default.value,
        defaults=MappingProxyType(dict(defaults or {})),
        choices=tuple(one.value for one in enum),
        enum=enum,
        sentence=sentence,
    )
