"""The default recipe as TOML in which a comment explains every key, made from the keys."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Any

from inkline.chance import LARGEST_NUMBER
from inkline.kit.recipe.key import FORMATS, Key
from inkline.kit.recipe.keys import (
    DEFAULT_FORMATS,
    EACH_FORMAT,
    KITS,
    RECIPE_VERSION,
    TABLES,
    keys_of,
)
from inkline.kit.recipe.weights import SUGGESTED

TO_DRAW = "inkline.build_kit"
TO_EXPLAIN = 'inkline.kit.recipe.explain.explanation_lines("KEY") (or: "all")'
TO_CHECK = "inkline.kit.check.check_recipe_file"
"""What draws, explains and looks over a recipe for those who call the library themselves."""
_TITLE = "The recipe of a stamp kit. Change what you like and run: {}"
_KEEP = (
    "Keep the version and the drawing number; every other value holds without its line too, so "
    "delete at will."
)
_WEIGHTS = "Weights after a # are as the style suggests; without the # they hold with every style."
_HELP = "What a key does and what it may be: {}. To look a recipe over, nothing drawn: {}"
_MORE = "More keys here: "
_DIFFERS = "Only what differs; every key above may stand here as well."
_COLUMNS = 110
_PLACE_OF_COMMENT = 26


def recipe_text(
    number: int, *, to_draw: str = TO_DRAW, to_explain: str = TO_EXPLAIN, to_check: str = TO_CHECK
) -> str:
    """The default recipe as TOML: what most people change, and the names of all else.

    Args:
        number: the drawing number.
        to_draw: what its heading says how the recipe is drawn, where it is given to somebody who
            doesn't call the library.
        to_explain: likewise, how a key is explained.
        to_check: likewise, how a recipe is looked over.

    Raises:
        ValueError: a drawing number outside 0 to `LARGEST_NUMBER`.
    """
    if not 0 <= number <= LARGEST_NUMBER:
        raise ValueError(f"a drawing number must lie between 0 and {LARGEST_NUMBER}, not {number}")
    fixed = {"version": RECIPE_VERSION, "number": number}
    heading = (_TITLE.format(to_draw), _KEEP, _HELP.format(to_explain, to_check))
    lines = [line for sentence in heading for line in _comment_lines(sentence)]
    lines.append("")
    for key in _everyday_keys(""):
        lines += _key_lines(key, fixed.get(key.name, key.default))
    lines += _lines_of_other_keys("")
    for table, sentence in TABLES.items():
        lines += ["", *_comment_lines(sentence), *_table_lines(table)]
    return "\n".join(lines) + "\n"


def toml_text(value: Any) -> str:
    """A default value in TOML; defaults are texts without quotes, numbers and lists of these."""
    if isinstance(value, list):
        return f"[{', '.join(toml_text(one) for one in value)}]"
    return f'"{value}"' if isinstance(value, str) else repr(value)


def other_defaults(key: Key) -> list[str]:
    """The defaults of a key that differ from its usual one, each with where it holds."""
    named = [f"{toml_text(value)} in {name}" for name, value in key.defaults.items()]
    by_dates = [
        f'{toml_text(value)} where dates = "{dates}"'
        for dates, value in key.defaults_by_dates.items()
    ]
    usual = f"{toml_text(key.default)} "
    return [one for one in (*named, *by_dates) if not one.startswith(usual)]


def _table_lines(table: str) -> Iterator[str]:
    """A table with its everyday keys; one that has none is a comment that shows an example."""
    if table == FORMATS:
        yield from _format_lines()
    elif table in EVERYDAY:
        yield f"[{table}]"
        for key in _everyday_keys(table):
            yield from _key_lines(key, key.default)
        yield from _lines_of_other_keys(table)
    yield from (f"# {line}" for line in TABLE_EXAMPLES.get(table, ()))


def _format_lines() -> Iterator[str]:
    """All formats; only the first has and explains all everyday keys."""
    first, *others = DEFAULT_FORMATS
    yield from _comment_lines(_WEIGHTS)
    yield f"[{FORMATS}.{first}]"
    for key in _everyday_keys(FORMATS):
        yield from _key_lines(key, key.default_for(first))
    yield from _lines_of_other_keys(FORMATS)
    for name in others:
        yield from ("", f"[{FORMATS}.{name}]", f"# {_DIFFERS}")
        for key in keys_of(FORMATS):
            if key.default_for(name) != key.default_for(first):
                yield _line(key, key.default_for(name))


def _everyday_keys(table: str) -> Iterable[Key]:
    keys = {key.name: key for key in keys_of(table)}
    return [keys[name] for name in EVERYDAY.get(table, ())]


def _lines_of_other_keys(table: str) -> list[str]:
    """The names of a table's other keys."""
    names = [key.name for key in keys_of(table) if key.name not in EVERYDAY.get(table, ())]
    text = f"# {_MORE}{', '.join(names)}"
    return textwrap.wrap(text, _COLUMNS, subsequent_indent=f"# {'':{len(_MORE)}}") if names else []


def _line(key: Key, value: Any) -> str:
    """A key's line; a comment if the style may suggest another value, which it then decides."""
    return f"{'# ' if key.name in SUGGESTED else ''}{key.name} = {toml_text(value)}"


