"""All keys of a recipe: the kind, default, range and sentence of each.

Checks, defaults and the commented recipe that `inkline recipe` prints all come from here, so they
cannot disagree.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from inkline.calendar.months import FIRST_YEAR, LAST_YEAR
from inkline.calendar.names import LetterCase
from inkline.chance import LARGEST_NUMBER
from inkline.kit.recipe import kinds
from inkline.kit.recipe.choices import ColumnsRun, MonthNames, NamePlace, Sizes, WeekdayNames
from inkline.kit.recipe.key import BY_LANGUAGE, FORMATS, WEEK_STARTS, Key
from inkline.kit.recipe.keys_dates import DATE_KEYS, NUMERAL_KEYS, WEEKDAY_KEYS
from inkline.kit.recipe.keys_files import FILE_KEYS
from inkline.kit.recipe.keys_finish import FINISH, FINISH_KEYS
from inkline.kit.recipe.keys_formats import BLOCK_KEYS, GRID_KEYS, RULE_KEYS
from inkline.kit.recipe.keys_lettering import LETTERING_KEYS
from inkline.kit.recipe.keys_shop import SHOP_KEYS
from inkline.kit.recipe.kinds import choice_key
from inkline.styles.files import DEFAULT_STYLE

RECIPE_VERSION = 1
LARGEST_SIDE_PX = 20_000
"""A grey picture of this side takes 400 MB; calendar stamps are an eighth of it."""
_SMALLEST_SIDE_PX = 100
EXTENDS = "extends"
"""The key that names the recipe which lends what a file leaves out."""
EACH_FORMAT = "each_format"
"""The table whose keys hold for every format."""
KITS = "kits"
"""The table that holds one table for each kit of a file of several."""
TABLES: Mapping[str, str] = MappingProxyType(
    {
        "canvas": "The square picture on which every format stands. Lengths carry a unit: px, "
        "pt, mm, cm, in, or % of "
        "the canvas side. In % everything grows with the canvas.",
        FORMATS: "One table for each shape of calendar. Take a whole table out and its stamps "
        "are not drawn; add a table "
        "under a name of your own, and its stamps are drawn as well. A line such as tall = "
        '"none" under [formats] takes out a format of the '
        "recipe that this one extends.",
        "calendar": "What holds for the calendars of all formats.",
        EACH_FORMAT: "Any keys of a format: they hold for every format whose own table doesn't "
        "say otherwise.",
        "words": "Month names, years and single digits for use alone, and the language of the "
        "weekdays.",
        "marks": "Days of your own to be marked: a date, and a ring, a dot or an underline.",
        "lettering": "Where the letters come from.",
        "style": "How the ink looks: the name of a style, and any of its values that you want "
        "changed for this kit.",
        "again": "What you want drawn again: its name, and how many times; 1 at first, 2 if you "
        "don't like that drawing either. "
        "Nothing else changes. A numeral is named by its stamp and itself; the manifest names "
        "rules and blocks.",
        "names": "What the pictures' files are called.",
        "files": "How files look that are made of the stamps for others, and what they say.",
        "guide": "What is said to those who buy the kit, and in which language.",
        "shop": "How the pictures look that sell the kit.",
        FINISH: "Artwork of your own that inkline finish redraws; title, number, style, lettering, "
        "again and files hold for it as well.",
        KITS: "Several kits from one file: one table for each, laid over the rest of the recipe.",
    }
)
"""The recipe's tables in the order in which they are printed, and what each is for."""

