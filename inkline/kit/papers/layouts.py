"""The layout sheet of a format: all its layers over each other, drawn over exact."""

from __future__ import annotations

from dataclasses import replace

from inkline.calendar.months import MONTHS_PER_YEAR
from inkline.ink.engine import draw
from inkline.ink.style import EXACT
from inkline.kit.papers.open_kit import OpenKit
from inkline.kit.papers.parts import Pictures, Sheet, SheetJob, first_year
from inkline.kit.recipe.choices import Dates
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.cells import LONGEST
from inkline.kit.stamps.month import CalendarMonth, calendar_month, month_that_fits
from inkline.output.png import colour_png_bytes
from inkline.pages.page import Page, fitted_size, shrink_picture
from inkline.pages.palette import DRAWN_BLOCK, DRAWN_LINE, EXACT_BLOCK, EXACT_LINE, WHITE
from inkline.raster.compose import render

LAYOUT = "layout"
_LAYOUT_SIDE = 2500
"""Layouts are no larger than this, in px, whatever the canvas."""


def layout_month(recipe: Recipe, shape: FormatRecipe) -> CalendarMonth:
    """The month on a format's layout: one of 31 days that begins with the week.

    If the year has none, it is one that fits the format.
    """
    year, start = first_year(recipe), next(iter(recipe.starts))
    months = (calendar_month(year, month, start=start) for month in range(1, MONTHS_PER_YEAR + 1))
    begins = (month for month in months if month.offset == 0 and month.days == LONGEST)
    return next(begins, None) or month_that_fits(shape, year, start=start)


def with_most_rows(shape: FormatRecipe) -> FormatRecipe:
    """`shape` with only its fullest grids, of which a layout shows how they line up.

    Where dates end with the month it stays as it is: blocks that they are cut out of have no more
    rows than these need.
    """
    is_full = shape.dates is Dates.TO_31
    return replace(shape, weeks=shape.weeks[-1:]) if is_full else shape


def layout_sheet(kit: OpenKit, job: SheetJob) -> Sheet:
    """All layers of one format over each other: blocks pale, the rest strong, drawn over exact."""
    plans = [kit.plans[name] for name in job.names]
    size = fitted_size(plans[0].canvas, within=(_LAYOUT_SIDE, _LAYOUT_SIDE))
    blocks = [plan for plan in plans if plan.kind == "blocks"]
    others = [plan for plan in plans if plan.kind != "blocks"]
    page, pictures = Page(size, colour=WHITE), Pictures()
    for group, exact, drawn in (
        (blocks, EXACT_BLOCK, DRAWN_BLOCK),
        (others, EXACT_LINE, DRAWN_LINE),
    ):
        for plan in group:
            picture = render(draw(plan.drawing(), EXACT, kit.recipe.number))
            page.ink(shrink_picture(picture, size=size), at=(0, 0), colour=exact)
        for plan in group:
            picture = pictures.picture(job.folder / plan.file, canvas=plan.canvas)
            page.ink(shrink_picture(picture, size=size), at=(0, 0), colour=drawn)
    ppi = kit.recipe.ppi * size[0] / plans[0].canvas[0]
    return Sheet(
        name=job.name, picture=colour_png_bytes(page.srgb(), ppi=ppi), notes=tuple(pictures.notes)
    )