def _key_lines(key: Key, value: Any) -> Iterator[str]:
    """A key's line, with its sentence behind it if both fit, else above it."""
    line = _line(key, value)
    behind = f"{line:<{_PLACE_OF_COMMENT}}  # {key.sentence}"
    if len(behind) <= _COLUMNS:
        yield behind
    else:
        yield from _comment_lines(key.sentence)
        yield line


def _comment_lines(sentence: str) -> list[str]:
    return [f"# {line}" for line in textwrap.wrap(sentence, _COLUMNS - 2)]


EVERYDAY: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "": ("version", "title", "number"),
        "canvas": ("side", "ppi", "margin"),
        FORMATS: (
            "cell",
            "rule",
            "frame",
            "block_inset",
            "block_corner",
            "numeral",
            "stem",
            "gap",
            "side",
            "level",
            "dates",
            "used_at",
        ),
        "calendar": ("week_starts",),
        "words": ("language", "letters", "months", "weekdays", "years", "height"),
        "lettering": ("family", "font"),
        "style": ("name",),
    }
)
"""The keys that a new recipe writes out, table by table; the others are only named there."""


EXAMPLES: Mapping[str, Any] = MappingProxyType(
    {
        "version": 1,
        "extends": "my-base.toml",
        "edition": "2",
        "number": 41_207,
        "formats.shows": "strip",
        "formats.weeks": [6],
        "formats.column_gutter": 0.2,
        "formats.row_gutter": "3 pt",
        "formats.margin": ["5 %", "3 %", "3 %", "3 %"],
        "formats.height": 0.7,
        "formats.header": "with",
        "formats.takes": 3,
        "formats.blocks": "both",
        "formats.block_form": "circle",
        "formats.block_fill": "outlined",
        "formats.block_edge": "crisp",
        "formats.block_omit": ["r5c4", "c1"],
        "formats.gap_from": "blocks",
        "formats.side": "right",
        "formats.level": "bottom",
        "formats.dates_as": "01",
        "formats.dates": "exact",
        "formats.split": "weekend",
        "formats.sixth_week": "shared",
        "formats.week_numbers": "iso",
        "formats.week_numbers_in": "narrow",
        "formats.weekday": 0.4,
        "calendar.week_starts": ["monday", "saturday"],
        "words.language": ["en", "de"],
        "words.letters": "as written",
        "words.months": "both",
        "words.weekdays": "two letters",
        "words.years": ["2027-2031", 2040],
        "words.spans": ["2027-2028"],
        "words.captions": ["Notes", "To do"],
        "words.sizes": "fill each",
        "words.direction": "right to left",
        "lettering.family": "my-letters.ufo",
        "lettering.font": "fonts/my-font.otf",
        "lettering.way": "stroke",
        "lettering.figures": "tabular",
        "lettering.figure_style": "old style",
        "lettering.numbering": "arab",
        "lettering.guests": "rare",
        "lettering.drawings": "one",
        "style.name": "dip-pen",
        "files.ink": "#c2452d",
        "files.author": "Ada Inkwell",
        "files.licence": "For your own work, sold or not; not to be passed on.",
        "files.licence_file": "licence.txt",
        "guide.language": "de",
        "guide.sentences": "my-sentences.toml",
        "shop.sizes": ["2000 x 2000", "1000 x 1500"],
        "names.pattern": "{title}-{name}-{days}",
        "finish.files": ["plan.svg", "title.png"],
        "finish.ground": "clear",
        "finish.split": "layers",
        "finish.overlay": "with",
        "finish.drawn_at": "180 mm",
        "finish.lines": "strokes",
        "finish.colours": ["#1d2b36", "#c03050"],
        "finish.pages": "1,3-5",
        "finish.into_cells": "dates=2027-02",
    }
)
"""Values that show how a key is written, where the default is a number, a text or nothing."""


TABLE_EXAMPLES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        FORMATS: ("[formats.wide]               # a format of your own", "cell = 0.7"),
        EACH_FORMAT: ("[each_format]", "takes = 2"),
        "marks": ("[marks]", '"2027-03-08" = "ring"', '"12-24" = "dot"              # every year'),
        "style": ("[style.edge]", 'raggedness = "25 um"'),
        "again": (
            "[again]",
            '"tall/dates-3/17" = 1',
            '"standard/grid-6/down-3" = 1    # the third rule from the left',
            '"standard/blocks-5/r5c4" = 1    # the block in the fifth row and fourth column',
        ),
        "files": ("[files]", 'forms = ["png", "svg"]', 'ink = "#c2452d"'),
        "guide": ("[guide]", 'language = "de"'),
        "shop": ("[shop]", 'sizes = ["2000 x 2000", "1000 x 1500"]'),
        "finish": (
            "[finish]",
            'files = ["plan.svg"]',
            'parts.walls.style = "felt-marker"    # of a layer of it',
        ),
        "names": ("[names]", 'pattern = "{name}-{days}"'),
        KITS: ("[kits.german]", 'title = "Ein Jahr in Abenden"', 'words.language = "de"'),
    }
)
"""Lines of TOML that show what a table is for."""
