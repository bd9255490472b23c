"""The recipe as values: what a person decides about a kit, checked."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

from inkline.calendar.names import LetterCase, language_tag, runs_right_to_left, week_start
from inkline.calendar.numbering import digits_of
from inkline.ink.style import Style
from inkline.kit.recipe.buyers import GuideRecipe, ShopRecipe
from inkline.kit.recipe.choices import (
    BlockEdge,
    BlockFill,
    BlockForm,
    Blocks,
    ColumnsRun,
    Dates,
    DatesAs,
    Drawings,
    GapFrom,
    Guests,
    Header,
    Level,
    MarkedBy,
    MonthNames,
    NamePlace,
    Shows,
    Side,
    SixthWeek,
    Sizes,
    Split,
    WeekdayNames,
    WeekNumbers,
    WeekNumbersIn,
)
from inkline.kit.recipe.finish import FinishRecipe
from inkline.kit.recipe.key import BY_LANGUAGE, WEEK_STARTS, Scale
from inkline.kit.recipe.keys_dates import SMALL_AT
from inkline.lettering.face import Figures
from inkline.lettering.old_style import FigureStyle
from inkline.lettering.writing import Way
from inkline.output.look import Grain, Ground, Sheets
from inkline.output.profiles import Profile
from inkline.source.faults import Fault, Fix
from inkline.source.places import FileLine, fault_at
from inkline.units import Length

DEFAULT_SOURCE = "the default recipe"


@dataclass(frozen=True, slots=True, kw_only=True)
class FormatRecipe:
    """One format of calendar.

    The fields are the keys of a format in `keys.KEYS`, which says what each means and allows.
    `stems_asked` are those of its stems that the recipe itself gives: a font that is traced keeps
    its own weight otherwise.
    """

    name: str
    cell: float
    weekday_row: float
    rule: Length
    frame: float
    block_inset: float | Length
    block_corner: float | Length
    numeral: float | Length
    stem: float
    gap: float | Length
    weekday: float | str
    weekday_stem: float
    gap_from: GapFrom
    evenness: float
    side: Side
    level: Level
    used_at: float
    shift: tuple[tuple[str, Length, Length], ...]
    shows: Shows
    weeks: tuple[int, ...]
    columns: int
    rows: int
    column_gutter: float | Length
    row_gutter: float | Length
    margin: str | tuple[Length, Length, Length, Length]
    height: float | str
    header: Header
    takes: int
    blocks: Blocks
    block_form: BlockForm
    block_fill: BlockFill
    block_edge: BlockEdge
    block_line: Length
    block_omit: tuple[str, ...]
    dates_as: DatesAs
    dates: Dates
    split: Split
    sixth_week: SixthWeek
    shared_numeral: float
    week_numbers: WeekNumbers
    week_numbers_in: WeekNumbersIn
    week_numeral: float
    stems_asked: frozenset[str] = frozenset()

    @property
    def is_small(self) -> bool:
        """Whether its numerals are cut for small use."""
        return self.used_at <= SMALL_AT


@dataclass(frozen=True, slots=True, kw_only=True)
class WordsRecipe:
    """The words used alone, and the languages of all names.

    The fields are the keys of the table `words` in `keys.KEYS`; `languages` is its `language`, and
    `stems_asked` is as in `FormatRecipe`.
    """

    languages: tuple[str, ...]
    letters: LetterCase
    months: MonthNames
    weekdays: WeekdayNames
    years: tuple[int, ...]
    height: Length
    stem: float
    margin: Length
    spacing: float
    spans: tuple[tuple[int, int], ...]
    captions: tuple[str, ...]
    sizes: Sizes
    direction: ColumnsRun
    name: NamePlace = NamePlace.ABOVE
    stems_asked: frozenset[str] = frozenset()

    @property
    def language(self) -> str:
        """The first language."""
        return self.languages[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class FilesRecipe:
    """How files look that are made of the stamps for others, and what they say.

    The fields are the keys of the table `files`; `licence_text` is what stands in its
    `licence_file`.
    """

    forms: tuple[str, ...] = ()
    ground: Ground = Ground.CLEAR
    ink: str = "#000000"
    bits: str = "8"
    profile: Profile = Profile.NONE
    grain: Grain = Grain.OUTLINES
    sheets: Sheets = Sheets.PAGES
    author: str = ""
    licence: str = ""
    licence_text: str = ""

    def wishes(self) -> dict[str, Any]:
        """What isn't as usual, as plain values by the fields."""
        usual = asdict(FilesRecipe())
        return {key: one for key, one in asdict(self).items() if one != usual[key]}


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkedDay:
    """A day that the user wants marked: of one year, or of every year of the kit."""

    year: int | None
    month: int
    day: int
    by: MarkedBy


