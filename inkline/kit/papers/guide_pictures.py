"""The pictures of a kit's guide: a month, layer by layer, as outlines of its exact stamps."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from inkline.geometry.boxes import Box
from inkline.geometry.polygon import bounds
from inkline.kit.recipe.choices import Shows
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.month import MonthChart, month_chart, offer_of
from inkline.kit.stamps.plan import StampPlan
from inkline.output.pdf import Figure
from inkline.pages.pdf_letters import figure_of

_JANUARY = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureLayer:
    """One stamp of the example.

    Attributes:
        kind: `grid`, `dates` or `weekdays`.
        plan: the stamp.
        figure: its outlines, in px of its canvas.
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


def example_of(recipe: Recipe, stamps: Mapping[str, StampPlan], *, year: int) -> Example:
    """January of `year` in the kit's first format that shows months.

    Where none does, it is what the kit's first format has in place of it.
    """
    shape = next((one for one in recipe.formats if one.shows is Shows.MONTH), recipe.formats[0])
    own = {
        name.rpartition("/")[2]: plan for name, plan in stamps.items() if plan.format == shape.name
    }
    stems_wanted = _stems_of_january(recipe, shape, year)
    layers = []
    for kind in ("grid", "dates", "weekdays"):
        stems = [stem for stem in own if stem.startswith(kind)]
        stem = next((one for one in stems_wanted if one in stems), stems[0] if stems else "")
        if stem:
            layers.append(_layer(kind, own[stem]))
    dated = any(layer.kind == "dates" for layer in layers)
    names = (f"words/month-{_JANUARY:02d}", f"words/year-{year}") if dated else ()
    return Example(
        layers=tuple(layers) or (_layer("grid", next(iter(stamps.values()))),),
        words=tuple(_layer("words", stamps[name]) for name in names if name in stamps),
    )


def _stems_of_january(recipe: Recipe, shape: FormatRecipe, year: int) -> tuple[str, ...]:
    """The last parts of the names of January's stamps, those with a row for weekdays first."""
    if shape.shows is not Shows.MONTH:
        return ()
    start, day = next(iter(recipe.starts.items()))
    month: MonthChart = month_chart(offer_of(shape), year, _JANUARY, week_start=day, name="")
    headed = re.sub(r"^(grid-\d)(?!-head)", r"\1-head", month.way.grid)
    return headed, month.way.grid, month.way.dates, f"weekdays-{start}"


def _layer(kind: str, plan: StampPlan) -> PictureLayer:
    return PictureLayer(kind=kind, plan=plan, figure=figure_of(plan.drawing()))
