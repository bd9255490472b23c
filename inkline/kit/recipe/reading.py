"""One reading of one recipe: TOML values in, a checked recipe or all of its faults out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from inkline.calendar.months import FIRST_YEAR, LAST_YEAR, MONTHS_PER_YEAR, month_length
from inkline.folder.reading import bytes_of_plain_file
from inkline.ink.style import EXACT, Style, Weights
from inkline.kit.recipe.buyers import GuideRecipe, ShopRecipe
from inkline.kit.recipe.choices import MarkedBy, WeekNumbers
from inkline.kit.recipe.file import Layers
from inkline.kit.recipe.finish_reading import family_place, finish_from_tables, font_place
from inkline.kit.recipe.formats import format_recipes
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.keys import TABLES, keys_of
from inkline.kit.recipe.model import FilesRecipe, LettersRecipe, MarkedDay, Recipe, WordsRecipe
from inkline.kit.recipe.style import style_and_faults, usual_style
from inkline.kit.recipe.tables import Tables, key_path
from inkline.kit.recipe.weights import stems_asked, suggested_default
from inkline.lettering.family import UFO_SUFFIX
from inkline.lettering.swap import GLIF_SUFFIX
from inkline.output.look import Ground
from inkline.phrases.phrases import USUAL_LANGUAGE, PhrasesError, phrases_from_text
from inkline.source.faults import Fault
from inkline.source.places import path_from_folder
from inkline.source.values import is_whole, text_of_value
from inkline.styles.files import SUFFIX

_DAY = re.compile(r"(?:([0-9]{4})-)?([0-9]{2})-([0-9]{2})")
_LEAP_YEAR = 2000
"""Stands for a day of every year, which may be a 29 February."""
_LONGEST_SHOWN = 40
"""Letters of a name that is quoted."""
MOST_AGAIN = 1_000_000
_MOST_LICENCE_BYTES = 200_000
_WITHOUT_LAYOUT = frozenset(
    {
        "title",
        "edition",
        "number",
        "version",
        "again",
        "marks",
        "names",
        "style",
        "files",
        "guide",
        "shop",
        "finish",
    }
)
"""Keys and tables that decide no layout: a fault in them leaves it as its owner means it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What a reading gave.

    Attributes:
        recipe: the recipe less what is faulty, or `None` where the faults leave its layout in
            doubt.
        faults: all that is wrong.
    """

    recipe: Recipe | None
    faults: tuple[Fault, ...]


def read_recipe(layers: Layers, *, kit: str = "") -> Reading:
    """The recipe that `layers` say, called `kit` among several, and all that is wrong with it."""
    tables = Tables(
        values=layers.values,
        places=layers.places,
        source=layers.source,
        folder=layers.folder,
        faults=list(layers.faults),
    )
    values = _values(tables)
    faults = tuple(tables.faults)
    if not values["formats"] or not _has_layout(faults):
        return Reading(recipe=None, faults=faults)
    recipe = Recipe(
        **values, kit=kit, folder=layers.folder, source=layers.source, places=tables.places
    )
    for key, sentence in _clashes(recipe):
        tables.refuse(key, sentence)
    return Reading(recipe=recipe, faults=tuple(tables.faults))


def _values(tables: Tables) -> dict[str, Any]:
    """The fields of a recipe that its keys decide; faults are noted."""
    said = {name: value for name, value in tables.values.items() if name not in TABLES}
    top = tables.read_table("", said, keys_of(""))
    canvas = tables.read_canvas()
    style_name, style = _style(tables)
    formats = format_recipes(tables, style.weights)
    words = _own_table(tables, "words", style.weights)
    calendar = _own_table(tables, "calendar")
    lettering = _lettering(tables)
    names = _own_table(tables, "names")
    return {
        "title": top["title"] or "",
        "edition": top["edition"] or "",
        "number": top["number"] or 0,
        "side_px": round(tables.scale.side_px),
        "ppi": canvas["ppi"],
        "margin": canvas["margin"],
        "safe": canvas["safe"],
        "formats": formats,
        "words": WordsRecipe(
            languages=words.pop("language"),
            stems_asked=stems_asked(tables.table("words")),
            **words,
        ),
        "week_starts": calendar["week_starts"],
        "style_name": style_name,
        "style": style,
        "marks": _marks(tables),
        "again": _again(tables),
        "files": _files(tables),
        "guide": _guide(tables),
        "shop": _shop(tables),
        "finish": finish_from_tables(tables),
        "file_pattern": names["pattern"] or _default("names", "pattern"),
        **lettering,
    }


def _own_table(tables: Tables, name: str, weights: Weights = EXACT.weights) -> dict[str, Any]:
    """The values of the table `name`, `None` where a fault was noted.

    What it leaves out is as usual, with the `weights` that the style suggests.
    """
    keys = keys_of(name)
    defaults = {key.name: suggested_default(key, key.default, weights) for key in keys}
    return tables.read_table(name, tables.table(name), keys, defaults=defaults)


def _default(table: str, name: str) -> Any:
    """The default of the key `name` of `table`."""
    return next(key.default for key in keys_of(table) if key.name == name)


def _clashes(recipe: Recipe) -> Iterator[tuple[str, str]]:
    """What single keys allow, and what has no effect as there are no years to draw."""
    if recipe.words.years:
        return
    for format_recipe in recipe.formats:
        if format_recipe.week_numbers is not WeekNumbers.NONE:
            key = f"{FORMATS}.{format_recipe.name}.week_numbers"
            said = format_recipe.week_numbers
            yield key, f'{key} = "{said}" needs years, and words.years has none'
    for mark in recipe.marks:
        if mark.year is None:
            day = f"{mark.month:02d}-{mark.day:02d}"
            sentence = f'marks."{day}" is a day of every year of words.years, which has none'
            yield f"marks.{day}", sentence


def _has_layout(faults: tuple[Fault, ...]) -> bool:
    """Whether what is left can be laid out as its owner means it.

    It can where only single formats, or what no layout depends on, are wrong.
    """
    parts = [fault.key.split(".") for fault in faults]
    return all(first in _WITHOUT_LAYOUT or (first == FORMATS and rest) for first, *rest in parts)


def _lettering(tables: Tables) -> dict[str, Any]:
    """The fields of a recipe that say where its letters come from."""
    values = _own_table(tables, "lettering")
    values["font"] = font_place(tables, "lettering.font", values["font"])
    values["family"] = family_place(tables, "lettering.family", values["family"])
    values["numeral_letters"] = _own_letters(tables, "numerals", values.pop("numerals"))
    values["word_letters"] = _own_letters(tables, "words", values.pop("words"))
    values["swaps"] = tuple(
        (one, _swap_place(tables, one, said)) for one, said in values.pop("swap") or ()
    )
    return values


def _files(tables: Tables) -> FilesRecipe:
    """How files for others look, and what they say; faults are noted."""
    values = {key: value for key, value in _own_table(tables, "files").items() if value is not None}
    place, text = values.pop("licence_file", ""), ""
    key = "files.licence_file"
    if place:
        path = path_from_folder(tables.folder_of(key), place)
        try:
            text = bytes_of_plain_file(path, most=_MOST_LICENCE_BYTES).decode()
        except (OSError, ValueError):
            tables.refuse(
                key,
                f"{key} must be a text file in UTF-8 of at most {_MOST_LICENCE_BYTES // 1000} kB, "
                f"and {path} is none",
            )
    if "ink" in values and values["ink"] != "#000000" and values.get("ground") != Ground.CLEAR:
        tables.refuse("files.ink", 'files.ink needs files.ground = "clear"')
    return FilesRecipe(**values, licence_text=text)


def _guide(tables: Tables) -> GuideRecipe:
    """What is said to those who buy the kit; faults are noted."""
    values = _own_table(tables, "guide")
    place, own, key = values["sentences"], dict[str, str](), "guide.sentences"
    if place:
        path = path_from_folder(tables.folder_of(key), place)
        try:
            own = phrases_from_text(bytes_of_plain_file(path, most=_MOST_LICENCE_BYTES).decode())
        except PhrasesError as problem:
            tables.refuse(key, f"{key}: {path}: {problem}")
        except (OSError, ValueError):
            tables.refuse(key, f"{key} must be a text file in UTF-8, and {path} is none")
    (language,) = values["language"] or (USUAL_LANGUAGE,)
    return GuideRecipe(language=language, own=tuple(sorted(own.items())))


def _shop(tables: Tables) -> ShopRecipe:
    """How the pictures look that sell the kit; faults are noted."""
    values = _own_table(tables, "shop")
    return ShopRecipe(**{key: value for key, value in values.items() if value is not None})


def _own_letters(
    tables: Tables, part: str, said: tuple[tuple[str, str], ...] | None
) -> LettersRecipe | None:
    """The letters that a part of the kit has for itself, or `None` where it has none."""
    given, key = dict(said or ()), f"lettering.{part}"
    if not given:
        return None
    font = font_place(tables, f"{key}.font", given.get("font"))
    family = given.get("family")
    return LettersRecipe(
        family=family_place(tables, f"{key}.family", family) if family else "", font=font
    )


def _swap_place(tables: Tables, character: str, said: str) -> str:
    """What a character is swapped for; a file's place as seen from the recipe's own folder."""
    folder = tables.folder_of(f"lettering.swap.{character}")
    if folder == tables.folder or not (
        said.endswith(GLIF_SUFFIX) or UFO_SUFFIX in said.rpartition(":")[0]
    ):
        return said
    return str(path_from_folder(folder, said).absolute())


def _style(tables: Tables) -> tuple[str, Style]:
    """The style's name or the place of its file, and the style; the usual ones if faulty."""
    table = tables.table("style")
    changes = {key: value for key, value in table.items() if key != "name"}
    (key,) = keys_of("style")
    name = tables.read_value("style", table, key, key.default)
    if name is not None and name.endswith(SUFFIX):
        name = str(path_from_folder(tables.folder_of(key.path), name))
    style, faults = style_and_faults(name or key.default, changes)
    for path, sentence in faults:
        tables.refuse(path, sentence)
    if faults or name is None:
        return key.default, usual_style()
    return name, style


