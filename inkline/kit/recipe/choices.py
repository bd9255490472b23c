"""The choices that keys of a recipe allow."""

from __future__ import annotations

from enum import StrEnum


class Side(StrEnum):
    """Where in a cell a numeral stands, from left to right."""

    START = "start"
    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


class Level(StrEnum):
    """Where in a cell a numeral stands, from top to bottom."""

    TOP = "top"
    MIDDLE = "middle"
    BOTTOM = "bottom"


class GapFrom(StrEnum):
    """What the white beside a numeral is measured from."""

    NEAREST = "nearest"
    RULES = "rules"
    BLOCKS = "blocks"


class Guests(StrEnum):
    """How often another form of a figure or letter stands among the usual ones."""

    NONE = "none"
    RARE = "rare"


class Drawings(StrEnum):
    """How many drawings of a digit a kit has."""

    EACH = "each"
    ONE = "one"


class Shows(StrEnum):
    """What a format's stamps show."""

    MONTH = "month"
    STRIP = "strip"
    WEEK = "week"
    DAY = "day"
    SMALL = "small"


class Header(StrEnum):
    """Which grids a format has: with a row for weekdays on top, without, or both."""

    BOTH = "both"
    WITH = "with"
    WITHOUT = "without"


class Blocks(StrEnum):
    """Which sets of blocks a format has: whole ones, ones with numerals cut out, both or none."""

    PLAIN = "plain"
    CUT = "cut"
    BOTH = "both"
    NONE = "none"


class BlockForm(StrEnum):
    """What stands in a cell as its block."""

    BOX = "box"
    CIRCLE = "circle"
    UNDERLINE = "underline"


class BlockFill(StrEnum):
    """Whether boxes and circles are filled, or drawn as a line around."""

    FILLED = "filled"
    OUTLINED = "outlined"


class BlockEdge(StrEnum):
    """Whether blocks are drawn by hand, or keep their exact edges."""

    DRAWN = "drawn"
    CRISP = "crisp"


class Dates(StrEnum):
    """How long the months of a format's dates are: all to 31, each its own length, or both."""

    TO_31 = "to 31"
    EXACT = "exact"
    BOTH = "both"


class Split(StrEnum):
    """Whether Saturdays and Sundays also have stamps of their own, apart from the days of work."""

    NONE = "none"
    WEEKEND = "weekend"


class SixthWeek(StrEnum):
    """Where the days of a sixth week stand.

    Only in a row of their own, or also beside those of the fifth, as 23/30.
    """

    OWN_ROW = "own row"
    SHARED = "shared"


class DatesAs(StrEnum):
    """How dates below ten are written."""

    PLAIN = "1"
    PADDED = "01"


class WeekNumbers(StrEnum):
    """How weeks are counted: not at all, by ISO 8601, or as is usual in the US.

    In the US week 1 holds 1 January, and weeks begin on Sunday.
    """

    NONE = "none"
    ISO = "iso"
    US = "us"


class WeekNumbersIn(StrEnum):
    """Where week numbers stand: beside the grid, or on a narrow canvas of their own."""

    MARGIN = "margin"
    NARROW = "narrow"


class WeekdayNames(StrEnum):
    """How much of a weekday's name is written."""

    WIDE = "wide"
    ABBREVIATED = "abbreviated"
    ONE = "one letter"
    TWO = "two letters"
    THREE = "three letters"


class MonthNames(StrEnum):
    """How much of a month's name is written."""

    WIDE = "wide"
    ABBREVIATED = "abbreviated"
    BOTH = "both"


class NamePlace(StrEnum):
    """Where the name of a finished month stands: over its calendar, or in cells without a day."""

    ABOVE = "above"
    TUCKED = "tucked"


class Sizes(StrEnum):
    """Whether words used alone share one letter height, or each fills a canvas of one width."""

    SAME_HEIGHT = "same height"
    FILL_EACH = "fill each"


class ColumnsRun(StrEnum):
    """Which way the columns of a calendar run."""

    BY_LANGUAGE = "language"
    LEFT_TO_RIGHT = "left to right"
    RIGHT_TO_LEFT = "right to left"


class MarkedBy(StrEnum):
    """What a marked day is marked by."""

    RING = "ring"
    DOT = "dot"
    UNDERLINE = "underline"


class ArtSplit(StrEnum):
    """What of a user's own artwork becomes a stamp: a whole file, or each of its layers."""

    WHOLE = "whole"
    LAYERS = "layers"


class Overlay(StrEnum):
    """Whether a picture shows the exact artwork under the drawn one."""

    WITHOUT = "without"
    WITH = "with"


class ArtLines(StrEnum):
    """What of a user's own artwork a pen draws along its middle; all else is inked as a shape."""

    BARS = "bars"
    """What is stroked, and thin bars that are really lines."""
    STROKES = "strokes"
    """Only what is stroked."""
    NONE = "none"
    """Nothing: what a line covers is inked as a shape, too."""


class ArtBeyond(StrEnum):
    """What becomes of what no pen draws: gradients, patterns, masks, filters and pictures."""

    LEFT_OUT = "left out"
    """It is no part of the picture."""
    PLAIN = "plain"
    """It is drawn as its nearest plain thing."""


class ArtLetters(StrEnum):
    """How the text of PDF pages is drawn."""

    SET = "set"
    """It is set in letters of a family, or of a font that is given."""
    OWN = "own"
    """Its letters are inked as they stand there."""


class ArtInk(StrEnum):
    """What becomes of a part of a user's own artwork."""

    DRAWN = "drawn"
    """It is drawn by hand."""
    EXACT = "exact"
    """It is left exact, without a hand in it."""
    LEFT_OUT = "left out"
    """It is no part of the picture."""
