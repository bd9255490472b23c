"""What is drawn: the stamps of a kit, or the layers of finished months."""

from __future__ import annotations

from inkline.kit.months.plans import month_plans
from inkline.kit.months.recipe import MonthsRecipe
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.catalogue import plan_makers
from inkline.kit.stamps.faults.every import recipe_faults
from inkline.kit.stamps.plan import StampPlan
from inkline.lettering.face import Face
from inkline.source.faults import RecipeError


def catalogue(recipe: Recipe, face: Face) -> tuple[StampPlan, ...]:
    """Plans of all stamps: format by format, then the words; of a recipe with months to be finished, the layers of these.

    Cost: 0.2 s for the default recipe.

    Raises:
        RecipeError: something doesn't fit its place, the face lacks a letter, or a name to be drawn
            again is unknown; all faults at once.
    """
    faults = recipe_faults(recipe, face)
    if faults:
        raise RecipeError(faults)
    if isinstance(recipe, MonthsRecipe):
        return month_plans(recipe, face)
    return tuple(make() for make in plan_makers(recipe, face).values())
