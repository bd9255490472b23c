"""The recipe's keys as JSON Schema (draft 2020-12), for editors that check and complete a file while it is written.

It is made from the same table as the checks. What only a canvas, a font or several keys together
decide, a schema cannot know: it takes any length of a known unit, any language, any name of a file,
and whole numbers written as 5.0.
"""

from __future__ import annotations

import dataclasses
import json
import math
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from inkline.ink.style import EXACT, Style
from inkline.ink.values import Kind as StyleKind
from inkline.kit.recipe.allowed import allowed_words
from inkline.kit.recipe.choices import MarkedBy
from inkline.kit.recipe.formats import FORMAT_NAME, TAKEN_NAMES
from inkline.kit.recipe.key import CANVAS, FIT, FORMATS, Key, Kind
from inkline.kit.recipe.keys import EACH_FORMAT, EXTENDS, KITS, MOST_YEARS, TABLES, keys_of
from inkline.kit.recipe.layers import KIT_NAME, MOST_KITS, NO_FORMAT
from inkline.kit.recipe.lists import LONGEST_GLYPH, PATTERN_PARTS
from inkline.kit.recipe.numbers import NUMERALS
from inkline.kit.recipe.reading import MOST_AGAIN
from inkline.kit.recipe.text import EXAMPLES, toml_text
from inkline.styles.text import PARTS, allowed_in_style

DIALECT = "https://json-schema.org/draft/2020-12/schema"
"""The name of the standard's version, as the standard gives it."""
_NUMBER = r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)(e[+-]?[0-9]+)?"
_SIZES = "px|pt|mm|cm|um|µm|μm|in"
_SPACE = r"\s*"
_YEARS = r"^\s*[0-9]{4}\s*[-–]\s*[0-9]{4}\s*$"
_DAY = r"^([0-9]{4}-)?(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$"
_ONE_LINE = r"^[^\u0000-\u001f\u007f]*$"
_HAS_INK = r"\S"
_IMITATES = {
    "description": "What in the world the style looks like, in a few words.",
    "type": "string",
}

Schema = dict[str, Any]


def recipe_schema() -> Schema:
    """The schema of a recipe file as plain values."""
    top = {key.name: _described(key) for key in keys_of("")}
    tables = {name: {"$ref": f"#/$defs/{name}"} for name in TABLES}
    kit = {
        name: value
        for name, value in (top | tables).items()
        if name not in ("version", EXTENDS, KITS)
    }
    return {
        "$schema": DIALECT,
        "title": "The recipe of a stamp kit",
        **_table(top | tables),
        "required": ["version"],
        # What a recipe extends, or its kits, may say the drawing number in its place.
        "anyOf": [{"required": [name]} for name in ("number", EXTENDS, KITS)],
        "$defs": {
            **{name: {"description": TABLES[name], **make(name)} for name, make in _TABLES.items()},
            "format": _table({key.name: _described(key) for key in keys_of(FORMATS)}),
            "kit": _table(kit),
        },
    }


def recipe_schema_text() -> str:
    """The schema as the text of a JSON file."""
    return json.dumps(recipe_schema(), indent=2, ensure_ascii=False) + "\n"


def _table(properties: Mapping[str, Schema]) -> Schema:
    return {"type": "object", "properties": dict(properties), "additionalProperties": False}


def _keyed_table(name: str) -> Schema:
    return _table({key.name: _described(key) for key in keys_of(name)})


def _formats(_name: str) -> Schema:
    return {
        "type": "object",
        "propertyNames": {
            "pattern": f"^{FORMAT_NAME.pattern}$",
            "not": {"enum": sorted(TAKEN_NAMES)},
        },
        "additionalProperties": {"anyOf": [{"$ref": "#/$defs/format"}, {"const": NO_FORMAT}]},
    }


def _kits(_name: str) -> Schema:
    return {
        "type": "object",
        "propertyNames": {"pattern": f"^{KIT_NAME.pattern}$"},
        "additionalProperties": {"$ref": "#/$defs/kit"},
        "maxProperties": MOST_KITS,
    }


def _marks(_name: str) -> Schema:
    words = [one.value for one in MarkedBy]
    return {
        "type": "object",
        "propertyNames": {"pattern": _DAY},
        "additionalProperties": {"enum": words},
    }


def _again(_name: str) -> Schema:
    return {
        "type": "object",
        "additionalProperties": {"type": "integer", "minimum": 1, "maximum": MOST_AGAIN},
    }


def _style(name: str) -> Schema:
    """The style's name and all values of a style, the tables of its parts with what they are about."""
    properties: dict[str, Schema] = {key.name: _described(key) for key in keys_of(name)}
    for field in dataclasses.fields(Style):
        part = getattr(EXACT, field.name)
        if dataclasses.is_dataclass(part):
            values = {one.name: _style_value(one) for one in dataclasses.fields(part)}
            properties[field.name] = {
                "description": f"{PARTS[field.name].capitalize()}.",
                **_table(values),
            }
        elif field.name not in properties:
            properties[field.name] = _style_value(field) if "kind" in field.metadata else _IMITATES
    return _table(properties)


def _style_value(field: dataclasses.Field[Any]) -> Schema:
    about = {"description": f"{field.metadata['about']} Allowed: {allowed_in_style(field)}."}
    kind: StyleKind = field.metadata["kind"]
    if kind is StyleKind.CHOICE:
        return about | {"enum": list(field.metadata["options"])}
    if kind is StyleKind.SHARE:
        return about | _number(field.metadata["low"], field.metadata["high"])
    units = {
        StyleKind.LENGTH: _SIZES.replace("px|", ""),
        StyleKind.SPEED: "(mm|cm)/s",
        StyleKind.ANGLE: "deg",
    }
    return about | _measured(units[kind])


