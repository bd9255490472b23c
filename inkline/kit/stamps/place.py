"""One format of one kit: all that its stamps are made from."""

from __future__ import annotations

from dataclasses import dataclass

from inkline.kit.recipe.model import FormatRecipe, Recipe
from inkline.kit.stamps.layout import FormatLayout
from inkline.kit.stamps.measures import layout_of
from inkline.kit.stamps.two_faces import numerals_face
from inkline.lettering.face import Face


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """One format of one kit: all that its stamps are made from."""

    recipe: Recipe
    shape: FormatRecipe
    layout: FormatLayout
    face: Face

    @property
    def numerals_face(self) -> Face:
        """The letters of its numerals, which may be others than those of its words."""
        return numerals_face(self.face)


def place_of(recipe: Recipe, shape: FormatRecipe, face: Face) -> Place:
    """The format `shape` of a kit, with its layout.

    Raises:
        NoRoomError: margins and gutters leave nothing for the cells.
    """
    return Place(recipe=recipe, shape=shape, layout=layout_of(recipe, shape), face=face)
