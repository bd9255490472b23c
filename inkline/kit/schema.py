"""The one table of everything a recipe may say: key, kind, default, range and the sentence that explains it.

Checks, defaults and the commented recipe that `inkline recipe` prints all come from here, so they cannot disagree.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from inkline.calendar.months import FIRST_YEAR, LAST_YEAR
from inkline.calendar.names import LetterCase, NameWidth
from inkline.kit.schema_formats import FORMAT_KEYS
from inkline.kit.schema_key import FORMATS, Drawings, Guests, Key, Kind
from inkline.lettering.face import Figures
from inkline.lettering.writing import Way

RECIPE_VERSION = 1
LARGEST_NUMBER = 999_999_999
"""Drawing numbers have at most nine digits, so that they can be read out and typed again."""
LARGEST_SIDE_PX = 20_000
"""A grey picture of this side takes 400 MB; calendar stamps are an eighth of it."""
SMALLEST_SIDE_PX = 100
MOST_YEARS = 50
TABLES: Mapping[str, str] = MappingProxyType(
    {
        "canvas": "The square picture on which every format stands. Lengths carry a unit: px, pt, mm, cm, in, or % of "
        "the canvas side. In % everything grows with the canvas.",
        FORMATS: "One table for each shape of calendar. Take a whole table out and its stamps are not drawn; add a table "
        "under a name of your own, and its stamps are drawn as well.",
        "words": "Month names, years and single digits for use alone, and the language of the weekdays.",
        "lettering": "Where the letters come from.",
        "style": "How the ink looks: the name of a style, and any of its values that you want changed for this kit.",
        "again": "What you want drawn again: its name, and how many times; 1 at first, 2 if you don't like that drawing either. "
        "Nothing else changes. A numeral is named by its stamp and itself; the manifest names rules and blocks.",
    }
)
"""The recipe's tables in the order in which they are printed, and what each is for."""

