"""The letters of a kit: a family or a font, with what its recipe swaps in them."""

from __future__ import annotations

from pathlib import Path

from inkline.kit.recipe.model import Recipe
from inkline.lettering.errors import FamilyError
from inkline.lettering.face import Face
from inkline.lettering.families import family_path
from inkline.lettering.family import open_family
from inkline.lettering.font import open_font
from inkline.lettering.old_style import in_figure_style
from inkline.lettering.swap import swapped_face
from inkline.lettering.writing import face_in_way
from inkline.source.faults import RecipeError


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
            [
                recipe.fault(
                    "lettering.axes",
                    "lettering.axes needs a variable font, and the letters are a family's",
                )
            ]
        )
    else:
        face = open_family(family_path(recipe.family))
    try:
        face = in_figure_style(face, recipe.figure_style)
    except FamilyError as error:
        fault = f"lettering.figure_style: {error}"
        raise RecipeError([recipe.fault("lettering.figure_style", fault)]) from error
    try:
        return swapped_face(face, dict(recipe.swaps), folder=recipe.folder)
    except FamilyError as error:
        raise RecipeError([recipe.fault("lettering.swap", f"lettering.swap: {error}")]) from error
