"""The guide of a kit for the people who use it: how its stamps fit together, which sizes line up, what there is, and the charts.

It depends on the recipe, the letters and the style, and on no picture that was drawn: its figures
are the exact stamps, as outlines.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import PurePosixPath

from inkline.geometry.boxes import Box
from inkline.ink.style import Style
from inkline.kit.papers.chart_pdf import A4, ACCENT, INK, MARGIN, SOFT, TEXT, chart_page
from inkline.kit.papers.chart_png import ChartLook
from inkline.kit.papers.charts import guide_years, kit_charts, look_of
from inkline.kit.papers.guide_pictures import Example, PictureLayer, example_of
from inkline.kit.papers.guide_setting import BOTTOM, Sheet, entry_height
from inkline.kit.papers.guide_words import Group, counted, stamp_groups
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.measures import FormatLayout, layout_of
from inkline.kit.stamps.month import YearChart, offers_of
from inkline.kit.stamps.plan import StampPlan
from inkline.lettering.face import Face
from inkline.output.pdf import PdfPage, pdf_bytes
from inkline.pages.lines import Align
from inkline.pages.pdf_letters import PageLetters, Words

GUIDE_VERSION = 1
"""Raised when the guide is set in another way, so that it is made again."""
PERCENTS = (10.0, 12.5, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0)
"""Sizes that are told: those at which stamps are mostly used, and the whole."""
_HERO, _HERO_TOP = 400.0, 176.0
_WORDS_ROOM = 38.0
"""Height of the row above the picture for the month's name, in points."""
_STEP_GAP = 24.0
_WORD_HEIGHT = 26.0
"""Of the canvas of the month's name over the picture, in points."""
_STEP_TEXT = 60.0
_UNDER_NAME = 0.82
"""Size of the month under its name, as a share of the pictures beside it."""
_PALE = "#c9cdce"
_MM_PER_INCH = 25.4
_SIZE_HEADS = ("size", "whole stamp", "one cell", "all columns", "printed")
_SIZE_WIDTHS = (0.12, 0.22, 0.24, 0.18, 0.24)
_TABLE_HEIGHT = 330.0
_HEADING_ROOM = 60.0
_STEPS = {
    "grid": ("The grid", "It goes first: the rules, with as many rows as there are weeks."),
    "dates": (
        "The dates",
        "They stand in the same cells. The number in their name is the column of the 1st.",
    ),
    "weekdays": (
        "The weekdays",
        "They stand above the cells. Take those that begin on the day you like.",
    ),
    "words": (
        "The name",
        "It has a picture of its own: put it wherever you like, as large as you like.",
    ),
}
_COVER = """
These stamps make calendars in layers. All stamps of one format are drawn on the same canvas, on the same lines: stamp them over one
another at one size and in one place, and they fit to the pixel.

No two lines are alike, as it is when a hand draws them, and yet everything lines up.
"""
_ADVICE = """
Each layer goes over the one before, at the same size and with its middle in the same place. A mark in the middle of your page helps, and
so does an edge that things snap to.

Give every stamp a layer of its own. Then each can have another colour, and a mistake costs nothing.
"""
_ADVICE_CHARTS = "Which stamps a month needs is in the charts at the end."
_ADVICE_ERASE = (
    "Where a chart says erase, take those numerals away with an eraser on the layer of the dates."
)


def guide_pdf(recipe: Recipe, face: Face, style: Style, stamps: Mapping[str, StampPlan]) -> bytes:
    """The guide as a PDF file; equal arguments give equal bytes. Cost: some seconds.

    What decides it, and so what its digest must cover: `GUIDE_VERSION`, the recipe, the style, and
    name, file and exact drawing of every stamp.

    Args:
        recipe: of the kit.
        face: the kit's letters.
        style: the kit's ink; titles are drawn in it.
        stamps: every stamp of the kit by name, in the catalogue's order, at least one.

    Raises:
        InputError: the letters can't write the names of the months.
    """
    language, years = recipe.words.language, guide_years(recipe)
    look = look_of(recipe, face=face, style=style, language=language)
    letters = PageLetters(recipe.family, face)
    charts = (
        kit_charts(recipe, years, starts=recipe.starts, language=language)
        if offers_of(recipe)
        else ()
    )
    example = example_of(recipe, stamps, year=years[0])
    pages = [
        _cover(recipe, letters, look, len(stamps), example),
        _steps(letters, look, example, charts),
    ]
    pages += _sizes(recipe, letters, look)
    pages += _inventory(letters, look, stamps)
    pages += [chart_page(chart, letters, look) for chart in charts]
    title = f"{recipe.title}: how the stamps fit together"
    return pdf_bytes(pages, fonts=letters.fonts(), title=title, language="en")


