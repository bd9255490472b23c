"""Parts of JSON Schema (draft 2020-12): numbers, texts, lists and tables."""

from __future__ import annotations

import math
from collections.abc import Mapping

from inkline.kit.recipe.key import Schema

SIZE_UNITS = "pt|mm|cm|um|µm|μm|in"
"""Units of lengths that have a size of their own, as a part of a regular expression."""
_LENGTH_UNITS = f"px|{SIZE_UNITS}|%"
"""All units of lengths, likewise."""
_NUMBER = r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)(e[+-]?[0-9]+)?"
_SPACE = r"\s*"
_ONE_LINE = r"^[^\u0000-\u001f\u007f]*$"


def measure_schema(units: str) -> Schema:
    """A number with one of `units`, as a text."""
    return {"type": "string", "pattern": f"^{_SPACE}{_NUMBER}{_SPACE}({units}){_SPACE}$"}


def number_schema(low: float, high: float) -> Schema:
    """A number from `low` to `high`, which may be infinite."""
    return {"type": "number", "minimum": low} | ({} if math.isinf(high) else {"maximum": high})


def whole_schema(low: float, high: float) -> Schema:
    """A whole number from `low` to `high`."""
    return {"type": "integer", "minimum": int(low), "maximum": int(high)}


def text_schema(longest: float) -> Schema:
    """A text of at most `longest` letters on one line."""
    return {"type": "string", "maxLength": int(longest), "pattern": _ONE_LINE}


def list_schema(items: Schema, *, least: int = 0, most: int | None = None) -> Schema:
    """A list of `items`, at least `least` and at most `most` of them."""
    return (
        {"type": "array", "items": items}
        | ({"minItems": least} if least else {})
        | ({"maxItems": most} if most else {})
    )


def any_of(*schemas: Schema) -> Schema:
    """What one of `schemas` or several take."""
    return {"anyOf": list(schemas)}


def table_schema(properties: Mapping[str, Schema]) -> Schema:
    """A table of keys that are known, none of them required."""
    return {"type": "object", "properties": dict(properties), "additionalProperties": False}


LENGTH_SCHEMA = measure_schema(_LENGTH_UNITS)
"""A length with any unit."""
