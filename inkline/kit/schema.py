"""The one table of everything a recipe may say: key, kind, default, range and the sentence that explains it.

Checks, defaults and the commented recipe that `inkline recipe` prints all come from here, so they cannot disagree.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType
from typing import Any

from inkline.calendar.months import FIRST_YEAR, LAST_YEAR
from inkline.calendar.names import LetterCase, NameWidth
from inkline.lettering.face import Figures

RECIPE_VERSION = 1
LARGEST_NUMBER = 999_999_999
"""Drawing numbers have at most nine digits, so that they can be read out and typed again."""
LARGEST_SIDE_PX = 20_000
"""A grey picture of this side takes 400 MB; calendar stamps are an eighth of it."""
SMALLEST_SIDE_PX = 100
MOST_YEARS = 50
FIT = "fit"
"""The word for a size that is worked out: as large as the place allows."""
FORMATS = "formats"
"""The table that holds one table for each format; in `Key.table` it stands for any of them."""


class Kind(StrEnum):
    """What a key's value must be."""

    WHOLE = "whole number"
    NUMBER = "number"
    TEXT = "text"
    CHOICE = "choice"
    SIDE = "canvas side"
    LENGTH = "length"
    SHARE_OR_LENGTH = "share or length"
    SHARE_OR_FIT = "share or fit"
    YEARS = "years"


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One key of the recipe.

    Attributes:
        table: the table it stands in, "" for the top, `formats` for the table of any format.
        name: its name in that table.
        kind: what its value must be.
        default: the value where the recipe is silent, as written in TOML; `None` where the recipe must say it.
        defaults: other defaults for formats of a certain name.
        low: smallest value: of a number or share itself, of a side in px, of other lengths in percent of the canvas side.
        high: largest value, likewise; of a text, its length.
        choices: the words that a choice allows.
        sentence: what it does, for the person who draws.
    """

    table: str
    name: str
    kind: Kind
    default: Any
    sentence: str
    low: float = 0.0
    high: float = 0.0
    choices: tuple[str, ...] = ()
    defaults: Mapping[str, Any] = field(default_factory=lambda: MappingProxyType({}))

    @property
    def path(self) -> str:
        """Table and name, such as `canvas.side`."""
        return f"{self.table}.{self.name}" if self.table else self.name

    def default_for(self, format_name: str) -> Any:
        """The default in the table of the format `format_name`."""
        return self.defaults.get(format_name, self.default)


TABLES: Mapping[str, str] = MappingProxyType(
    {
        "canvas": "The square picture on which every format stands. Lengths carry a unit: px, pt, mm, cm, in, or % of "
        "the canvas side. In % everything grows with the canvas.",
        FORMATS: "One table for each shape of calendar. Take a whole table out and its stamps are not drawn; add a table "
        "under a name of your own, and its stamps are drawn as well.",
        "words": "Month names, years and single digits for use alone, and the language of the weekdays.",
        "lettering": "Where the letters come from.",
        "style": "How the ink looks: the name of a style, and any of its values that you want changed for this kit.",
        "again": "What you want drawn once more: its name and how often it has been drawn by now. Nothing else changes.",
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
    Key(
        table=FORMATS,
        name="cell",
        kind=Kind.NUMBER,
        default=1.0,
        defaults=MappingProxyType({"tall": 1.25}),
        low=0.2,
        high=5.0,
        sentence="Height of a day's cell for a width of 1: 1.0 is square.",
    ),
    Key(
        table=FORMATS,
        name="weekday_row",
        kind=Kind.NUMBER,
        default=0.5,
        low=0.1,
        high=2.0,
        sentence="Height of the row of weekdays for a cell height of 1.",
    ),
    Key(
        table=FORMATS,
        name="rule",
        kind=Kind.LENGTH,
        default="0.68 %",
        defaults=MappingProxyType({"tall": "0.42 %"}),
        low=0.02,
        high=4.0,
        sentence="Weight of the rules.",
    ),
    Key(
        table=FORMATS,
        name="frame",
        kind=Kind.NUMBER,
        default=1.4,
        low=0.25,
        high=4.0,
        sentence="In grids with a weekday row, how many times heavier the frame and the rule under the weekdays are.",
    ),
    Key(
        table=FORMATS,
        name="block_inset",
        kind=Kind.LENGTH,
        default="1.04 %",
        low=0.0,
        high=20.0,
        sentence="How far the blocks are set in from their cells, on all four sides.",
    ),
    Key(
        table=FORMATS,
        name="block_corner",
        kind=Kind.SHARE_OR_LENGTH,
        default=0.1,
        low=0.0,
        high=1.0,
        sentence="Radius of the blocks' corners: a share of the cell's width, or a length.",
    ),
    Key(
        table=FORMATS,
        name="numeral",
        kind=Kind.SHARE_OR_LENGTH,
        default=0.55,
        defaults=MappingProxyType({"tall": 0.34}),
        low=0.02,
        high=3.0,
        sentence='Size of the numerals: their height as a share of the cell\'s width, or a type size such as "75 pt" (the '
        "em, as typesetters count it; the figures themselves stand about 0.7 of it high).",
    ),
    Key(
        table=FORMATS,
        name="stem",
        kind=Kind.NUMBER,
        default=8.0,
        defaults=MappingProxyType({"tall": 7.0}),
        low=3.0,
        high=40.0,
        sentence="How many pen widths high a numeral stands: 7 is sturdy, 10 is light. Drawn letters only, not fonts.",
    ),
    Key(
        table=FORMATS,
        name="gap",
        kind=Kind.SHARE_OR_LENGTH,
        default=0.13,
        defaults=MappingProxyType({"tall": 0.14}),
        low=0.0,
        high=1.0,
        sentence="White between the rules and a numeral, left and above, in the mean over its side; its outermost points "
        "stand a little nearer. A share of the cell's width, or a length.",
    ),
    Key(
        table=FORMATS,
        name="weekday",
        kind=Kind.SHARE_OR_FIT,
        default=FIT,
        low=0.05,
        high=1.0,
        sentence='Height of the weekdays\' letters as a share of their row, or "fit" for as large as all seven fit well.',
    ),
    Key(
        table=FORMATS,
        name="weekday_stem",
        kind=Kind.NUMBER,
        default=7.0,
        low=3.0,
        high=40.0,
        sentence="How many pen widths high the weekdays' letters stand.",
    ),
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
        high=64,
        sentence="A family of letters drawn stroke by stroke with the pen, by its name in the folder glyphs.",
    ),
    Key(
        table="lettering",
        name="font",
        kind=Kind.TEXT,
        default="",
        high=1024,
        sentence="Or a font file (TTF, OTF, WOFF, WOFF2), its place given from this recipe's folder; its outlines are inked. Read "
        'its licence before you sell what it draws, and ask a professional when it matters. "" takes the family.',
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