def _marks(tables: Tables) -> tuple[MarkedDay, ...]:
    """The days to be marked, each of one year or, without a year, of every year of the kit."""
    found = [_marked_day(tables, text, by) for text, by in tables.table("marks").items()]
    return tuple(one for one in found if one is not None)


def _marked_day(tables: Tables, text: str, by: Any) -> MarkedDay | None:
    """One marked day, or `None` where a fault was noted."""
    path, parts = key_path("marks", text), _DAY.fullmatch(text)
    year, month, day = (
        (0 if part is None else int(part) for part in parts.groups()) if parts else (0, 0, 0)
    )
    is_year = year == 0 or FIRST_YEAR <= year <= LAST_YEAR
    is_month = 1 <= month <= MONTHS_PER_YEAR
    if not (is_year and is_month and 1 <= day <= month_length(year or _LEAP_YEAR, month)):
        required = (
            f'must be a day of a year from {FIRST_YEAR} to {LAST_YEAR}, as "2027-03-08", or of '
            f'every year, as "03-08"'
        )
        tables.refuse(path, f'marks: what is marked {required}, not "{text[:_LONGEST_SHOWN]}"')
        return None
    choices = [one.value for one in MarkedBy]
    if by not in choices:
        said = " or ".join(f'"{one}"' for one in choices)
        tables.refuse(path, f'marks."{text}" must be {said}, not {text_of_value(by)}')
        return None
    return MarkedDay(year=year or None, month=month, day=day, by=MarkedBy(by))


def _again(tables: Tables) -> dict[str, int]:
    """How often what is named is to be drawn again, by name; what is faulty is left out."""
    counts: dict[str, int] = {}
    for name, count in tables.table("again").items():
        if is_whole(count) and 1 <= count <= MOST_AGAIN:
            counts[name] = count
            continue
        tables.refuse(
            key_path("again", name),
            f'again."{name:.{_LONGEST_SHOWN}}" must be a whole number from 1 to {MOST_AGAIN}, not '
            f"{text_of_value(count)}",
        )
    return counts
