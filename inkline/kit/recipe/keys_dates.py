"""The keys of a format for its dates, their numerals, week numbers and weekdays."""

from __future__ import annotations

from types import MappingProxyType

from inkline.kit.recipe import kinds
from inkline.kit.recipe.choices import (
    Dates,
    DatesAs,
    GapFrom,
    Level,
    Side,
    SixthWeek,
    Split,
    WeekNumbers,
    WeekNumbersIn,
)
from inkline.kit.recipe.key import FIT, FORMATS, Key
from inkline.kit.recipe.kinds import choice_key

SMALL_AT = 12.0
"""The percentage of use at and below which numerals are drawn in their small cut."""

NUMERAL_KEYS: tuple[Key, ...] = (
    Key(
        table=FORMATS,
        name="numeral",
        kind=kinds.SHARE_OR_LENGTH,
        default=0.5,
        defaults=MappingProxyType({"tall": 0.34, "wide": 0.3, "strip": 0.42, "small": 0.42}),
        low=0.02,
        high=3.0,
        sentence="Size of the numerals: their height as a share of the cell's width, or a type "
        'size such as "75 pt" (the '
        "em, as typesetters count it; the figures themselves stand about 0.7 of it high).",
    ),
    Key(
        table=FORMATS,
        name="stem",
        kind=kinds.NUMBER,
        default=7.3,
        defaults=MappingProxyType({"tall": 6.8, "wide": 7.0, "strip": 7.0, "small": 6.5}),
        low=3.0,
        high=40.0,
        sentence="How many pen widths high a numeral stands: 7 is sturdy, 10 is light. A font that "
        "is drawn stroke by stroke keeps its own weight without it, and one whose outlines are "
        "inked always does.",
    ),
    Key(
        table=FORMATS,
        name="gap",
        kind=kinds.SHARE_OR_LENGTH,
        default=0.13,
        defaults=MappingProxyType({"wide": 0.12}),
        low=0.0,
        high=1.0,
        sentence="White between a numeral and the edges that it is placed from, in the mean over "
        "its side; its outermost points "
        "stand a little nearer. A share of the cell's width, or a length.",
    ),
    choice_key(
        FORMATS,
        "gap_from",
        GapFrom,
        GapFrom.NEAREST,
        sentence='Whether the gap is measured from the "rules" or from the "blocks"; "nearest" is '
        "from boxes where the format has any that are set in by no more than the gap, so that its "
        "numerals stand within them.",
    ),
    Key(
        table=FORMATS,
        name="evenness",
        kind=kinds.NUMBER,
        default=0.0,
        defaults=MappingProxyType({"standard": 0.4, "tall": 0.4, "wide": 0.4}),
        low=0.0,
        high=1.0,
        sentence="How even the white beside numerals is: at 0 they stand nearly flush, at 1 all "
        "have the same mean white, and open ones such "
        "as 1, 4 and 7 hang out towards the rule.",
    ),
    choice_key(
        FORMATS,
        "side",
        Side,
        Side.START,
        defaults={"strip": "centre", "small": "centre"},
        sentence='Where in its cell a numeral stands from left to right; at the "start" is at the '
        "left, or at the right where the columns run from there.",
    ),
    choice_key(
        FORMATS,
        "level",
        Level,
        Level.TOP,
        defaults={"strip": "middle", "small": "middle"},
        sentence="Where in its cell a numeral stands from top to bottom.",
    ),
    choice_key(
        FORMATS,
        "dates_as",
        DatesAs,
        DatesAs.PLAIN,
        sentence="How dates below ten are written.",
    ),
    Key(
        table=FORMATS,
        name="used_at",
        kind=kinds.PERCENT,
        default=25,
        low=5,
        high=100,
        sentence=f"The size at which the stamps are used, in percent. At {SMALL_AT:g} and below "
        f"the numerals are cut for it: heavier, a little "
        "wider and more open, and less ragged.",
    ),
    Key(
        table=FORMATS,
        name="shift",
        kind=kinds.SHIFTS,
        default={},
        sentence="Single numerals that you want elsewhere in their cells: how far to the right, "
        "and how far down.",
        example=("[formats.standard.shift]", '"17" = ["3 px", "-1 px"]'),
    ),
)
"""The keys of a format's numerals, in the order in which the recipe prints them."""

DATE_KEYS: tuple[Key, ...] = (
    choice_key(
        FORMATS,
        "dates",
        Dates,
        Dates.TO_31,
        defaults={"small": "exact"},
        sentence="Whether the dates run to 31, with a few to erase in shorter months; or are "
        '"exact", with stamps for 28, 29, 30 and 31 days; '
        "or both.",
    ),
    choice_key(
        FORMATS,
        "split",
        Split,
        Split.NONE,
        sentence='"weekend" adds stamps of only the Saturdays, only the Sundays and only the '
        "other days, in register, for a second colour.",
    ),
    choice_key(
        FORMATS,
        "sixth_week",
        SixthWeek,
        SixthWeek.OWN_ROW,
        sentence='"shared" adds dates for five rows, in which the days of a sixth week share the '
        "cells of the fifth, as 23/30 and 24/31 do on "
        "wall calendars.",
    ),
    Key(
        table=FORMATS,
        name="shared_numeral",
        kind=kinds.NUMBER,
        default=0.6,
        low=0.2,
        high=1.0,
        sentence="Height of the numerals that share a cell, as a share of the others'.",
    ),
    choice_key(
        FORMATS,
        "week_numbers",
        WeekNumbers,
        WeekNumbers.NONE,
        sentence="Whether there are stamps of week numbers for the years of the words: counted "
        'by ISO 8601, or as is usual in the "us", '
        "where week 1 holds 1 January and weeks begin on Sunday.",
    ),
    choice_key(
        FORMATS,
        "week_numbers_in",
        WeekNumbersIn,
        WeekNumbersIn.MARGIN,
        sentence='Where week numbers stand: in the "margin" beside the grid, which stays where '
        'it is, or on a "narrow" canvas of their own.',
    ),
    Key(
        table=FORMATS,
        name="week_numeral",
        kind=kinds.NUMBER,
        default=0.16,
        low=0.02,
        high=1.0,
        sentence="Height of the week numbers as a share of the cell's width.",
    ),
)
"""The keys of a format's dates and week numbers, likewise."""

WEEKDAY_KEYS: tuple[Key, ...] = (
    Key(
        table=FORMATS,
        name="weekday",
        kind=kinds.SHARE_OR_FIT,
        default=FIT,
        low=0.05,
        high=1.0,
        sentence='Height of the weekdays\' letters as a share of their row, or "fit" for as '
        "large as all seven fit well.",
    ),
    Key(
        table=FORMATS,
        name="weekday_stem",
        kind=kinds.NUMBER,
        default=5.2,
        defaults=MappingProxyType({"small": 7.0}),
        low=3.0,
        high=40.0,
        sentence="How many pen widths high the weekdays' letters stand; fonts as with stem.",
    ),
)
"""The keys of a format's weekdays, likewise."""
