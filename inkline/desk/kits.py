"""Where the kits of a recipe lie, and the recipe of a kit."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inkline.errors import InputError
from inkline.folder.manifest import MANIFEST_FILE
from inkline.folder.strangers import holds_product, read_manifest
from inkline.kit.recipe.loading import load_recipes
from inkline.press.patches import PATCHES_FILE
from inkline.press.stamp_form import STAMP_FORM

_EDITION = re.compile(r"-(\d{1,4})$")
_MOST_RECIPES = 200
"""Recipes beside a kit that are looked at."""


@dataclass(frozen=True, slots=True)
class KitFolders:
    """The folders of a recipe's kits: the first, and those of its editions beside it.

    Attributes:
        first: the first of them.
        kit: the kit that is looked at among several, or "".
    """

    first: Path
    kit: str = ""

    @property
    def current(self) -> Path:
        """The folder of the latest edition, or the first where none is made yet."""
        return self._folder(self._last())

    @property
    def next(self) -> Path:
        """The folder of another edition."""
        return self._folder(self._last() + 1)

    @property
    def made(self) -> Path | None:
        """The kit itself in the folder of the latest edition; None where none is made yet."""
        for one in (self.current, self.current / self.kit):
            if holds_product(one):
                return one
        return None

    @property
    def drawn_on(self) -> tuple[Path | None, int]:
        """The kit in which its owner drew on stamps, and when, by the clock of its files."""
        for one in (self.current, self.current / self.kit):
            with suppress(OSError):
                return one, (one / PATCHES_FILE).stat().st_mtime_ns
        return None, 0

    def _last(self) -> int:
        numbers = [1]
        for path in self.first.parent.glob(f"{self.first.name}-*"):
            found = _EDITION.search(path.name)
            if found and path.is_dir() and path.name == f"{self.first.name}-{int(found[1])}":
                numbers.append(int(found[1]))
        return max(numbers)

    def _folder(self, number: int) -> Path:
        name = self.first.name
        return self.first if number == 1 else self.first.with_name(f"{name}-{number}")


def recipe_of_kit(folder: Path) -> tuple[Path, str, KitFolders]:
    """The recipe that the kit in `folder` was drawn from, its name among several, its folders.

    A manifest says no place outside its folder; so recipes beside the folder, or beside the one
    around it, are looked at for the kit's title and number.

    Raises:
        InputError: it is no kit, or none or several of the recipes there draw it.
    """
    about = read_manifest(folder, form=STAMP_FORM).about
    name = str(about.get("kit") or "")
    around = folder.resolve().parent
    first = around if name else folder.resolve()
    places = dict.fromkeys((around, around.parent))
    for place in places:
        found = [path for path in _recipes(place) if _draws(path, name, about)]
        if len(found) == 1:
            return found[0], name, KitFolders(_first_of(first), name)
        if found:
            names = ", ".join(path.name for path in found)
            raise InputError(f"several recipes draw {folder}: {names}; open one of these")
    raise InputError(f"no recipe beside {folder} draws it; open its recipe", setting="RECIPE")


def is_kit(path: Path) -> bool:
    """Whether `path` is the folder of a product."""
    return path.is_dir() and (path / MANIFEST_FILE).is_file()


def _first_of(folder: Path) -> Path:
    """The folder of the first edition, where `folder` is that of a later one."""
    plain = folder.with_name(_EDITION.sub("", folder.name))
    return plain if plain != folder and plain.is_dir() else folder


def _recipes(folder: Path) -> Iterator[Path]:
    yield from sorted(folder.glob("*.toml"))[:_MOST_RECIPES]


def _draws(path: Path, name: str, about: Any) -> bool:
    try:
        recipe = load_recipes(path).get(name)
    except InputError:
        return False
    wanted = about.get("title"), about.get("number")
    return recipe is not None and (recipe.title, recipe.number) == wanted
