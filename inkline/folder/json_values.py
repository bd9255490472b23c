"""JSON of somebody else's making: what has the form of a manifest at least, or an error."""

from __future__ import annotations

import json
from typing import Any

_DEEPEST = 20
"""Levels of lists in lists; a manifest has eight."""


def json_values(data: bytes) -> Any:
    """What `data` says.

    Raises:
        ValueError: it is no JSON (RFC 8259), is nested deeper than any manifest, or holds half a
            letter.
    """
    try:
        values = json.loads(data)
    except RecursionError:
        raise ValueError("it is nested too deeply") from None
    level = [values]
    for _ in range(_DEEPEST):
        level = [value for one in level for value in _parts_of(one)]
        if not level:
            return values
    raise ValueError("it is nested too deeply")


def _parts_of(value: Any) -> list[Any]:
    """What is in a list or in an object, as far as it can hold something itself."""
    if isinstance(value, dict):
        for key in value:
            key.encode()
        value = list(value.values())
    if isinstance(value, str):
        value.encode()
        return []
    if not isinstance(value, list):
        return []
    return [one for one in value if isinstance(one, list | dict | str)]
