"""The keys of a format: one shape of calendar, its rules, blocks and numerals."""

from __future__ import annotations

from types import MappingProxyType

from inkline.kit.schema_key import FIT, FORMATS, GapFrom, Key, Kind, Level, Side

SMALL_AT = 12.0
"""The percentage of use at and below which numerals are drawn in their small cut."""

FORMAT_KEYS: tuple[Key, ...] = (
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
        defaults=MappingProxyType({"standard": 0.15, "tall": 0.15}),
        low=0.0,
        high=1.0,
        sentence="White between the rules and a numeral, left and above, in the mean over its side; its outermost points "
        "stand a little nearer. A share of the cell's width, or a length.",
    ),
    Key(
        table=FORMATS,
        name="gap_from",
        kind=Kind.CHOICE,
        default=GapFrom.RULES.value,
        choices=tuple(one.value for one in GapFrom),
        sentence='Whether the gap is measured from the rules, or, for a calendar of blocks, from the "blocks".',
    ),
    Key(
        table=FORMATS,
        name="evenness",
        kind=Kind.NUMBER,
        default=0.0,
        defaults=MappingProxyType({"standard": 0.4, "tall": 0.4}),
        low=0.0,
        high=1.0,
        sentence="How even the white beside numerals is: at 0 they stand nearly flush, at 1 all have the same mean white, and open ones such "
        "as 1, 4 and 7 hang out towards the rule.",
    ),
    Key(
        table=FORMATS,
        name="side",
        kind=Kind.CHOICE,
        default=Side.LEFT.value,
        choices=tuple(one.value for one in Side),
        sentence="Where in its cell a numeral stands from left to right.",
    ),
    Key(
        table=FORMATS,
        name="level",
        kind=Kind.CHOICE,
        default=Level.TOP.value,
        choices=tuple(one.value for one in Level),
        sentence="Where in its cell a numeral stands from top to bottom.",
    ),
    Key(
        table=FORMATS,
        name="used_at",
        kind=Kind.PERCENT,
        default=25,
        low=5,
        high=100,
        sentence=f"The size at which the stamps are used, in percent. At {SMALL_AT:g} and below the numerals are cut for it: heavier, a little "
        "wider and more open, and less ragged.",
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
        table=FORMATS,
        name="shift",
        kind=Kind.SHIFTS,
        default={},
        sentence="Single numerals that you want elsewhere in their cells: how far to the right, and how far down.",
        example=("[formats.standard.shift]", '"17" = ["3 px", "-1 px"]'),
    ),
)
"""All keys of a format, in the order in which the recipe prints them."""
