"""What a key of a recipe may be set to, in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from inkline.kit.recipe.key import CANVAS, FIT, Key, Kind
from inkline.kit.recipe.keys import MOST_YEARS
from inkline.kit.recipe.lists import FARTHEST_SHIFT, PATTERN_PARTS
from inkline.kit.recipe.numbers import MOST_LENGTH_OF_SHARE
from inkline.source.values import spanned
from inkline.styles.text import one_of


def allowed_words(key: Key) -> str:
    """What is allowed at `key`: kind, range, unit, choices; without a full stop."""
    return _ALLOWED[key.kind](key)


def _share_or_length(key: Key) -> str:
    return (
        f'a share of the cell\'s width {spanned(key.low, key.high)}, or a length such as "75 pt" '
        f"of at most "
        f"{MOST_LENGTH_OF_SHARE:g} % of the canvas side"
    )


_ALLOWED: Mapping[Kind, Callable[[Key], str]] = MappingProxyType(
    {
        Kind.WHOLE: lambda key: f"a whole number {spanned(key.low, key.high)}",
        Kind.NUMBER: lambda key: f"a number {spanned(key.low, key.high)}",
        Kind.PERCENT: lambda key: (
            f'a percentage {spanned(key.low, key.high)}, such as 25 or "25 %"'
        ),
        Kind.TEXT: lambda key: f"a text of at most {key.high:g} letters on one line",
        Kind.CHOICE: lambda key: one_of(key.choices),
        Kind.SIDE: lambda key: (
            f"a length from {key.low:g} px to {key.high:g} px with a unit other than %, such as "
            f'"2500 px" or "20 cm"'
        ),
        Kind.LENGTH: lambda key: (
            f'a length from {key.low:g} % to {key.high:g} % of the canvas side, such as "5 pt", '
            f'"0.4 mm" or "1.5 %"'
        ),
        Kind.SHARE_OR_LENGTH: _share_or_length,
        Kind.SHARE_OR_FIT: lambda key: f'"{FIT}", or a share {spanned(key.low, key.high)}',
        Kind.YEARS: lambda key: (
            f"a list of at most {MOST_YEARS} years {spanned(key.low, key.high)}, or ranges of "
            f'them such as "2027-2031"'
        ),
        Kind.SHIFTS: lambda _: (
            f"a table of numerals from 1 to 31, each with two lengths of at most "
            f"{FARTHEST_SHIFT:g} % of the canvas side, to the right and down"
        ),
        Kind.SWAPS: lambda _: (
            "a table of single characters, each with a glyph's name, a family's glyph such as "
            '"scullery:seven", or a file ending in .glif'
        ),
        Kind.AXES: lambda _: "a table of axes by their four letters, each with a number",
        Kind.WORDS: lambda key: f"a list of one or more of {one_of(key.choices)}",
        Kind.WHOLES: lambda key: f"a list of whole numbers {spanned(key.low, key.high)}",
        Kind.MARGIN: lambda key: (
            f'"{CANVAS}", a length from {key.low:g} % to {key.high:g} % of the canvas side, or a '
            f"list of four, clockwise from the top"
        ),
        Kind.LANGUAGES: lambda key: (
            f'a language as CLDR names it, such as "en", "de" or "pt_BR", or a list of at most '
            f"{key.high:g} of them"
        ),
        Kind.SPANS: lambda key: (
            f"a list of at most {MOST_YEARS} ranges of years {spanned(key.low, key.high)}, such "
            f'as "2027-2028"'
        ),
        Kind.CAPTIONS: lambda key: (
            f"a list of at most {MOST_YEARS} texts of at most {key.high:g} letters each on one line"
        ),
        Kind.BLOCK_NAMES: lambda key: (
            f'a list of at most {key.high:g} names of blocks such as "r5c4" or "c1"'
        ),
        Kind.PATTERN: lambda key: (
            f"a text of at most {key.high:g} letters with {{name}} in it; of braces only "
            f"{', '.join(f'{{{part}}}' for part in PATTERN_PARTS)}"
        ),
    }
)
