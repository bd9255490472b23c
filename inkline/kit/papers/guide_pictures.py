"""The pictures of a kit's guide: a month, layer by layer, as outlines of its exact stamps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from inkline.geometry.boxes import Box
from inkline.geometry.polygon import bounds
from inkline.kit.recipe.choices import Shows
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.month import assemblies_of, calendar_month, offer_of
from inkline.kit.stamps.names import StampName, Subject, last_part, name_from_text
from inkline.kit.stamps.plan import StampPlan
from inkline.kit.stamps.words import month_name, year_name
from inkline.output.pdf import Figure
from inkline.pages.pdf_letters import figure_of

_JANUARY = 1
_SUBJECTS = {
    "grid": (Subject.GRID,),
    "dates": (Subject.DATES, Subject.STRIP_DATES),
    "weekdays": (Subject.WEEKDAYS, Subject.STRIP_WEEKDAYS),
}
"""What stamps of each kind of layer show."""


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
    own = {last_part(name): plan for name, plan in stamps.items() if plan.format == shape.name}
    stems_wanted = _stems_of_january(recipe, shape, year)
    layers = []
    for kind, subjects in _SUBJECTS.items():
        stems = [
            stem for stem in own if (name := name_from_text(stem)) and name.subject in subjects
        ]
        stem = next((one for one in stems_wanted if one in stems), stems[0] if stems else "")
        if stem:
            layers.append(_layer(kind, own[stem]))
    dated = any(layer.kind == "dates" for layer in layers)
    names = (month_name(_JANUARY), year_name(year)) if dated else ()
    return Example(
        layers=tuple(layers) or (_layer("grid", next(iter(stamps.values()))),),
        words=tuple(_layer("words", stamps[name]) for name in names if name in stamps),
    )


def _stems_of_january(recipe: Recipe, shape: FormatRecipe, year: int) -> tuple[str, ...]:
    """The last parts of the names of January's stamps, those with a row for weekdays first."""
    if shape.shows is not Shows.MONTH:
        return ()
    start = next(iter(recipe.starts))
    assembly = assemblies_of(offer_of(shape), calendar_month(year, _JANUARY, start=start))[0]
    grid = name_from_text(assembly.grid)
    headed = replace(grid, head=True).stem if grid else ""
    weekdays = StampName(subject=Subject.WEEKDAYS, start=start)
    return headed, assembly.grid, assembly.dates, weekdays.stem


def _layer(kind: str, plan: StampPlan) -> PictureLayer:
    return PictureLayer(kind=kind, plan=plan, figure=figure_of(plan.drawing()))
