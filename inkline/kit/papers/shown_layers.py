"""Which stamps a sheet lays over each other, and for which year."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from inkline.calendar.months import MONTHS_PER_YEAR
from inkline.kit.recipe.choices import Dates
from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.cells import LONGEST
from inkline.kit.stamps.month import (
    CalendarMonth,
    calendar_month,
    calendar_stems,
    month_that_fits,
)
from inkline.kit.stamps.names import last_part
from inkline.kit.stamps.plan import StampPlan

USUAL_YEAR = 2027
"""The year on the sheets of a kit that has none, and the first of its charts."""


def first_year(recipe: Recipe) -> int:
    """The first year of a kit, or one that stands for all where it has none."""
    return recipe.words.years[0] if recipe.words.years else USUAL_YEAR


def layers_of(
    plans: Mapping[str, StampPlan], shape: FormatRecipe, month: CalendarMonth
) -> tuple[str, ...]:
    """The stamps among `plans` that make a month's calendar on one canvas, back to front."""
    own = {last_part(plan.name): plan.name for plan in plans.values() if plan.format == shape.name}
    names = [own[stem] for stem in calendar_stems(own, shape, month)]
    return tuple(name for name in names if plans[name].canvas == plans[names[0]].canvas)


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
