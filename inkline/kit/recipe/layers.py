"""Recipes laid over one another: a file over those that it extends, a kit over its file.

Both are laid table by table and key by key.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from inkline.kit.recipe.file import VERSION, Layers, own_layer, recipe_file_text
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.keys import EXTENDS, KITS
from inkline.source.faults import Fault, RecipeError
from inkline.source.places import has_file, path_from_folder
from inkline.source.values import text_of_value

NO_FORMAT = "none"
"""What stands in place of a format's table to take the format out."""
_MOST_ABOVE = 8
"""A recipe stands on at most so many others; more are a mistake, or a nuisance to find one's way
in."""
MOST_KITS = 24
KIT_NAME = re.compile(r"[a-z][a-z0-9-]{0,31}")


def layers_from_file(path: Path) -> Layers:
    """What the recipe at `path` says, together with those that it extends.

    Raises:
        RecipeError: one of them cannot be read, is not TOML or of another version, or they extend
            one another in a circle or too deeply.
    """
    own = own_layer(recipe_file_text(path, source=path.name), source=path.name, folder=path.parent)
    return _with_base(own, above=(path,))


def layers_from_text(text: str, *, source: str, folder: Path) -> Layers:
    """What the TOML `text` says, together with the files that it extends.

    Args:
        text: the whole file.
        source: what to call it.
        folder: where it lies.

    Raises:
        RecipeError: as `layers_from_file`.
    """
    return _with_base(own_layer(text, source=source, folder=folder), above=(folder / source,))


def kits_in(whole: Layers) -> dict[str, Layers]:
    """The kits of a recipe by name, each over the rest of it; one called "" if it has none."""
    rest = _without_kits(whole)
    kits = whole.values.get(KITS, {})
    if not isinstance(kits, dict):
        return {
            "": _with_fault(
                rest,
                whole.fault(
                    KITS, f"{KITS} must be a table of kits, each begun by a line [{KITS}.NAME]"
                ),
            )
        }
    if len(kits) > MOST_KITS:
        return {
            "": _with_fault(
                rest,
                whole.fault(KITS, f"{KITS} must hold at most {MOST_KITS} tables, not {len(kits)}"),
            )
        }
    return {name: _kit(whole, rest, name, values) for name, values in kits.items()} or {"": rest}


def layers_over(base: Layers, top: Layers) -> Layers:
    """`top` over `base`.

    Tables are joined, all else is replaced, and a format that `top` calls "none" is taken out.
    """
    replaced: set[str] = set()
    values = _values_over(base.values, top.values, "", replaced)
    kept = {
        path: place
        for path, place in base.places.items()
        if replaced.isdisjoint(_path_and_tables_around(path))
    }
    return replace(
        top, values=values, places={**kept, **top.places}, faults=(*base.faults, *top.faults)
    )


def _values_over(
    base: Mapping[str, Any], top: Mapping[str, Any], above: str, replaced: set[str]
) -> dict[str, Any]:
    """The values of `top` over those of `base`, which are tables at the path `above`.

    The paths of what is replaced are added to `replaced`.
    """
    values = dict(base)
    for name, value in top.items():
        path, below = f"{above}.{name}" if above else name, values.get(name)
        if isinstance(below, dict) and isinstance(value, dict):
            values[name] = _values_over(below, value, path, replaced)
            continue
        replaced.add(path)
        values[name] = value
        if above == FORMATS and value == NO_FORMAT and isinstance(below, dict):
            del values[name]
    return values


def _path_and_tables_around(path: str) -> Iterator[str]:
    """`path` and the paths of the tables around it, the nearest first."""
    while path:
        yield path
        path = path.rpartition(".")[0]


def _with_base(own: Layers, *, above: tuple[Path, ...]) -> Layers:
    """`own` over the recipe that it extends.

    The files `above` stand on one another, that of `own` the last.
    """
    said = own.values.get(EXTENDS, "")
    if said == "":
        return own
    path = (
        path_from_folder(own.folder, said) if isinstance(said, str) and said.isprintable() else None
    )
    if path is None or not has_file(path):
        at = f", and there is none at {path}" if path else f", not {text_of_value(said)}"
        raise RecipeError(
            [
                own.fault(
                    EXTENDS,
                    f"{EXTENDS} must be the place of another recipe file, seen from this one's "
                    f"folder{at}",
                )
            ]
        )
    _refuse_circle(own, path, above)
    source = _name_of(path, home=above[0].parent)
    base = own_layer(recipe_file_text(path, source=source), source=source, folder=path.parent)
    return layers_over(_with_base(base, above=(*above, path)), own)


def _name_of(path: Path, *, home: Path) -> str:
    """What messages call the file at `path`: the way from `home` to it.

    `home` is the folder of the file that was asked for.
    """
    try:
        return Path(os.path.relpath(path, home)).as_posix()
    except ValueError:  # on another drive, to which no relative path leads
        return str(path)


def _refuse_circle(own: Layers, path: Path, above: tuple[Path, ...]) -> None:
    """Refuse the file at `path` beneath those `above` if it is among them, or one too many."""
    places = [one.resolve() for one in above]
    if path.resolve() in places:
        names = [one.name for one in (*above[places.index(path.resolve()) :], path)]
        raise RecipeError(
            [
                own.fault(
                    EXTENDS,
                    f"{EXTENDS}: a recipe may not extend itself, as here: "
                    f"{' extends '.join(names)}",
                )
            ]
        )
    if len(above) > _MOST_ABOVE:
        raise RecipeError(
            [
                own.fault(
                    EXTENDS,
                    f"{EXTENDS}: at most {_MOST_ABOVE} recipes may stand beneath one, and here "
                    f"are more",
                )
            ]
        )


def _without_kits(whole: Layers) -> Layers:
    places = {
        path: place
        for path, place in whole.places.items()
        if path != KITS and not path.startswith(f"{KITS}.")
    }
    return replace(
        whole,
        values={name: value for name, value in whole.values.items() if name != KITS},
        places=places,
    )


def _kit(whole: Layers, rest: Layers, name: str, values: Any) -> Layers:
    """One kit over the `rest` of its recipe."""
    path = f"{KITS}.{name}"
    if not KIT_NAME.fullmatch(name):
        sentence = (
            "a kit's name must be up to 32 small letters a to z, digits and hyphens and must begin "
            "with a letter"
        )
        return _with_fault(rest, whole.fault(path, f'{sentence}, not "{name[:40]}"'))
    if not isinstance(values, dict):
        return _with_fault(
            rest, whole.fault(path, f"{path} must be a table, begun by a line [{path}]")
        )
    at_top = [
        whole.fault(
            f"{path}.{key}", f"{path}.{key} must stand at the top of the file, for all its kits"
        )
        for key in (VERSION, EXTENDS, KITS)
        if key in values
    ]
    places = {
        key[len(path) + 1 :]: place
        for key, place in whole.places.items()
        if key.startswith(f"{path}.")
    }
    own = {key: value for key, value in values.items() if key not in (VERSION, EXTENDS, KITS)}
    return layers_over(rest, replace(whole, values=own, places=places, faults=tuple(at_top)))


def _with_fault(layers: Layers, fault: Fault) -> Layers:
    return replace(layers, faults=(*layers.faults, fault))
