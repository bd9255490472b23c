"""The steps of a guide: the layers of a month one after another, and how large its name is."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePosixPath

from inkline.kit.months.title import title_setting
from inkline.kit.papers.chart_pdf import A4, MARGIN, TEXT
from inkline.kit.papers.chart_png import ChartLook
from inkline.kit.papers.guide_pictures import (
    Example,
    GuideColours,
    PictureLayer,
    corner_of,
    scale_and_size,
)
from inkline.kit.papers.guide_setting import GuidePage
from inkline.kit.papers.guide_stamps import HEAD
from inkline.kit.recipe.choices import Shows
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.place import place_of
from inkline.kit.stamps.plan import StampPlan
from inkline.kit.stamps.words import word_size
from inkline.kit.stamps.year_chart import YearChart
from inkline.lettering.face import Face
from inkline.output.pdf import PdfPage
from inkline.pages.lines import TextLine, Tone
from inkline.pages.palette import PALE_INK
from inkline.pages.pdf_letters import PageLetters

_COLUMNS, _GAP = 3, 14.0
_PICTURE, _TEXT_ROOM = 0.86, 88.0
"""Side of a step's picture as a share of its column, and the room for what stands under it."""
_NAME_PANEL, _NAME_AIR = 124.0, 12.0
_PALE_BLOCK = "#f1ece4"
"""Of blocks that were stamped before the layer that is shown."""
_STEPS = {
    "blocks": (
        "The blocks",
        "They lie lowest, in a pale colour. Leave out those without a day, or erase them.",
    ),
    "cut": (
        "Blocks, dates cut out",
        "They are blocks and dates in one, so no other dates go over them.",
    ),
    "grid": ("The grid", "The rules, with as many rows as the month has weeks."),
    "dates": (
        "The dates",
        "The number in their name is the column in which the 1st stands.",
    ),
    "weekdays": ("The weekdays", "Take those that begin on the day you like."),
    "words": ("The name", "It has a picture of its own, and stands above the calendar."),
    "year": ("The year", "With their middles level, name and year stand on one line."),
}
_ADVICE_CHARTS = "Which stamps a month needs is in the charts at the end."
_ADVICE_ERASE = (
    "Where a chart says erase, take those numerals away with an eraser on the layer of the dates."
)


def step_pages(
    recipe: Recipe,
    letters: PageLetters,
    look: ChartLook,
    example: Example,
    charts: Sequence[YearChart],
    colours: GuideColours,
) -> list[PdfPage]:
    """The layers of a month one after another, each over those before it, on one page."""
    title = "A month, layer by layer" if example.words else "Layer by layer"
    sheet = GuidePage(letters=letters, look=look, title=title)
    sheet.add_head()
    sheet.y -= 22.0
    side = (sheet.width - (_COLUMNS - 1) * _GAP) / _COLUMNS
    steps = [layer for layer in example.layers if layer.kind != HEAD]
    kinds = [layer.kind for layer in steps] + ["words", "year"][: len(example.words)]
    top, height = sheet.y, 0.0
    for index, layer in enumerate((*steps, *example.words)):
        column = index % _COLUMNS
        if index and not column:
            top += height + _GAP
        at = (MARGIN + column * (side + _GAP), top)
        step = _Step(sheet=sheet, example=example, colours=colours, at=at, side=side)
        height = step.add(index, layer, kinds[index])
    sheet.y = top + height + 4.0
    share = _name_share(recipe, look.faces[-1]) if example.words else None
    if share is not None:
        _add_name_panel(sheet, example, colours, share=share)
    if charts:
        erase = any(month.way.erase for chart in charts for month in chart.months)
        sheet.add_paragraph(f"{_ADVICE_CHARTS} {_ADVICE_ERASE}" if erase else _ADVICE_CHARTS)
    return [sheet.page()]


