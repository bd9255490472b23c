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
from inkline.kit.papers.guide_setting import BOTTOM, GuidePage, break_lines
from inkline.kit.papers.guide_stamps import HEAD
from inkline.kit.recipe.choices import Shows
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.names import last_part, name_from_text
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
_PICTURE, _SMALLEST, _TEXT_ROOM = 0.86, 0.45, 48.0
"""Side of a step's picture as a share of its column, as small as it may be for all steps to stand
on one page, and the room for its names under it."""
_LINE = 17.0
_HAIR = 1e-6
_NAME_PANEL, _NAME_AIR = 124.0, 12.0
_PALE_BLOCK = "#f1ece4"
"""Of blocks that were stamped before the layer that is shown."""
_ALONE = frozenset({"words", "small", "strip"})
"""Kinds that don't lie on the month's lines."""


def step_pages(
    recipe: Recipe,
    letters: PageLetters,
    look: ChartLook,
    example: Example,
    colours: GuideColours,
    *,
    charts: Sequence[YearChart],
) -> list[PdfPage]:
    """The layers of a month one after another, each over those before it; and what else there is.

    `charts` are those at the guide's end.
    """
    say = look.phrases.say
    steps = _Steps(letters=letters, look=look, example=example, colours=colours)
    steps.begin(say("guide.layers" if example.words else "guide.undated"))
    layers = [layer for layer in example.layers if layer.kind != HEAD]
    keys = [_step_key(layer) for layer in layers] + ["words", "year"][: len(example.words)]
    steps.add(list(zip(keys, (*layers, *example.words), strict=True)), first=1)
    share = _name_share(recipe, look.faces[-1]) if example.words else None
    if share is not None:
        steps.make_room(_NAME_PANEL + 4.0)
        _add_name_panel(steps.sheet, example, colours, share=share)
    if charts:
        steps.add_paragraph(_advice(charts, look))
    if example.further:
        steps.add_heading(say("guide.further"))
        steps.add([(layer.kind, layer) for layer in example.further], first=len(keys) + 1)
    return steps.pages()


def _step_key(layer: PictureLayer) -> str:
    """What the phrases call the step of a layer."""
    name = name_from_text(last_part(layer.plan.name))
    return str(name.split) if name is not None and name.split else layer.kind


def _advice(charts: Sequence[YearChart], look: ChartLook) -> str:
    """Where to learn which stamps a month needs, and what to erase."""
    years = list(dict.fromkeys(chart.year for chart in charts))
    span = str(years[0]) if len(years) == 1 else f"{years[0]}\N{EN DASH}{years[-1]}"
    said = [look.phrases.say("guide.charts"), look.phrases.say("guide.chart_years", years=span)]
    if any(month.way.erase for chart in charts for month in chart.months):
        said.append(look.phrases.say("guide.erase"))
    return " ".join(said)


class _Steps:
    """Pages of steps while they are set, a row of them after another.

    Attributes:
        sheet: the page that is set.
    """

    def __init__(
        self, *, letters: PageLetters, look: ChartLook, example: Example, colours: GuideColours
    ) -> None:
        self.sheet = GuidePage(letters=letters, look=look, title="")
        self._letters, self._look = letters, look
        self._example, self._colours = example, colours
        self._pages: list[PdfPage] = []

    @property
    def side(self) -> float:
        """How wide a step is."""
        return (self.sheet.width - (_COLUMNS - 1) * _GAP) / _COLUMNS

    def begin(self, title: str) -> None:
        """Begin a page."""
        self.sheet = GuidePage(letters=self._letters, look=self._look, title=title)
        self.sheet.add_head()
        self.sheet.y -= 22.0

    def make_room(self, height: float) -> None:
        """Go on on another page if there is less room than that on this one."""
        if self.sheet.y + height > BOTTOM + _HAIR:
            self._pages.append(self.sheet.page())
            self.begin(self.sheet.title)

    def add(self, steps: Sequence[tuple[str, PictureLayer]], *, first: int) -> None:
        """Add steps by their keys, numbered from `first` on."""
        say, side = self._look.phrases.say, self.side
        texts = [
            tuple(say(f"steps.{key}.{part}") for part in ("title", "about")) for key, _ in steps
        ]
        rows = [
            range(start, min(start + _COLUMNS, len(steps)))
            for start in range(0, len(steps), _COLUMNS)
        ]
        counts = [max(len(self._lines(texts[index][1])) for index in row) for row in rows]
        below = [18.0 + _TEXT_ROOM + n_lines * _LINE for n_lines in counts]
        square = self._square(sum(below), len(rows))
        _, (_, height) = scale_and_size(self._example.box, square)
        for row, under in zip(rows, below, strict=True):
            whole = height + under
            self.make_room(whole)
            top = self.sheet.y
            for column, index in enumerate(row):
                at = (MARGIN + column * (side + _GAP), top)
                step = _Step(
                    sheet=self.sheet,
                    example=self._example,
                    colours=self._colours,
                    at=at,
                    side=side,
                    square=square,
                )
                title, about = texts[index]
                step.add(f"{first + index}  {title}", about, steps[index][1])
            self.sheet.y = top + whole

    def _square(self, below: float, n_rows: int) -> float:
        """Side of pictures for rows to stand on this page, if they can with text `below` them."""
        most = _PICTURE * self.side
        _, (_, height) = scale_and_size(self._example.box, most)
        fitting = (BOTTOM - self.sheet.y - below) / (n_rows * height)
        return most * min(1.0, fitting) if fitting * _PICTURE >= _SMALLEST else most

    def _lines(self, text: str) -> tuple[str, ...]:
        return break_lines(text, self._letters, width=self.side, height=TEXT)

    def add_paragraph(self, text: str) -> None:
        """Add a paragraph as wide as the page."""
        lines = break_lines(text, self._letters, width=self.sheet.width, height=TEXT)
        self.make_room(len(lines) * _LINE)
        self.sheet.add_paragraph(text)

    def add_heading(self, text: str) -> None:
        """Add a heading over steps, on the page on which these begin."""
        _, (_, height) = scale_and_size(self._example.box, _PICTURE * self.side)
        self.make_room(height + 18.0 + _TEXT_ROOM + 3.0 * _LINE + 40.0)
        self.sheet.add_heading(text)
        self.sheet.y += 4.0

    def pages(self) -> list[PdfPage]:
        """All of them."""
        return [*self._pages, self.sheet.page()]


