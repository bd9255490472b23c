"""All that is wrong with a recipe file, or what its kits will hold, with nothing drawn."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from pathlib import Path

from inkline.errors import InputError
from inkline.kit.letters import face_of
from inkline.kit.months.small import neighbour_notes
from inkline.kit.recipe.file import Layers
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.layers import kits_in, layers_from_file
from inkline.kit.recipe.model import Recipe
from inkline.kit.recipe.reading import read_recipe
from inkline.kit.stamps.catalogue import stamp_names
from inkline.kit.stamps.faults.every import recipe_faults, recipe_notes
from inkline.kit.stamps.faults.names import unknown_stamps
from inkline.kit.stamps.names import folder_of
from inkline.kit.time_needed import seconds_to_draw
from inkline.lettering.face import Face
from inkline.source.faults import Fault, RecipeError


@dataclass(frozen=True, slots=True, kw_only=True)
class KitCheck:
    """What a kit will hold.

    Attributes:
        name: its name in the file, or "".
        title: what it is called.
        stamps: how many stamps it will have, by the folder that they lie in.
        notes: what its owner should know all the same, in sentences.
        seconds: about how long it takes to draw, on all cores of this machine.
    """

    name: str
    title: str
    stamps: dict[str, int]
    notes: tuple[str, ...]
    seconds: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RecipeCheck:
    """What a check of a recipe file found.

    Attributes:
        kits: what can be drawn; only all of it if there are no faults.
        faults: all that was found wrong, in the order of their lines.
        is_whole: whether layout and letters could be looked at as well, whatever else is wrong.
    """

    kits: tuple[KitCheck, ...]
    faults: tuple[Fault, ...]
    is_whole: bool


def check_recipe_file(path: Path) -> RecipeCheck:
    """All that is wrong with the recipe at `path`, and what each of its kits will hold.

    Cost: about 1 s a kit.

    What a fault leaves in doubt is not looked at: with a faulty canvas nothing can be said of the
    layout. `is_whole` says so.
    """
    try:
        layers = layers_from_file(path)
    except RecipeError as error:
        return RecipeCheck(kits=(), faults=error.faults, is_whole=False)
    return _check_layers(layers)


def _check_layers(layers: Layers) -> RecipeCheck:
    """All that is wrong with what `layers` say, as `check_recipe_file`."""
    kits: list[KitCheck] = []
    faults: list[Fault] = []
    is_whole = True
    for name, one in kits_in(layers).items():
        read = read_recipe(one, kit=name)
        found = list(read.faults)
        if read.recipe is None:
            is_whole = False
        else:
            kit, more = _check_kit(_without_unknown_again(read.recipe, read.faults), name)
            found += more
            kits += [] if kit is None else [kit]
        faults += found
    ordered = RecipeError(faults).faults if faults else ()
    return RecipeCheck(kits=tuple(kits), faults=ordered, is_whole=is_whole)


def _without_unknown_again(recipe: Recipe, faults: tuple[Fault, ...]) -> Recipe:
    """`recipe` without what is to be drawn again in formats that are left out of it.

    Nothing can be told of that.
    """
    if not any(fault.key.startswith(f"{FORMATS}.") for fault in faults):
        return recipe
    whole = {one.name for one in recipe.formats} | {"words"}
    return replace(
        recipe,
        again={name: count for name, count in recipe.again.items() if name.split("/")[0] in whole},
    )


def _check_kit(recipe: Recipe, name: str) -> tuple[KitCheck | None, list[Fault]]:
    """What a kit will hold, or what is wrong with its letters and its layout."""
    try:
        face = face_of(recipe)
        faults = list(recipe_faults(recipe, face))
    except RecipeError as error:
        return None, list(error.faults)
    except InputError as error:
        key = "lettering.font" if recipe.font else "lettering.family"
        return None, [recipe.fault(key, f"{key}: {error}")]
    if not faults:
        return _kit_contents(recipe, name, face), []
    known = {fault.key for fault in faults}
    return None, faults + [
        fault for fault in _unknown_stamps(recipe, face) if fault.key not in known
    ]


def _unknown_stamps(recipe: Recipe, face: Face) -> list[Fault]:
    """Stamps to be drawn again that there are not, for a recipe that cannot be laid out."""
    try:
        return list(unknown_stamps(recipe, stamp_names(recipe, face)))
    except (InputError, ValueError):
        return []


def _kit_contents(recipe: Recipe, name: str, face: Face) -> KitCheck:
    counts = Counter(folder_of(stamp) for stamp in stamp_names(recipe, face))
    notes = (*recipe_notes(recipe, face), *neighbour_notes(recipe, face))
    from inkline.press.crew import number_of_workers  # noqa: PLC0415 - slow; faults don't want it

    workers = number_of_workers(None)
    seconds = seconds_to_draw(counts.total(), recipe.style, workers=workers)
    return KitCheck(
        name=name, title=recipe.title, stamps=dict(counts), notes=notes, seconds=seconds
    )
