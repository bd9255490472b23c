"""The guide of a kit for the people who use it, as a PDF.

It tells how the stamps fit together, which sizes line up and what there is, and has the charts.

It depends on the recipe, the letters and the style, and on no picture that was drawn: its figures
are the stamps as they are drawn, as outlines, in the kit's colours.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from inkline.ink.style import Style
from inkline.kit.papers.chart_pdf import A4, MARGIN, TEXT, chart_page
from inkline.kit.papers.chart_png import ChartLook
from inkline.kit.papers.charts import kit_charts, look_of
from inkline.kit.papers.guide_pictures import (
    Example,
    GuideColours,
    Ink,
    Kept,
    PictureLayer,
    corner_of,
    example_of,
    no_masters,
    scale_and_size,
    small_layer,
)
from inkline.kit.papers.guide_setting import BOTTOM, GuidePage, entry_height, table_height
from inkline.kit.papers.guide_stamps import guide_years
from inkline.kit.papers.guide_steps import step_pages
from inkline.kit.papers.guide_words import (
    Group,
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
from inkline.output.pdf_pages import two_on_a_page
from inkline.pages.lines import TextLine, Tone
from inkline.pages.pdf_letters import PageLetters
from inkline.phrases.phrases import Phrases

_PERCENTS = (10.0, 12.5, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0)
_OTHER_PERCENTS = (12.0, 15.0, 16.0, 24.0, 32.0, 45.0, 48.0, 60.0, 64.0, 80.0)
"""Sizes that are told where a stamp is whole pixels wide and high then, for only so do stamps that
are made smaller one by one still lie over one another; the second where few of the first do."""
_FEW, _MOST_PERCENTS = 6, 9
_HERO, _HERO_TOP = 400.0, 176.0
_WORDS_ROOM = 38.0
"""Height of the row above the picture for the month's name, in points."""
_WORD_HEIGHT = 26.0
"""Of the canvas of the month's name over the picture, in points."""
_MOST_PAGES = 12
"""Of a guide; charts go two to a page where there would be more."""
_MM_PER_INCH = 25.4
_SIZE_HEADS = ("size", "whole_stamp", "one_cell", "all_columns", "printed")
_SIZE_WIDTHS = (0.12, 0.22, 0.24, 0.18, 0.24)
_HEADING_ROOM = 60.0
_THUMB = 44.0
"""Side of the picture of a kind of stamp in the list."""
_ENTRY_X, _ENTRY_COLUMN = MARGIN + _THUMB + 14.0, 146.0
"""Where names begin in the list, and how far beside them what they are."""


def guide_pdf(
    recipe: Recipe,
    face: Face,
    style: Style,
    stamps: Mapping[str, StampPlan],
    *,
    kept: Kept = no_masters,
) -> bytes:
    """The guide as a PDF file; equal arguments give equal bytes. Cost: some seconds.

    What decides it, and so what its digest must cover: `GUIDE_VERSION`, the recipe, the style, and
    name, file and exact drawing of every stamp.

    Args:
        recipe: of the kit.
        face: the kit's letters.
        style: the kit's ink; titles are drawn in it.
        stamps: every stamp of the kit by name, in the catalogue's order, at least one.
        kept: gives the masters of a stamp; they save time and change nothing.

    Raises:
        InputError: the letters can't write the names of the months.
    """
    language, years = recipe.words.language, guide_years(recipe)
    phrases = recipe.guide.phrases
    look = look_of(recipe, face=face, style=style, language=language)
    letters = PageLetters(recipe.family, face)
    charts = (
        kit_charts(recipe, years, starts=recipe.starts, language=language)
        if offers_of(recipe)
        else ()
    )
    ink = Ink(style=style, number=recipe.number, again=recipe.again, kept=kept)
    example = example_of(recipe, stamps, ink, year=years[0])
    colours = GuideColours.of(recipe.shop.palette)
    pages = [
        _cover_page(recipe, letters, look, len(stamps), example, colours),
    ]
    after = [
        *_size_pages(recipe, letters, look),
        *_inventory_pages(letters, look, stamps, names_of_languages(recipe), colours),
    ]
    shown = charts
    for _ in range(2):  # what is said of charts may take a page more
        steps = step_pages(recipe, letters, look, example, colours, charts=shown)
        room = _MOST_PAGES - len(pages) - len(steps) - len(after)
        shown = charts_with_room(charts, room=room)
    pages += [*steps, *after, *_chart_pages(shown, letters, look, room=room)]
    title = phrases.say("guide.title", title=recipe.title)
    return pdf_bytes(pages, fonts=letters.fonts(), title=title, language=phrases.language)


def _cover_page(
    recipe: Recipe,
    letters: PageLetters,
    look: ChartLook,
    n_stamps: int,
    example: Example,
    colours: GuideColours,
) -> PdfPage:
    sheet = GuidePage(letters=letters, look=look, title=recipe.title)
    sheet.add_head()
    phrases = look.phrases
    said = [phrases.say("listing.edition", edition=recipe.edition)] if recipe.edition else []
    about = TextLine(
        text=", ".join([*said, phrases.count("shop.stamps", n_stamps)]),
        x=MARGIN,
        baseline=sheet.y - 14.0,
        height=TEXT,
        tone=Tone.SOFT,
    )
    sheet.items += letters.plain_items(about)
    scale, (width, height) = scale_and_size(example.box, _HERO)
    left, top = 0.5 * (A4[0] - width), _HERO_TOP
    sheet.add_card(
        (0.0, top - 24.0, A4[0], top + height + _WORDS_ROOM + 28.0), colour=colours.ground
    )
    _add_words_above(sheet, example, at=(left, top), width=width, colour=colours.word)
    stack = [(layer.figure, colours.of_kind(layer.kind)) for layer in example.layers]
    sheet.add_figures(
        stack, at=corner_of(example.box, (left, top + _WORDS_ROOM), scale), scale=scale
    )
    sheet.y = top + height + _WORDS_ROOM + 50.0
    for key in ("guide.about", "guide.alike"):
        sheet.add_paragraph(phrases.say(key))
    return sheet.page()