class _Step:
    """One step on a page.

    Args:
        sheet: the page.
        example: the month.
        colours: of its layers.
        at: where its upper left corner lies.
        side: how wide it is.
        square: side of its picture.
    """

    def __init__(
        self,
        *,
        sheet: GuidePage,
        example: Example,
        colours: GuideColours,
        at: tuple[float, float],
        side: float,
        square: float,
    ) -> None:
        self.sheet, self.example, self.colours = sheet, example, colours
        self.at, self.side, self.square = at, side, square

    def add(self, title: str, sentence: str, layer: PictureLayer) -> None:
        """Put one layer in colour over those before it in pale, with what it is under it."""
        sheet, (left, top), side, square = self.sheet, self.at, self.side, self.square
        _, (_, height) = scale_and_size(self.example.box, square)
        sheet.add_card((left, top, left + side, top + height + 18.0), colour=self.colours.ground)
        corner = (left + 0.5 * (side - square), top + 9.0)
        if layer.plan.canvas == self.example.layers[0].plan.canvas and layer.kind not in _ALONE:
            self._add_layer(layer, corner, square)
        else:
            self._add_alone(layer, corner, (square, height))
        base = top + height + 34.0
        for text, at, tone in (
            (title, base, Tone.STRONG),
            (_file_name(layer.plan), base + 14.0, Tone.ACCENT),
        ):
            words = TextLine(text=text, x=left, baseline=at, height=TEXT, tone=tone, room=side)
            sheet.items += sheet.letters.plain_items(words)
        sheet.y = base + 15.0
        sheet.add_paragraph(sentence, x=left, width=side, tone=Tone.SOFT)

    def _add_layer(self, layer: PictureLayer, corner: tuple[float, float], square: float) -> None:
        """A layer over those before it."""
        scale, (width, _) = scale_and_size(self.example.box, square)
        corner = (corner[0] + 0.5 * (square - width), corner[1])
        layers = self.example.layers
        before = layers[: layers.index(layer)] if layer in layers else _under(layers, layer)
        inks = [(one.figure, _pale(one.kind)) for one in before if one.kind != HEAD]
        inks.append((layer.figure, self.colours.of_kind(layer.kind)))
        if layer.kind == "blocks":
            inks += [
                (one.figure, self.colours.block) for one in self.example.layers if one.kind == HEAD
            ]
        self.sheet.add_figures(inks, at=corner_of(self.example.box, corner, scale), scale=scale)

    def _add_alone(
        self, layer: PictureLayer, corner: tuple[float, float], room: tuple[float, float]
    ) -> None:
        """A stamp by itself in the middle of its card."""
        x0, y0, x1, y1 = layer.box
        high = 0.3 if layer.kind == "words" else 1.0
        scale = min(room[0] / (x1 - x0), high * room[1] / (y1 - y0))
        at = (
            corner[0] + 0.5 * (room[0] - scale * (x1 - x0)),
            corner[1] + 0.5 * (room[1] - scale * (y1 - y0)),
        )
        figures = [(layer.figure, self.colours.of_kind(layer.kind))]
        self.sheet.add_figures(figures, at=corner_of(layer.box, at, scale), scale=scale)


def _under(layers: Sequence[PictureLayer], layer: PictureLayer) -> list[PictureLayer]:
    """What lies in pale under a stamp that the month doesn't show: its grid, under marks all."""
    return [one for one in layers if one.kind == "grid" or layer.kind == "marks"]


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
        text=sheet.look.phrases.say("guide.name_size"),
        x=x,
        baseline=sheet.y,
        height=TEXT,
        tone=Tone.STRONG,
    )
    sheet.items += sheet.letters.plain_items(heading)
    percent = f"{100.0 * share:.0f} %"
    sheet.add_paragraph(
        sheet.look.phrases.say("guide.name_size_about", percent=percent),
        x=x,
        width=A4[0] - MARGIN - _NAME_AIR - x,
        tone=Tone.SOFT,
    )
    sheet.y = top + _NAME_PANEL + 4.0
