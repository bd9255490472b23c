"""The recipe of a kit: everything that a person decides, read from TOML and checked.

Every fault that can be found in the recipe itself is reported at once; what depends on the letters
(a numeral too large for its cell, a glyph that a font lacks) is found by the catalogue, also before
anything is drawn.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from inkline.chance import DEFAULT_NUMBER, number_of_kit
from inkline.errors import Action, Remedy
from inkline.kit.recipe.file import Layers
from inkline.kit.recipe.keys import KITS
from inkline.kit.recipe.layers import kits_in, layers_from_file, layers_from_text
from inkline.kit.recipe.model import DEFAULT_SOURCE, Recipe
from inkline.kit.recipe.reading import read_recipe
from inkline.kit.recipe.text import recipe_text
from inkline.source.faults import RecipeError, did_you_mean


def default_recipe() -> Recipe:
    """The built-in recipe: what `recipe_text(DEFAULT_NUMBER)` says."""
    return recipe_from_text(recipe_text(DEFAULT_NUMBER), source=DEFAULT_SOURCE, folder=Path())


def load_recipes(path: Path) -> dict[str, Recipe]:
    """The recipes of all kits in the file at `path`, by name; one called "" if it has no [kits].

    Places of other files, such as a font's, are seen from the file that names them.

    Raises:
        RecipeError: it, or a recipe that it extends, cannot be read, or anything in it cannot be
            used; all faults at once.
    """
    return _all_recipes(layers_from_file(path))


def load_recipe(path: Path, *, kit: str = "") -> Recipe:
    """The recipe in the file at `path`, or that of its one kit, or that of the kit called `kit`.

    Raises:
        RecipeError: as `load_recipes`, or there are several kits and none is named, or none of that
            name.
    """
    return _one_recipe(layers_from_file(path), kit)


def recipes_from_text(text: str, *, source: str, folder: Path) -> dict[str, Recipe]:
    """The recipes that the TOML `text` says, as `load_recipes`.

    Messages call it `source`, and its relative places are seen from `folder`.
    """
    return _all_recipes(layers_from_text(text, source=source, folder=folder))


def recipe_from_text(text: str, *, source: str, folder: Path, kit: str = "") -> Recipe:
    """The recipe that the TOML `text` says, as `load_recipe`.

    Messages call it `source`, and its relative places are seen from `folder`.

    Raises:
        RecipeError: not TOML, or anything in it cannot be used; all faults at once.
    """
    return _one_recipe(layers_from_text(text, source=source, folder=folder), kit)


def _all_recipes(layers: Layers) -> dict[str, Recipe]:
    read = {name: read_recipe(one, kit=name) for name, one in kits_in(layers).items()}
    found = {
        name: _with_own_number(one.recipe, name, layers)
        for name, one in read.items()
        if one.recipe is not None
    }
    faults = [fault for one in read.values() for fault in one.faults]
    if faults or len(found) < len(read):
        raise RecipeError(faults)
    return found


def _with_own_number(recipe: Recipe, kit: str, layers: Layers) -> Recipe:
    """The recipe of one kit, with a number of its own, lest two kits of a file be siblings.

    One that the kit itself states is kept, as is that of a recipe without kits.
    """
    kits = layers.values.get(KITS, {})
    stated = kits.get(kit, {}) if isinstance(kits, dict) else {}
    if not kit or not isinstance(stated, dict) or "number" in stated:
        return recipe
    return replace(recipe, number=number_of_kit(recipe.number, kit))


def _one_recipe(layers: Layers, kit: str) -> Recipe:
    recipes = _all_recipes(layers)
    names = ", ".join(f'"{name}"' for name in recipes)
    if kit not in recipes and kit:
        known = (
            f"it holds {names}{did_you_mean(kit, recipes)}"
            if "" not in recipes
            else "it has no [kits]"
        )
        raise RecipeError([layers.fault(KITS, f'there is no kit "{kit}" in this recipe: {known}')])
    if kit not in recipes and len(recipes) > 1:
        raise RecipeError(
            [layers.fault(KITS, f"this recipe holds several kits, {names}")],
            remedies=[Remedy(action=Action.NAME_THE_KIT)],
        )
    return recipes[kit] if kit in recipes else next(iter(recipes.values()))