class _Step:
    """One step on a page.

    Args:
        sheet: the page.
        example: the month.
        colours: of its layers.
        at: where its upper left corner lies.
        side: how wide it is.
    """

    def __init__(
        self,
        *,
        sheet: GuidePage,
        example: Example,
        colours: GuideColours,
        at: tuple[float, float],
        side: float,
    ) -> None:
        self.sheet, self.example, self.colours = sheet, example, colours
        self.at, self.side = at, side

    def add(self, index: int, layer: PictureLayer, kind: str) -> float:
        """Put one layer in colour over those before it in pale; gives the height that it takes."""
        sheet, (left, top), side = self.sheet, self.at, self.side
        square = _PICTURE * side
        _, (_, height) = scale_and_size(self.example.box, square)
        sheet.add_card((left, top, left + side, top + height + 18.0), colour=self.colours.ground)
        corner = (left + 0.5 * (side - square), top + 9.0)
        if layer.kind == "words":
            self._add_word(layer, corner, (square, height))
        else:
            self._add_layer(layer, corner, square)
        title, sentence = _STEPS[kind]
        base = top + height + 34.0
        for text, at, tone in (
            (f"{index + 1}  {title}", base, Tone.STRONG),
            (_file_name(layer.plan), base + 14.0, Tone.ACCENT),
        ):
            words = TextLine(text=text, x=left, baseline=at, height=TEXT, tone=tone, room=side)
            sheet.items += sheet.letters.plain_items(words)
        sheet.y = base + 15.0
        sheet.add_paragraph(sentence, x=left, width=side, tone=Tone.SOFT)
        return height + 18.0 + _TEXT_ROOM

    def _add_layer(self, layer: PictureLayer, corner: tuple[float, float], square: float) -> None:
        """A layer over those before it."""
        scale, (width, _) = scale_and_size(self.example.box, square)
        corner = (corner[0] + 0.5 * (square - width), corner[1])
        before = self.example.layers[: self.example.layers.index(layer)]
        inks = [(one.figure, _pale(one.kind)) for one in before if one.kind != HEAD]
        inks.append((layer.figure, self.colours.of_kind(layer.kind)))
        if layer.kind == "blocks":
            inks += [
                (one.figure, self.colours.block) for one in self.example.layers if one.kind == HEAD
            ]
        self.sheet.add_figures(inks, at=corner_of(self.example.box, corner, scale), scale=scale)

    def _add_word(
        self, layer: PictureLayer, corner: tuple[float, float], room: tuple[float, float]
    ) -> None:
        """A word by itself in the middle of its card."""
        x0, y0, x1, y1 = layer.box
        scale = min(room[0] / (x1 - x0), 0.3 * room[1] / (y1 - y0))
        at = (
            corner[0] + 0.5 * (room[0] - scale * (x1 - x0)),
            corner[1] + 0.5 * (room[1] - scale * (y1 - y0)),
        )
        figures = [(layer.figure, self.colours.word)]
        self.sheet.add_figures(figures, at=corner_of(layer.box, at, scale), scale=scale)


def _pale(kind: str) -> str:
    return _PALE_BLOCK if kind in {"blocks", HEAD} else PALE_INK


def _file_name(plan: StampPlan) -> str:
    return PurePosixPath(plan.file).stem


def _name_share(recipe: Recipe, face: Face) -> float | None:
    """How large a month's name is over its calendar, as a share of the calendar's own size.

    It is as finished months have it; None where no format shows a month.
    """
    shape = next((one for one in recipe.formats if one.shows is Shows.MONTH), None)
    if shape is None:
        return None
    year = min(recipe.words.years, default=2000)
    setting = title_setting(place_of(recipe, shape, face), year, language=recipe.words.language)
    return setting.size.height_px / word_size(recipe, face).height_px


def _add_name_panel(
    sheet: GuidePage, example: Example, colours: GuideColours, *, share: float
) -> None:
    """The top of a month with its name and year as large as they should be, and that in words."""
    left, top, right = MARGIN, sheet.y, A4[0] - MARGIN
    x0, y0, x1, y1 = example.box
    sheet.add_card((left, top, right, top + _NAME_PANEL), colour=colours.ground)
    tall = max(word.box[3] - word.box[1] for word in example.words)
    scale = (_NAME_PANEL - 2.0 * _NAME_AIR) / (y1 - y0 + 1.6 * share * tall)
    size, width, x = share * scale, scale * (x1 - x0), MARGIN + _NAME_AIR
    baseline = top + _NAME_AIR + size * tall
    for word, edge in zip(example.words, (0, 2), strict=False):
        side = x + (width if edge else 0.0)
        at = (side - size * word.box[edge], baseline - size * word.box[3])
        sheet.add_figures([(word.figure, colours.word)], at=at, scale=size)
    month = [(one.figure, colours.of_kind(one.kind)) for one in example.layers]
    corner = (x, baseline + 0.6 * size * tall)
    sheet.add_figures(month, at=corner_of(example.box, corner, scale), scale=scale)
    x += width + 24.0
    sheet.y = top + 0.42 * _NAME_PANEL
    heading = TextLine(
        text="How large the name is", x=x, baseline=sheet.y, height=TEXT, tone=Tone.STRONG
    )
    sheet.items += sheet.letters.plain_items(heading)
    percent = f"{100.0 * share:.0f} %"
    sheet.add_paragraph(
        f"Name and year stand best at {percent} of the size of the other stamps, flush with the "
        "sides of the grid.",
        x=x,
        width=A4[0] - MARGIN - _NAME_AIR - x,
        tone=Tone.SOFT,
    )
    sheet.y = top + _NAME_PANEL + 4.0
