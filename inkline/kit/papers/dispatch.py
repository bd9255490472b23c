"""Which papers there are, and each by its name."""

from __future__ import annotations

from inkline.kit.months.recipe import MonthsRecipe
from inkline.kit.papers.calendars import month_sheet_made, month_sheet_names
from inkline.kit.papers.layouts import LAYOUT, layout_month, layout_sheet
from inkline.kit.papers.overview import OVERVIEW, overview_sheet
from inkline.kit.papers.parts import Sheet, SheetJob, layers_of
from inkline.press.shop import Workshop


def sheet_names(shop: Workshop) -> dict[str, tuple[str, ...]]:
    """The stamps that each sheet of the kit shows, back to front, by the sheet's name."""
    if isinstance(shop.recipe, MonthsRecipe):
        return month_sheet_names(shop.recipe, tuple(shop.plans.values()))
    shapes = ((shape, layout_month(shop.recipe, shape)) for shape in shop.recipe.formats)
    layers = {
        f"{shape.name}/{LAYOUT}": layers_of(shop.plans, shape, shown) for shape, shown in shapes
    }
    return {name: stamps for name, stamps in layers.items() if stamps} | {
        OVERVIEW: tuple(shop.plans)
    }


def sheet_made(shop: Workshop, job: SheetJob) -> Sheet:
    """The sheet that `job` asks for."""
    if isinstance(shop.recipe, MonthsRecipe):
        return month_sheet_made(shop, shop.recipe, job)
    return overview_sheet(shop, job) if job.name == OVERVIEW else layout_sheet(shop, job)
