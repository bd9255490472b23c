"""What one key of a recipe is: where it stands, what its value must be, and the words that a choice allows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType
from typing import Any

FIT = "fit"
"""The word for a size that is worked out: as large as the place allows."""
FORMATS = "formats"
"""The table that holds one table for each format; in `Key.table` it stands for any of them."""


class Side(StrEnum):
    """Where in a cell a numeral stands, from left to right."""

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


class Kind(StrEnum):
    """What a key's value must be."""

    WHOLE = "whole number"
    NUMBER = "number"
    PERCENT = "percentage"
    TEXT = "text"
    CHOICE = "choice"
    SIDE = "canvas side"
    LENGTH = "length"
    SHARE_OR_LENGTH = "share or length"
    SHARE_OR_FIT = "share or fit"
    YEARS = "years"
    SHIFTS = "shifts"
    SWAPS = "swaps"
    AXES = "axes"


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
        example: lines of TOML that show how it is used, where a default value would not.
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
    example: tuple[str, ...] = ()

    @property
    def path(self) -> str:
        """Table and name, such as `canvas.side`."""
        return f"{self.table}.{self.name}" if self.table else self.name

    def default_for(self, format_name: str) -> Any:
        """The default in the table of the format `format_name`."""
        return self.defaults.get(format_name, self.default)
