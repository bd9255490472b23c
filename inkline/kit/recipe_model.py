"""The recipe as values: what a person decides about a kit, checked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from inkline.calendar.names import LetterCase, NameWidth
from inkline.kit.recipe_faults import Fault
from inkline.kit.recipe_values import Scale
from inkline.kit.schema_formats import SMALL_AT
from inkline.kit.schema_key import Drawings, GapFrom, Guests, Level, Side
from inkline.lettering.face import Figures
from inkline.lettering.writing import Way
from inkline.units import Length

DEFAULT_SOURCE = "the default recipe"


@dataclass(frozen=True, slots=True, kw_only=True)
class FormatRecipe:
    """One shape of calendar; the fields are the keys of its table in `schema.KEYS`, which says what each means."""

    name: str
    cell: float
    weekday_row: float
    rule: Length
    frame: float
    block_inset: Length
    block_corner: float | Length
    numeral: float | Length
    stem: float
    gap: float | Length
    weekday: float | str
    weekday_stem: float
    gap_from: GapFrom = GapFrom.RULES
    evenness: float = 0.0
    side: Side = Side.LEFT
    level: Level = Level.TOP
    used_at: float = 25.0
    shift: tuple[tuple[str, Length, Length], ...] = ()

    @property
    def is_small(self) -> bool:
        """Whether its numerals are cut for small use."""
        return self.used_at <= SMALL_AT


@dataclass(frozen=True, slots=True, kw_only=True)
class WordsRecipe:
    """The words used alone and the language of all names; the fields are the keys of the table `words`."""

    language: str
    letters: LetterCase
    months: NameWidth
    weekdays: NameWidth
    years: tuple[int, ...]
    height: Length
    stem: float
    margin: Length
    spacing: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """A checked recipe.

    Attributes:
        title: what the kit is called.
        number: the drawing number.
        side_px: width and height of the canvas of every format.
        ppi: pixels per inch.
        margin: from the canvas edge to the centre of the outermost rules.
        safe: no ink comes nearer to the canvas edge.
        formats: the shapes of calendar, in the recipe's order.
        words: the words used alone, and the language.
        family: name of the stroke family, or the place of a UFO folder, seen from where inkline runs.
        figures: which figures a font should use.
        font: font file, in place of the family, or `None`.
        style_name: name of the style, or the place of a style file, seen from where inkline runs.
        style_changes: values of the style that this kit changes, as read from TOML; checked where styles are known.
        again: how many times what is named is to be drawn again, by full name.
        way: how a font's letters are drawn.
        guests: how often other forms stand among the usual ones.
        drawings: how many drawings of a digit there are.
        swaps: characters to draw by another glyph, each with what it is; see `lettering.swap`.
        axes: places on a variable font's axes, each with its tag.
        folder: where the relative places of swapped glyphs' files start.
        source: file name of the recipe, for messages.
        lines: line of each key in it, for messages.
    """

    title: str
    number: int
    side_px: int
    ppi: float
    margin: Length
    safe: Length
    formats: tuple[FormatRecipe, ...]
    words: WordsRecipe
    family: str
    figures: Figures
    font: Path | None
    style_name: str
    style_changes: Mapping[str, Any]
    again: Mapping[str, int]
    way: Way = Way.AUTO
    guests: Guests = Guests.NONE
    drawings: Drawings = Drawings.EACH
    swaps: tuple[tuple[str, str], ...] = ()
    axes: tuple[tuple[str, float], ...] = ()
    folder: Path = field(default_factory=Path, compare=False)
    source: str = field(default=DEFAULT_SOURCE, compare=False)
    lines: Mapping[str, int] = field(default_factory=dict, compare=False)

    @property
    def scale(self) -> Scale:
        """What this recipe's lengths are measured by."""
        return Scale(side_px=self.side_px, ppi=self.ppi)

    def px(self, length: Length) -> float:
        """`length` in px on this recipe's canvas."""
        return self.scale.px(length)

    def fault(self, key: str, sentence: str) -> Fault:
        """A fault of the value at `key`, with the line where it stands, or that of its table."""
        return Fault(source=self.source, line=line_of(key, self.lines), key=key, sentence=sentence)


def line_of(key: str, lines: Mapping[str, int]) -> int:
    """The line of `key` in a file whose keys stand on `lines`, else of the nearest table around it, else 0."""
    while key and key not in lines:
        key = key.rpartition(".")[0]
    return lines.get(key, 0)
