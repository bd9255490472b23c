"""The catalogue: every stamp of a kit by its name, as a plan that draws itself exactly when asked."""

from __future__ import annotations

from pathlib import Path

from inkline.errors import InputError
from inkline.kit.months.plans import month_plans
from inkline.kit.months.recipe import MonthsRecipe
from inkline.kit.recipe.model import Recipe
from inkline.kit.stamps.catalogue_plans import StampPlan, plan_makers
from inkline.kit.stamps.faults.every import recipe_faults
from inkline.lettering.errors import FamilyError
from inkline.lettering.face import Face
from inkline.lettering.family import family_path, open_family
from inkline.lettering.font import open_font
from inkline.lettering.swap import swapped_face
from inkline.lettering.writing import face_in_way
from inkline.source.faults import RecipeError, nearest

__all__ = ["StampPlan", "catalogue", "face_of", "plan_by_name", "stamp_names"]


def face_of(recipe: Recipe, *, font: Path | None = None) -> Face:
    """The letters that `recipe` asks for, or those of the file `font` in their place.

    Raises:
        InputError: no such family, or a font that cannot be used.
    """
    file = font or recipe.font
    if file is not None:
        face = face_in_way(open_font(file, axes=dict(recipe.axes)), way=recipe.way)
    elif recipe.axes:
        raise RecipeError(
            [recipe.fault("lettering.axes", "lettering.axes needs a variable font, and the letters are a family's")]
        )
    else:
        face = open_family(family_path(recipe.family))
    try:
        return swapped_face(face, dict(recipe.swaps), folder=recipe.folder)
    except FamilyError as error:
        raise RecipeError([recipe.fault("lettering.swap", f"lettering.swap: {error}")]) from error


def catalogue(recipe: Recipe, face: Face) -> tuple[StampPlan, ...]:
    """Plans of all stamps: format by format, then the words; of a recipe with months to be finished, the layers of these.

    Cost: 0.2 s for the default recipe.

    Raises:
        RecipeError: something doesn't fit its place, the face lacks a letter, or a name to be drawn again is unknown;
            all faults at once.
    """
    faults = recipe_faults(recipe, face)
    if faults:
        raise RecipeError(faults)
    if isinstance(recipe, MonthsRecipe):
        return month_plans(recipe, face)
    return tuple(make() for make in plan_makers(recipe, face).values())


def stamp_names(recipe: Recipe, face: Face) -> tuple[str, ...]:
    """Names of all stamps, in the catalogue's order, without setting any."""
    return tuple(plan_makers(recipe, face))


def plan_by_name(recipe: Recipe, face: Face, name: str) -> StampPlan:
    """The plan of one stamp, equal to the catalogue's own, made without the others and without checking the recipe.

    Raises:
        InputError: no stamp of that name.
    """
    makers = plan_makers(recipe, face)
    if name not in makers:
        raise InputError(f'there is no stamp "{name}"{nearest(name, makers)}')
    return makers[name]()
