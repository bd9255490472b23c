"""One reading of one recipe: TOML values in, a checked recipe or all of its faults out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from inkline.calendar.months import FIRST_YEAR, LAST_YEAR, MONTHS_PER_YEAR, month_length
from inkline.kit.recipe.choices import MarkedBy, WeekNumbers
from inkline.kit.recipe.file import Layers
from inkline.kit.recipe.formats import format_recipes
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.keys import TABLES, keys_of
from inkline.kit.recipe.model import MarkedDay, Recipe, WordsRecipe
from inkline.kit.recipe.style import style_faults
from inkline.kit.recipe.tables import Tables, joined
from inkline.lettering.family import UFO_SUFFIX, family_names
from inkline.lettering.swap import GLIF_SUFFIX
from inkline.source.faults import Fault, RecipeError, nearest
from inkline.source.places import has_file, has_folder, seen_from
from inkline.source.values import shown
from inkline.styles.files import SUFFIX

_DAY = re.compile(r"(?:([0-9]{4})-)?([0-9]{2})-([0-9]{2})")
_LEAP_YEAR = 2000
"""Stands for a day of every year, which may be a 29 February."""
_LONGEST_SHOWN = 40
"""Letters of a name that is quoted."""
MOST_AGAIN = 1_000_000
_APART = frozenset({"title", "edition", "number", "version", "again", "marks", "names", "style"})
"""What may be wrong without the layout of a recipe being in doubt."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """What a reading gave.

    Attributes:
        recipe: the recipe less what is faulty, or `None` where the faults leave its layout in
            doubt.
        faults: all that is wrong.
    """

    recipe: Recipe | None
    faults: tuple[Fault, ...]


def recipe_of(layers: Layers, *, kit: str = "") -> Recipe:
    """The recipe that `layers` say, called `kit` among several.

    Raises:
        RecipeError: anything in it cannot be used; all faults at once.
    """
    read = read_recipe(layers, kit=kit)
    if read.recipe is None or read.faults:
        raise RecipeError(read.faults)
    return read.recipe


def read_recipe(layers: Layers, *, kit: str = "") -> Read:
    """All that can be told of the recipe that `layers` say: its faults, and what remains of it without them."""
    tables = Tables(
        values=layers.values,
        places=layers.places,
        source=layers.source,
        folder=layers.folder,
        faults=list(layers.faults),
    )
    said = {name: value for name, value in tables.values.items() if name not in TABLES}
    top = tables.checked("", said, keys_of(""))
    canvas = tables.canvas()
    formats = format_recipes(tables)
    words = tables.checked("words", tables.table("words"), keys_of("words"))
    calendar = tables.checked("calendar", tables.table("calendar"), keys_of("calendar"))
    lettering = _lettering(tables)
    names = tables.checked("names", tables.table("names"), keys_of("names"))
    style_name, style_changes = _style(tables)
    marks, again = _marks(tables), _again(tables)
    faults = tuple(tables.faults)
    if not formats or not _is_sound(faults):
        return Read(recipe=None, faults=faults)
    recipe = Recipe(
        title=top["title"] or "",
        edition=top["edition"] or "",
        number=top["number"] or 0,
        side_px=round(tables.scale.side_px),
        ppi=canvas["ppi"],
        margin=canvas["margin"],
        safe=canvas["safe"],
        formats=formats,
        words=WordsRecipe(languages=words.pop("language"), **words),
        week_starts=calendar["week_starts"],
        style_name=style_name,
        style_changes=style_changes,
        marks=marks,
        again=again,
        file_pattern=names["pattern"] or "{name}",
        folder=layers.folder,
        source=layers.source,
        places=tables.places,
        kit=kit,
        **lettering,
    )
    for key, sentence in _clashes(recipe):
        tables.refuse(key, sentence)
    return Read(recipe=recipe, faults=tuple(tables.faults))


def _clashes(recipe: Recipe) -> Iterator[tuple[str, str]]:
    """What single keys allow and no years to draw for leave without effect."""
    if recipe.words.years:
        return
    for shape in recipe.formats:
        if shape.week_numbers is not WeekNumbers.NONE:
            key = f"{FORMATS}.{shape.name}.week_numbers"
            yield key, f'{key} = "{shape.week_numbers}" needs years, and words.years has none'
    for mark in recipe.marks:
        if mark.year is None:
            name = f"{mark.month:02d}-{mark.day:02d}"
            yield (
                f"marks.{name}",
                f'marks."{name}" is a day of every year of words.years, which has none',
            )


def _is_sound(faults: tuple[Fault, ...]) -> bool:
    """Whether what is left can be laid out as its owner means it: only single formats, or what no layout depends on, is wrong."""
    parts = [fault.key.split(".") for fault in faults]
    return all(first in _APART or (first == FORMATS and rest) for first, *rest in parts)


def _lettering(tables: Tables) -> dict[str, Any]:
    """The fields of a recipe that say where its letters come from."""
    values = tables.checked("lettering", tables.table("lettering"), keys_of("lettering"))
    values["font"] = _font(tables, values["font"])
    values["family"] = _family(tables, values["family"])
    values["swaps"] = tuple(
        (one, _swap_place(tables, one, said)) for one, said in values.pop("swap") or ()
    )
    return values


def _font(tables: Tables, text: str | None) -> Path | None:
    """The font file's place, or `None` for the stroke family."""
    if not text:
        return None
    path = seen_from(tables.folder_of("lettering.font"), text)
    if not has_file(path):
        tables.refuse(
            "lettering.font", f"lettering.font must be a font file, and there is none at {path}"
        )
    return path


