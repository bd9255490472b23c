"""The sheets of finished months: the layers of each month in colour, and a poster of a year."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from inkline.calendar.months import MONTHS_PER_YEAR
from inkline.drawing import Drawing, Layer, Role
from inkline.ink.engine import draw
from inkline.kit.months.recipe import MonthsRecipe
from inkline.kit.months.title import year_marks
from inkline.kit.papers.open_kit import OpenKit
from inkline.kit.papers.parts import Pictures, drawn_box, picture_part
from inkline.kit.papers.poster import Poster, set_poster
from inkline.kit.papers.sheet import CALENDAR, Sheet, SheetJob
from inkline.kit.stamps.names import MonthLayer, folder_of, last_part, month_folder
from inkline.kit.stamps.plan import StampPlan
from inkline.output.forms import FORMS
from inkline.output.look import FileLook, Ground
from inkline.output.outlines import StampOutlines
from inkline.output.png import colour_png_bytes
from inkline.pages.page import Page, fitted_size, shrink_picture
from inkline.pages.palette import ACCENT, INK, PALE_BLOCK, SOFT, STRONG_BLOCK, WHITE
from inkline.raster.compose import render

_LARGEST_SIDE = 5000
"""Calendars in colour are no larger than this, in px, whatever the canvas: a page of light takes
twelve bytes a pixel."""
_COLOURS: Mapping[str, str] = {
    MonthLayer.BLOCKS: PALE_BLOCK,
    MonthLayer.HEADER_BLOCKS: PALE_BLOCK,
    MonthLayer.SATURDAYS: ACCENT,
    MonthLayer.SUNDAYS: ACCENT,
    MonthLayer.MARKS: ACCENT,
    MonthLayer.WEEKS: SOFT,
    MonthLayer.BEFORE: SOFT,
    MonthLayer.AFTER: SOFT,
}
"""Colours of layers by their names; all others are ink."""
_NOT_ON_POSTERS = frozenset({MonthLayer.YEAR, MonthLayer.BEFORE, MonthLayer.AFTER})
"""Layers that a poster of twelve months, all in their places, has no need of."""
_POSTER_PPI = 300.0


def month_sheet_names(
    recipe: MonthsRecipe, plans: Sequence[StampPlan]
) -> dict[str, tuple[str, ...]]:
    """The layers that each sheet of finished months shows, back to front, by the sheet's name."""
    folders: dict[str, list[str]] = {}
    for plan in plans:
        folders.setdefault(folder_of(plan.name), []).append(plan.name)
    sheets = {f"{folder}/{CALENDAR}": tuple(names) for folder, names in folders.items()}
    for year in recipe.full_years:
        for shape in recipe.shapes:
            months = (
                month_folder(year, month, shape.name) for month in range(1, MONTHS_PER_YEAR + 1)
            )
            shown = (
                name
                for month in months
                for name in folders[month]
                if last_part(name) not in _NOT_ON_POSTERS
            )
            sheets[poster_name(year, shape.name)] = tuple(shown)
    return sheets


def month_sheet(kit: OpenKit, job: SheetJob) -> Sheet:
    """The sheet that `job` asks for: one month, or a year."""
    if job.name.endswith(f"/{CALENDAR}"):
        return _calendar(kit, job)
    year, _, shape = job.name.partition("-")
    return _poster(kit, job, year=int(year), shape=shape)


@dataclass(frozen=True, eq=False, kw_only=True)
class _Layer:
    """A layer of a finished month as forms of files see it: a picture in its colour."""

    name: str
    canvas: tuple[int, int]
    ppi: float
    colour: str | None
    picture: NDArray[np.uint8]
    is_visible: bool = True
    outlines: StampOutlines | None = None


def layered_month(kit: OpenKit, job: SheetJob) -> Sheet:
    """One month as a file of layers, as an export on white makes it."""
    plans = [kit.plans[name] for name in job.names]
    pictures, colours = Pictures(), _layer_colours(plans)
    layers = [
        _Layer(
            name=plan.name,
            canvas=plan.canvas,
            ppi=kit.recipe.ppi,
            colour=colours[plan.name],
            picture=shrink_picture(
                pictures.picture(job.folder / plan.file, canvas=plan.canvas), size=plan.canvas
            ),
        )
        for plan in plans
    ]
    data = FORMS["ora"].make(layers, FileLook(ground=Ground.WHITE))
    return Sheet(name=job.name, picture=data, notes=tuple(pictures.notes))


