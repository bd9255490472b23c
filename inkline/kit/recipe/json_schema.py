"""The recipe's keys as JSON Schema (draft 2020-12), for editors that check what is written.

It is made from the same table as the checks. What only a canvas, a font or several keys together
decide, a schema cannot know: it takes any length of a known unit, any language, any name of a file,
and whole numbers written as 5.0.
"""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from inkline.ink.style import EXACT, fields_of_style
from inkline.ink.values import ValueKind
from inkline.kit.recipe.choices import MarkedBy
from inkline.kit.recipe.formats import FORMAT_NAME, RESERVED_NAMES
from inkline.kit.recipe.fragments import SIZE_UNITS, measure_schema, number_schema, table_schema
from inkline.kit.recipe.key import FORMATS, Key, Schema
from inkline.kit.recipe.keys import EACH_FORMAT, EXTENDS, KITS, TABLES, keys_of
from inkline.kit.recipe.layers import KIT_NAME, MOST_KITS, NO_FORMAT
from inkline.kit.recipe.reading import MOST_AGAIN
from inkline.kit.recipe.text import EXAMPLES, other_defaults
from inkline.styles.text import PARTS, allowed_in_words

_DIALECT = "https://json-schema.org/draft/2020-12/schema"
"""The name of the standard's version, as the standard gives it."""
_DAY = r"^([0-9]{4}-)?(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$"
_IMITATES = {
    "description": "What in the world the style looks like, in a few words.",
    "type": "string",
}


def recipe_schema() -> Schema:
    """The schema of a recipe file as plain values."""
    top = {key.name: _key_schema(key) for key in keys_of("")}
    tables = {name: {"$ref": f"#/$defs/{name}"} for name in TABLES}
    kit = {
        name: value
        for name, value in (top | tables).items()
        if name not in ("version", EXTENDS, KITS)
    }
    return {
        "$schema": _DIALECT,
        "title": "The recipe of a stamp kit",
        **table_schema(top | tables),
        "required": ["version"],
        # What a recipe extends, or its kits, may say the drawing number in its place.
        "anyOf": [{"required": [name]} for name in ("number", EXTENDS, KITS)],
        "$defs": {
            **{name: {"description": TABLES[name], **make(name)} for name, make in _TABLES.items()},
            "format": table_schema({key.name: _key_schema(key) for key in keys_of(FORMATS)}),
            "kit": table_schema(kit),
        },
    }


def recipe_schema_text() -> str:
    """The schema as the text of a JSON file."""
    return json.dumps(recipe_schema(), indent=2, ensure_ascii=False) + "\n"


def _table_of_keys(name: str) -> Schema:
    return table_schema({key.name: _key_schema(key) for key in keys_of(name)})


def _formats(_name: str) -> Schema:
    return {
        "type": "object",
        "propertyNames": {
            "pattern": f"^{FORMAT_NAME.pattern}$",
            "not": {"enum": sorted(RESERVED_NAMES)},
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
    choices = [one.value for one in MarkedBy]
    return {
        "type": "object",
        "propertyNames": {"pattern": _DAY},
        "additionalProperties": {"enum": choices},
    }


def _again(_name: str) -> Schema:
    return {
        "type": "object",
        "additionalProperties": {"type": "integer", "minimum": 1, "maximum": MOST_AGAIN},
    }


def _style(name: str) -> Schema:
    """The style's name and all values of a style, with what they are about."""
    properties: dict[str, Schema] = {key.name: _key_schema(key) for key in keys_of(name)}
    for field in fields_of_style().values():
        part = getattr(EXACT, field.name)
        if dataclasses.is_dataclass(part):
            values = {one.name: _style_value(one) for one in dataclasses.fields(part)}
            properties[field.name] = {
                "description": f"{PARTS[field.name].capitalize()}.",
                **table_schema(values),
            }
        elif field.name not in properties:
            properties[field.name] = _style_value(field) if "kind" in field.metadata else _IMITATES
    return table_schema(properties)


def _style_value(field: dataclasses.Field[Any]) -> Schema:
    about = {"description": f"{field.metadata['about']} Allowed: {allowed_in_words(field)}."}
    kind: ValueKind = field.metadata["kind"]
    if kind is ValueKind.CHOICE:
        return about | {"enum": list(field.metadata["options"])}
    if kind is ValueKind.SHARE:
        return about | number_schema(field.metadata["low"], field.metadata["high"])
    units = {
        ValueKind.LENGTH: SIZE_UNITS,
        ValueKind.SPEED: "(mm|cm)/s",
        ValueKind.ANGLE: "deg",
    }
    return about | measure_schema(units[kind])


_TABLES: Mapping[str, Callable[[str], Schema]] = MappingProxyType(
    {
        **dict.fromkeys(
            (
                "canvas",
                "calendar",
                "words",
                "lettering",
                "names",
                "files",
                "guide",
                "shop",
                "finish",
            ),
            _table_of_keys,
        ),
        FORMATS: _formats,
        EACH_FORMAT: lambda _: {"$ref": "#/$defs/format"},
        "marks": _marks,
        "style": _style,
        "again": _again,
        KITS: _kits,
    }
)


def _key_schema(key: Key) -> Schema:
    """A key with what it does, what it may be, its default and an example."""
    others = other_defaults(key)
    allowed = f"{key.sentence} Allowed: {key.kind.allowed(key)}."
    about: Schema = {
        "description": f"{allowed} Default: {', '.join(others)}; else as below."
        if others
        else allowed
    }
    if key.default is not None:
        about["default"] = key.default
    if key.path in EXAMPLES:
        about["examples"] = [EXAMPLES[key.path]]
    return about | key.kind.schema(key)
