"""What lies on the desk when it is opened."""

from __future__ import annotations

from pathlib import Path

from inkline.chance import DEFAULT_NUMBER
from inkline.desk.desk import Desk
from inkline.desk.document import RecipeDocument
from inkline.desk.kits import is_kit, recipe_of_kit
from inkline.errors import InputError
from inkline.kit.recipe.text import recipe_text

_FILE = "my-recipe.toml"


def opened_desk(file: Path | None) -> Desk:
    """A desk with the recipe `file` on it, that of the kit `file`, or `my-recipe.toml` here.

    One that is not there yet is written at its first change.

    Raises:
        InputError: the file cannot be read, or no recipe draws the kit.
    """
    if file is not None and is_kit(file):
        recipe, kit, folders = recipe_of_kit(file)
        document = RecipeDocument.opened(recipe, otherwise="")
        return Desk(document=document, kit=kit, made_in=folders.first)
    path = Path(_FILE) if file is None else file
    if file is not None and not path.exists():
        raise InputError(f"there is no recipe at {path}", setting="RECIPE")
    if path.is_dir():
        raise InputError(f"{path} is a folder and no kit", setting="RECIPE")
    document = RecipeDocument.opened(path, otherwise=recipe_text(DEFAULT_NUMBER))
    return Desk(document=document)
