"""One format of one kit: all that its stamps are made from."""

from __future__ import annotations

from dataclasses import dataclass

from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.measures import FormatLayout
from inkline.lettering.face import Face


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One format of one kit: all that its stamps are made from."""

    recipe: Recipe
    shape: FormatRecipe
    layout: FormatLayout
    face: Face
