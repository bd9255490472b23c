"""What one key of a recipe is: where it stands and what its value must be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType
from typing import Any

FIT = "fit"
"""The word for a size that is worked out: as large as the place allows."""
CANVAS = "canvas"
"""The word for a margin that is the canvas's own."""
BY_LANGUAGE = "language"
"""The word for what the language of the words decides."""
WEEK_STARTS: Mapping[str, int] = MappingProxyType({"sunday": 6, "monday": 0, "saturday": 5})
"""The days on which weeks begin, Monday 0 to Sunday 6."""
FORMATS = "formats"
"""The table that holds one table for each format; in `Key.table` it stands for any of them."""


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
    WORDS = "list of words"
    WHOLES = "list of whole numbers"
    MARGIN = "margin"
    LANGUAGES = "languages"
    SPANS = "spans of years"
    CAPTIONS = "captions"
    BLOCK_NAMES = "names of blocks"
    PATTERN = "pattern"


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One key of the recipe.

    Attributes:
        table: the table it stands in, "" for the top, `formats` for the table of any format.
        name: its name in that table.
        kind: what its value must be.
        default: the value where the recipe is silent, as written in TOML; `None` where the recipe
            must say it.
        defaults: other defaults for formats of a certain name, or that show what is so called.
        low: smallest value: of a number or share itself, of a side in px, of other lengths in
            percent of the canvas side.
        high: largest value, likewise; of a text, its length.
        choices: the words that a choice or a list of words allows.
        enum: the type whose members those words become.
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
    enum: type[StrEnum] | None = None
    defaults: Mapping[str, Any] = field(default_factory=lambda: MappingProxyType({}))
    example: tuple[str, ...] = ()

    @property
    def path(self) -> str:
        """Table and name, such as `canvas.side`."""
        return f"{self.table}.{self.name}" if self.table else self.name

    def default_for(self, format_name: str, shows: str = "") -> Any:
        """The default in the table of the format `format_name`: by what it `shows` if that is no month, else by its name."""
        return self.defaults.get(shows, self.defaults.get(format_name, self.default))


def choice(
    table: str,
    name: str,
    enum: type[StrEnum],
    default: StrEnum,
    *,
    sentence: str,
    defaults: Mapping[str, str] | None = None,
) -> Key:
    """The key of a choice among the words of `enum`."""
    words = tuple(one.value for one in enum)
    return Key(
        table=table,
        name=name,
        kind=Kind.CHOICE,
        default=default.value,
        defaults=MappingProxyType(dict(defaults or {})),
        choices=words,
        enum=enum,
        sentence=sentence,
    )