def _add_words_above(
    sheet: GuidePage, example: Example, *, at: tuple[float, float], width: float, colour: str
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
            [(word.figure, colour)], at=(side - scale * word.box[edge], at[1]), scale=scale
        )


def _size_pages(recipe: Recipe, letters: PageLetters, look: ChartLook) -> Iterator[PdfPage]:
    """The pages with a table for each format: how large its cells are at each size of the stamp."""
    sheet: GuidePage | None = None
    say = look.phrases.say
    for index, shape in enumerate(recipe.formats):
        layout = layout_of(recipe, shape)
        percents = whole_percents(layout)
        if sheet is not None and sheet.y + table_height(len(percents)) > BOTTOM:
            yield sheet.page()
            sheet = None
        if sheet is None:
            sheet = GuidePage(letters=letters, look=look, title=say("guide.sizes"))
            sheet.add_head()
            if not index:
                sheet.y -= 16.0
                sheet.add_paragraph(say("guide.sizes_about", ppi=f"{recipe.ppi:g}"))
        sheet.add_heading(shape.name)
        sheet.add_table(
            [say(f"guide.{key}") for key in _SIZE_HEADS],
            [_size_row(layout, percent, recipe.ppi) for percent in percents],
            widths=_SIZE_WIDTHS,
        )
    if sheet is not None:
        yield sheet.page()


def whole_percents(layout: FormatLayout) -> tuple[float, ...]:
    """Sizes in per cent at which a format's stamps are whole pixels wide and high."""
    whole = [
        percent
        for percent in (*_PERCENTS, *_OTHER_PERCENTS)
        if all((side * percent / 100.0).is_integer() for side in layout.canvas)
    ]
    usual = [percent for percent in whole if percent in _PERCENTS]
    return tuple(sorted(usual if len(usual) >= _FEW else whole[:_MOST_PERCENTS]))


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
    colours: GuideColours,
) -> Iterator[PdfPage]:
    """What is in each folder of the kit, each kind with a picture of its first stamp."""
    phrases = look.phrases
    title = phrases.say("guide.list")
    sheet, folder = GuidePage(letters=letters, look=look, title=title), ""
    sheet.add_head()
    for group in stamp_groups(stamps, languages, phrases):
        if sheet.y + _room_of_group(group, folder, letters, phrases) > BOTTOM:
            yield sheet.page()
            sheet, folder = GuidePage(letters=letters, look=look, title=title), ""
            sheet.add_head()
        if group.folder != folder:
            sheet.add_heading(group.folder)
            folder = group.folder
        top = sheet.y
        sheet.add_entries(
            [(group.names(phrases), group.sentence(phrases))], column=_ENTRY_COLUMN, x=_ENTRY_X
        )
        sheet.y = max(sheet.y, top + _THUMB + 10.0)
        _add_thumb(sheet, small_layer(group.kind, stamps[group.stamps[0]]), colours, top=top + 2.0)
    yield sheet.page()


def _add_thumb(sheet: GuidePage, stamp: PictureLayer, colours: GuideColours, *, top: float) -> None:
    """A stamp, small, at the left of its entry."""
    left = MARGIN
    sheet.add_card((left, top, left + _THUMB, top + _THUMB), colour=colours.ground)
    scale, (width, height) = scale_and_size(stamp.box, _THUMB - 8.0)
    corner = (left + 0.5 * (_THUMB - width), top + 0.5 * (_THUMB - height))
    figures = [(stamp.figure, colours.of_kind(stamp.kind))]
    sheet.add_figures(figures, at=corner_of(stamp.box, corner, scale), scale=scale)


def charts_with_room(charts: Sequence[YearChart], *, room: int) -> tuple[YearChart, ...]:
    """The charts of as many whole years, from the first on, as have room on so many pages.

    They go two to a page if need be. Those of the first year are there in any case.
    """
    years = list(dict.fromkeys(chart.year for chart in charts))
    for last in reversed(years):
        shown = tuple(chart for chart in charts if chart.year <= last)
        if len(shown) <= 2 * room:
            return shown
    return tuple(chart for chart in charts if chart.year == years[0]) if years else ()


def _chart_pages(
    charts: Sequence[YearChart], letters: PageLetters, look: ChartLook, *, room: int
) -> list[PdfPage]:
    """The charts, two to a page where they would take more than `room` pages."""
    pages = [chart_page(chart, letters, look) for chart in charts]
    if len(pages) <= room:
        return pages
    return [two_on_a_page(pages[index : index + 2]) for index in range(0, len(pages), 2)]


def _room_of_group(group: Group, folder: str, letters: PageLetters, phrases: Phrases) -> float:
    heading = _HEADING_ROOM if group.folder != folder else 0.0
    entry = entry_height(group.sentence(phrases), letters, column=_ENTRY_X - MARGIN + _ENTRY_COLUMN)
    return heading + max(entry, _THUMB + 10.0)