def _cover(
    recipe: Recipe, letters: PageLetters, look: ChartLook, n_stamps: int, example: Example
) -> PdfPage:
    sheet = Sheet(letters=letters, look=look, title=recipe.title)
    sheet.head()
    edition = f"edition {recipe.edition}, " if recipe.edition else ""
    about = Words(
        text=f"{edition}{counted(n_stamps, 'stamp')}",
        at=(MARGIN, sheet.y - 14.0),
        height=TEXT,
        colour=SOFT,
    )
    sheet.items += letters.items(about)
    scale, (width, height) = _fitted(example.box, _HERO)
    left, top = 0.5 * (A4[0] - width), _HERO_TOP
    sheet.card(
        (MARGIN - 12.0, top - 16.0, A4[0] - MARGIN + 12.0, top + height + _WORDS_ROOM + 24.0)
    )
    _words_above(sheet, example, at=(left, top), width=width)
    stack = [(layer.figure, INK) for layer in example.layers]
    sheet.figures(stack, at=_corner(example.box, (left, top + _WORDS_ROOM), scale), scale=scale)
    sheet.y = top + height + _WORDS_ROOM + 42.0
    for text in _paragraphs(_COVER):
        sheet.paragraph(text)
    return sheet.page()


def _words_above(sheet: Sheet, example: Example, *, at: tuple[float, float], width: float) -> None:
    """The month's name and the year over the picture, flush with its sides; from the right where calendars run that way."""
    sides = ((at[0], 0), (at[0] + width, 2))
    for word, (side, edge) in zip(
        example.words, sides[::-1] if sheet.look.mirrored else sides, strict=False
    ):
        scale = _WORD_HEIGHT / word.plan.canvas[1]
        sheet.figures(
            [(word.figure, ACCENT)], at=(side - scale * word.box[edge], at[1]), scale=scale
        )


def _paragraphs(text: str) -> list[str]:
    return text.strip().split("\n\n")


def _fitted(box: Box, side: float) -> tuple[float, tuple[float, float]]:
    """The scale at which a box fits a square of `side` points, and its width and height then."""
    width, height = box[2] - box[0], box[3] - box[1]
    scale = side / max(width, height)
    return scale, (scale * width, scale * height)


def _corner(box: Box, at: tuple[float, float], scale: float) -> tuple[float, float]:
    """Where a canvas's own corner lies if the box's lies at `at`."""
    return at[0] - scale * box[0], at[1] - scale * box[1]


def _steps(
    letters: PageLetters, look: ChartLook, example: Example, charts: tuple[YearChart, ...]
) -> PdfPage:
    """The layers of a month one after another, each over those before it."""
    sheet = Sheet(
        letters=letters,
        look=look,
        title="A month, layer by layer" if example.words else "Layer by layer",
    )
    sheet.head()
    steps = [*example.layers, *example.words[:1]]
    side = 0.5 * (sheet.width - _STEP_GAP)
    top, height = sheet.y, 0.0
    for index, layer in enumerate(steps):
        column = index % 2
        if index and not column:
            top += height + _STEP_GAP
        height = _step(
            sheet, example, index, layer, at=(MARGIN + column * (side + _STEP_GAP), top), side=side
        )
    sheet.y = top + height + 12.0
    for text in _paragraphs(_ADVICE):
        sheet.paragraph(text)
    if charts:
        erase = any(month.way.erase for chart in charts for month in chart.months)
        sheet.paragraph(f"{_ADVICE_CHARTS} {_ADVICE_ERASE}" if erase else _ADVICE_CHARTS)
    return sheet.page()


def _step(
    sheet: Sheet,
    example: Example,
    index: int,
    layer: PictureLayer,
    *,
    at: tuple[float, float],
    side: float,
) -> float:
    """One layer in strong ink over those before it in pale, with what it is; gives the height that it takes."""
    (left, top), (scale, (width, height)) = at, _fitted(example.box, 0.74 * side)
    sheet.card((left - 8.0, top - 8.0, left + side + 8.0, top + height + _STEP_TEXT))
    corner = (left + 0.5 * (side - width), top)
    if layer.kind == "words":
        _under_its_name(sheet, example, layer, at=corner, scale=scale)
    else:
        inks = [(one.figure, _PALE) for one in example.layers[:index]] + [(layer.figure, INK)]
        sheet.figures(inks, at=_corner(example.box, corner, scale), scale=scale)
    title, sentence = _STEPS[layer.kind]
    base = top + height + 18.0
    heads = (
        (f"{index + 1}  {title}", left, Align.LEFT, INK),
        (_file(layer.plan), left + side, Align.RIGHT, ACCENT),
    )
    for text, x, align, colour in heads:
        words = Words(
            text=text, at=(x, base), height=TEXT, colour=colour, align=align, room=0.56 * side
        )
        sheet.items += sheet.letters.items(words)
    sheet.y = base + 1.0
    sheet.paragraph(sentence, x=left, width=side, colour=SOFT)
    return height + _STEP_TEXT


