"""What can be laid out: the recipe's keys as rows of a form, and what is typed into them."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from types import MappingProxyType
from typing import Any

from inkline.calendar.names import language_name
from inkline.desk.editing import Plain, Way
from inkline.errors import InputError
from inkline.kit.recipe.key import FORMATS, Key
from inkline.kit.recipe.keys import keys_of
from inkline.kit.recipe.keys_finish import FINISH
from inkline.kit.recipe.layers import kits_in, layers_from_text
from inkline.kit.recipe.text import EVERYDAY
from inkline.lettering.families import family_names
from inkline.sampler.families import LANGUAGES

_TABLES = ("", "canvas", "calendar", "words", "lettering")
"""The tables that have a form of their own, besides those of the formats."""
_TITLES: Mapping[str, str] = MappingProxyType(
    {"": "Kit", "canvas": "Canvas", "calendar": "Weeks", "words": "Words", "lettering": "Letters"}
)
_FILES = "files"
_NOT_TYPED = frozenset(
    {"version", "extends", "number", "swap", "axes", "numerals", "shift", "parts", _FILES}
)
"""Keys that are no matter of layout, or that hold tables."""


_LANGUAGES = "words.language"
_OTHER_SCRIPTS = ("el", "ru", "uk", "bg", "sr", "ar", "fa", "hi")
"""Languages of other scripts that are offered besides; any that CLDR has can be typed."""


def layout_tables(text: str, *, source: str, folder: Any, kit: str) -> list[dict[str, Any]]:
    """The tables of a recipe as JSON, each with its rows: what a key says, or would say.

    Args:
        text: the recipe.
        source: the name of its file.
        folder: where it lies.
        kit: which of its kits is looked at, or "".

    Raises:
        InputError: the text is no recipe.
    """
    said = _said(text, source=source, folder=folder, kit=kit)
    tables = [_table(said, name, (name,) if name else (), _TITLES[name]) for name in _TABLES]
    formats = said.get(FORMATS, {})
    named = [name for name, value in formats.items() if isinstance(value, Mapping)]
    return [
        *tables[:2],
        *(_table(said, FORMATS, (FORMATS, name), f"Format {name}") for name in named),
        *tables[2:],
    ]


def artwork_table(text: str, *, source: str, folder: Any, kit: str) -> dict[str, Any]:
    """What a recipe says of its owner's artwork as JSON: its files, and rows for all else.

    Args and errors as `layout_tables`.
    """
    said = _said(text, source=source, folder=folder, kit=kit)
    own, letters = said.get(FINISH, {}), said.get("lettering", {})
    files = own.get(_FILES, []) if isinstance(own, Mapping) else []
    rows = _table(said, FINISH, (FINISH,), "")["rows"]
    family = _table(said, "lettering", ("lettering",), "")["rows"]
    return {
        "files": list(map(str, files)) if isinstance(files, list) else [],
        "rows": {row["way"][-1]: row for row in rows}
        | {row["way"][-1]: row for row in family if row["way"][-1] == "family"},
        "font": str(letters.get("font", "")) if isinstance(letters, Mapping) else "",
    }


def _said(text: str, *, source: str, folder: Any, kit: str) -> Mapping[str, Any]:
    """All that the kit says which is looked at."""
    kits = kits_in(layers_from_text(text, source=source, folder=folder))
    return (kits.get(kit) or next(iter(kits.values()))).values


def _table(said: Mapping[str, Any], table: str, way: Way, title: str) -> dict[str, Any]:
    values: Any = said
    for name in way:
        values = values.get(name, {}) if isinstance(values, Mapping) else {}
    own = values if isinstance(values, Mapping) else {}
    keys = [key for key in keys_of(table) if key.name not in _NOT_TYPED]
    first = EVERYDAY.get(table, ())
    rows = [_row(key, way, own, is_first=key.name in first) for key in keys]
    return {
        "title": title,
        "way": list(way),
        "rows": sorted((row for row in rows if row), key=lambda row: not row["first"]),
    }


def _row(key: Key, way: Way, said: Mapping[str, Any], *, is_first: bool) -> dict[str, Any] | None:
    schema = key.kind.schema(key)
    if schema.get("type") == "object" or isinstance(said.get(key.name), Mapping):
        return None
    name = way[1] if len(way) > 1 else ""
    default = key.default_for(name, str(said.get("shows", "")), dates=str(said.get("dates", "")))
    return {
        "way": [*way, key.name],
        "label": key.name.replace("_", " "),
        "about": key.sentence,
        "options": _options(key, schema),
        "named": _named(key),
        "several": _is_list(schema),
        "said": key.name in said,
        "text": _typed(said.get(key.name, default)),
        "usual": _typed(default),
        "first": is_first,
    }


def _named(key: Key) -> dict[str, str]:
    """Languages that are offered, by their codes, in the order of their names."""
    if key.path != _LANGUAGES:
        return {}
    named = {code: language_name(code) for code in (*LANGUAGES, *_OTHER_SCRIPTS)}
    return dict(sorted(named.items(), key=lambda one: one[1].casefold()))


def _options(key: Key, schema: Mapping[str, Any]) -> list[str]:
    if key.path == "lettering.family":
        return list(family_names())
    for one in _alternatives(schema):
        if "enum" in one:
            return [str(value) for value in one["enum"] if value != "center"]
    return []


def _alternatives(schema: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    for one in schema.get("anyOf", (schema,)):
        if "anyOf" in one:
            yield from _alternatives(one)
        else:
            yield one


def _is_list(schema: Mapping[str, Any]) -> bool:
    return any(one.get("type") == "array" for one in _alternatives(schema))


def _typed(value: Any) -> str:
    """A value as somebody would type it."""
    if isinstance(value, list):
        return ", ".join(map(_typed, value))
    return "" if value is None else str(value)


def value_from_typed(way: Sequence[str], typed: object) -> Plain:
    """What `typed` means at `way`: a number, a list or a text, as the key there would have it.

    Whether it is allowed is for the recipe's own reading to say.

    Raises:
        InputError: no such key.
    """
    key = _key_at(way)
    kinds = list(_alternatives(key.kind.schema(key)))
    if isinstance(typed, list):
        return [_one(str(value), kinds) for value in typed]
    text = str(typed).strip()
    if text.startswith("["):
        with suppress(tomllib.TOMLDecodeError):
            return list(tomllib.loads(f"it = {text}")["it"])
    lists = [one for one in kinds if one.get("type") == "array"]
    if lists and "," in text:
        return [_one(one.strip(), kinds) for one in text.split(",") if one.strip()]
    return _one(text, kinds)


def _one(text: str, kinds: Sequence[Mapping[str, Any]]) -> Plain:
    inner = [one for kind in kinds for one in (kind, *_alternatives(kind.get("items", {})))]
    types = {one.get("type") for one in inner}
    if types & {"number", "integer"}:
        with suppress(ValueError):
            value = json.loads(text.replace(",", "."))
            if isinstance(value, int | float) and not isinstance(value, bool):
                return value
    return text


def way_of_key(path: str) -> Way:
    """The way to the key at `path`, such as `formats.tall.gap`.

    Raises:
        InputError: no such key.
    """
    way = tuple(path.split("."))
    _key_at(way)
    return way


def _key_at(way: Sequence[str]) -> Key:
    table = way[0] if len(way) > 1 else ""
    is_right = len(way) == (3 if table == FORMATS else 2 if table else 1)
    known = table in (*_TABLES, FORMATS, FINISH)
    keys = {key.name: key for key in keys_of(table)} if is_right and known else {}
    if not way or way[-1] not in keys or way[-1] in _NOT_TYPED:
        raise InputError(f"there is no key {'.'.join(map(str, way)):.80} to lay out")
    return keys[way[-1]]
