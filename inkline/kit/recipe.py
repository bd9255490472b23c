"""The recipe of a kit: everything that a person decides, read from TOML and checked.

Every fault that can be found in the recipe itself is reported at once; what depends on the letters (a numeral too large
for its cell, a glyph that a font lacks) is found by the catalogue, also before anything is drawn.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from inkline.kit.recipe_faults import Fault, RecipeError
from inkline.kit.recipe_lines import key_lines
from inkline.kit.recipe_model import DEFAULT_SOURCE, FormatRecipe, Recipe, WordsRecipe
from inkline.kit.recipe_reading import Reading
from inkline.kit.recipe_text import recipe_text

__all__ = [
    "DEFAULT_NUMBER",
    "Fault",
    "FormatRecipe",
    "Recipe",
    "RecipeError",
    "WordsRecipe",
    "default_recipe",
    "load_recipe",
    "recipe_from_text",
    "recipe_text",
]

DEFAULT_NUMBER = 20_270
"""The drawing number of the built-in default kit."""
LARGEST_BYTES = 1_000_000
"""A recipe is a page of text; anything of this size is some other file."""


def default_recipe() -> Recipe:
    """The built-in recipe: what `recipe_text(DEFAULT_NUMBER)` says."""
    return recipe_from_text(recipe_text(DEFAULT_NUMBER), source=DEFAULT_SOURCE, folder=Path())


def load_recipe(path: Path) -> Recipe:
    """The recipe in the file at `path`; a font's place is taken from the file's folder.

    Raises:
        RecipeError: it cannot be read, or anything in it cannot be used; all faults at once.
    """
    try:
        data = path.read_bytes() if path.stat().st_size <= LARGEST_BYTES else None
        text = data.decode("utf-8-sig") if data is not None else None
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise _unreadable(path.name, f"the recipe cannot be read ({reason}): {path}") from error
    except UnicodeDecodeError as error:
        raise _unreadable(path.name, "a recipe must be text in UTF-8, and this file is not") from error
    if text is None:
        raise _unreadable(
            path.name, f"a recipe must be a text of at most {LARGEST_BYTES} bytes, and this file is larger"
        )
    return recipe_from_text(text, source=path.name, folder=path.parent)


def recipe_from_text(text: str, *, source: str, folder: Path) -> Recipe:
    """The recipe that the TOML `text` says.

    Args:
        text: TOML.
        source: what to call it in messages.
        folder: where a font's relative path starts.

    Raises:
        RecipeError: not TOML, or anything in it cannot be used; all faults at once.
    """
    text = text.replace("\r\n", "\n")
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"\(at line (\d+)", str(error))
        raise _unreadable(source, f"this is not TOML: {error}", line=int(found[1]) if found else 0) from error
    except RecursionError as error:
        raise _unreadable(source, "this is not a recipe: its lists are nested too deeply") from error
    return Reading(values=values, lines=key_lines(text), source=source, folder=folder).recipe()


def _unreadable(source: str, sentence: str, *, line: int = 0) -> RecipeError:
    return RecipeError([Fault(source=source, line=line, key="", sentence=sentence)])
