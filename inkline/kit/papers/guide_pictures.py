"""The pictures of a kit's guide: a month, layer by layer, as outlines of its drawn stamps."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from inkline.geometry.boxes import Box
from inkline.geometry.polygon import bounds
from inkline.ink.master import Master
from inkline.ink.style import EXACT, Style
from inkline.kit.papers.guide_stamps import HEAD, example_stamps
from inkline.kit.papers.open_kit import calmer_style
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.plan import StampPlan
from inkline.output.pdf import Figure
from inkline.pages.pdf_letters import figure_of

_SMALL_TOLERANCE_PX = 4.0
"""How far curves of small pictures may stray; 0.02 mm where a canvas is 15 mm wide."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureLayer:
    """One stamp of the example.

    Attributes:
        kind: `blocks`, `head`, `cut`, `grid`, `dates`, `weekdays` or `words`, or one of further
            stamps: `weeks`, `marks`, `small` or `strip`.
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
        further: stamps of other kinds that a month may have.
    """

    layers: tuple[PictureLayer, ...]
    words: tuple[PictureLayer, ...]
    further: tuple[PictureLayer, ...] = ()

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
        own["marks"] = self.word
        return own.get(kind, self.ink)


def scale_and_size(box: Box, side: float) -> tuple[float, tuple[float, float]]:
    """The scale at which a box fits a square of `side` points, and its width and height then."""
    width, height = box[2] - box[0], box[3] - box[1]
    scale = side / max(width, height)
    return scale, (scale * width, scale * height)


def corner_of(box: Box, at: tuple[float, float], scale: float) -> tuple[float, float]:
    """Where a canvas's own corner lies if the box's lies at `at`."""
    return at[0] - scale * box[0], at[1] - scale * box[1]


Kept = Callable[[str], Mapping[str, Master]]
"""Gives the masters of a stamp by its name, by their keys."""


def no_masters(_: str) -> Mapping[str, Master]:
    """None, whatever the stamp: all of it is drawn."""
    return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Ink:
    """What stamps are drawn with.

    Attributes:
        style: the kit's.
        number: its drawing number.
        again: what is drawn again, and how often.
        kept: gives the masters of a stamp by its name, as far as there are any: what has one is not
            drawn.
    """

    style: Style
    number: int
    again: Mapping[str, int] = field(default_factory=dict)
    kept: Kept = no_masters

    def layer(self, kind: str, plan: StampPlan) -> PictureLayer:
        """A stamp as it is drawn in the kit, without the grain of the paper."""
        style = EXACT if plan.crisp else calmer_style(self.style, plan.raggedness)
        style = replace(style, drawn_at=self.style.drawn_at)
        figure = figure_of(
            plan.drawing(),
            style=style,
            number=self.number,
            again=self.again,
            kept=self.kept(plan.name),
        )
        return PictureLayer(kind=kind, plan=plan, figure=figure)


def small_layer(kind: str, plan: StampPlan) -> PictureLayer:
    """A stamp as it is laid out, for a picture so small that no ink is seen."""
    figure = figure_of(plan.drawing(), tolerance_px=_SMALL_TOLERANCE_PX)
    return PictureLayer(kind=kind, plan=plan, figure=figure)


def example_of(recipe: Recipe, stamps: Mapping[str, StampPlan], ink: Ink, *, year: int) -> Example:
    """The month of `example_stamps`, drawn."""
    shown = example_stamps(recipe, stamps, year=year)
    return Example(
        layers=tuple(ink.layer(kind, plan) for kind, plan in shown.layers),
        words=tuple(ink.layer("words", plan) for plan in shown.words),
        further=tuple(ink.layer(kind, plan) for kind, plan in shown.further),
    )