@dataclass(frozen=True, slots=True, kw_only=True)
class LettersRecipe:
    """Letters that a part of a kit has for itself.

    Attributes:
        family: name of the stroke family, or the place of a UFO folder; "" where a font is named.
        font: font file, in place of the family, or `None`.
    """

    family: str
    font: Path | None


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
        formats: the formats of calendar, in the recipe's order.
        words: the words used alone, and the language.
        family: name of the stroke family, or the place of a UFO folder, seen from where inkline
            runs.
        figures: which figures a font should use.
        figure_style: how figures stand.
        font: font file, in place of the family, or `None`.
        numeral_letters: letters of the numerals in cells, or `None` for those of the kit.
        word_letters: letters of all words, or `None` for those of the kit.
        style_name: name of the style, or the place of a style file, seen from where inkline runs.
        style: that style with the values that this kit changes.
        again: how many times what is named is to be drawn again, by full name.
        way: how a font's letters are drawn.
        guests: how often other forms stand among the usual ones.
        drawings: how many drawings of a digit there are.
        swaps: characters to draw by another glyph, each with what it is; see `lettering.swap`.
        axes: places on a variable font's axes, each with its tag.
        edition: the seller's own version of the kit, or "".
        week_starts: the days on which weeks begin, as `key.WEEK_STARTS` or "language" name
            them.
        numbering: code of the digits' numbering system, or "language".
        marks: days to be marked.
        file_pattern: what files are called.
        files: how files for others look.
        guide: what is said to those who buy the kit.
        shop: how the pictures look that sell it.
        finish: artwork of the user's own.
        kit: name of the kit among several of one file, or "".
        folder: where the relative places of swapped glyphs' files start.
        source: file name of the recipe, for messages.
        places: where each key stands, in this file or one that it extends, for messages.
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
    figure_style: FigureStyle
    font: Path | None
    numeral_letters: LettersRecipe | None
    word_letters: LettersRecipe | None
    style_name: str
    style: Style
    again: Mapping[str, int]
    way: Way
    guests: Guests
    drawings: Drawings
    swaps: tuple[tuple[str, str], ...]
    axes: tuple[tuple[str, float], ...]
    edition: str
    week_starts: tuple[str, ...]
    numbering: str
    marks: tuple[MarkedDay, ...]
    file_pattern: str
    files: FilesRecipe = field(default_factory=FilesRecipe)
    guide: GuideRecipe = field(default_factory=GuideRecipe)
    shop: ShopRecipe = field(default_factory=ShopRecipe)
    finish: FinishRecipe = field(default_factory=FinishRecipe)
    kit: str = field(default="", compare=False)
    folder: Path = field(default_factory=Path, compare=False)
    source: str = field(default=DEFAULT_SOURCE, compare=False)
    places: Mapping[str, FileLine] = field(default_factory=dict, compare=False)

    @property
    def scale(self) -> Scale:
        """What this recipe's lengths are measured by."""
        return Scale(side_px=self.side_px, ppi=self.ppi)

    @property
    def fonts(self) -> tuple[Path, ...]:
        """The font files that its letters come from, each once."""
        parts = (self.word_letters, self.numeral_letters)
        own = (part.font for part in parts if part is not None)
        return tuple(dict.fromkeys(file for file in (self.font, *own) if file is not None))

    @property
    def starts(self) -> dict[str, int]:
        """The days on which weeks begin, each once, by name: Monday 0 to Sunday 6."""
        names = {day: name for name, day in WEEK_STARTS.items()}
        own = names.get(week_start(self.words.language), "monday")
        said = (own if name == BY_LANGUAGE else name for name in self.week_starts)
        return {name: WEEK_STARTS[name] for name in dict.fromkeys(said)}

    @property
    def digits(self) -> str:
        """The ten digits that dates and years are written in, zero first."""
        return digits_of(self.numbering, locale=self.words.language)

    @property
    def mirrored(self) -> bool:
        """Whether the columns of calendars run from right to left."""
        if self.words.direction is ColumnsRun.BY_LANGUAGE:
            return runs_right_to_left(self.words.language)
        return self.words.direction is ColumnsRun.RIGHT_TO_LEFT

    def px(self, length: Length) -> float:
        """`length` in px on this recipe's canvas."""
        return self.scale.px(length)

    def fault(self, key: str, sentence: str, *, fits: str = "", fixes: Iterable[Fix] = ()) -> Fault:
        """A fault of the value at `key`, with the file and line of it or of its table.

        `fits` is the value of that key, as TOML writes it, that would mend it; `fixes` are others.
        """
        own = (Fix(key=key, value=fits),) if fits else ()
        return fault_at(key, sentence, places=self.places, source=self.source, fixes=(*own, *fixes))


def language_tags(recipe: Recipe) -> dict[str, str]:
    """The kit's languages, each with what names of stamps call it: "" for the first, else its tag.

    Languages that are one by CLDR, however they are spelled, are there once.
    """
    first, *others = recipe.words.languages
    found = {language_tag(first): (first, "")}
    for language in others:
        tag = language_tag(language)
        found.setdefault(tag, (language, tag))
    return dict(found.values())
