"""Values of a recipe that say how a shop's pictures look: five colours, and sizes."""

from __future__ import annotations

import re
from typing import Any

from inkline.kit.recipe.key import Key, Scale
from inkline.kit.recipe.numbers import colour_from
from inkline.source.values import RefusedError, text_of_value

USUAL_PALETTE = ("#f6efe3", "#22313b", "#b5472e", "#ecc9a3", "#2f5f63")
"""Paper, ink, accent, tint and deep; chosen by eye."""
USUAL_SIZES = ((2000, 2000), (1600, 2000), (2400, 1350))
"""Square, portrait and wide, in px."""
LEAST_SIDE, MOST_SIDE, MOST_SIZES = 400, 6000, 12
"""Of a shop's pictures, in px, and how many sizes there may be."""
SIZE_PATTERN = r"^\s*[0-9]{3,4}\s*[x\u00d7]\s*[0-9]{3,4}\s*$"
_SIZE = re.compile(r"\s*(\d{3,4})\s*[x\u00d7]\s*(\d{3,4})\s*", re.ASCII)


def palette_from(key: Key, value: Any, scale: Scale) -> tuple[str, ...]:
    """Five colours."""
    if not isinstance(value, list) or len(value) != len(USUAL_PALETTE):
        raise RefusedError(
            f"must be a list of {len(USUAL_PALETTE)} colours: paper, ink, accent, tint and deep, "
            f"not {text_of_value(value)}"
        )
    return tuple(colour_from(key, one, scale) for one in value)


def sizes_from(_key: Key, value: Any, _scale: Scale) -> tuple[tuple[int, int], ...]:
    """Widths and heights in px, each once."""
    given = [value] if isinstance(value, str) else value
    required = (
        f'must be a list of at most {MOST_SIZES} sizes in px such as ["2000 x 2000"], each side '
        f"from {LEAST_SIDE} to {MOST_SIDE}"
    )
    if not isinstance(given, list) or not 1 <= len(given) <= MOST_SIZES:
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    return tuple(dict.fromkeys(_size(one, required) for one in given))


def _size(value: Any, required: str) -> tuple[int, int]:
    found = _SIZE.fullmatch(value) if isinstance(value, str) else None
    size = (int(found[1]), int(found[2])) if found else (0, 0)
    if not LEAST_SIDE <= min(size) <= max(size) <= MOST_SIDE:
        raise RefusedError(f"{required}, not {text_of_value(value)}")
    return size
