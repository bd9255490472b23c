"""The formats of a recipe, each from its own table.

What it leaves out is as the recipe says for each format, or else as its name and kind suggest.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from inkline.folder.strangers import FILES_FOLDER
from inkline.ink.style import EXACT, Weights
from inkline.kit.recipe.choices import Shows, SixthWeek
from inkline.kit.recipe.key import FORMATS
from inkline.kit.recipe.keys import DEFAULT_FORMATS, EACH_FORMAT, keys_of
from inkline.kit.recipe.layers import NO_FORMAT
from inkline.kit.recipe.model import FormatRecipe
from inkline.kit.recipe.tables import Tables, key_path
from inkline.kit.recipe.weights import stems_asked, suggested_default
from inkline.source.faults import did_you_mean

_MOST_FORMATS = 12
FORMAT_NAME = re.compile(r"[a-z][a-z0-9-]{0,31}")
RESERVED_NAMES = frozenset({"words", "masters", FILES_FOLDER})
"""Names of the kit's other folders, which a format's folder would run into."""
_KINDS = frozenset(one.value for one in Shows)
_DAYS_PER_WEEK = 7
_LONGEST_MONTH = 31
_ROWS_OF_SHARED = 5
_INSTEAD = {"columns": "rows"}
"""Where the line of a fault is to be looked for if the recipe is silent of the key itself."""


def format_recipes(tables: Tables, weights: Weights = EXACT.weights) -> tuple[FormatRecipe, ...]:
    """The recipe's formats, or the default ones where it names none.

    Faults are noted, and formats that have any are left out.

    Args:
        tables: of the recipe.
        weights: that its style suggests.
    """
    shared = _shared_values(tables)
    wanted = _tables_to_draw(tables)
    if len(wanted) > _MOST_FORMATS:
        tables.refuse(
            FORMATS, f"formats must hold at most {_MOST_FORMATS} tables, not {len(wanted)}"
        )
        return ()
    found = [_format(tables, name, table, shared, weights) for name, table in wanted.items()]
    return tuple(one for one in found if one is not None)


def default_values(
    name: str, shows: Any, dates: Any = None, *, weights: Weights = EXACT.weights
) -> dict[str, Any]:
    """What holds for a format `name` that says nothing itself, as written in TOML.

    Args:
        name: of the format; one that is called as what a format may show shows just that.
        shows: what its table says that it shows, or `None`.
        dates: what its table says that its dates are, or `None`.
        weights: that the recipe's style suggests.
    """
    if shows is None and name in _KINDS:
        shows = name
    # A format that is called "week" and shows a month has a month's values.
    suggests = "" if name in _KINDS and name != shows else name
    said_shows, said_dates = (one if isinstance(one, str) else "" for one in (shows, dates))
    return {
        key.name: suggested_default(
            key, key.default_for(suggests, said_shows, dates=said_dates), weights
        )
        for key in keys_of(FORMATS)
    }


def formats_with_values() -> tuple[str, ...]:
    """Names of the formats that have other values than a format of any name."""
    named = (name for key in keys_of(FORMATS) for name in key.defaults)
    return tuple(dict.fromkeys([*DEFAULT_FORMATS, *_KINDS, *named]))


def _shared_values(tables: Tables) -> dict[str, Any]:
    """What the recipe says for each format, less what is faulty."""
    table, keys = tables.table(EACH_FORMAT), keys_of(FORMATS)
    tables.refuse_unknown(EACH_FORMAT, table, keys)
    said = [key for key in keys if key.name in table]
    return {
        key.name: table[key.name]
        for key in said
        if tables.read_value(EACH_FORMAT, table, key, None) is not None
    }


def _tables_to_draw(tables: Tables) -> dict[str, Any]:
    """Tables of the formats to be drawn, by name.

    What is taken out without being there is noted as a fault.
    """
    named = tables.table(FORMATS)
    wanted: dict[str, Any] = {name: table for name, table in named.items() if table != NO_FORMAT}
    dropped = [name for name, table in named.items() if table == NO_FORMAT]
    if not wanted:
        wanted = {name: {} for name in DEFAULT_FORMATS if name not in dropped}
        dropped = [name for name in dropped if name not in DEFAULT_FORMATS]
    for name in dropped:
        path = key_path(FORMATS, name)
        tables.refuse(
            path,
            f'{path} = "{NO_FORMAT}" takes out a format, and there is none of that '
            f"name{did_you_mean(name, wanted)}",
        )
    if not wanted:
        tables.refuse(
            FORMATS, f'formats must leave a format to draw, and all of them are "{NO_FORMAT}"'
        )
    return wanted


def _format(
    tables: Tables, name: str, table: Any, shared: Mapping[str, Any], weights: Weights
) -> FormatRecipe | None:
    """One format, or `None` where a fault was noted."""
    path = key_path(FORMATS, name)
    if not isinstance(table, dict):
        tables.refuse(path, f'{path} must be a table, begun by a line [{path}], or "{NO_FORMAT}"')
        return None
    if not FORMAT_NAME.fullmatch(name) or name in RESERVED_NAMES:
        tables.refuse(
            path,
            "a format's name must be up to 32 small letters a to z, digits and hyphens, must "
            "begin with a letter "
            f'and be none of {", ".join(sorted(RESERVED_NAMES))}, not "{name[:40]}"',
        )
        return None
    said = _own_over_shared(tables, path, table, shared)
    n_faults = len(tables.faults)
    defaults = default_values(name, said.get("shows"), said.get("dates"), weights=weights)
    values = tables.read_table(path, said, keys_of(FORMATS), defaults=defaults)
    if len(tables.faults) > n_faults:
        return None
    format_recipe = FormatRecipe(name=name, stems_asked=stems_asked(said), **values)
    for key, sentence in _clashes(format_recipe):
        line_key = key if key_path(path, key) in tables.places else _INSTEAD.get(key, key)
        tables.refuse(key_path(path, line_key), f"{path}.{key} {sentence}")
    return format_recipe if len(tables.faults) == n_faults else None


def _own_over_shared(
    tables: Tables, path: str, table: Mapping[str, Any], shared: Mapping[str, Any]
) -> dict[str, Any]:
    """What a format's own table says, over what the recipe says for each format.

    The places of the latter become the format's.
    """
    said = {**shared, **table}
    lent = {
        f"{path}.{name}": tables.places.get(f"{EACH_FORMAT}.{name}")
        for name in shared
        if name not in table
    }
    tables.places = {**tables.places, **{key: place for key, place in lent.items() if place}}
    for name, value in shared.items():
        if isinstance(value, dict) and isinstance(table.get(name), dict):
            said[name] = {**value, **table[name]}
    return said


def _clashes(format_recipe: FormatRecipe) -> Iterator[tuple[str, str]]:
    """What is allowed by itself but not together: the key, and the rest of the sentence."""
    n_cells = format_recipe.columns * format_recipe.rows
    if format_recipe.shows in (Shows.MONTH, Shows.SMALL):
        if format_recipe.columns != _DAYS_PER_WEEK:
            yield "columns", f"must be {_DAYS_PER_WEEK} in a month, not {format_recipe.columns}"
    elif format_recipe.shows is Shows.STRIP and n_cells < _LONGEST_MONTH:
        yield "columns", f"and rows must have room for {_LONGEST_MONTH} days, not for {n_cells}"
    elif format_recipe.shows is Shows.WEEK and n_cells < _DAYS_PER_WEEK:
        yield "columns", f"and rows must have room for {_DAYS_PER_WEEK} days, not for {n_cells}"
    elif format_recipe.shows is Shows.DAY and format_recipe.columns != 1:
        yield "columns", f"must be 1 in a day, not {format_recipe.columns}"
    has_shared_rows = _ROWS_OF_SHARED in format_recipe.weeks
    is_shared = format_recipe.shows is Shows.MONTH and format_recipe.sixth_week is SixthWeek.SHARED
    if is_shared and not has_shared_rows:
        yield "sixth_week", '= "shared" needs a grid of five rows, and weeks has none'