def _layer_colours(plans: Sequence[StampPlan]) -> dict[str, str]:
    """The colours in which the layers of a month are printed, by their names.

    Over strong blocks marks are dark.
    """
    colours = dict(_COLOURS)
    if any(plan.cut is not None for plan in plans):
        colours |= {MonthLayer.BLOCKS: STRONG_BLOCK, MonthLayer.MARKS: INK}
    return {plan.name: colours.get(last_part(plan.name), INK) for plan in plans}


def colours_of_months(plans: Iterable[StampPlan]) -> dict[str, str]:
    """The colours of all layers of several months, by their names."""
    folders: dict[str, list[StampPlan]] = {}
    for plan in plans:
        folders.setdefault(folder_of(plan.name), []).append(plan)
    return {name: one for own in folders.values() for name, one in _layer_colours(own).items()}


def poster_name(year: int, shape: str) -> str:
    """What the poster of a year in the format called `shape` is called."""
    return f"{year:04d}-{shape}"


def _calendar(kit: OpenKit, job: SheetJob) -> Sheet:
    """All layers of one month over each other, each in its colour, on white."""
    plans = [kit.plans[name] for name in job.names]
    canvas = plans[0].canvas
    size = fitted_size(canvas, within=(_LARGEST_SIDE, _LARGEST_SIDE))
    page, pictures, colours = Page(size, colour=WHITE), Pictures(), _layer_colours(plans)
    for plan in plans:
        picture = pictures.picture(job.folder / plan.file, canvas=canvas)
        page.ink(shrink_picture(picture, size=size), at=(0, 0), colour=colours[plan.name])
    ppi = kit.recipe.ppi * size[0] / canvas[0]
    return Sheet(
        name=job.name, picture=colour_png_bytes(page.srgb(), ppi=ppi), notes=tuple(pictures.notes)
    )


def _poster(kit: OpenKit, job: SheetJob, *, year: int, shape: str) -> Sheet:
    """Twelve months under their year, all at one scale."""
    plans = [kit.plans[name] for name in job.names]
    canvas, part = plans[0].canvas, drawn_box(plans)
    poster = set_poster((part[2] - part[0], part[3] - part[1]))
    poster = poster.mirror() if kit.recipe.mirrored else poster
    page, pictures, colours = Page(poster.size, colour=WHITE), Pictures(), _layer_colours(plans)
    for month, place in enumerate(poster.places, start=1):
        folder = month_folder(year, month, shape)
        for plan in (plan for plan in plans if folder_of(plan.name) == folder):
            picture = pictures.picture(job.folder / plan.file, canvas=canvas)
            shown = picture_part(picture, part, canvas=canvas, size=poster.tile)
            page.ink(shown, at=place, colour=colours[plan.name])
    page.ink(_year_picture(kit, poster, year), at=(0, 0), colour=INK)
    return Sheet(
        name=job.name,
        picture=colour_png_bytes(page.srgb(), ppi=_POSTER_PPI),
        notes=tuple(pictures.notes),
    )


def _year_picture(kit: OpenKit, poster: Poster, year: int) -> NDArray[np.uint8]:
    """The year at the poster's head: the kit's own stamp of it, enlarged, hand and all."""
    recipe = kit.recipe
    marks, larger = year_marks(
        recipe,
        kit.face,
        year,
        middle=poster.size[0] / 2.0,
        baseline=poster.baseline,
        height_px=poster.letters,
    )
    drawing = Drawing(
        name=f"{year:04d}",
        canvas=poster.size,
        sheet_px=recipe.side_px * larger,
        layers=(Layer(name=Role.WORD, marks=marks),),
    )
    return render(draw(drawing, kit.style, recipe.number, again=recipe.again))
