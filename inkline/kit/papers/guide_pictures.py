"""The pictures of a kit's guide: a month, layer by layer, as outlines of its drawn stamps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from inkline.geometry.boxes import Box
from inkline.geometry.polygon import bounds
from inkline.ink.style import EXACT, Style
from inkline.kit.papers.open_kit import calmer_style
from inkline.kit.recipe.choices import Shows
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.month import calendar_month, calendar_stems
from inkline.kit.stamps.names import Subject, last_part, name_from_text
from inkline.kit.stamps.plan import StampPlan
from inkline.kit.stamps.words import month_name, year_name
from inkline.output.pdf import Figure
from inkline.pages.pdf_letters import figure_of

_JANUARY = 1
HEAD = "head"
"""The kind of the blocks behind the weekdays, which are stamped with the other blocks."""

_SMALL_TOLERANCE_PX = 4.0
"""How far curves of small pictures may stray; 0.02 mm where a canvas is 15 mm wide."""
_KINDS = {
    Subject.BLOCKS: "blocks",
    Subject.HEADER_BLOCKS: HEAD,
    Subject.CUT_BLOCKS: "cut",
    Subject.STRIP_CUT_BLOCKS: "cut",
    Subject.GRID: "grid",
    Subject.DATES: "dates",
    Subject.STRIP_DATES: "dates",
    Subject.WEEKDAYS: "weekdays",
    Subject.STRIP_WEEKDAYS: "weekdays",
}
"""What kind of layer stamps of each subject are; others are none of an example."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureLayer:
    """One stamp of the example.

    Attributes:
        kind: `blocks`, `head`, `cut`, `grid`, `dates`, `weekdays` or `words`.
        plan: the stamp.
        figure: its drawn outlines, in px of its canvas.
    """

    kind: str
    plan: StampPlan
    figure: Figure

    @property
    def box(self) -> Box:
        """Where its ink lies, in px: left, top, right, bottom; the canvas if it has none."""
        if not self.figure.outlines:
            return (0.0, 0.0, float(self.plan.canvas[0]), float(self.plan.canvas[1]))
        left, top, right, bottom = bounds([outline.nodes for outline in self.figure.outlines])
        return (left, top, right, bottom)


@dataclass(frozen=True, slots=True, kw_only=True)
class Example:
    """A finished month.

    Attributes:
        layers: its stamps from back to front, at least one.
        words: stamps that stand over it, from left to right: the month's name and the year; none
            where it has no dates.
    """

    layers: tuple[PictureLayer, ...]
    words: tuple[PictureLayer, ...]

    @property
    def box(self) -> Box:
        """Where the ink of all layers lies, in px of the format's canvas."""
        boxes = [layer.box for layer in self.layers]
        lows, highs = zip(*((box[:2], box[2:]) for box in boxes), strict=True)
        return (
            min(low[0] for low in lows),
            min(low[1] for low in lows),
            max(high[0] for high in highs),
            max(high[1] for high in highs),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideColours:
    """What a guide's pictures are coloured with, each `#rrggbb`.

    Attributes:
        ground: what they lie on.
        ink: of rules and dates.
        block: of blocks.
        cut: of blocks whose dates are cut out.
        word: of names, years and all other words.
    """

    ground: str
    ink: str
    block: str
    cut: str
    word: str

    @classmethod
    def of(cls, palette: tuple[str, ...]) -> GuideColours:
        """The colours of a kit's palette: paper, ink, accent, tint and deep."""
        paper, ink, accent, tint, deep = palette
        return cls(ground=paper, ink=ink, block=tint, cut=deep, word=accent)

    def of_kind(self, kind: str) -> str:
        """The colour of a layer of this kind."""
        own = {"blocks": self.block, HEAD: self.block, "cut": self.cut, "words": self.word}
        return own.get(kind, self.ink)


def scale_and_size(box: Box, side: float) -> tuple[float, tuple[float, float]]:
    """The scale at which a box fits a square of `side` points, and its width and height then."""
    width, height = box[2] - box[0], box[3] - box[1]
    scale = side / max(width, height)
    return scale, (scale * width, scale * height)


def corner_of(box: Box, at: tuple[float, float], scale: float) -> tuple[float, float]:
    """Where a canvas's own corner lies if the box's lies at `at`."""
    return at[0] - scale * box[0], at[1] - scale * box[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ink:
    """What stamps are drawn with.

    Attributes:
        style: the kit's.
        number: its drawing number.
        again: what is drawn again, and how often.
    """

    style: Style
    number: int
    again: Mapping[str, int] = field(default_factory=dict)

    def layer(self, kind: str, plan: StampPlan) -> PictureLayer:
        """A stamp as it is drawn in the kit, without the grain of the paper."""
        style = EXACT if plan.crisp else calmer_style(self.style, plan.raggedness)
        style = replace(style, drawn_at=self.style.drawn_at)
        figure = figure_of(plan.drawing(), style=style, number=self.number, again=self.again)
        return PictureLayer(kind=kind, plan=plan, figure=figure)


def small_layer(kind: str, plan: StampPlan) -> PictureLayer:
    """A stamp as it is laid out, for a picture so small that no ink is seen."""
    figure = figure_of(plan.drawing(), tolerance_px=_SMALL_TOLERANCE_PX)
    return PictureLayer(kind=kind, plan=plan, figure=figure)


def example_of(recipe: Recipe, stamps: Mapping[str, StampPlan], ink: Ink, *, year: int) -> Example:
    """January of `year` in the kit's first format that shows months.

    Where none does, it is what the kit's first format has in place of it.
    """
    shape = next((one for one in recipe.formats if one.shows is Shows.MONTH), recipe.formats[0])
    own = {last_part(name): plan for name, plan in stamps.items() if plan.format == shape.name}
    start = next(iter(recipe.starts))
    month = calendar_month(year, _JANUARY, start=start)
    layers = []
    for stem in calendar_stems(own, shape, month):
        name = name_from_text(stem)
        kind = "" if name is None else _KINDS.get(name.subject, "")
        if kind:
            layers.append(ink.layer(kind, own[stem]))
    dated = any(layer.kind in {"dates", "cut"} for layer in layers)
    names = (month_name(_JANUARY), year_name(year)) if dated else ()
    return Example(
        layers=tuple(layers) or (ink.layer("grid", next(iter(stamps.values()))),),
        words=tuple(ink.layer("words", stamps[name]) for name in names if name in stamps),
    )
