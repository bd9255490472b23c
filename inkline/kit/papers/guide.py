"""The guide of a kit for the people who use it, as a PDF.

It tells how the stamps fit together, which sizes line up and what there is, and has the charts.

It depends on the recipe, the letters and the style, and on no picture that was drawn: its figures
are the exact stamps, as outlines.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import PurePosixPath

from inkline.geometry.boxes import Box
from inkline.ink.style import Style
from inkline.kit.papers.chart_pdf import A4, MARGIN, TEXT, chart_page
from inkline.kit.papers.chart_png import ChartLook
from inkline.kit.papers.charts import guide_years, kit_charts, look_of
from inkline.kit.papers.guide_pictures import Example, PictureLayer, example_of
from inkline.kit.papers.guide_setting import BOTTOM, GuidePage, entry_height
from inkline.kit.papers.guide_words import (
    Group,
    count_of_things,
    names_of_languages,
    stamp_groups,
)
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.measures import layout_of
from inkline.kit.stamps.month import offers_of
from inkline.kit.stamps.plan import StampPlan
from inkline.kit.stamps.year_chart import YearChart
from inkline.lettering.face import Face
from inkline.output.pdf import PdfPage, pdf_bytes
from inkline.pages.lines import Align, TextLine, Tone
from inkline.pages.palette import ACCENT, INK, PALE_INK
from inkline.pages.pdf_letters import PageLetters

_PERCENTS = (10.0, 12.5, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0)
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
        "It has a picture of its own. With their middles level, year and name stand on one line.",
    ),
}
_COVER = """
These stamps make calendars in layers. All stamps of one format are drawn on the same canvas, on the
same lines: stamp them over one another at one size and in one place, and they fit to the pixel.

No two lines are alike, as it is when a hand draws them, and yet everything lines up.
"""
_ADVICE = """
Each layer goes over the one before, at the same size and with its middle in the same place. A mark
in the middle of your page helps, and so does an edge that things snap to.

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
        _cover_page(recipe, letters, look, len(stamps), example),
        _steps_page(letters, look, example, charts),
    ]
    pages += _size_pages(recipe, letters, look)
    pages += _inventory_pages(letters, look, stamps, names_of_languages(recipe))
    pages += [chart_page(chart, letters, look) for chart in charts]
    title = f"{recipe.title}: how the stamps fit together"
    return pdf_bytes(pages, fonts=letters.fonts(), title=title, language="en")


def _cover_page(
    recipe: Recipe, letters: PageLetters, look: ChartLook, n_stamps: int, example: Example
) -> PdfPage:
    sheet = GuidePage(letters=letters, look=look, title=recipe.title)
    sheet.add_head()
    edition = f"edition {recipe.edition}, " if recipe.edition else ""
    about = TextLine(
        text=f"{edition}{count_of_things(n_stamps, 'stamp')}",
        x=MARGIN,
        baseline=sheet.y - 14.0,
        height=TEXT,
        tone=Tone.SOFT,
    )
    sheet.items += letters.plain_items(about)
    scale, (width, height) = _scale_and_size(example.box, _HERO)
    left, top = 0.5 * (A4[0] - width), _HERO_TOP
    sheet.add_card(
        (MARGIN - 12.0, top - 16.0, A4[0] - MARGIN + 12.0, top + height + _WORDS_ROOM + 24.0)
    )
    _add_words_above(sheet, example, at=(left, top), width=width)
    stack = [(layer.figure, INK) for layer in example.layers]
    sheet.add_figures(stack, at=_corner(example.box, (left, top + _WORDS_ROOM), scale), scale=scale)
    sheet.y = top + height + _WORDS_ROOM + 42.0
    for text in _paragraphs(_COVER):
        sheet.add_paragraph(text)
    return sheet.page()


def _add_words_above(
    sheet: GuidePage, example: Example, *, at: tuple[float, float], width: float
) -> None:
    """Put the month's name and the year over the picture, flush with its sides.

    They run from the right where calendars do.
    """
    sides = ((at[0], 0), (at[0] + width, 2))
    for word, (side, edge) in zip(
        example.words, sides[::-1] if sheet.look.mirrored else sides, strict=False
    ):
        scale = _WORD_HEIGHT / word.plan.canvas[1]
        sheet.add_figures(
            [(word.figure, ACCENT)], at=(side - scale * word.box[edge], at[1]), scale=scale
        )


def _paragraphs(text: str) -> list[str]:
    return text.strip().split("\n\n")


def _scale_and_size(box: Box, side: float) -> tuple[float, tuple[float, float]]:
    """The scale at which a box fits a square of `side` points, and its width and height then."""
    width, height = box[2] - box[0], box[3] - box[1]
    scale = side / max(width, height)
    return scale, (scale * width, scale * height)


def _corner(box: Box, at: tuple[float, float], scale: float) -> tuple[float, float]:
    """Where a canvas's own corner lies if the box's lies at `at`."""
    return at[0] - scale * box[0], at[1] - scale * box[1]


def _steps_page(
    letters: PageLetters, look: ChartLook, example: Example, charts: tuple[YearChart, ...]
) -> PdfPage:
    """The layers of a month one after another, each over those before it."""
    sheet = GuidePage(
        letters=letters,
        look=look,
        title="A month, layer by layer" if example.words else "Layer by layer",
    )
    sheet.add_head()
    steps = [*example.layers, *example.words[:1]]
    side = 0.5 * (sheet.width - _STEP_GAP)
    top, height = sheet.y, 0.0
    for index, layer in enumerate(steps):
        column = index % 2
        if index and not column:
            top += height + _STEP_GAP
        height = _add_step(
            sheet, example, index, layer, at=(MARGIN + column * (side + _STEP_GAP), top), side=side
        )
    sheet.y = top + height + 12.0
    for text in _paragraphs(_ADVICE):
        sheet.add_paragraph(text)
    if charts:
        erase = any(month.way.erase for chart in charts for month in chart.months)
        sheet.add_paragraph(f"{_ADVICE_CHARTS} {_ADVICE_ERASE}" if erase else _ADVICE_CHARTS)
    return sheet.page()