def _under_its_name(
    sheet: Sheet, example: Example, layer: PictureLayer, *, at: tuple[float, float], scale: float
) -> None:
    """The finished month in pale, a little smaller, and its name above it."""
    (left, top), (x0, y0, x1, y1) = at, example.box
    width, height = scale * (x1 - x0), scale * (y1 - y0)
    lower = (left + 0.5 * (1.0 - _UNDER_NAME) * width, top + (1.0 - _UNDER_NAME) * height)
    month = [(one.figure, _PALE) for one in example.layers]
    sheet.figures(
        month, at=_corner(example.box, lower, _UNDER_NAME * scale), scale=_UNDER_NAME * scale
    )
    canvas = layer.plan.canvas
    size = min((1.0 - _UNDER_NAME) * height / canvas[1], width / canvas[0])
    sheet.figures(
        [(layer.figure, INK)], at=(left + 0.5 * (width - size * canvas[0]), top - 2.0), scale=size
    )


def _file(plan: StampPlan) -> str:
    return PurePosixPath(plan.file).stem


def _sizes(recipe: Recipe, letters: PageLetters, look: ChartLook) -> Iterator[PdfPage]:
    """A table for each format: how large its cells come out when the stamp is used at a share of its size."""
    sheet: Sheet | None = None
    for index, shape in enumerate(recipe.formats):
        if sheet is not None and sheet.y + _TABLE_HEIGHT > BOTTOM:
            yield sheet.page()
            sheet = None
        if sheet is None:
            sheet = Sheet(letters=letters, look=look, title="Sizes that line up")
            sheet.head()
            if not index:
                sheet.y -= 16.0
                sheet.paragraph(
                    f"At these sizes a stamp of this kit gives these cells, in pixels, and "
                    f"printed at {recipe.ppi:g} pixels to the inch "
                    "in millimetres. Use one size for all layers of a month."
                )
        layout = layout_of(recipe, shape)
        sheet.heading(shape.name)
        sheet.table(
            _SIZE_HEADS,
            [_size_row(layout, percent, recipe.ppi) for percent in PERCENTS],
            widths=_SIZE_WIDTHS,
        )
    if sheet is not None:
        yield sheet.page()


def _size_row(layout: FormatLayout, percent: float, ppi: float) -> tuple[str, ...]:
    """One size: its share of the stamp, the stamp, a cell and all columns in px, and the cell in mm."""
    share = percent / 100.0
    stamp = " x ".join(f"{side * share:.1f}".removesuffix(".0") for side in layout.canvas)
    sides = (layout.cell_width * share, layout.cell_height * share)
    left, _, right, _ = layout.full_grid.outer_box
    cell = " x ".join(f"{side:.1f}" for side in sides)
    printed = " x ".join(f"{side / ppi * _MM_PER_INCH:.1f}" for side in sides)
    return (
        f"{percent:g} %",
        f"{stamp} px",
        f"{cell} px",
        f"{(right - left) * share:.0f} px",
        f"{printed} mm",
    )


def _inventory(
    letters: PageLetters, look: ChartLook, stamps: Mapping[str, StampPlan]
) -> Iterator[PdfPage]:
    """What is in each folder of the kit."""
    title = "What there is"
    sheet, folder = Sheet(letters=letters, look=look, title=title), ""
    sheet.head()
    for group in stamp_groups(stamps):
        if sheet.y + _room(group, folder, letters) > BOTTOM:
            yield sheet.page()
            sheet, folder = Sheet(letters=letters, look=look, title=title), ""
            sheet.head()
        if group.folder != folder:
            sheet.heading(group.folder)
            folder = group.folder
        sheet.entries([(group.names(), group.sentence())])
    yield sheet.page()


def _room(group: Group, folder: str, letters: PageLetters) -> float:
    heading = _HEADING_ROOM if group.folder != folder else 0.0
    return heading + entry_height(group.sentence(), letters)
