"""Plans of stamps: what each is called and what it holds, drawn exactly only when asked."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any, Literal

from inkline.calendar.grid import MonthGrid, RuleWidths, inset_box
from inkline.calendar.months import DAYS_PER_WEEK
from inkline.calendar.names import month_names, weekday_names
from inkline.drawing import Drawing, Role
from inkline.kit.catalogue_content import BlockContent, Content, RuleContent, TextContent
from inkline.kit.layout import MOST_WEEKS, FormatLayout, layout_of
from inkline.kit.layout_forms import chosen_forms, one_drawings
from inkline.kit.layout_numerals import placed_dates
from inkline.kit.layout_text import (
    LineSetter,
    PlacedText,
    TypeSize,
    Word,
    figure_line,
    placed_weekdays,
    size_from_height,
    spaced_words,
    weekday_size,
    word_sheets,
)
from inkline.kit.recipe_model import FormatRecipe, Recipe
from inkline.kit.recipe_values import NUMERALS
from inkline.lettering.face import Face
from inkline.lettering.line import SetLine

StampKind = Literal["grid", "blocks", "dates", "words"]

WEEKS = (5, MOST_WEEKS)
WEEKDAY_LABELS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
WEEK_STARTS = {"sunday": 6, "monday": 0}
DIGITS = tuple("0123456789")
SMALL_RAGGEDNESS = 0.5
"""Share of the style's raggedness that numerals in the small cut keep, so that their edges still read at a tenth of the size. Chosen by eye."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StampPlan:
    """One stamp, not yet drawn; cheap to make and to keep.

    Attributes:
        name: such as `tall/dates-3`.
        kind: grid, blocks, dates or words.
        format: name of its format, or `None` for a word used alone.
        canvas: width and height in px.
        sheet_px: how many px make the width of the whole sheet.
        content: what it holds.
        raggedness: share of the style's raggedness that it is drawn with.
    """

    name: str
    kind: StampKind
    format: str | None
    canvas: tuple[int, int]
    sheet_px: float
    content: Content
    raggedness: float = 1.0

    @property
    def file(self) -> str:
        """Where its picture lies in the kit's folder, with forward slashes."""
        return f"{self.name}.png"

    def drawing(self) -> Drawing:
        """Its exact drawing, made anew at every call (1 ms for a grid, up to 20 ms for a set of dates)."""
        layer = self.content.layer(self.name)
        return Drawing(name=self.name, canvas=self.canvas, sheet_px=self.sheet_px, layers=(layer,))

    def geometry(self) -> dict[str, Any]:
        """Its exact geometry in px for the manifest: `lines`, `boxes` or `glyphs`, as lists of plain values."""
        return self.content.geometry(self.name)


Maker = Callable[[], StampPlan]


def plan_makers(recipe: Recipe, face: Face) -> dict[str, Maker]:
    """For each stamp's name, what makes its plan: format by format, then the words."""
    makers: dict[str, Maker] = {}
    for shape in recipe.formats:
        layout = layout_of(recipe, shape)
        for stem, kind, content in _format_contents(recipe, shape, layout, face):
            name = f"{shape.name}/{stem}"
            ragged = SMALL_RAGGEDNESS if kind == "dates" and shape.is_small else 1.0
            makers[name] = partial(_format_plan, name, kind, layout, content, ragged)
    for name, sheets, index in _word_parts(recipe, face):
        makers[name] = partial(_word_plan, name, recipe, sheets, index)
    return makers


def _format_plan(name: str, kind: StampKind, layout: FormatLayout, content: Content, ragged: float) -> StampPlan:
    return StampPlan(
        name=name,
        kind=kind,
        format=layout.name,
        canvas=(layout.side, layout.side),
        sheet_px=float(layout.side),
        content=content,
        raggedness=ragged,
    )


def _format_contents(
    recipe: Recipe, shape: FormatRecipe, layout: FormatLayout, face: Face
) -> Iterator[tuple[str, StampKind, Content]]:
    """Last part of the name, kind and content of each stamp of a format."""
    for n_rows in WEEKS:
        yield f"grid-{n_rows}", "grid", _rules(layout, layout.grid(n_rows), layout.even_widths)
    for n_rows in WEEKS:
        yield f"grid-{n_rows}-head", "grid", _rules(layout, layout.headed_grid(n_rows), layout.framed_widths)
    for n_rows in WEEKS:
        yield f"blocks-{n_rows}", "blocks", _day_blocks(layout, n_rows)
    yield "blocks-head", "blocks", _header_blocks(layout)
    for offset in range(DAYS_PER_WEEK):
        setting = partial(placed_dates, recipe, shape, layout, face, offset)
        content = TextContent(role=Role.NUMERAL, layer_name="numerals", labels=NUMERALS, setting=setting)
        yield f"dates-{offset + 1}", "dates", content
    for day, start in WEEK_STARTS.items():
        labels = tuple(WEEKDAY_LABELS[(start + column) % DAYS_PER_WEEK] for column in range(DAYS_PER_WEEK))
        setting = partial(_weekdays, recipe, shape, layout, face, day, labels)
        content = TextContent(role=Role.WORD, layer_name="words", labels=labels, setting=setting)
        yield f"weekdays-{day}", "words", content