def _add_step(
    sheet: GuidePage,
    example: Example,
    index: int,
    layer: PictureLayer,
    *,
    at: tuple[float, float],
    side: float,
) -> float:
    """Put one layer in strong ink over those before it in pale; gives the height that it takes."""
    (left, top), (scale, (width, height)) = at, _scale_and_size(example.box, 0.74 * side)
    sheet.add_card((left - 8.0, top - 8.0, left + side + 8.0, top + height + _STEP_TEXT))
    corner = (left + 0.5 * (side - width), top)
    if layer.kind == "words":
        _add_month_under_name(sheet, example, layer, at=corner, scale=scale)
    else:
        inks = [(one.figure, PALE_INK) for one in example.layers[:index]] + [(layer.figure, INK)]
        sheet.add_figures(inks, at=_corner(example.box, corner, scale), scale=scale)
    title, sentence = _STEPS[layer.kind]
    base = top + height + 18.0
    heads = (
        (f"{index + 1}  {title}", left, Align.LEFT, Tone.STRONG),
        (_file_name(layer.plan), left + side, Align.RIGHT, Tone.ACCENT),
    )
    for text, x, align, tone in heads:
        words = TextLine(
            text=text, x=x, baseline=base, height=TEXT, tone=tone, align=align, room=0.56 * side
        )
        sheet.items += sheet.letters.plain_items(words)
    sheet.y = base + 1.0
    sheet.add_paragraph(sentence, x=left, width=side, tone=Tone.SOFT)
    return height + _STEP_TEXT


def _add_month_under_name(
    sheet: GuidePage,
    example: Example,
    layer: PictureLayer,
    *,
    at: tuple[float, float],
    scale: float,
) -> None:
    """Put the finished month in pale, a little smaller, and its name above it."""
    (left, top), (x0, y0, x1, y1) = at, example.box
    width, height = scale * (x1 - x0), scale * (y1 - y0)
    lower = (left + 0.5 * (1.0 - _UNDER_NAME) * width, top + (1.0 - _UNDER_NAME) * height)
    month = [(one.figure, PALE_INK) for one in example.layers]
    sheet.add_figures(
        month, at=_corner(example.box, lower, _UNDER_NAME * scale), scale=_UNDER_NAME * scale
    )
    canvas = layer.plan.canvas
    size = min((1.0 - _UNDER_NAME) * height / canvas[1], width / canvas[0])
    sheet.add_figures(
        [(layer.figure, INK)], at=(left + 0.5 * (width - size * canvas[0]), top - 2.0), scale=size
    )


def _file_name(plan: StampPlan) -> str:
    return PurePosixPath(plan.file).stem


def _size_pages(recipe: Recipe, letters: PageLetters, look: ChartLook) -> Iterator[PdfPage]:
    """The pages with a table for each format: how large its cells are at each size of the stamp."""
    sheet: GuidePage | None = None
    for index, shape in enumerate(recipe.formats):
        if sheet is not None and sheet.y + _TABLE_HEIGHT > BOTTOM:
            yield sheet.page()
            sheet = None
        if sheet is None:
            sheet = GuidePage(letters=letters, look=look, title="Sizes that line up")
            sheet.add_head()
            if not index:
                sheet.y -= 16.0
                sheet.add_paragraph(
                    f"At these sizes a stamp of this kit gives these cells, in pixels, and "
                    f"printed at {recipe.ppi:g} pixels to the inch "
                    "in millimetres. Use one size for all layers of a month."
                )
        layout = layout_of(recipe, shape)
        sheet.add_heading(shape.name)
        sheet.add_table(
            _SIZE_HEADS,
            [_size_row(layout, percent, recipe.ppi) for percent in _PERCENTS],
            widths=_SIZE_WIDTHS,
        )
    if sheet is not None:
        yield sheet.page()


def _size_row(layout: FormatLayout, percent: float, ppi: float) -> tuple[str, ...]:
    """A row for one size: its share, the stamp, a cell and all columns in px, the cell in mm."""
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


def _inventory_pages(
    letters: PageLetters,
    look: ChartLook,
    stamps: Mapping[str, StampPlan],
    languages: Mapping[str, str],
) -> Iterator[PdfPage]:
    """What is in each folder of the kit."""
    title = "What there is"
    sheet, folder = GuidePage(letters=letters, look=look, title=title), ""
    sheet.add_head()
    for group in stamp_groups(stamps, languages):
        if sheet.y + _room_of_group(group, folder, letters) > BOTTOM:
            yield sheet.page()
            sheet, folder = GuidePage(letters=letters, look=look, title=title), ""
            sheet.add_head()
        if group.folder != folder:
            sheet.add_heading(group.folder)
            folder = group.folder
        sheet.add_entries([(group.names(), group.sentence())])
    yield sheet.page()


def _room_of_group(group: Group, folder: str, letters: PageLetters) -> float:
    heading = _HEADING_ROOM if group.folder != folder else 0.0
    return heading + entry_height(group.sentence(), letters)