KEYS: tuple[Key, ...] = (
    Key(
        table="",
        name="version",
        kind=kinds.WHOLE,
        default=None,
        low=RECIPE_VERSION,
        high=RECIPE_VERSION,
        sentence="The version of this recipe's own layout.",
    ),
    Key(
        table="",
        name=EXTENDS,
        kind=kinds.TEXT,
        default="",
        high=1024,
        sentence="Another recipe file, its place given from this one's folder: what this recipe "
        "doesn't say is as that one says, "
        "table by table and key by key.",
    ),
    Key(
        table="",
        name="title",
        kind=kinds.TEXT,
        default="A year of evenings",
        high=80,
        sentence="What the kit is called; it stands on the overview.",
    ),
    Key(
        table="",
        name="edition",
        kind=kinds.TEXT,
        default="",
        high=40,
        sentence='Your own version of the kit, such as "2" or "2027-b"; it stands in the guide '
        "and in the list of what changed.",
    ),
    Key(
        table="",
        name="number",
        kind=kinds.WHOLE,
        default=None,
        low=0,
        high=LARGEST_NUMBER,
        sentence="The same number draws the same lines again; several kits each have one made "
        "of it.",
    ),
    Key(
        table="canvas",
        name="side",
        kind=kinds.SIDE,
        default="2500 px",
        low=_SMALLEST_SIDE_PX,
        high=LARGEST_SIDE_PX,
        sentence="Width and height of the canvas, rounded to whole pixels.",
    ),
    Key(
        table="canvas",
        name="ppi",
        kind=kinds.NUMBER,
        default=300,
        low=30,
        high=4800,
        sentence="Pixels per inch, for lengths in pt, mm, cm and in.",
    ),
    Key(
        table="canvas",
        name="margin",
        kind=kinds.LENGTH,
        default="2.4 %",
        low=0.0,
        high=40.0,
        sentence="From the edge of the canvas to the middle of the outermost rules.",
    ),
    Key(
        table="canvas",
        name="safe",
        kind=kinds.LENGTH,
        default="0.96 %",
        low=0.0,
        high=20.0,
        sentence="No ink comes nearer to the edge of the canvas than this, or a cut would show "
        "when the stamp is used.",
    ),
    Key(
        table="calendar",
        name="week_starts",
        kind=kinds.CHOICES,
        default=["sunday", "monday"],
        choices=(*WEEK_STARTS, BY_LANGUAGE),
        sentence='The days on which weeks begin, one row of weekdays for each; "language" is the '
        "day on which they begin where the first "
        "language is spoken.",
    ),
    *GRID_KEYS,
    *RULE_KEYS,
    *BLOCK_KEYS,
    *NUMERAL_KEYS,
    *DATE_KEYS,
    *WEEKDAY_KEYS,
    Key(
        table="words",
        name="language",
        kind=kinds.LANGUAGES,
        default="en",
        high=12,
        sentence='Language of months and weekdays, such as "en", "de", "fr" or "pt_BR"; or a '
        "list of several, which share grids, blocks and "
        "dates.",
    ),
    choice_key(
        "words",
        "letters",
        LetterCase,
        LetterCase.CAPITALS,
        sentence="Capitals throughout, or letters as the language writes them.",
    ),
    choice_key(
        "words",
        "months",
        MonthNames,
        MonthNames.WIDE,
        sentence="Month names in full, abbreviated, or both.",
    ),
    choice_key(
        "words",
        "weekdays",
        WeekdayNames,
        WeekdayNames.ABBREVIATED,
        sentence="Weekday names in full, abbreviated as the language does, or in one, two or "
        "three letters.",
    ),
    Key(
        table="words",
        name="years",
        kind=kinds.YEARS,
        default=[2027, 2028, 2029, 2030, 2031],
        low=FIRST_YEAR,
        high=LAST_YEAR,
        sentence='The years to draw; "2027-2031" is five of them.',
    ),
    Key(
        table="words",
        name="spans",
        kind=kinds.SPANS,
        default=[],
        low=FIRST_YEAR,
        high=LAST_YEAR,
        sentence='Ranges of years to draw, such as "2027-2028" for a school year.',
    ),
    Key(
        table="words",
        name="captions",
        kind=kinds.CAPTIONS,
        default=[],
        high=40,
        sentence='Short words of your own to draw, such as "Notes".',
    ),
    choice_key(
        "words",
        "name",
        NamePlace,
        NamePlace.ABOVE,
        sentence="Where the name of a finished month stands: above, or tucked into the cells "
        "before the first day or after the last one, where it fits.",
    ),
    choice_key(
        "words",
        "sizes",
        Sizes,
        Sizes.SAME_HEIGHT,
        sentence="Whether all words share one letter height, so that months don't change size "
        "from one to the next, or each is as large as "
        "fills a canvas of the same width.",
    ),
    choice_key(
        "words",
        "direction",
        ColumnsRun,
        ColumnsRun.BY_LANGUAGE,
        sentence="Which way the columns of the calendars run; by itself as the first language is "
        "written, so that an Arabic week begins at the "
        "right.",
    ),
    Key(
        table="words",
        name="height",
        kind=kinds.LENGTH,
        default="8 %",
        low=0.4,
        high=100.0,
        sentence="Height of a capital in words used alone.",
    ),
    Key(
        table="words",
        name="stem",
        kind=kinds.NUMBER,
        default=8.4,
        low=3.0,
        high=40.0,
        sentence="How many pen widths high the letters stand; fonts as with a format's stem.",
    ),
    Key(
        table="words",
        name="spacing",
        kind=kinds.NUMBER,
        default=0.0,
        low=-0.1,
        high=1.0,
        sentence="Extra white between the letters of words and weekdays, as a share of the em; "
        "scripts that join their letters take none.",
    ),
    Key(
        table="words",
        name="margin",
        kind=kinds.LENGTH,
        default="1.6 %",
        low=0.0,
        high=20.0,
        sentence="White around a word on its own canvas.",
    ),
    *LETTERING_KEYS,
    Key(
        table="style",
        name="name",
        kind=kinds.TEXT,
        default=DEFAULT_STYLE,
        high=1024,
        sentence="One of the styles that inkline style lists, or a style file of your own ending "
        "in .toml.",
    ),
    Key(
        table="names",
        name="pattern",
        kind=kinds.PATTERN,
        default="{name}",
        high=120,
        sentence="The pattern of file names: {name} is the stamp's own, such as dates-3; {days} "
        "the days on which its weeks and its month "
        "begin, such as sun-tue; {month} the month's name; {format}, {title}, {edition} and "
        "{language} what they say.",
    ),
    *FILE_KEYS,
    *SHOP_KEYS,
    *FINISH_KEYS,
)
"""All keys, in the order in which the recipe prints them."""

DEFAULT_FORMATS = ("standard", "tall")
"""The formats of a recipe that names none."""


def keys_of(table: str) -> tuple[Key, ...]:
    """The keys of one table, in order."""
    return tuple(key for key in KEYS if key.table == table)
