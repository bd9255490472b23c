"""What one key of a recipe is: where it stands, and what its value must be."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType
from typing import Any

from inkline.units import Length

FIT = "fit"
"""The choice of a size that is worked out: as large as the place allows."""
CANVAS = "canvas"
"""The choice of a margin that is the canvas's own."""
BY_LANGUAGE = "language"
"""The choice of what the first language of the kit decides."""
WEEK_STARTS: Mapping[str, int] = MappingProxyType({"sunday": 6, "monday": 0, "saturday": 5})
"""The days on which weeks begin, Monday 0 to Sunday 6."""
FORMATS = "formats"
"""The table that holds one table for each format; in `Key.table` it stands for any of them."""


Schema = dict[str, Any]
"""A JSON Schema, or a part of one, as plain values."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """What lengths are measured by: the canvas side in px, and pixels per inch."""

    side_px: float
    ppi: float

    def px(self, length: Length) -> float:
        """`length` in px; a percentage is taken of the canvas side."""
        return length.px(ppi=self.ppi, whole_px=self.side_px)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyKind:
    """What the values of some keys must be: how one is read, and what is allowed there.

    Attributes:
        read: the value as the program uses it, from what TOML holds; `RefusedError` if the key
            doesn't allow that.
        allowed: what the key allows, in words, without a full stop.
        schema: what the key allows, as JSON Schema.
        has_entries: whether values are tables of entries which their owner names.
    """

    read: Callable[[Key, Any, Scale], Any]
    allowed: Callable[[Key], str]
    schema: Callable[[Key], Schema]
    has_entries: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One key of the recipe.

    Attributes:
        table: the table it stands in, "" for the top, `formats` for the table of any format.
        name: its name in that table.
        kind: how its value is read, and what is allowed there.
        default: the value where the recipe is silent, as written in TOML; `None` where the recipe
            must say it.
        defaults: other defaults for formats of a certain name, or that show what is so called.
        defaults_by_dates: other defaults for formats by what their `dates` are.
        low: smallest value: of a number or share itself, of a side in px, of other lengths in
            percent of the canvas side.
        high: largest value, likewise; of a text, its length.
        choices: what a choice, or a list of choices, allows.
        enum: the type whose members those choices become.
        sentence: what it does, for the person who draws.
        example: lines of TOML that show how it is used, where a default value would not.
    """

    table: str
    name: str
    kind: KeyKind
    default: Any
    sentence: str
    low: float = 0.0
    high: float = 0.0
    choices: tuple[str, ...] = ()
    enum: type[StrEnum] | None = None
    defaults: Mapping[str, Any] = field(default_factory=lambda: MappingProxyType({}))
    defaults_by_dates: Mapping[str, Any] = field(default_factory=lambda: MappingProxyType({}))
    example: tuple[str, ...] = ()

    @property
    def path(self) -> str:
        """Table and name, such as `canvas.side`."""
        return f"{self.table}.{self.name}" if self.table else self.name

    def default_for(self, format_name: str, shows: str = "", *, dates: str = "") -> Any:
        """The default in the table of the format `format_name`.

        By what the format `shows` if that is no month, else by its name, else by its `dates`.
        """
        by_dates = self.defaults_by_dates.get(dates, self.default)
        return self.defaults.get(shows, self.defaults.get(format_name, by_dates))