def _rules(layout: FormatLayout, grid: MonthGrid, widths: RuleWidths) -> RuleContent:
    return RuleContent(rules=grid.rules(widths), side=layout.side, safe=layout.safe)


def _day_blocks(layout: FormatLayout, n_rows: int) -> BlockContent:
    grid = layout.grid(n_rows)
    places = [(row, column) for row in range(n_rows) for column in range(DAYS_PER_WEEK)]
    boxes = tuple(
        (f"r{row + 1}c{column + 1}", inset_box(grid.cell(row, column), layout.inset)) for row, column in places
    )
    return BlockContent(boxes=boxes, radius=layout.corner)


def _header_blocks(layout: FormatLayout) -> BlockContent:
    cells = enumerate(layout.header_cells, start=1)
    boxes = tuple((f"c{column}", inset_box(cell, layout.inset)) for column, cell in cells)
    return BlockContent(boxes=boxes, radius=layout.corner)


def weekday_texts(recipe: Recipe) -> dict[str, str]:
    """The weekdays' names by their labels, Monday first."""
    words = recipe.words
    names = weekday_names(words.language, width=words.weekdays, case=words.letters)
    return dict(zip(WEEKDAY_LABELS, names, strict=True))


def _weekdays(
    recipe: Recipe, shape: FormatRecipe, layout: FormatLayout, face: Face, first: str, labels: tuple[str, ...]
) -> tuple[PlacedText, ...]:
    texts, setter = weekday_texts(recipe), spaced_words(recipe.words.spacing)
    size = fitted_weekdays(recipe, shape, layout, face)
    lines = []
    for label in labels:
        forms = chosen_forms(recipe, face, texts[label], f"{shape.name}/weekdays-{first}/{label}")
        lines.append((label, setter(face, texts[label], recipe.figures, forms)))
    return placed_weekdays(size, layout, lines)


def _plain_word(recipe: Recipe, face: Face, text: str) -> SetLine:
    return spaced_words(recipe.words.spacing)(face, text, recipe.figures, ())


def fitted_weekdays(recipe: Recipe, shape: FormatRecipe, layout: FormatLayout, face: Face) -> TypeSize:
    """Size of the weekdays' letters of a format."""
    texts = tuple(weekday_texts(recipe).values())
    return weekday_size(shape, layout, face, texts, partial(_plain_word, recipe, face))


@dataclass(frozen=True, slots=True, kw_only=True)
class WordSet:
    """Words that are set alike, with the names of their stamps.

    Attributes:
        key: the recipe's key that a fault of theirs is laid to.
        names: the stamps' names.
        texts: what is set, one a stamp.
        setter: how it is set.
    """

    key: str
    names: tuple[str, ...]
    texts: tuple[str, ...]
    setter: LineSetter


def word_sets(recipe: Recipe) -> tuple[WordSet, ...]:
    """The months, the digits and the years, those of them that there are."""
    words = recipe.words
    months = month_names(words.language, width=words.months, case=words.letters)
    years = tuple(str(year) for year in words.years)
    sets = (
        WordSet(
            key="words.language",
            names=tuple(f"words/month-{number:02d}" for number in range(1, 13)),
            texts=months,
            setter=spaced_words(words.spacing),
        ),
        WordSet(key="lettering", names=tuple(f"words/digit-{d}" for d in DIGITS), texts=DIGITS, setter=figure_line),
        WordSet(key="words.years", names=tuple(f"words/year-{y}" for y in years), texts=years, setter=figure_line),
    )
    return tuple(one for one in sets if one.texts)


def word_size(recipe: Recipe, face: Face) -> TypeSize:
    """Size of the words used alone: the same for all, by the height of a capital."""
    words = recipe.words
    return size_from_height(face, height_px=recipe.px(words.height), stem=words.stem, design_em=face.cap_height_em)


def _word_parts(recipe: Recipe, face: Face) -> Iterator[tuple[str, partial[Any], int]]:
    """Name of each word's stamp, what sets its whole set, and its place in it."""
    size, margin = word_size(recipe, face), recipe.px(recipe.words.margin)
    for words in word_sets(recipe):
        texts = zip(words.names, words.texts, strict=True)
        words_set = tuple(_word(recipe, face, name, text) for name, text in texts)
        sheets = partial(word_sheets, face, recipe.figures, size, margin, words_set, words.setter)
        for index, name in enumerate(words.names):
            yield name, sheets, index


def _word(recipe: Recipe, face: Face, name: str, text: str) -> Word:
    """A word with its forms and drawings; a single digit keeps its usual form, which whoever composes years of it relies on."""
    if len(text) == 1:
        return Word(text=text)
    return Word(text=text, forms=chosen_forms(recipe, face, text, name), drawings=one_drawings(recipe, text))


def _word_plan(name: str, recipe: Recipe, sheets: partial[Any], index: int) -> StampPlan:
    sheet = sheets()[index]
    content = TextContent(role=Role.WORD, layer_name="words", labels=(), setting=partial(_one_text, sheets, index))
    return StampPlan(
        name=name,
        kind="words",
        format=None,
        canvas=sheet.canvas,
        sheet_px=float(recipe.side_px),
        content=content,
    )


def _one_text(sheets: partial[Any], index: int) -> tuple[PlacedText, ...]:
    return (sheets()[index].text,)
