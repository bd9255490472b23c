"""The keys of a format for what it shows, its place on its canvas, its rules and its blocks."""

from __future__ import annotations

from types import MappingProxyType

from inkline.kit.recipe import kinds
from inkline.kit.recipe.choices import BlockEdge, BlockFill, BlockForm, Blocks, Header, Shows
from inkline.kit.recipe.key import CANVAS, FIT, FORMATS, Key
from inkline.kit.recipe.kinds import choice_key

GRID_KEYS: tuple[Key, ...] = (
    choice_key(
        FORMATS,
        "shows",
        Shows,
        Shows.MONTH,
        defaults={one.value: one.value for one in Shows},
        sentence="What the format is: a month in rows of weeks; a strip, whose days run on in "
        "one line or two; an undated week or day to "
        "write in; or a small month, whole in one stamp, for the month before and the month after.",
    ),
    Key(
        table=FORMATS,
        name="weeks",
        kind=kinds.WHOLES,
        default=[5, 6],
        defaults_by_dates=MappingProxyType({"exact": [4, 5, 6], "both": [4, 5, 6]}),
        low=4,
        high=6,
        sentence="Rows of the grids and blocks of a month. Six suit every month; four only a "
        "February of 28 days.",
    ),
    Key(
        table=FORMATS,
        name="columns",
        kind=kinds.WHOLE,
        default=7,
        defaults=MappingProxyType({"strip": 31, "week": 2, "day": 1}),
        low=1,
        high=40,
        sentence="Columns of a strip, week or day; months have seven.",
    ),
    Key(
        table=FORMATS,
        name="rows",
        kind=kinds.WHOLE,
        default=6,
        defaults=MappingProxyType({"strip": 1, "week": 4, "day": 12}),
        low=1,
        high=48,
        sentence="Rows of a strip, week or day; months have those that weeks says. A strip in "
        "two lines has 16 columns and 2 rows.",
    ),
    Key(
        table=FORMATS,
        name="cell",
        kind=kinds.NUMBER,
        default=1.0,
        defaults=MappingProxyType(
            {"tall": 1.25, "wide": 0.7, "strip": 1.6, "week": 0.5, "day": 0.07, "small": 0.8}
        ),
        low=0.02,
        high=5.0,
        sentence="Height of a day's cell for a width of 1: 1.0 is square.",
    ),
    Key(
        table=FORMATS,
        name="weekday_row",
        kind=kinds.NUMBER,
        default=0.5,
        defaults=MappingProxyType({"wide": 0.6, "week": 0.25, "day": 1.2, "small": 1.0}),
        low=0.1,
        high=2.0,
        sentence="Height of the row of weekdays for a cell height of 1.",
    ),
    Key(
        table=FORMATS,
        name="column_gutter",
        kind=kinds.SHARE_OR_LENGTH,
        default=0.0,
        low=0.0,
        high=1.0,
        sentence="White between the columns: a share of the cell's width, or a length. At 0 "
        "neighbours share a rule.",
    ),
    Key(
        table=FORMATS,
        name="row_gutter",
        kind=kinds.SHARE_OR_LENGTH,
        default=0.0,
        low=0.0,
        high=1.0,
        sentence="White between the rows, likewise.",
    ),
    Key(
        table=FORMATS,
        name="margin",
        kind=kinds.MARGIN,
        default=CANVAS,
        low=0.0,
        high=40.0,
        sentence='From the edge of the canvas to the middle of the outermost rules: the "canvas" '
        "table's, a length, or four lengths "
        "clockwise from the top.",
    ),
    Key(
        table=FORMATS,
        name="height",
        kind=kinds.SHARE_OR_FIT,
        default=1.0,
        defaults=MappingProxyType({"strip": FIT, "small": FIT}),
        low=0.05,
        high=3.0,
        sentence='Height of the canvas as a share of its side, or "fit" for as much as the '
        "calendar needs.",
    ),
    choice_key(
        FORMATS,
        "header",
        Header,
        Header.BOTH,
        sentence="Which grids there are: with a row for weekdays on top, without, or both.",
    ),
)
"""The keys of what a format shows and of its grid, in the order in which the recipe prints them."""

RULE_KEYS: tuple[Key, ...] = (
    Key(
        table=FORMATS,
        name="rule",
        kind=kinds.LENGTH,
        default="0.68 %",
        defaults=MappingProxyType(
            {
                "tall": "0.42 %",
                "wide": "0.5 %",
                "strip": "0.22 %",
                "week": "0.42 %",
                "day": "0.42 %",
            }
        ),
        low=0.02,
        high=4.0,
        sentence="Weight of the rules.",
    ),
    Key(
        table=FORMATS,
        name="frame",
        kind=kinds.NUMBER,
        default=1.4,
        low=0.25,
        high=4.0,
        sentence="In grids with a weekday row, how many times heavier the frame and the rule "
        "under the weekdays are.",
    ),
    Key(
        table=FORMATS,
        name="takes",
        kind=kinds.WHOLE,
        default=1,
        low=1,
        high=3,
        sentence="How many drawings there are of each grid and set of blocks, so that twelve "
        "months on a wall don't show one wobble twelve "
        "times. Two or three are called grid-6-a, grid-6-b, and so on.",
    ),
)
"""The keys of a format's rules, likewise."""

BLOCK_KEYS: tuple[Key, ...] = (
    choice_key(
        FORMATS,
        "blocks",
        Blocks,
        Blocks.PLAIN,
        defaults={"strip": "plain", "small": "none"},
        sentence='Which sets of blocks there are: plain ones, ones with the numerals "cut" out '
        "for white numerals on colour, both, or none.",
    ),
    choice_key(
        FORMATS,
        "block_form",
        BlockForm,
        BlockForm.BOX,
        sentence="What stands in a cell as its block: a box, a circle as large as the cell "
        "allows, or a line under the numeral.",
    ),
    choice_key(
        FORMATS,
        "block_fill",
        BlockFill,
        BlockFill.FILLED,
        sentence="Whether boxes and circles are filled, or a line drawn around.",
    ),
    choice_key(
        FORMATS,
        "block_edge",
        BlockEdge,
        BlockEdge.DRAWN,
        sentence="Whether blocks are drawn by hand, or keep their exact, crisp edges under drawn "
        "lines.",
    ),
    Key(
        table=FORMATS,
        name="block_line",
        kind=kinds.LENGTH,
        default="0.42 %",
        low=0.02,
        high=4.0,
        sentence="Weight of the lines of outlined blocks and of underlines.",
    ),
    Key(
        table=FORMATS,
        name="block_inset",
        kind=kinds.SHARE_OR_LENGTH,
        default="1.04 %",
        defaults=MappingProxyType({"strip": 0.08, "week": 0.02, "day": 0.006, "small": 0.08}),
        low=0.0,
        high=0.5,
        sentence="How far the blocks are set in from their cells, on all four sides: a share of "
        "the cell's width, or a length.",
    ),
    Key(
        table=FORMATS,
        name="block_corner",
        kind=kinds.SHARE_OR_LENGTH,
        default=0.1,
        defaults=MappingProxyType({"week": 0.03, "day": 0.01}),
        low=0.0,
        high=1.0,
        sentence="Radius of the blocks' corners: a share of the cell's width, or a length.",
    ),
    Key(
        table=FORMATS,
        name="block_omit",
        kind=kinds.BLOCK_NAMES,
        default=[],
        high=300,
        sentence='Blocks to leave out by name: "r5c4" is the fourth of the fifth row, "c1" the '
        "first over the weekdays.",
    ),
)
"""The keys of a format's blocks, likewise."""