KEYS: tuple[Key, ...] = (
    Key(
        table="",
        name="version",
        kind=Kind.WHOLE,
        default=None,
        low=RECIPE_VERSION,
        high=RECIPE_VERSION,
        sentence="The version of this recipe's own layout.",
    ),
    Key(
        table="",
        name="title",
        kind=Kind.TEXT,
        default="A year of evenings",
        high=80,
        sentence="What the kit is called; it stands on the overview.",
    ),
    Key(
        table="",
        name="number",
        kind=Kind.WHOLE,
        default=None,
        low=0,
        high=LARGEST_NUMBER,
        sentence="The drawing number. The same number draws the same lines again; another one draws every line anew in "
        "the same hand. Keep it with the kit, and keep it yours.",
    ),
    Key(
        table="canvas",
        name="side",
        kind=Kind.SIDE,
        default="2500 px",
        low=SMALLEST_SIDE_PX,
        high=LARGEST_SIDE_PX,
        sentence="Width and height of the canvas, rounded to whole pixels.",
    ),
    Key(
        table="canvas",
        name="ppi",
        kind=Kind.NUMBER,
        default=300,
        low=30,
        high=4800,
        sentence="Pixels per inch, for lengths in pt, mm, cm and in.",
    ),
    Key(
        table="canvas",
        name="margin",
        kind=Kind.LENGTH,
        default="2.4 %",
        low=0.0,
        high=40.0,
        sentence="From the edge of the canvas to the middle of the outermost rules.",
    ),
    Key(
        table="canvas",
        name="safe",
        kind=Kind.LENGTH,
        default="0.96 %",
        low=0.0,
        high=20.0,
        sentence="No ink comes nearer to the edge of the canvas than this, or a cut would show when the stamp is used.",
    ),
    *FORMAT_KEYS,
    Key(
        table="words",
        name="language",
        kind=Kind.TEXT,
        default="en",
        high=32,
        sentence='Language of months and weekdays, such as "en", "de", "fr" or "pt_BR".',
    ),
    Key(
        table="words",
        name="letters",
        kind=Kind.CHOICE,
        default=LetterCase.CAPITALS.value,
        choices=tuple(case.value for case in LetterCase),
        sentence="Capitals throughout, or letters as the language writes them.",
    ),
    Key(
        table="words",
        name="months",
        kind=Kind.CHOICE,
        default=NameWidth.WIDE.value,
        choices=tuple(width.value for width in NameWidth),
        sentence="Month names in full or abbreviated.",
    ),
    Key(
        table="words",
        name="weekdays",
        kind=Kind.CHOICE,
        default=NameWidth.ABBREVIATED.value,
        choices=tuple(width.value for width in NameWidth),
        sentence="Weekday names in full or abbreviated.",
    ),
    Key(
        table="words",
        name="years",
        kind=Kind.YEARS,
        default=[2027, 2028, 2029, 2030, 2031],
        low=FIRST_YEAR,
        high=LAST_YEAR,
        sentence="The years to draw.",
    ),
    Key(
        table="words",
        name="height",
        kind=Kind.LENGTH,
        default="8 %",
        low=0.4,
        high=100.0,
        sentence="Height of a capital; the same in all words, so that months don't change size from one to the next.",
    ),
    Key(
        table="words",
        name="stem",
        kind=Kind.NUMBER,
        default=8.0,
        low=3.0,
        high=40.0,
        sentence="How many pen widths high the letters stand.",
    ),
    Key(
        table="words",
        name="spacing",
        kind=Kind.NUMBER,
        default=0.0,
        low=-0.1,
        high=1.0,
        sentence="Extra white between the letters of words and weekdays, as a share of the em; scripts that join their letters take none.",
    ),
    Key(
        table="words",
        name="margin",
        kind=Kind.LENGTH,
        default="1.6 %",
        low=0.0,
        high=20.0,
        sentence="White around a word on its own canvas.",
    ),
    Key(
        table="lettering",
        name="family",
        kind=Kind.TEXT,
        default="scullery",
        high=1024,
        sentence="A family of letters drawn stroke by stroke with the pen: one that inkline glyphs lists, or a UFO folder of your own "
        "ending in .ufo, its place given from this recipe's folder.",
    ),
    Key(
        table="lettering",
        name="font",
        kind=Kind.TEXT,
        default="",
        high=1024,
        sentence="Or a font file (TTF, OTF, WOFF, WOFF2), its place given from this recipe's folder. Read its licence "
        'before you sell what it draws, and ask a professional when it matters. "" takes the family.',
    ),
    Key(
        table="lettering",
        name="way",
        kind=Kind.CHOICE,
        default=Way.AUTO.value,
        choices=tuple(way.value for way in Way),
        sentence='How a font is drawn: its letters traced and written stroke by stroke ("stroke"), its outlines inked ("contour"), or as '
        "its weight and build suggest.",
    ),
    Key(
        table="lettering",
        name="figures",
        kind=Kind.CHOICE,
        default=Figures.LINING.value,
        choices=tuple(figures.value for figures in Figures),
        sentence="Which figures of a font to take, where it has a choice.",
    ),
    Key(
        table="lettering",
        name="guests",
        kind=Kind.CHOICE,
        default=Guests.NONE.value,
        choices=tuple(one.value for one in Guests),
        sentence='Whether other forms that a family has, such as an open 4, stand among the usual ones in dates and words: never, or "rare", '
        "about one in six.",
    ),
    Key(
        table="lettering",
        name="drawings",
        kind=Kind.CHOICE,
        default=Drawings.EACH.value,
        choices=tuple(one.value for one in Drawings),
        sentence='"each" draws every numeral for itself; "one" draws each digit once and uses that drawing throughout the kit.',
    ),
    Key(
        table="lettering",
        name="swap",
        kind=Kind.SWAPS,
        default={},
        sentence="Single characters to draw by another glyph: one of the same family by its name, one of another family, or a glyph "
        "file of the UFO standard.",
        example=("[lettering.swap]", '"4" = "four.open"', '"7" = "scullery:seven"', '"9" = "my-nine.glif"'),
    ),
    Key(
        table="lettering",
        name="axes",
        kind=Kind.AXES,
        default={},
        sentence="Places on the axes of a variable font.",
        example=("[lettering.axes]", "wght = 650"),
    ),
    Key(
        table="style",
        name="name",
        kind=Kind.TEXT,
        default="round-pen",
        high=64,
        sentence="One of the styles that inkline style lists, or a style file of your own ending in .toml.",
    ),
)
"""All keys, in the order in which the recipe prints them."""

DEFAULT_FORMATS = ("standard", "tall")
"""The formats of a recipe that names none."""


def keys_of(table: str) -> tuple[Key, ...]:
    """The keys of one table, in order."""
    return tuple(key for key in KEYS if key.table == table)