_TABLES: Mapping[str, Callable[[str], Schema]] = MappingProxyType(
    {
        **dict.fromkeys(("canvas", "calendar", "words", "lettering", "names"), _keyed_table),
        FORMATS: _formats,
        EACH_FORMAT: lambda _: {"$ref": "#/$defs/format"},
        "marks": _marks,
        "style": _style,
        "again": _again,
        KITS: _kits,
    }
)


def _described(key: Key) -> Schema:
    """A key with what it does, what it may be, its default and an example."""
    others = [
        f"{toml_text(value)} in {name}"
        for name, value in key.defaults.items()
        if value != key.default
    ]
    allowed = f"{key.sentence} Allowed: {allowed_words(key)}."
    about: Schema = {
        "description": f"{allowed} Default: {', '.join(others)}; else as below."
        if others
        else allowed
    }
    if key.default is not None:
        about["default"] = key.default
    if key.path in EXAMPLES:
        about["examples"] = [EXAMPLES[key.path]]
    return about | _FRAGMENTS[key.kind](key)


def _measured(units: str) -> Schema:
    """A number with one of `units`, as a text."""
    return {"type": "string", "pattern": f"^{_SPACE}{_NUMBER}{_SPACE}({units}){_SPACE}$"}


def _number(low: float, high: float) -> Schema:
    return {"type": "number", "minimum": low} | ({} if math.isinf(high) else {"maximum": high})


def _whole(low: float, high: float) -> Schema:
    return {"type": "integer", "minimum": int(low), "maximum": int(high)}


def _list(items: Schema, *, least: int = 0, most: int | None = None) -> Schema:
    return (
        {"type": "array", "items": items}
        | ({"minItems": least} if least else {})
        | ({"maxItems": most} if most else {})
    )


def _any_of(*schemas: Schema) -> Schema:
    return {"anyOf": list(schemas)}


def _text(longest: float) -> Schema:
    return {"type": "string", "maxLength": int(longest), "pattern": _ONE_LINE}


def _languages(key: Key) -> Schema:
    name = {"type": "string", "maxLength": 32, "minLength": 2}
    return _any_of(name, _list(name, least=1, most=int(key.high)))


def _years(key: Key) -> Schema:
    spans = {"type": "string", "pattern": _YEARS}
    return _list(_any_of(_whole(key.low, key.high), spans), most=MOST_YEARS) | {"uniqueItems": True}


def _pattern(key: Key) -> Schema:
    """Letters, doubled braces and the known parts, {name} among them."""
    pieces = rf"([^{{}}\u0000-\u001f\u007f]|\{{\{{|\}}\}}|\{{({'|'.join(PATTERN_PARTS)})\}})*"
    return {
        "type": "string",
        "maxLength": int(key.high),
        "pattern": rf"^{pieces}\{{name\}}{pieces}$",
    }


def _shifts(_key: Key) -> Schema:
    both = _list(_LENGTH, least=2, most=2)
    return {
        "type": "object",
        "propertyNames": {"enum": list(NUMERALS)},
        "additionalProperties": both,
    }


_LENGTH = _measured(f"{_SIZES}|%")
_FRAGMENTS: Mapping[Kind, Callable[[Key], Schema]] = MappingProxyType(
    {
        Kind.WHOLE: lambda key: _whole(key.low, key.high),
        Kind.NUMBER: lambda key: _number(key.low, key.high),
        Kind.PERCENT: lambda key: _any_of(_number(key.low, key.high), _measured("%")),
        Kind.TEXT: lambda key: _text(key.high),
        Kind.CHOICE: lambda key: {"enum": list(key.choices)},
        Kind.SIDE: lambda _: _measured(_SIZES),
        Kind.LENGTH: lambda _: _LENGTH,
        Kind.SHARE_OR_LENGTH: lambda key: _any_of(_number(key.low, key.high), _LENGTH),
        Kind.SHARE_OR_FIT: lambda key: _any_of({"const": FIT}, _number(key.low, key.high)),
        Kind.YEARS: _years,
        Kind.SHIFTS: _shifts,
        Kind.SWAPS: lambda _: {"type": "object", "additionalProperties": _text(LONGEST_GLYPH)},
        Kind.AXES: lambda _: {
            "type": "object",
            "propertyNames": {"pattern": r"^[\u0000-\u007f]{4}$"},
            "additionalProperties": {"type": "number"},
        },
        Kind.WORDS: lambda key: _list({"enum": list(key.choices)}, least=1),
        Kind.WHOLES: lambda key: _list(_whole(key.low, key.high), least=1),
        Kind.MARGIN: lambda _: _any_of({"const": CANVAS}, _LENGTH, _list(_LENGTH, least=4, most=4)),
        Kind.LANGUAGES: _languages,
        Kind.SPANS: lambda _: _list({"type": "string", "pattern": _YEARS}, most=MOST_YEARS),
        Kind.CAPTIONS: lambda key: _list(_text(key.high) | {"pattern": _HAS_INK}, most=MOST_YEARS),
        Kind.BLOCK_NAMES: lambda key: _list(
            {"type": "string", "pattern": "^(r[1-9][0-9]?)?c[1-9][0-9]?$"}, most=int(key.high)
        ),
        Kind.PATTERN: _pattern,
    }
)