def _family(tables: Tables, name: str | None) -> str:
    """A family's name as it is, a UFO folder's place; a fault is noted if there is none."""
    key = "lettering.family"
    if name is not None and name.endswith(UFO_SUFFIX):
        path = seen_from(tables.folder_of(key), name)
        if not has_folder(path):
            tables.refuse(key, f"{key} must be a UFO folder, and there is none at {path}")
        return str(path)
    names = family_names()
    if name is not None and name not in names:
        known = ", ".join(f'"{one}"' for one in names)
        required = f"{key} must be one of {known}, or a UFO folder ending in {UFO_SUFFIX}"
        tables.refuse(key, f"{required}, not {shown(name)}{nearest(name, names)}")
    return name or ""


def _swap_place(tables: Tables, character: str, said: str) -> str:
    """What a character is swapped for; the place of a file as seen from the recipe's own folder, whichever file names it."""
    folder = tables.folder_of(f"lettering.swap.{character}")
    if folder == tables.folder or not (
        said.endswith(GLIF_SUFFIX) or UFO_SUFFIX in said.rpartition(":")[0]
    ):
        return said
    return str(seen_from(folder, said).absolute())


def _style(tables: Tables) -> tuple[str, dict[str, Any]]:
    """The style's name, or the place of its file, and the values of it that are changed; the usual style where they are faulty."""
    table = tables.table("style")
    changes = {key: value for key, value in table.items() if key != "name"}
    (key,) = keys_of("style")
    name = tables.value("style", table, key, key.default)
    if name is not None and name.endswith(SUFFIX):
        name = str(seen_from(tables.folder_of(key.path), name))
    faults = list(style_faults(name or key.default, changes))
    for path, sentence in faults:
        tables.refuse(path, sentence)
    return (key.default, {}) if faults or name is None else (name, changes)


def _marks(tables: Tables) -> tuple[MarkedDay, ...]:
    """The days to be marked, each of one year or, without a year, of every year of the kit."""
    found = [_marked_day(tables, text, by) for text, by in tables.table("marks").items()]
    return tuple(one for one in found if one is not None)


def _marked_day(tables: Tables, text: str, by: Any) -> MarkedDay | None:
    """One marked day, or `None` where a fault was noted."""
    path, parts = joined("marks", text), _DAY.fullmatch(text)
    year, month, day = (
        (0 if part is None else int(part) for part in parts.groups()) if parts else (0, 0, 0)
    )
    is_year = year == 0 or FIRST_YEAR <= year <= LAST_YEAR
    is_month = 1 <= month <= MONTHS_PER_YEAR
    if not (is_year and is_month and 1 <= day <= month_length(year or _LEAP_YEAR, month)):
        required = f'must be a day of a year from {FIRST_YEAR} to {LAST_YEAR}, as "2027-03-08", or of every year, as "03-08"'
        tables.refuse(path, f'marks: what is marked {required}, not "{text[:_LONGEST_SHOWN]}"')
        return None
    words = [one.value for one in MarkedBy]
    if by not in words:
        said = " or ".join(f'"{word}"' for word in words)
        tables.refuse(path, f'marks."{text}" must be {said}, not {shown(by)}')
        return None
    return MarkedDay(year=year or None, month=month, day=day, by=MarkedBy(by))


def _again(tables: Tables) -> dict[str, int]:
    """How often what is named has been drawn; what is faulty is left out."""
    counts: dict[str, int] = {}
    for name, count in tables.table("again").items():
        if isinstance(count, int) and not isinstance(count, bool) and 1 <= count <= MOST_AGAIN:
            counts[name] = count
            continue
        sentence = f'again."{name:.{_LONGEST_SHOWN}}" must be a whole number from 1 to {MOST_AGAIN}, not {shown(count)}'
        tables.refuse(joined("again", name), sentence)
    return counts
